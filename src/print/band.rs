//! The band at the edge of every sheet: measuring bars, the sheet's name, what it belongs to, and how to print it.

use std::f64::consts::FRAC_PI_2;

use kurbo::{Affine, Point};

use super::bar::{BAR_4_IN_MM, BAR_MM, MeasuringBar};
use super::drawing::{Drawing, Item};
use super::font::{Face, shortened, width_mm};
use super::frame::{BAND_MM, BandSide, Frame};
use super::shape::Text;
use super::style::Layer;

/// What every page tells its user.
pub const PRINT_NOTE: &str = "Print at 100 % (actual size), not fit to page";

/// Where the bars start, from the left end of the band, in mm.
const BAR_X_MM: f64 = 2.5;
/// Level of the bars below the band's upper edge, in mm.
const BAR_Y_MM: f64 = 6.8;
/// Where the words start.
const WORDS_X_MM: f64 = BAR_X_MM + BAR_4_IN_MM + 6.0;

/// Words of one band.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct BandText<'a> {
    pub(super) title: &'a str,
    pub(super) name: &'a str,
    pub(super) page: usize,
    pub(super) pages: usize,
}

/// The band of a sheet, in sheet mm.
pub(super) fn band_items(frame: &Frame, words: &BandText<'_>) -> Vec<Item> {
    let length_mm = match frame.band_side {
        BandSide::Bottom => frame.band.width(),
        BandSide::Right => frame.band.height(),
    };
    let mut band = Drawing::new("");
    add_bars(&mut band, Point::new(BAR_X_MM, BAR_Y_MM));
    add_words(&mut band, words, length_mm, (frame.page_per_sheet - 1.0).abs() > 1e-9);
    let sheet_from_band = match frame.band_side {
        BandSide::Bottom => Affine::translate(frame.band.origin().to_vec2()),
        // Read from the right: the band's left end is the page's lower end.
        BandSide::Right => Affine::translate((frame.band.x0, frame.band.y1)) * Affine::rotate(-FRAC_PI_2),
    };
    let placed = |item: Item| Item { layer: item.layer, shape: item.shape.transformed(sheet_from_band) };
    band.items.into_iter().map(placed).collect()
}

/// A 100 mm bar above and a 4 in bar below one line, both from the same start.
pub(super) fn add_bars(drawing: &mut Drawing, start: Point) {
    let Point { x, y } = start;
    drawing.line(Layer::Scale, (x, y - 0.4), (x + BAR_MM, y - 0.4));
    drawing.line(Layer::Scale, (x, y + 0.4), (x + BAR_4_IN_MM, y + 0.4));
    for cm in 0..=10 {
        let tick_mm = if cm % 5 == 0 { 3.0 } else { 1.5 };
        let at = x + f64::from(cm) * 10.0;
        drawing.line(Layer::Scale, (at, y - 0.4), (at, y - 0.4 - tick_mm));
    }
    for half_inch in 0..=8 {
        let tick_mm = if half_inch % 2 == 0 { 2.2 } else { 1.2 };
        let at = x + f64::from(half_inch) * 12.7;
        drawing.line(Layer::Scale, (at, y + 0.4), (at, y + 0.4 + tick_mm));
    }
    let mut label = |text: &str, at: f64, level: f64| {
        drawing.text(Text::new(text, (x + at + 0.6, level), 1.9));
    };
    label("0", 0.0, y - 1.6);
    label("50", 50.0, y - 1.6);
    label(MeasuringBar::METRIC.name, BAR_MM - 11.0, y - 2.4);
    for inch in 0..=3 {
        label(&inch.to_string(), f64::from(inch) * 25.4, y + 3.4);
    }
    label(MeasuringBar::INCHES.name, BAR_4_IN_MM - 6.5, y + 4.0);
}

fn add_words(band: &mut Drawing, words: &BandText<'_>, length_mm: f64, corrected: bool) {
    let right = length_mm - 1.5;
    let name = Text::new(words.name, (WORDS_X_MM, 9.4), 6.0).bold();
    let lines_x = WORDS_X_MM + name.width_mm() + 3.5;
    band.text(name);
    let page = format!("sheet {} of {}", words.page, words.pages);
    let page = if corrected { page + ", corrected for your printer" } else { page };
    let room_mm = right - lines_x;
    for (text, y, cap_mm, face) in
        [(words.title, 4.0, 2.3, Face::Bold), (page.as_str(), 7.6, 1.9, Face::Regular), (PRINT_NOTE, 11.2, 1.9, Face::Regular)]
    {
        let mut line = fitted(text, (lines_x, y).into(), cap_mm, room_mm, face);
        line.face = face;
        band.text(line);
    }
}

/// Smallest capitals printed, in mm. Own choice: six point type has 1.5 mm.
const LEAST_CAP_MM: f64 = 1.5;

/// Words made smaller, then shorter, until they fit.
pub(super) fn fitted(text: &str, position: Point, cap_mm: f64, room_mm: f64, face: Face) -> Text {
    let wanted_mm = width_mm(text, face, cap_mm);
    if wanted_mm <= room_mm {
        return Text::new(text, position, cap_mm);
    }
    let cap_mm = (cap_mm * room_mm / wanted_mm).clamp(LEAST_CAP_MM, cap_mm);
    Text::new(shortened(text, face, cap_mm, room_mm), position, cap_mm)
}

/// The band's depth and the frame agree; kept here so that a change in one is a change in the other.
const _: () = assert!(BAR_Y_MM + 4.4 < BAND_MM);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn long_titles_are_cut_to_the_room() {
        let long = "A long title ".repeat(20);
        let text = fitted(&long, Point::ZERO, 2.3, 60.0, Face::Bold).bold();
        assert!(text.width_mm() <= 60.0 && text.text.ends_with('…'), "{text:?}");
        let text = fitted("short", Point::ZERO, 2.3, 60.0, Face::Regular);
        assert_eq!((text.text.as_str(), text.cap_height_mm), ("short", 2.3));
    }
}
