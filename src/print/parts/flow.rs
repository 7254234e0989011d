//! Words, boxes and pictures flowing down the pages of a card or a plan.

use crate::measure::unbroken;
use crate::print::{Anchor, Drawing, Face, Image, Layer, Pixels, Shape, Text, width_mm};
use kurbo::{Affine, Point, Rect, Shape as _};
use std::sync::Arc;

/// Breadth of a page, mm: fits the printable width of A4 (with margins up to 9 mm) and Letter.
pub(super) const PAGE_WIDTH_MM: f64 = 192.0;
/// Height of a page, mm: fits the printable height of both, with the band of bars at its foot.
pub(super) const PAGE_HEIGHT_MM: f64 = 252.0;
/// Height of capitals of ordinary words and of numbers, mm: of type of ten points, legible at arm's length, and the least on a card or a plan. A point is 1/72 in; the
/// font's capitals are 1456 of 2048 parts of its size (published, in its own table).
pub(super) const CAP_MM: f64 = 2.51;
/// How many times as high they are where a card has room: twelve points, eleven, ten.
const SIZES: [f64; 3] = [1.2, 1.1, 1.0];
/// Height of capitals that a number has at least in a table of more columns than a page has room for, mm.
pub(super) const LEAST_NUMBER_CAP_MM: f64 = 2.0;
/// Between a column's words and the next column of a table, mm.
pub(super) const GAP_MM: f64 = 2.4;
/// Headings that are too long are set smaller down to this share, then broken.
const LEAST_HEADING_SHARE: f64 = 0.7;
/// From one line to the next, mm: the airiest that takes no page more than the tightest. Type of ten points is usually set on
/// twelve, 4.23 mm; on less only where that saves a page.
const LINES_MM: [f64; 6] = [5.2, 4.9, 4.6, 4.4, 4.23, 4.0];
/// The same for ordinary words of a handout, mm.
const LINE_MM: f64 = 4.23;
/// The same in a plan, which takes as many pages as it takes.
const PLAN_LINE_MM: f64 = 4.9;
/// Side of a box to tick, mm: large enough for a thick pencil and a wet hand.
pub(super) const BOX_MM: f64 = 3.2;
/// Between words and a frame below them, mm: room for what hangs under their line.
const ABOVE_FRAME_MM: f64 = 2.5;
/// Between a frame and what is in it, mm.
const FRAME_MM: f64 = 2.5;
/// From one ruled line for notes to the next, mm: handwriting.
const RULED_MM: f64 = 9.0;

/// Pages filled from the top.
pub(super) struct Flow {
    title: String,
    pages: Vec<Drawing>,
    pub(super) y_mm: f64,
    /// Headings after which nothing stands on the page yet.
    headings: Option<Headings>,
    pub(super) line_mm: f64,
    /// Height of capitals of ordinary words, mm.
    pub(super) cap_mm: f64,
    /// Between a table's column and the next, mm.
    pub(super) gap_mm: f64,
    /// Whether a table has more columns than the page has room for.
    pub(super) is_squeezed: bool,
    /// Cells of tables whose words take several lines.
    pub(super) broken_cells: usize,
    /// Where words begin and end, mm; the whole page unless something stands beside them.
    pub(super) left_mm: f64,
    pub(super) right_mm: f64,
}

/// Headings at the end of a page: how many items stand before them and with them, and where the first begins, mm.
#[derive(Debug, Clone, Copy)]
struct Headings {
    before: usize,
    until: usize,
    top_mm: f64,
}

/// Sets a card in as few pages as it can be set in, and in those as it reads best: its parts on pages of their own where `fill` is
/// told to keep them apart, letters large, lines airy. Letters are never so large that a table's words break over lines that ordinary ones
/// leave whole.
pub(super) fn set_in_fewest(title: &str, fill: impl Fn(&mut Flow, Apart)) -> Vec<Drawing> {
    let set = |apart: Apart, size: f64, line_mm: f64| {
        let mut flow = Flow::new(title.to_owned(), size * line_mm, size * CAP_MM);
        fill(&mut flow, apart);
        flow
    };
    let ways = || [Apart::Yes, Apart::No].into_iter();
    let [airiest_mm, .., tightest_mm] = LINES_MM;
    let tightest: Vec<Flow> = ways().map(|apart| set(apart, 1.0, tightest_mm)).collect();
    let fewest = tightest.iter().map(|flow| flow.pages.len()).min();
    let broken_cells = tightest.iter().map(|flow| flow.broken_cells).min().unwrap_or(0);
    let sizes = ways().flat_map(|apart| SIZES.map(|size| (apart, size)));
    let all = sizes.flat_map(|(apart, size)| LINES_MM.map(|line_mm| (apart, size, line_mm)));
    let is_good = |flow: &Flow, size: f64| {
        Some(flow.pages.len()) == fewest && (size <= 1.0 || !flow.is_squeezed && flow.broken_cells <= broken_cells)
    };
    let mut tried = all.map(|(apart, size, line_mm)| (set(apart, size, line_mm), size));
    let found = tried.find(|(flow, size)| is_good(flow, *size));
    found.map_or_else(|| set(Apart::Yes, 1.0, airiest_mm).pages, |(flow, _)| flow.pages)
}

/// A way to set pages: in how many tables numbers stand, and how many times as large as ordinary words all is told.
#[derive(Debug, Clone, Copy)]
pub(super) struct Way {
    pub(super) tables: usize,
    pub(super) size: f64,
}

/// Sets pages in the first of several ways that needs no more of them than asked for and squeezes no table; none where no way does.
pub(super) fn set_within(title: &str, most: usize, ways: &[Way], fill: impl Fn(&mut Flow, Way)) -> Option<Vec<Drawing>> {
    ways.iter().find_map(|&way| {
        let mut flow = Flow::new(title.to_owned(), way.size * LINE_MM, way.size * CAP_MM);
        fill(&mut flow, way);
        (flow.pages.len() <= most && !flow.is_squeezed).then_some(flow.pages)
    })
}

/// Whether parts of a card begin on pages of their own.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Apart {
    Yes,
    No,
}

/// Sets pages, as many as it takes, with the middle distance between lines.
pub(super) fn set_pages(title: &str, fill: impl FnOnce(&mut Flow)) -> Vec<Drawing> {
    let mut flow = Flow::new(title.to_owned(), PLAN_LINE_MM, CAP_MM);
    fill(&mut flow);
    flow.pages
}

impl Flow {
    /// Begins the first page.
    fn new(title: String, line_mm: f64, cap_mm: f64) -> Self {
        let (pages, is_squeezed, broken_cells) = (Vec::new(), false, 0);
        let (y_mm, left_mm, right_mm) = (0.0, 0.0, PAGE_WIDTH_MM);
        let mut flow = Self {
            title,
            pages,
            y_mm,
            headings: None,
            line_mm,
            cap_mm,
            gap_mm: GAP_MM,
            is_squeezed,
            broken_cells,
            left_mm,
            right_mm,
        };
        flow.start_page();
        flow
    }

    /// Begins a page. Headings that would be left alone at the foot of the last one come along.
    pub(super) fn start_page(&mut self) {
        let mut page = Drawing::new(self.title.clone());
        page.bounds = Rect::new(0.0, 0.0, PAGE_WIDTH_MM, PAGE_HEIGHT_MM);
        let (foot_mm, ending) = (self.y_mm, self.ending_headings());
        self.y_mm = 0.0;
        if let Some((last, Headings { before, top_mm, .. })) = self.pages.last_mut().zip(ending).filter(|(_, of)| of.before > 0) {
            let by = Affine::translate((0.0, -top_mm));
            for item in last.items.drain(before..) {
                page.add(item.layer, item.shape.transformed(by));
            }
            self.y_mm = foot_mm - top_mm;
        }
        self.headings = (self.y_mm > 0.0).then_some(Headings { before: 0, until: page.items.len(), top_mm: 0.0 });
        self.pages.push(page);
    }

    /// The headings that end the page as it is now.
    fn ending_headings(&self) -> Option<Headings> {
        self.headings.filter(|of| self.pages.last().is_some_and(|page| page.items.len() == of.until))
    }

    /// Height left on the page, mm.
    pub(super) fn left_over_mm(&self) -> f64 {
        PAGE_HEIGHT_MM - self.y_mm
    }

    /// Goes to a new page unless so much fits on this one.
    pub(super) fn keep_together(&mut self, height_mm: f64) {
        if height_mm > self.left_over_mm() {
            self.start_page();
        }
    }

    /// Goes down by a height; to a new page where it does not fit. The baseline to write on.
    pub(super) fn take(&mut self, height_mm: f64) -> f64 {
        self.keep_together(height_mm);
        self.y_mm += height_mm;
        self.y_mm
    }

    pub(super) fn page(&mut self) -> &mut Drawing {
        if self.pages.is_empty() {
            self.start_page();
        }
        let last = self.pages.len() - 1;
        &mut self.pages[last]
    }

    pub(super) fn room_mm(&self) -> f64 {
        self.right_mm - self.left_mm
    }

    /// A heading, kept with the line after it; set smaller, then broken, where it is too long.
    pub(super) fn heading(&mut self, text: &str, cap_mm: f64) {
        let cap_mm = cap_mm * self.cap_mm / CAP_MM;
        let share = self.room_mm() / width_mm(text, Face::Bold, cap_mm);
        let cap_mm = cap_mm * share.clamp(LEAST_HEADING_SHARE, 1.0);
        let lines = broken(text, self.room_mm(), Face::Bold, cap_mm);
        let rest_mm = 1.6 * cap_mm * (lines.len().max(1) - 1) as f64;
        self.keep_together(cap_mm + 2.0 * self.line_mm + rest_mm);
        let (before, top_mm) = (self.page().items.len(), self.y_mm);
        let first = self.ending_headings().unwrap_or(Headings { before, until: before, top_mm });
        for (index, line) in lines.into_iter().enumerate() {
            let y_mm = self.take(if index == 0 { cap_mm + self.line_mm - 1.0 } else { 1.6 * cap_mm });
            let at = (self.left_mm, y_mm);
            self.page().text(Text::new(line, at, cap_mm).bold());
        }
        self.headings = Some(Headings { until: self.page().items.len(), ..first });
    }

    /// A line of words, broken where it is too long.
    pub(super) fn paragraph(&mut self, text: &str) {
        self.words(text, Face::Regular);
    }

    /// A paragraph in letters of one face.
    pub(super) fn words(&mut self, text: &str, face: Face) {
        let cap_mm = self.cap_mm;
        for line in broken(text, self.room_mm(), face, cap_mm) {
            let y_mm = self.take(self.line_mm);
            let text = Text { face, ..Text::new(line, (self.left_mm, y_mm), cap_mm) };
            self.page().text(text);
        }
    }

    /// Words after a box to tick.
    pub(super) fn tick(&mut self, text: &str) {
        self.keep_together(self.line_mm);
        let (left_mm, y_mm) = (self.left_mm, self.y_mm + self.line_mm);
        self.tick_box(left_mm, y_mm);
        self.left_mm += BOX_MM + 2.0;
        self.paragraph(text);
        self.left_mm = left_mm;
    }

    /// A box to tick whose words stand on a baseline.
    pub(super) fn tick_box(&mut self, left_mm: f64, baseline_mm: f64) {
        let middle_mm = baseline_mm - self.cap_mm / 2.0;
        // As large as its line leaves room for.
        let side_mm = BOX_MM * (self.cap_mm / CAP_MM).min(1.0);
        let square = Rect::new(left_mm, middle_mm - side_mm / 2.0, left_mm + side_mm, middle_mm + side_mm / 2.0);
        self.page().path(Layer::Cut, square.to_path(0.1));
    }

    /// What `fill` writes, framed; the frame is closed at a page's foot and opened again on the next.
    pub(super) fn framed(&mut self, fill: impl FnOnce(&mut Self)) {
        self.keep_together(4.0 * self.line_mm);
        let (first_page, top_mm) = (self.pages.len(), self.y_mm + ABOVE_FRAME_MM);
        let (left_mm, right_mm) = (self.left_mm, self.right_mm);
        self.y_mm = top_mm + FRAME_MM - 1.5;
        (self.left_mm, self.right_mm) = (left_mm + FRAME_MM, right_mm - FRAME_MM);
        fill(self);
        (self.left_mm, self.right_mm) = (left_mm, right_mm);
        self.y_mm += FRAME_MM;
        let last_page = self.pages.len();
        for page in first_page..=last_page {
            let from_mm = if page == first_page { top_mm } else { 0.0 };
            // The last line of a page hangs a little below it.
            let foot_mm = PAGE_HEIGHT_MM + 0.5 * self.cap_mm;
            let to_mm = if page == last_page { self.y_mm.min(foot_mm) } else { foot_mm };
            let frame = Rect::new(left_mm, from_mm, right_mm, to_mm);
            self.pages[page - 1].path(Layer::Outline, frame.to_path(0.1));
        }
    }

    /// Ruled lines for notes, to the foot of the page; none where there is no room for so many.
    pub(super) fn notes(&mut self, title: &str, least: u32) {
        if 3.2 + self.line_mm + f64::from(least) * RULED_MM > self.left_over_mm() {
            return;
        }
        self.heading(title, 3.2);
        while self.left_over_mm() >= RULED_MM {
            let y_mm = self.take(RULED_MM);
            let (left_mm, right_mm) = (self.left_mm, self.right_mm);
            self.page().line(Layer::Map, (left_mm, y_mm), (right_mm, y_mm));
        }
    }

    /// A picture, as broad as the room and at most so high; it is framed, for white cloth is as white as paper.
    pub(super) fn picture(&mut self, pixels: &Arc<Pixels>, most_high_mm: f64) {
        let across = self.room_mm() / pixels.width() as f64;
        let scale = across.min(most_high_mm / pixels.height() as f64);
        let (width_mm, height_mm) = (scale * pixels.width() as f64, scale * pixels.height() as f64);
        self.keep_together(height_mm + 2.0);
        let at =
            Rect::from_origin_size((self.left_mm + 0.5 * (self.room_mm() - width_mm), self.y_mm + 1.0), (width_mm, height_mm));
        self.page().add(Layer::Fill, Shape::Image(Image::new(pixels.clone(), at)));
        self.page().path(Layer::Map, at.inflate(0.5, 0.5).to_path(0.1));
        self.y_mm += height_mm + 2.0;
    }

    /// A drawing in the middle of a room of the page, at its own size.
    pub(super) fn place(&mut self, drawing: &Drawing, room: Rect) {
        let aside = 0.5 * (room.size() - drawing.bounds.size());
        self.place_at(drawing, room.origin() + (aside.width, aside.height) - drawing.bounds.origin().to_vec2());
    }

    /// A drawing on the page, its origin there.
    pub(super) fn place_at(&mut self, drawing: &Drawing, at: Point) {
        let by = Affine::translate(at.to_vec2());
        for item in &drawing.items {
            self.page().add(item.layer, item.shape.transformed(by));
        }
    }

    /// Two columns beside each other, the left one of a breadth; they go on below the longer. Where no page holds them they stand one
    /// below the other.
    pub(super) fn columns(&mut self, left_width_mm: f64, gap_mm: f64, left: impl Fn(&mut Self), right: impl Fn(&mut Self)) {
        let right_width_mm = self.room_mm() - left_width_mm - gap_mm;
        let heights_mm = self.height_mm(left_width_mm, &left).zip(self.height_mm(right_width_mm, &right));
        let Some((left_height_mm, right_height_mm)) = heights_mm else {
            left(self);
            return right(self);
        };
        self.keep_together(left_height_mm.max(right_height_mm));
        let (left_mm, right_mm, top_mm) = (self.left_mm, self.right_mm, self.y_mm);
        self.right_mm = left_mm + left_width_mm;
        left(self);
        let left_end_mm = self.y_mm;
        (self.left_mm, self.right_mm, self.y_mm) = (left_mm + left_width_mm + gap_mm, right_mm, top_mm);
        right(self);
        (self.left_mm, self.right_mm) = (left_mm, right_mm);
        self.y_mm = self.y_mm.max(left_end_mm);
    }

    /// Height that something takes at a breadth, mm; none where a page does not hold it.
    pub(super) fn height_mm(&self, width_mm: f64, fill: impl FnOnce(&mut Self)) -> Option<f64> {
        let mut trial = Self::new(String::new(), self.line_mm, self.cap_mm);
        (trial.right_mm, trial.gap_mm) = (width_mm, self.gap_mm);
        fill(&mut trial);
        (trial.pages.len() == 1 && trial.y_mm <= PAGE_HEIGHT_MM).then_some(trial.y_mm)
    }

    /// A line of words at a place of the page, cut where it would not fit its room.
    pub(super) fn put(&mut self, text: &str, at: Point, anchor: Anchor, face: Face) {
        let text = Text { face, ..Text::new(text, at, self.cap_mm).anchored(anchor) };
        self.page().text(text);
    }
}

/// Breaks words into lines of at most `room_mm`, never between a number and its unit; a word longer than that is broken too.
pub(super) fn broken(text: &str, room_mm: f64, face: Face, cap_mm: f64) -> Vec<String> {
    let long_mm = |words: &str| width_mm(words, face, cap_mm);
    let space_mm = long_mm(" ");
    let mut lines: Vec<String> = Vec::new();
    // Letters are set without kerning: a line is as long as its words and the spaces between them.
    let mut line_mm = 0.0;
    for word in unbroken(text).flat_map(|word| pieces(word, room_mm, &long_mm)) {
        let word_mm = long_mm(&word);
        match lines.last_mut() {
            Some(line) if line_mm + space_mm + word_mm <= room_mm => {
                line.push(' ');
                line.push_str(&word);
                line_mm += space_mm + word_mm;
            }
            _ => {
                lines.push(word);
                line_mm = word_mm;
            }
        }
    }
    lines
}

/// A word in pieces of at most a length.
fn pieces(word: &str, room_mm: f64, long_mm: &impl Fn(&str) -> f64) -> Vec<String> {
    if long_mm(word) <= room_mm {
        return vec![word.to_owned()];
    }
    let mut pieces = vec![String::new()];
    for letter in word.chars() {
        let last = pieces.len() - 1;
        let longer = format!("{}{letter}", pieces[last]);
        if pieces[last].is_empty() || long_mm(&longer) <= room_mm {
            pieces[last] = longer;
        } else {
            pieces.push(letter.to_string());
        }
    }
    pieces
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_are_broken_between_words_and_none_is_lost() {
        let text = "one two three four five six seven eight nine ten".repeat(6);
        let lines = broken(&text, 60.0, Face::Regular, 2.5);
        assert!(lines.len() > 3 && lines.iter().all(|line| Text::new(line.as_str(), (0.0, 0.0), 2.5).width_mm() <= 60.0));
        assert_eq!(lines.join(" "), text);
        for room_mm in [20.0, 24.0, 28.0, 32.0, 36.0, 40.0] {
            let lines = broken("Guide arc: 9 1/4 in, then 13 yd 1/4 in of thread, 62.9 g/L", room_mm, Face::Regular, 2.5);
            for whole in ["9 1/4 in,", "62.9 g/L"] {
                assert!(lines.iter().any(|line| line.contains(whole)), "{room_mm}: {lines:?}");
            }
        }
        let endless = "endless".repeat(30);
        let lines = broken(&endless, 60.0, Face::Regular, 2.5);
        assert!(lines.len() > 3 && lines.concat() == endless);
    }

    /// Twelve points were chosen where they broke "across back" over two lines, and eleven left it whole.
    #[test]
    fn letters_grow_only_while_words_stay_on_their_line() {
        use super::super::table::{Row, number, words};
        let columns = [words("Measure"), number("now, mm")].repeat(4);
        let set = |name: &str| {
            let row = || Row { cells: [name, "123.5"].repeat(4).into_iter().map(str::to_owned).collect(), ..Row::default() };
            let pages = set_in_fewest("card", |flow, _| flow.table(&columns, &[row(), row()]));
            let texts =
                pages[0].items.iter().filter_map(|item| if let Shape::Text(text) = &item.shape { Some(text) } else { None });
            let texts: Vec<&Text> = texts.collect();
            let whole = texts.iter().filter(|text| text.text == name).count();
            (whole, texts.iter().map(|text| text.cap_height_mm / CAP_MM).fold(0.0, f64::max))
        };
        let (whole, size) = set("length");
        assert_eq!(whole, 8);
        assert!((size - 1.2).abs() < 1e-9, "short words are set large: {size}");
        // So long that four fit beside each other in ordinary letters and not in the largest.
        let gaps_mm = 2.0 * 2.4;
        let pair_mm = |name: &str, size: f64| {
            let (name_mm, number_mm) = (width_mm(name, Face::Regular, CAP_MM), width_mm("now, mm", Face::Bold, CAP_MM));
            size * (name_mm + number_mm) + gaps_mm
        };
        let names = (1..60).map(|letters| format!("at {}", "i".repeat(letters)));
        let room_mm = PAGE_WIDTH_MM / 4.0;
        let long = names.into_iter().find(|name| pair_mm(name, 1.0) <= room_mm && pair_mm(name, 1.15) > room_mm).unwrap();
        let (whole, size) = set(&long);
        assert_eq!(whole, 8, "no word leaves its line");
        assert!(size < 1.2 - 1e-9, "{size}");
    }

    /// A name of 80 letters used to run off the page.
    #[test]
    fn long_headings_are_broken_within_the_page() {
        for text in ["A name of very many words for a shirt of which the club will be proud one day yes", &"M".repeat(80)] {
            let pages = set_pages("card", |flow| flow.heading(text, 5.0));
            assert_eq!(pages.len(), 1);
            for item in &pages[0].items {
                assert!(item.shape.bounding_box().x1 <= PAGE_WIDTH_MM + 1e-6, "{item:?}");
            }
            let smallest_mm = 0.7 * 5.0 - 1e-9;
            let cap_mm = |item: &crate::print::Item| {
                if let Shape::Text(text) = &item.shape { text.cap_height_mm } else { 0.0 }
            };
            assert!(pages[0].items.iter().all(|item| cap_mm(item) >= smallest_mm));
        }
    }

    /// A box longer than a page is closed at its foot and opened again, and nothing in it leaves it.
    #[test]
    fn a_frame_goes_on_over_pages() {
        let pages = set_pages("card", |flow| flow.framed(|flow| (0..120).for_each(|_| flow.paragraph("much to look out for"))));
        assert_eq!(pages.len(), 3);
        for page in &pages {
            let frames: Vec<Rect> =
                page.items.iter().filter(|item| item.layer == Layer::Outline).map(|item| item.shape.bounding_box()).collect();
            assert_eq!(frames.len(), 1);
            for item in &page.items {
                assert!(frames[0].union(item.shape.bounding_box()) == frames[0], "{item:?}");
            }
        }
    }
}
