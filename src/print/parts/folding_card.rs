//! The folding card: what stands beside the maker at the table, every fold as a picture, then the bundle with what holds it, to scale.

use super::flow::{PAGE_HEIGHT_MM, PAGE_WIDTH_MM, set_pages};
use super::fold_steps::FoldPictures;
use super::puck_sheet;
use crate::geometry::{BundleFace, DipPart, FlatFold};
use crate::layout::{Figures, HandPart, Handwork, Layout};
use crate::measure::LengthStyle;
use crate::print::{Anchor, Arc, Drawing, Face, Item, Layer, Shape, Text};
use kurbo::{Affine, Point, Rect, Size, Vec2};

/// Scales that are drawn to, as one to so much.
const SCALES: [f64; 8] = [1.0, 2.0, 2.5, 4.0, 5.0, 10.0, 20.0, 50.0];
/// Height of the room for the bundle, mm, with the numbers of its binds above it.
const BUNDLE_MM: f64 = 62.0;
const NUMBERS_MM: f64 = 5.0;
/// Height of numbers of binds, mm, and the least room between two.
const NUMBER_MM: f64 = 2.3;
const BETWEEN_MM: f64 = 4.0;

/// The card of a flat bundle or a spiral; nothing of a fold that is pleated.
#[must_use]
pub fn folding_card(layout: &Layout, figures: &Figures, lengths: LengthStyle) -> Vec<Drawing> {
    if layout.flat().is_none() && layout.spiral().is_none() {
        return Vec::new();
    }
    set_pages(&format!("{}: folding card", layout.name()), |flow| {
        let work = Handwork::of(layout, figures);
        flow.heading(&format!("{}: folding card", layout.name()), 5.0);
        for part in [HandPart::Lay, HandPart::Mark, HandPart::Fold] {
            flow.paragraph(&work.words(part, lengths));
        }
        flow.paragraph(
            "Dashes: where it is folded next, by the number on the template. Sizes: after that fold, as much as there is cloth.",
        );
        let held = held_words(&work, figures, lengths);
        let words_mm = flow.height_mm(PAGE_WIDTH_MM, |flow| held.iter().for_each(|words| flow.paragraph(words)));
        let below_mm = BUNDLE_MM + NUMBERS_MM + 2.0 * flow.line_mm + words_mm.unwrap_or_default();
        let top_mm = flow.y_mm + 2.0;
        let room = Size::new(PAGE_WIDTH_MM, (PAGE_HEIGHT_MM - top_mm - below_mm).max(BUNDLE_MM));
        if let Some(steps) = FoldPictures::of(layout, figures, lengths) {
            flow.take(2.0 + room.height);
            place(flow.page(), steps.drawing(room), Affine::translate((0.0, top_mm)));
        }
        let scale = bundle_scale(layout);
        flow.words(&scale_words(layout, scale), Face::Bold);
        let top_mm = flow.y_mm + NUMBERS_MM;
        flow.take(NUMBERS_MM + BUNDLE_MM);
        let room = Rect::new(0.0, top_mm, PAGE_WIDTH_MM, top_mm + BUNDLE_MM);
        if let Some(fold) = layout.flat() {
            bundle(flow.page(), layout, figures, fold, room, scale);
        } else if let Some(sheet) = puck_sheet(layout, figures, lengths) {
            puck(flow.page(), sheet, room, scale);
        }
        for words in &held {
            flow.paragraph(words);
        }
    })
}

/// How it is tied, wound and clamped, in order.
fn held_words(work: &Handwork, figures: &Figures, lengths: LengthStyle) -> Vec<String> {
    let ties = figures.tying_order.iter().map(u32::to_string).collect::<Vec<_>>().join(", ");
    let bands = figures.spiral.is_some();
    let tied = match (figures.binds.len(), bands) {
        (0, _) => None,
        (_, true) => {
            let each = work.parts().filter(|part| matches!(part, HandPart::Tie(_)));
            Some(each.map(|part| format!("{}: {}", work.title(part), work.words(part, lengths))).collect::<Vec<_>>().join(" "))
        }
        (1, _) => Some("Tie its one bind.".to_owned()),
        (..) => Some(format!("Tie the binds in this order: {ties}.")),
    };
    let clamp = work.parts().any(|part| part == HandPart::Clamp).then(|| work.words(HandPart::Clamp, lengths));
    let wind = work.parts().any(|part| part == HandPart::Wrap).then(|| work.words(HandPart::Wrap, lengths));
    tied.into_iter().chain(wind).chain(clamp).chain(figures.dip_words(lengths)).collect()
}

/// How large what is held is on the table, mm: with its blocks, which may reach over its edge.
fn extent(layout: &Layout) -> Rect {
    match (layout.flat(), layout.spiral()) {
        (Some(fold), _) => {
            let bundle = Rect::from_origin_size(Point::ORIGIN, fold.size());
            layout.blocks().map_or(bundle, |block| bundle.union(block.bounds()))
        }
        (_, Some(spiral)) => Rect::from_center_size(Point::ORIGIN, Size::new(2.4 * spiral.radius_mm(), 2.4 * spiral.radius_mm())),
        (None, None) => Rect::ZERO,
    }
}

/// The largest of the usual scales at which it fits its room.
fn bundle_scale(layout: &Layout) -> f64 {
    let size = extent(layout).size();
    let fits = |scale: &f64| size.width / scale <= PAGE_WIDTH_MM && size.height / scale <= BUNDLE_MM;
    SCALES.into_iter().find(fits).unwrap_or(100.0)
}

fn scale_words(layout: &Layout, scale: f64) -> String {
    let what = if layout.flat().is_some() { "The bundle from above, its first end to the left" } else { "The puck from above" };
    if scale == 1.0 { format!("{what}, full size.") } else { format!("{what}, at 1 : {scale}.") }
}

fn bundle(page: &mut Drawing, layout: &Layout, figures: &Figures, fold: &FlatFold, room: Rect, scale: f64) {
    let at = Affine::translate(room.center().to_vec2())
        * Affine::scale(1.0 / scale)
        * Affine::translate(-extent(layout).center().to_vec2());
    let corners = fold.outline();
    for (&from, &to) in corners.iter().zip(corners.iter().cycle().skip(1)) {
        page.line(Layer::Outline, at * from, at * to);
    }
    if let Some(block) = layout.blocks() {
        page.path(Layer::Guide, at * block.path());
    }
    for (face, layer) in [(BundleFace::Upper, Layer::Across), (BundleFace::Lower, Layer::Behind)] {
        for line in layout.wrap().into_iter().flat_map(|wrap| wrap.lines(face)) {
            page.line(layer, at * line.p0, at * line.p1);
        }
    }
    dips(page, layout, fold, at);
    let mut last_mm = f64::NEG_INFINITY;
    for bind in &figures.binds {
        let Some(chord) = fold.chord(bind.radius_mm).map(|chord| at * chord) else { continue };
        page.line(Layer::Across, chord.p0, chord.p1);
        if chord.p0.x - last_mm >= BETWEEN_MM {
            last_mm = chord.p0.x;
            let above = Point::new(chord.p0.x, chord.p0.y - 1.2);
            let text = Text::new(bind.number.to_string(), above, NUMBER_MM).anchored(Anchor::Middle);
            page.text(if bind.on_guide_arc { text.bold() } else { text });
        }
    }
}

/// What lies in dye, and the numbers of corners and of the edges that are dipped.
fn dips(page: &mut Drawing, layout: &Layout, fold: &FlatFold, at: Affine) {
    for dip in layout.dips() {
        let points = fold.in_dye(&dip.zone);
        for (&from, &to) in points.iter().zip(points.iter().cycle().skip(1)) {
            page.line(Layer::Across, at * from, at * to);
        }
    }
    if layout.dips().is_empty() {
        return;
    }
    let middle = at * fold.middle();
    for part in fold.dip_parts() {
        let is_told = matches!(part, DipPart::Corner(_)) || layout.raw().dips.iter().any(|dip| dip.part == part);
        let Some(place) = fold.part_place(part).filter(|_| is_told).map(|place| at * place) else { continue };
        let away = (place - middle) / (place - middle).hypot().max(f64::MIN_POSITIVE);
        let (words, beside_mm) = match part {
            DipPart::Corner(number) => (number.to_string(), BESIDE_MM),
            part => (part.to_string(), 2.0 * BESIDE_MM),
        };
        let beside = place + beside_mm * away + Vec2::new(0.0, 0.5 * NUMBER_MM);
        page.text(Text::new(words, beside, NUMBER_MM).anchored(Anchor::Middle).bold());
    }
}

/// How far outside the outline the number of a corner stands, mm; the name of an edge twice as far.
const BESIDE_MM: f64 = 3.5;

/// The puck's own sheet, made smaller; the words at its foot stand on the card already.
fn puck(page: &mut Drawing, mut sheet: Drawing, room: Rect, scale: f64) {
    let foot_mm = sheet.items.iter().filter_map(|item| match &item.shape {
        Shape::Circle(circle) => Some(circle.center.y + circle.radius),
        _ => None,
    });
    let foot_mm = foot_mm.fold(f64::NEG_INFINITY, f64::max);
    // Of a wedge's words its number alone: what it gets stands on its sheet and on the job card.
    let is_kept = |text: &Text| text.position.y <= foot_mm && (text.face == Face::Bold || text.text == "tick");
    sheet.items.retain(|item| !matches!(&item.shape, Shape::Text(text) if !is_kept(text)));
    let at = Affine::translate(room.center().to_vec2()) * Affine::scale(1.0 / scale);
    place(page, sheet, at);
}

/// Puts a drawing onto a page; letters keep their size but where they would be too small to read.
fn place(page: &mut Drawing, drawing: Drawing, at: Affine) {
    page.names = drawing.names;
    let scale = at.determinant().abs().sqrt();
    let moved = |shape: Shape| match shape {
        Shape::Line(line) => Shape::Line(at * line),
        Shape::Path(path) => Shape::Path(at * path),
        Shape::Circle(circle) => Shape::Circle(kurbo::Circle::new(at * circle.center, scale * circle.radius)),
        Shape::Arc(arc) => Shape::Arc(Arc { center: at * arc.center, radius_mm: scale * arc.radius_mm, ..arc }),
        Shape::Text(text) => {
            let least_mm = LEAST_MM.min(text.cap_height_mm);
            let cap_height_mm = (scale * text.cap_height_mm).max(least_mm);
            Shape::Text(Text { position: at * text.position, cap_height_mm, ..text })
        }
        other => other,
    };
    page.items.extend(drawing.items.into_iter().map(|item| Item { shape: moved(item.shape), ..item }));
}

/// Least height of letters that are read at a table, mm.
const LEAST_MM: f64 = 1.9;
