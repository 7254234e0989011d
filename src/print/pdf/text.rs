//! Words in the PDF: real text in the embedded fonts, cut down to the letters used.

use krilla::geom::{Point, Transform};
use krilla::surface::Surface;
use krilla::text::{Font, GlyphId, KrillaGlyph};
use kurbo::Affine;

use super::unit::f32_pt;
use crate::print::error::{PdfFault, PrintError};
use crate::print::font::{Face, data, em_mm, letters};
use crate::print::shape::Text;

/// The fonts as the PDF library holds them.
pub(super) struct Fonts([Font; Face::ALL.len()]);

impl Fonts {
    pub(super) fn load() -> Result<Self, PrintError> {
        let font = |face| Font::new(data(face).into(), 0).ok_or(PrintError::Pdf { reason: PdfFault::Font(face) });
        let [regular, bold, italic, code] = Face::ALL.map(font);
        Ok(Self([regular?, bold?, italic?, code?]))
    }

    /// Draws a line of words in the fill set on the surface.
    pub(super) fn draw(&self, surface: &mut Surface<'_>, text: &Text, page_from_drawing: Affine) {
        let font = &self.0[text.face as usize];
        let page_from_text = page_from_drawing * text.drawing_from_text();
        let [a, b, ..] = page_from_text.as_coeffs();
        let scale = a.hypot(b);
        let start = page_from_text.translation();
        let start = Point::from_xy(f32_pt(start.x), f32_pt(start.y));
        let size = f32_pt(em_mm(text.face, text.cap_height_mm) * scale);
        let glyphs = glyphs(text);
        if b.abs() < 1e-12 && a > 0.0 {
            surface.draw_glyphs(start, &glyphs, font.clone(), &text.text, size, false);
            return;
        }
        let (cos, sin) = (narrow(a / scale), narrow(b / scale));
        surface.push_transform(&Transform::from_row(cos, sin, -sin, cos, start.x, start.y));
        surface.draw_glyphs(Point::from_xy(0.0, 0.0), &glyphs, font.clone(), &text.text, size, false);
        surface.pop();
    }
}

fn glyphs(text: &Text) -> Vec<KrillaGlyph> {
    let letters: Vec<_> = letters(&text.text, text.face).collect();
    let ends = letters.iter().skip(1).map(|l| l.start).chain([text.text.len()]);
    let glyph = |(letter, end): (&crate::print::font::Letter, usize)| {
        KrillaGlyph::new(GlyphId::new(letter.glyph), narrow(letter.advance_em), 0.0, 0.0, 0.0, letter.start..end, None)
    };
    letters.iter().zip(ends).map(glyph).collect()
}

#[expect(clippy::cast_possible_truncation, reason = "ratios near one; the PDF library takes f32")]
const fn narrow(ratio: f64) -> f32 {
    ratio as f32
}
