//! The embedded fonts and the lengths of words in them.

use std::sync::OnceLock;

use kurbo::{BezPath, Point};
use skrifa::charmap::Charmap;
use skrifa::instance::{LocationRef, Size};
use skrifa::metrics::GlyphMetrics;
use skrifa::outline::{DrawSettings, OutlinePen};
use skrifa::{FontRef, GlyphId, MetadataProvider};

const REGULAR: &[u8] = include_bytes!("fonts/Roboto-Regular.ttf");
const BOLD: &[u8] = include_bytes!("fonts/Roboto-Bold.ttf");
const ITALIC: &[u8] = include_bytes!("fonts/Roboto-Italic.ttf");

/// Stands for a character that the font lacks.
const MISSING: char = '?';

/// The face that letters are set in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub enum Face {
    /// For reading.
    #[default]
    Regular,
    /// For names and big numbers.
    Bold,
    /// For words that are stressed, or explained where they stand.
    Italic,
    /// For what is typed letter by letter: all of one width.
    Code,
}

impl Face {
    /// Every face.
    pub(super) const ALL: [Self; 4] = [Self::Regular, Self::Bold, Self::Italic, Self::Code];

    /// What is said where its font can't be read.
    pub(super) const fn unread(self) -> &'static str {
        match self {
            Self::Regular => "the regular font can't be read",
            Self::Bold => "the bold font can't be read",
            Self::Italic => "the italic font can't be read",
            Self::Code => "the font for code can't be read",
        }
    }
}

/// What a face's family is called in a file that names it.
pub(super) const fn family(face: Face) -> &'static str {
    match face {
        Face::Regular | Face::Bold | Face::Italic => "Roboto",
        Face::Code => "Hack",
    }
}

/// One glyph of a line of words.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Letter {
    /// Number of the glyph in the font.
    pub(super) glyph: u32,
    /// Advance in ems.
    pub(super) advance_em: f64,
    /// Where the character starts in the text, in bytes.
    pub(super) start: usize,
}

struct Loaded {
    font: FontRef<'static>,
    /// Both are found in the font by reading its tables through: labels are measured at thousands of places.
    charmap: Charmap<'static>,
    widths: GlyphMetrics<'static>,
    units_per_em: f64,
    cap_height_em: f64,
    /// Glyph and advance of each of the first 128 characters.
    first: Vec<(u32, f64)>,
}

impl Loaded {
    /// The glyph of a character and its advance in ems.
    fn glyph(&self, c: char) -> (u32, f64) {
        let glyph = self.charmap.map(c).or_else(|| self.charmap.map(MISSING)).unwrap_or_default();
        (glyph.to_u32(), f64::from(self.widths.advance_width(glyph).unwrap_or(0.0)) / self.units_per_em)
    }
}

/// The font file of a face.
pub(super) const fn data(face: Face) -> &'static [u8] {
    match face {
        Face::Regular => REGULAR,
        Face::Bold => BOLD,
        Face::Italic => ITALIC,
        Face::Code => epaint_default_fonts::HACK_REGULAR,
    }
}

fn loaded(face: Face) -> &'static Loaded {
    static LOADED: [OnceLock<Loaded>; Face::ALL.len()] = [const { OnceLock::new() }; Face::ALL.len()];
    LOADED[face as usize].get_or_init(|| {
        let font = FontRef::new(data(face)).expect("the embedded font is a font file; a test reads each");
        let metrics = font.metrics(Size::unscaled(), LocationRef::default());
        let units_per_em = f64::from(metrics.units_per_em);
        let cap_height_em = f64::from(metrics.cap_height.unwrap_or(0.711 * f32::from(metrics.units_per_em))) / units_per_em;
        let (charmap, widths) = (font.charmap(), font.glyph_metrics(Size::unscaled(), LocationRef::default()));
        let bare = Loaded { font, charmap, widths, units_per_em, cap_height_em, first: Vec::new() };
        let first = (0..128_u8).map(|c| bare.glyph(char::from(c))).collect();
        Loaded { first, ..bare }
    })
}

/// Glyphs of a line of words, one per character, without kerning or ligatures.
pub(super) fn letters(text: &str, face: Face) -> impl Iterator<Item = Letter> {
    let font = loaded(face);
    text.char_indices().map(|(start, c)| {
        let (glyph, advance_em) = font.first.get(c as usize).copied().unwrap_or_else(|| font.glyph(c));
        Letter { glyph, advance_em, start }
    })
}

/// A glyph's outline in ems, its origin on the baseline, y down; empty for a space.
pub(super) fn outline(glyph: u32, face: Face) -> BezPath {
    let font = loaded(face);
    let mut pen = OutlineIn { path: BezPath::new(), per_em: 1.0 / font.units_per_em };
    if let Some(glyph) = font.font.outline_glyphs().get(GlyphId::new(glyph)) {
        let settings = DrawSettings::unhinted(Size::unscaled(), LocationRef::default());
        // A glyph of the embedded fonts draws; one that did not would be blank.
        let _drawn = glyph.draw(settings, &mut pen);
    }
    pen.path
}

/// Draws a glyph's outline into a path.
struct OutlineIn {
    path: BezPath,
    per_em: f64,
}

impl OutlineIn {
    fn at(&self, x: f32, y: f32) -> Point {
        Point::new(f64::from(x) * self.per_em, -f64::from(y) * self.per_em)
    }
}

impl OutlinePen for OutlineIn {
    fn move_to(&mut self, x: f32, y: f32) {
        self.path.move_to(self.at(x, y));
    }

    fn line_to(&mut self, x: f32, y: f32) {
        self.path.line_to(self.at(x, y));
    }

    fn quad_to(&mut self, cx: f32, cy: f32, x: f32, y: f32) {
        self.path.quad_to(self.at(cx, cy), self.at(x, y));
    }

    fn curve_to(&mut self, cx: f32, cy: f32, dx: f32, dy: f32, x: f32, y: f32) {
        self.path.curve_to(self.at(cx, cy), self.at(dx, dy), self.at(x, y));
    }

    fn close(&mut self) {
        self.path.close_path();
    }
}

/// Font size (one em) in mm at which a capital letter is `cap_height_mm` high.
pub(super) fn em_mm(face: Face, cap_height_mm: f64) -> f64 {
    cap_height_mm / loaded(face).cap_height_em
}

/// Length in mm of a line of words whose capitals are `cap_height_mm` high.
#[must_use]
pub fn width_mm(text: &str, face: Face, cap_height_mm: f64) -> f64 {
    let em = em_mm(face, cap_height_mm);
    letters(text, face).map(|l| l.advance_em * em).sum()
}

/// The characters of a text that the fonts lack, each once, in the order in which they come: on paper a question mark stands for each.
///
/// ```
/// use pleatwright::print::unprintable;
/// assert!(unprintable("Harbour Row · ½").is_empty());
/// assert_eq!(unprintable("shirt \u{6c34}"), ['\u{6c34}']);
/// ```
#[must_use]
pub fn unprintable(text: &str) -> Vec<char> {
    let lacks = |c: char| [Face::Regular, Face::Bold].into_iter().any(|face| loaded(face).charmap.map(c).is_none());
    let mut found = Vec::new();
    for c in text.chars().filter(|c| !c.is_control()) {
        if lacks(c) && !found.contains(&c) {
            found.push(c);
        }
    }
    found
}

/// A text cut to a length, with an ellipsis where something is left out.
#[must_use]
pub(super) fn shortened(text: &str, face: Face, cap_height_mm: f64, room_mm: f64) -> String {
    let mut kept: Vec<char> = text.chars().collect();
    let mut short = text.to_owned();
    while width_mm(&short, face, cap_height_mm) > room_mm && kept.pop().is_some() {
        short = kept.iter().collect::<String>().trim_end().to_owned() + "…";
    }
    short
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn characters_that_would_be_question_marks_are_listed_once() {
        assert_eq!(unprintable("Hafen Straße, 10 €, no. 1 · ½ in …"), Vec::<char>::new());
        assert_eq!(unprintable("\u{6c34}a\u{1F9F5}\u{6c34}\n"), ['\u{6c34}', '\u{1F9F5}']);
    }

    #[test]
    fn words_are_cut_with_an_ellipsis_only_where_they_are_too_long() {
        assert_eq!(shortened("teal", Face::Regular, 2.4, 20.0), "teal");
        let short = shortened("the colour of the sea on a grey morning", Face::Regular, 2.4, 20.0);
        assert!(short.starts_with("the") && short.ends_with('…') && width_mm(&short, Face::Regular, 2.4) <= 20.0, "{short}");
    }

    #[test]
    fn every_font_reads_and_knows_its_capitals() {
        for face in Face::ALL {
            // Capital height and units of an em, from each font's own tables: Roboto 1456 of 2048, Hack 1493 of 2048.
            let cap_units = if face == Face::Code { 1493.0 } else { 1456.0 };
            assert!((em_mm(face, cap_units) - 2048.0).abs() < 1e-6, "{face:?}");
        }
    }

    #[test]
    fn words_grow_letter_by_letter() {
        let (a, b) = (width_mm("AB", Face::Regular, 4.0), width_mm("ABBA", Face::Regular, 4.0));
        assert!((b - 2.0 * a).abs() < 1e-9 && a > 4.0);
    }

    #[test]
    fn an_unknown_character_becomes_a_question_mark() {
        let glyph = |text| letters(text, Face::Bold).next().unwrap().glyph;
        assert_eq!(glyph("\u{13000}"), glyph("?"));
    }
}
