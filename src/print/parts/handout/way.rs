//! The way to the tied garment: its drawings beside each other, and its steps in words.

use super::OfTie;
use crate::layout::{BindFigures, HandPart, Handwork};
use crate::print::parts::flow::Flow;
use crate::print::parts::held::{Puck, bundle, colour_key, puck, rod};
use crate::print::parts::laid::{Shown, as_laid, middle, order};
use crate::print::{Anchor, Drawing, Face, Image, Layer, Pixels, Shape};
use crate::telling::listed;
use kurbo::{Point, Rect, Size};
use std::sync::Arc;

/// Height of the drawings, mm, and the space between them.
const HIGH_MM: f64 = 50.0;
const BETWEEN_MM: f64 = 6.0;
/// What stands above them at most: their titles and a crease's number, mm.
const ABOVE_MM: f64 = 12.0;
/// Height of the rod at most, its numbers included, mm.
const ROD_MM: f64 = 16.0;
/// Pixels of the picture across and down at most: about 300 to the inch at its size.
const MOST_PIXELS: usize = 720;
/// From one colour's name to the next, mm, and the height of the line of them.
const KEY_APART_MM: f64 = 45.0;
const KEY_MM: f64 = 8.0;

/// What stands in a column of the row of drawings.
pub(super) struct Cell {
    title: String,
    drawing: Option<Drawing>,
    pixels: Option<Arc<Pixels>>,
}

/// The drawings of the way there.
pub(super) struct Drawn {
    cells: Vec<Cell>,
    /// What stands below them on the whole breadth, with its title.
    below: Option<(String, Drawing)>,
    key: Drawing,
}

/// Draws them, once for all the ways that pages are tried in.
pub(super) fn pictures(tie: &OfTie<'_>) -> Drawn {
    let OfTie { layout, figures, reveal, .. } = *tie;
    let columns = if layout.spiral().is_some() { 4 } else { 2 + usize::from(reveal.is_some()) };
    let room = Size::new(column_mm(columns), HIGH_MM);
    let cell = |title: &str, drawing| Cell { title: title.to_owned(), drawing: Some(drawing), pixels: None };
    let laid = |shown| {
        let (mut sketch, _) = as_laid(layout, "As laid", room, shown);
        middle(&mut sketch, layout);
        if shown != Shown::Marks {
            order(&mut sketch, layout);
        }
        sketch.finish()
    };
    let work = Handwork::of(layout, figures);
    let title = |turn: usize, part| format!("{turn}  {}", crate::telling::capitalised(&work.title(part)));
    let is_clamped = work.parts().any(|part| part == HandPart::Clamp);
    let held = match (is_clamped, figures.binds.is_empty()) {
        (true, _) => "Clamp",
        (false, true) if layout.wrap().is_some() => "Wind",
        (false, true) if !figures.dips.is_empty() => "Dip",
        _ => "Tie",
    };
    let mut below = None;
    let mut cells = if let Some(bundle) = bundle(layout, figures, room) {
        vec![cell("1  Lay, mark and fold", laid(Shown::Creases)), cell(&format!("2  {held}"), bundle.finish())]
    } else if let Some((bare, banded)) = puck(layout, figures, room, Puck::Turned).zip(puck(layout, figures, room, Puck::Banded))
    {
        let marked = cell("1  Lay and mark", laid(Shown::Marks));
        vec![marked, cell(&title(2, HandPart::Fold), bare.finish()), cell("3  Band", banded.finish())]
    } else {
        let tied = rod(layout, figures, Size::new(column_mm(1) - 2.0, ROD_MM));
        below = Some(("3  Tie".to_owned(), tied.finish()));
        vec![cell("1  Lay and mark", laid(Shown::Marks)), cell(&title(2, HandPart::Fold), laid(Shown::Creases))]
    };
    cells.extend(reveal.map(|reveal| {
        let pixels = Pixels::on_paper(reveal.width, reveal.height, &reveal.rgba, MOST_PIXELS).map(Arc::new);
        Cell { title: "Opened: an estimate".to_owned(), drawing: None, pixels }
    }));
    let mut key = crate::print::parts::Sketch::new("Colours", Rect::ZERO, Point::ZERO, 1.0);
    colour_key(&mut key, layout, Point::ZERO, KEY_APART_MM);
    Drawn { cells, below, key: key.drawing }
}

/// Breadth of one of so many columns, mm.
fn column_mm(columns: usize) -> f64 {
    let columns = columns as f64;
    (super::super::flow::PAGE_WIDTH_MM - BETWEEN_MM * (columns - 1.0)) / columns
}

/// The drawings, and under them what is done.
pub(super) fn show(flow: &mut Flow, content: &OfTie<'_>, drawn: &Drawn) {
    let column_mm = column_mm(drawn.cells.len());
    flow.keep_together(ABOVE_MM + HIGH_MM);
    flow.y_mm += 2.0;
    let title_mm = flow.take(flow.line_mm + 1.0);
    // A crease's number at the top of a drawing reaches a little beyond its ink.
    let top_mm = flow.take(if content.layout.flat().is_some() { 3.5 } else { 1.5 });
    flow.take(HIGH_MM);
    for (index, cell) in drawn.cells.iter().enumerate() {
        let left_mm = index as f64 * (column_mm + BETWEEN_MM);
        flow.put(&cell.title, Point::new(left_mm, title_mm), Anchor::Start, Face::Bold);
        let room = Rect::new(left_mm, top_mm, left_mm + column_mm, top_mm + HIGH_MM);
        if let Some(drawing) = &cell.drawing {
            flow.place(drawing, room);
        }
        if let Some(pixels) = &cell.pixels {
            image(flow, pixels, room);
        }
    }
    if let Some((title, rod)) = &drawn.below {
        flow.y_mm += 1.0;
        flow.keep_together(flow.line_mm + 2.0 + rod.bounds.height());
        let title_mm = flow.take(flow.line_mm);
        flow.put(title, Point::new(flow.left_mm, title_mm), Anchor::Start, Face::Bold);
        let top_mm = flow.y_mm + 1.0;
        flow.take(rod.bounds.height() + 1.0);
        flow.place(rod, Rect::new(flow.left_mm, top_mm, flow.right_mm, top_mm + rod.bounds.height()));
    }
    if !content.layout.raw().colours.rotation.is_empty() {
        let top_mm = flow.y_mm + 1.5;
        flow.take(KEY_MM);
        flow.place_at(&drawn.key, Point::new(flow.left_mm, top_mm));
    }
    steps(flow, content);
}

/// A picture in the middle of a room, framed: white cloth is as white as paper.
fn image(flow: &mut Flow, pixels: &Arc<Pixels>, room: Rect) {
    let (width, height) = (pixels.width() as f64, pixels.height() as f64);
    let scale = (room.width() / width).min(room.height() / height);
    let size = Size::new(scale * width, scale * height);
    let at = Rect::from_origin_size((room.center().x - 0.5 * size.width, room.y0), size);
    flow.page().add(Layer::Fill, Shape::Image(Image::new(pixels.clone(), at)));
    flow.page().path(Layer::Map, kurbo::Shape::to_path(&at.inflate(0.3, 0.3), 0.1));
}

/// What is done in each part, in the words of the job card.
fn steps(flow: &mut Flow, content: &OfTie<'_>) {
    let OfTie { layout, figures, lengths, .. } = *content;
    let work = Handwork::of(layout, figures);
    let of_size = figures.garment.size.as_ref().map_or_else(String::new, |size| format!(", size {size}"));
    flow.heading(&format!("How it is folded{of_size}"), 3.2);
    let mut say = |title: &str, words: &str| flow.paragraph(&format!("{title}: {words}"));
    say("Lay", &work.lay_words());
    // Who holds this has no template.
    let without = "Ask for the template of your size, or measure the folds out by the table.";
    let mark = match &work.bundle {
        Some(bundle) => format!("{} {without}", bundle.pattern_words(lengths)),
        None => work.words(HandPart::Mark, lengths),
    };
    say("Mark", &mark);
    let fold = if figures.burst.is_some() { work.pleat_words(lengths) } else { work.words(HandPart::Fold, lengths) };
    say(if layout.spiral().is_some() { "Twist" } else { "Fold" }, &fold);
    if layout.spiral().is_some() {
        for bind in &work.binds {
            let part = HandPart::Tie(bind.number);
            say(&crate::telling::capitalised(&work.title(part)), &work.words(part, lengths));
        }
    } else if !figures.binds.is_empty() {
        let order = figures.tying_order.iter().map(u32::to_string).collect::<Vec<_>>().join(", ");
        say("Tie", &format!("In this order: {order}. {}", thread_words(content)));
    }
    if work.parts().any(|part| part == HandPart::Wrap) {
        say("Wind", &work.words(HandPart::Wrap, lengths));
    }
    if work.parts().any(|part| part == HandPart::Clamp) {
        say("Clamp", &work.words(HandPart::Clamp, lengths));
    }
    if let Some(words) = figures.dip_words(lengths) {
        say("Dip", &format!("{words} Corners and edges have their numbers in the drawing."));
    }
}

/// What the binds are tied with: `Thread: waxed cotton, 3 wraps, girth 61 to 96 mm; 9.555 m in all.`
fn thread_words(content: &OfTie<'_>) -> String {
    let OfTie { layout, figures, lengths, .. } = *content;
    let range = |of: &dyn Fn(&BindFigures) -> f64| {
        let all = figures.binds.iter().map(of);
        [all.clone().fold(f64::INFINITY, f64::min), all.fold(0.0, f64::max)]
    };
    let [thin, thick] = range(&|bind| bind.rod.bound_girth_mm).map(|mm| lengths.format(mm));
    let mut wraps: Vec<u32> = figures.binds.iter().map(|bind| bind.wraps).collect();
    wraps.sort_unstable();
    wraps.dedup();
    let wraps = listed(wraps.iter().map(u32::to_string), "or");
    let all = lengths.format_long(figures.thread_mm);
    format!("{} wraps of {}, girths from {thin} to {thick}, {all} of thread in all.", wraps, layout.thread().kind.name())
}
