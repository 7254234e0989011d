//! A page painted into pixels: for a screen, not for a printer.

use super::font::{em_mm, letters, outline};
use super::{Image, Page, Placed, PrintError, Shape, Text};
use kurbo::{Affine, BezPath, Cap, Circle, Join, Rect, Shape as _, Stroke};
use std::sync::Arc;
use vello_cpu::color::{AlphaColor, PremulRgba8, Srgb};
use vello_cpu::peniko::{Extend, Fill, ImageQuality, ImageSampler};
use vello_cpu::{Level, Pixmap, RasterizerSettings, RenderContext, RenderMode, RenderSettings, Resources};

/// How far a painted curve may stray, pixels.
const TOLERANCE_PX: f64 = 0.05;
/// Thinnest stroke, pixels: thinner ones would be a grey that no phone shows.
const THINNEST_PX: f64 = 1.0;

/// A page in pixels.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PaintedPage {
    /// Pixels across.
    pub width: usize,
    /// Pixels down.
    pub height: usize,
    /// Red, green, blue and opacity of each pixel, sRGB, row by row; all are opaque.
    pub rgba: Vec<u8>,
}

/// Paints a page on white, so many pixels broad. The same page gives the same pixels.
///
/// # Errors
/// [`PrintError::Pixels`] for a page that would be higher than can be painted, or has no size.
pub fn paint(page: &Page, width_px: u16) -> Result<PaintedPage, PrintError> {
    let scale = f64::from(width_px) / page.size_mm.width;
    let high = (scale * page.size_mm.height).ceil();
    let refused = || PrintError::Pixels { width_px, high_px: high };
    if width_px == 0 || !(1.0..=f64::from(u16::MAX)).contains(&high) {
        return Err(refused());
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a whole number within u16, checked above")]
    let height_px = high as u16;
    // One way to compute for every processor, so that bytes are the same everywhere.
    let settings = RenderSettings { level: Level::baseline(), num_threads: 0 };
    let mut brush = Brush { context: RenderContext::new_with(width_px, height_px, settings), to_px: Affine::scale(scale) };
    brush.fill(&Rect::new(0.0, 0.0, f64::from(width_px), f64::from(height_px)).to_path(1.0), 255, Affine::IDENTITY);
    page.placed.iter().for_each(|placed| brush.placed(placed));
    let mut pixels = Pixmap::new(width_px, height_px);
    brush.context.flush();
    let quality = RasterizerSettings { render_mode: RenderMode::OptimizeQuality, ..RasterizerSettings::default() };
    brush.context.render_with(&mut pixels, &mut Resources::new(), quality);
    let rgba = pixels.take_unpremultiplied().into_iter().flat_map(|pixel| [pixel.r, pixel.g, pixel.b, pixel.a]).collect();
    Ok(PaintedPage { width: usize::from(width_px), height: usize::from(height_px), rgba })
}

/// What paints.
struct Brush {
    context: RenderContext,
    /// Takes page mm to pixels.
    to_px: Affine,
}

impl Brush {
    fn placed(&mut self, placed: &Placed) {
        let by = self.to_px * placed.page_from_drawing;
        if let Some(clip) = placed.clip {
            self.context.set_transform(Affine::IDENTITY);
            self.context.push_clip_path(&(by * clip.to_path(TOLERANCE_PX)));
        }
        for item in placed.drawing.items() {
            let style = item.layer.style();
            match &item.shape {
                Shape::Text(text) => self.text(text, style.grey, by),
                Shape::Image(image) => self.image(image, by),
                Shape::Solid(path) => self.fill(path, style.grey, by),
                Shape::Dots(dots) => {
                    for &center in &dots.centers {
                        self.fill(&Circle::new(center, dots.radius_mm).to_path(TOLERANCE_PX / 10.0), style.grey, by);
                    }
                }
                shape => self.stroke(&shape.outline(), &style, by),
            }
        }
        if placed.clip.is_some() {
            self.context.pop_clip_path();
        }
    }

    fn fill(&mut self, path: &BezPath, grey: u8, by: Affine) {
        self.context.set_paint(ink(grey));
        self.context.set_fill_rule(Fill::EvenOdd);
        self.context.set_transform(by);
        self.context.fill_path(path);
    }

    fn stroke(&mut self, path: &BezPath, style: &super::Style, by: Affine) {
        let px_per_mm = by.determinant().abs().sqrt();
        let width = style.width_mm.max(THINNEST_PX / px_per_mm);
        let stroke = Stroke::new(width).with_join(Join::Round).with_caps(Cap::Butt).with_dashes(0.0, style.dash_mm);
        self.context.set_paint(ink(style.grey));
        self.context.set_transform(by);
        self.context.set_stroke(stroke);
        self.context.stroke_path(path);
    }

    fn text(&mut self, text: &Text, grey: u8, by: Affine) {
        let em = em_mm(text.face, text.cap_height_mm);
        let mut at = by * text.drawing_from_text();
        self.context.set_paint(ink(grey));
        self.context.set_fill_rule(Fill::NonZero);
        for letter in letters(&text.text, text.face) {
            self.context.set_transform(at * Affine::scale(em));
            self.context.fill_path(&outline(letter.glyph, text.face));
            at *= Affine::translate((letter.advance_em * em, 0.0));
        }
    }

    fn image(&mut self, image: &Image, by: Affine) {
        let size = |pixels: usize| u16::try_from(pixels).ok().filter(|pixels| *pixels > 0);
        let Some((width, height)) = size(image.pixels.width()).zip(size(image.pixels.height())) else { return };
        let colours = image.pixels.rgba();
        let pixels = colours.chunks_exact(4).map(|of| PremulRgba8 { r: of[0], g: of[1], b: of[2], a: of[3] }).collect();
        let pixmap = Pixmap::from_parts(pixels, width, height);
        let sampler = ImageSampler { x_extend: Extend::Pad, y_extend: Extend::Pad, quality: ImageQuality::Medium, alpha: 1.0 };
        self.context.set_paint(vello_cpu::Image { image: vello_cpu::ImageSource::Pixmap(Arc::new(pixmap)), sampler });
        self.context.set_transform(by * image.drawing_from_unit);
        self.context.set_paint_transform(Affine::scale_non_uniform(1.0 / f64::from(width), 1.0 / f64::from(height)));
        self.context.fill_rect(&Rect::new(0.0, 0.0, 1.0, 1.0));
        self.context.reset_paint_transform();
    }
}

fn ink(grey: u8) -> AlphaColor<Srgb> {
    AlphaColor::from_rgb8(grey, grey, grey)
}

#[cfg(test)]
mod tests {
    use super::super::{Drawing, Face, Layer};
    use super::*;
    use kurbo::Size;

    fn page(fill: impl FnOnce(&mut Drawing)) -> Page {
        let mut drawing = Drawing::new("a page");
        drawing.bounds = Rect::new(0.0, 0.0, 20.0, 10.0);
        fill(&mut drawing);
        Page::of_drawing("1", Size::new(20.0, 10.0), &drawing)
    }

    fn dark(painted: &PaintedPage, x: usize, y: usize) -> u8 {
        255 - painted.rgba[4 * (y * painted.width + x)]
    }

    /// A line lies where it was drawn and is as broad; everything else is white.
    #[test]
    fn a_line_is_where_it_was_drawn() {
        let page = page(|drawing| drawing.line(Layer::Guide, (2.0, 5.0), (18.0, 5.0)));
        let painted = paint(&page, 400).unwrap();
        assert_eq!((painted.width, painted.height, painted.rgba.len()), (400, 200, 4 * 400 * 200));
        // 0.6 mm are 12 pixels, from 94 to 106.
        let column: Vec<u8> = (0..200).map(|y| dark(&painted, 200, y)).collect();
        assert!(column[..93].iter().chain(&column[107..]).all(|dark| *dark == 0), "{column:?}");
        assert!(column[95..105].iter().all(|dark| *dark == 255), "{column:?}");
        assert_eq!((dark(&painted, 30, 100), dark(&painted, 50, 100)), (0, 255));
    }

    /// Letters are as long as they are measured and as high as their capitals are said to be.
    #[test]
    fn words_are_painted_at_their_size() {
        let words = Text { face: Face::Bold, ..Text::new("HIH", (2.0, 8.0), 5.0) };
        let width_mm = words.width_mm();
        let painted = paint(&page(|drawing| drawing.text(words)), 400).unwrap();
        let inked = |x: usize| (0..200).any(|y| dark(&painted, x, y) > 128);
        let level = |y: usize| (0..400).any(|x| dark(&painted, x, y) > 128);
        let columns: Vec<usize> = (0..400).filter(|x| inked(*x)).collect();
        let rows: Vec<usize> = (0..200).filter(|y| level(*y)).collect();
        assert_eq!((rows[0], rows[rows.len() - 1]), (60, 159));
        let (from, to) = (columns[0] as f64, columns[columns.len() - 1] as f64);
        assert!(from > 40.0 && to < 40.0 + 20.0 * width_mm && to - from > 0.9 * 20.0 * width_mm, "{from} to {to}");
    }

    #[test]
    fn a_page_too_high_to_paint_is_refused() {
        let mut page = page(|drawing| drawing.circle(Layer::Cut, (5.0, 5.0), 2.0));
        page.size_mm.height = 10_000.0;
        assert!(matches!(paint(&page, 1600), Err(PrintError::Pixels { width_px: 1600, .. })));
    }
}
