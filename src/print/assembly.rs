//! The assembly map: the drawing small, with the sheets' edges and names, and how to put them together.

use kurbo::{Affine, Point, Rect, Shape as _, Vec2};

use super::band::{BandText, PRINT_NOTE, band_items, fitted};
use super::drawing::{Drawing, Item};
use super::font::Face;
use super::frame::Frame;
use super::page::{Page, Painted, Placed};
use super::shape::{Anchor, Shape, Text};
use super::style::Layer;
use super::tiling::Tiling;

/// Name of the map among the sheets.
const NAME: &str = "Map";
/// Height of the instructions' capitals in mm.
const CAP_MM: f64 = 2.8;
/// Distance of their lines in mm.
const LINE_MM: f64 = 5.6;

/// The page with the map of a tiling.
pub(super) fn map_page(drawing: &Drawing, tiling: &Tiling, pages: usize) -> Page {
    let frame = &tiling.frame;
    let mut map = Drawing::new("");
    let count = tiling.sheets.len();
    let join = if tiling.overlap_mm > 0.0 {
        "Cut along the right and bottom trim lines, lay over the next sheet,"
    } else {
        "Cut along the trim line at every edge that joins another, butt the sheets,"
    };
    let lines = [
        format!("{PRINT_NOTE}. Measure the bar below before cutting: 100 mm, 4 in."),
        format!("{count} sheets: A1 is top left, letters count rows, numbers columns."),
        join.to_owned(),
        "match numbered marks, tape.".to_owned(),
    ];
    let below = add_heading(&mut map, frame, &drawing.title, &lines);
    let mut room = frame.window.inflate(-4.0, -4.0);
    room.y0 = add_key(&mut map, drawing, Rect { y0: below, ..room });
    let pieces: Vec<(Rect, &str)> = tiling.sheets.iter().map(|s| (s.core, s.name.as_str())).collect();
    add_small_drawing(&mut map, drawing, room, &pieces);
    finish(frame, map, &BandText { title: &drawing.title, name: NAME, page: 1, pages })
}

/// A page with a band and what has been drawn on the sheet.
fn finish(frame: &Frame, mut map: Drawing, words: &BandText<'_>) -> Page {
    map.items.extend(band_items(frame, words));
    let page_from_drawing = Affine::scale(frame.page_per_sheet);
    Page {
        name: words.name.to_owned(),
        size_mm: frame.page,
        placed: vec![Placed { drawing: Painted::of(&map), page_from_drawing, clip: None }],
        links: Vec::new(),
    }
}

/// Title and instructions; returns the level below them.
fn add_heading(map: &mut Drawing, frame: &Frame, title: &str, lines: &[String]) -> f64 {
    let (left, top, room_mm) = (frame.window.x0 + 4.0, frame.window.y0 + 9.0, frame.window.width() - 8.0);
    let heading = fitted(title, Point::new(left, top), 5.0, room_mm, Face::Bold).bold();
    map.text(heading);
    let mut level = top + 8.0;
    for line in lines {
        map.text(fitted(line, Point::new(left, level), CAP_MM, room_mm, Face::Regular));
        level += LINE_MM;
    }
    level
}

/// How a layer is drawn on the map: as on the sheets where its stroke bears it, thin where lines are many.
const fn on_map(layer: Layer) -> Layer {
    match layer {
        Layer::Across | Layer::Fill | Layer::Pounce => Layer::Map,
        other => other,
    }
}

/// Length of a sample of a line in the key, in mm.
const SAMPLE_MM: f64 = 12.0;

/// A sample and the name of every kind of line in the drawing, and of the sheets' edges; returns the level below.
fn add_key(map: &mut Drawing, drawing: &Drawing, room: Rect) -> f64 {
    let is_line = |layer: &Layer| {
        let shows = |shape: &Shape| !matches!(shape, Shape::Text(_) | Shape::Dots(_) | Shape::Area { .. } | Shape::Image(_));
        drawing.items.iter().any(|item| item.layer == *layer && shows(&item.shape))
    };
    let kinds = Layer::ALL.into_iter().filter(is_line).map(|layer| (on_map(layer), drawing.names.of(layer).replace('-', " ")));
    let (mut x, mut y) = (room.x0, room.y0);
    for (layer, name) in kinds.chain([(Layer::Scale, "edge of a sheet".to_owned())]) {
        let text = Text::new(name, Point::ZERO, 0.8 * CAP_MM);
        let width_mm = SAMPLE_MM + 2.0 + text.width_mm();
        if x > room.x0 && x + width_mm > room.x1 {
            (x, y) = (room.x0, y + LINE_MM);
        }
        add_sample(map, layer, Point::new(x, y - 1.0));
        map.text(Text { position: Point::new(x + SAMPLE_MM + 2.0, y), ..text });
        x += width_mm + 6.0;
    }
    y + LINE_MM
}

/// A sample of a kind of line: what is no line on the sheets is drawn as it looks there.
fn add_sample(map: &mut Drawing, layer: Layer, at: Point) {
    let middle = at + Vec2::new(SAMPLE_MM / 2.0, 0.0);
    match layer {
        Layer::Pin => {
            for arm in [Vec2::new(2.0, 0.0), Vec2::new(0.0, 2.0)] {
                map.line(layer, middle - arm, middle + arm);
            }
            map.circle(layer, middle, 0.8);
        }
        Layer::Scale => map.path(layer, Rect::from_center_size(middle, (SAMPLE_MM - 4.0, 3.4)).to_path(0.1)),
        _ => map.line(layer, at, at + Vec2::new(SAMPLE_MM, 0.0)),
    }
}

/// Ink no farther beyond the sheets than this belongs to their edges, mm: half of the widest stroke.
const BEYOND_MM: f64 = 1.0;

/// The drawing fitted into `room`, under the named pieces it is cut into.
fn add_small_drawing(map: &mut Drawing, drawing: &Drawing, room: Rect, pieces: &[(Rect, &str)]) {
    // Words, dots and patterns would only clot at this size.
    let is_shown = |item: &&Item| !matches!(item.shape, Shape::Text(_) | Shape::Dots(_) | Shape::Area { .. } | Shape::Image(_));
    let shown = Drawing { items: drawing.items.iter().filter(is_shown).cloned().collect(), ..Drawing::new("") };
    let Some(cut) = pieces.iter().map(|p| p.0).reduce(|a, b| a.union(b)) else { return };
    // Where no sheet was made for some of a drawing, that shows where the sheets lie.
    let rest = shown.ink_bounds().filter(|ink| !cut.inflate(BEYOND_MM, BEYOND_MM).contains_rect(*ink));
    let extent = rest.map_or(cut, |ink| cut.union(ink));
    let scale = (room.width() / extent.width()).min(room.height() / extent.height());
    let corner = room.center() - scale * extent.size().to_vec2() / 2.0;
    let map_from_drawing =
        Affine::translate(corner.to_vec2()) * Affine::scale(scale) * Affine::translate(-extent.origin().to_vec2());
    for item in &shown.items {
        map.add(on_map(item.layer), item.shape.transformed(map_from_drawing));
    }
    for (core, name) in pieces {
        let small = map_from_drawing.transform_rect_bbox(*core);
        map.path(Layer::Scale, small.to_path(0.1));
        let cap_mm = (small.height() / 4.0).min(small.width() / 5.0).clamp(1.5, 7.0);
        let at = small.center() + Vec2::new(0.0, cap_mm / 2.0);
        map.text(Text::new(*name, at, cap_mm).bold().anchored(Anchor::Middle));
    }
}
