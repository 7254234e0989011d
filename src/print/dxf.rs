//! The DXF writer: one file in mm, `y` up, for cutters and drawing programs. No tiling.
//!
//! ASCII DXF of release AC1015, written after the public DXF reference: tables, blocks, entities, objects, each with its handle. Fixed
//! order, no dates, no identifiers by chance. Circles and arcs stay what they are, curves become cubic splines with the same control
//! points, words become TEXT with their capital height. Solid shapes are written as their edge.

use std::fmt::Write as _;

use kurbo::{BezPath, PathEl, Point};

use super::drawing::{Anchor, Arc, Drawing, Item, Shape, Text};
use super::error::PrintError;
use super::font::Weight;
use super::style::Layer;

/// Drawing units of the file: 4 is mm (DXF reference, `$INSUNITS`).
const UNITS_MM: i32 = 4;

/// Writes a drawing as DXF. The point (x, y) of the drawing becomes (x, -y).
///
/// # Errors
/// [`PrintError::EmptyDrawing`] or [`PrintError::NotFinite`].
pub fn write_dxf(drawing: &Drawing) -> Result<String, PrintError> {
    drawing.check()?;
    let mut tags = Tags::default();
    // The header names the next free handle, so it is written last and put first.
    tables(&mut tags);
    blocks(&mut tags);
    tags.section("ENTITIES");
    for item in drawing.painted() {
        entity(&mut tags, &item);
    }
    tags.end_section();
    objects(&mut tags);
    let mut head = Tags::default();
    header(&mut head, drawing, tags.next_handle);
    Ok(head.text + &tags.text + "  0\nEOF\n")
}

/// Handles that others point to. Below [`FIRST_FREE`].
const MODEL_SPACE: u32 = 0x1;
const PAPER_SPACE: u32 = 0x2;
const ROOT_DICTIONARY: u32 = 0x3;
const GROUP_DICTIONARY: u32 = 0x4;
const BLOCK_TABLE: u32 = 0x5;
const LAYER_TABLE: u32 = 0x6;
const LINE_TYPE_TABLE: u32 = 0x7;
const STYLE_TABLE: u32 = 0x8;
const FIRST_FREE: u32 = 0x20;

/// Pairs of group code and value.
struct Tags {
    text: String,
    next_handle: u32,
}

impl Default for Tags {
    fn default() -> Self {
        Self { text: String::new(), next_handle: FIRST_FREE }
    }
}

impl Tags {
    fn put(&mut self, code: u16, value: impl std::fmt::Display) {
        writeln!(self.text, "{code:>3}\n{value}").expect("a string takes all that is written");
    }

    fn real(&mut self, code: u16, value: f64) {
        let text = format!("{value:.6}");
        let text = text.trim_end_matches('0');
        let text = if text.ends_with('.') { format!("{text}0") } else { text.to_owned() };
        self.put(code, if text == "-0.0" { "0.0" } else { &text });
    }

    /// A point at the codes `x`, `x + 10`, `x + 20`, turned upright.
    fn point(&mut self, x_code: u16, p: Point) {
        self.real(x_code, p.x);
        self.real(x_code + 10, -p.y);
        self.real(x_code + 20, 0.0);
    }

    fn handle(&mut self, handle: u32) {
        self.put(5, format_args!("{handle:X}"));
    }

    fn new_handle(&mut self) {
        let handle = self.next_handle;
        self.next_handle += 1;
        self.handle(handle);
    }

    fn owner(&mut self, handle: u32) {
        self.put(330, format_args!("{handle:X}"));
    }

    fn section(&mut self, name: &str) {
        self.put(0, "SECTION");
        self.put(2, name);
    }

    fn end_section(&mut self) {
        self.put(0, "ENDSEC");
    }

    fn table(&mut self, name: &str, handle: u32, entries: usize) {
        self.put(0, "TABLE");
        self.put(2, name);
        self.handle(handle);
        self.owner(0);
        self.put(100, "AcDbSymbolTable");
        self.put(70, entries);
    }

    fn record(&mut self, kind: &str, owner: u32, class: &str) {
        self.put(0, kind);
        self.new_handle();
        self.record_body(owner, class);
    }

    fn record_body(&mut self, owner: u32, class: &str) {
        self.owner(owner);
        self.put(100, "AcDbSymbolTableRecord");
        self.put(100, class);
    }
}

fn header(tags: &mut Tags, drawing: &Drawing, next_handle: u32) {
    let b = drawing.bounds;
    tags.section("HEADER");
    let variable = |tags: &mut Tags, name: &str| tags.put(9, name);
    variable(tags, "$ACADVER");
    tags.put(1, "AC1015");
    variable(tags, "$DWGCODEPAGE");
    tags.put(3, "ANSI_1252");
    variable(tags, "$INSUNITS");
    tags.put(70, UNITS_MM);
    variable(tags, "$MEASUREMENT");
    tags.put(70, 1);
    variable(tags, "$EXTMIN");
    tags.point(10, Point::new(b.x0, b.y1));
    variable(tags, "$EXTMAX");
    tags.point(10, Point::new(b.x1, b.y0));
    variable(tags, "$HANDSEED");
    tags.handle(next_handle);
    tags.end_section();
}

fn tables(tags: &mut Tags) {
    tags.section("TABLES");
    empty_table(tags, "VPORT", 0x9);
    line_types(tags);
    layers(tags);
    text_styles(tags);
    empty_table(tags, "VIEW", 0xA);
    empty_table(tags, "UCS", 0xB);
    tags.table("APPID", 0xC, 1);
    tags.record("APPID", 0xC, "AcDbRegAppTableRecord");
    tags.put(2, "ACAD");
    tags.put(70, 0);
    tags.put(0, "ENDTAB");
    tags.table("DIMSTYLE", 0xD, 0);
    tags.put(100, "AcDbDimStyleTable");
    tags.put(71, 0);
    tags.put(0, "ENDTAB");
    tags.table("BLOCK_RECORD", BLOCK_TABLE, 2);
    for (name, handle) in [("*Model_Space", MODEL_SPACE), ("*Paper_Space", PAPER_SPACE)] {
        tags.put(0, "BLOCK_RECORD");
        tags.handle(handle);
        tags.record_body(BLOCK_TABLE, "AcDbBlockTableRecord");
        tags.put(2, name);
    }
    tags.put(0, "ENDTAB");
    tags.end_section();
}

fn empty_table(tags: &mut Tags, name: &str, handle: u32) {
    tags.table(name, handle, 0);
    tags.put(0, "ENDTAB");
}

fn line_type_name(layer: Layer) -> &'static str {
    if layer.style().dash_mm.is_empty() { "Continuous" } else { layer.style().name }
}

fn line_types(tags: &mut Tags) {
    let dashed: Vec<Layer> = Layer::ALL.into_iter().filter(|l| !l.style().dash_mm.is_empty()).collect();
    tags.table("LTYPE", LINE_TYPE_TABLE, dashed.len() + 3);
    let full = [("ByBlock", ""), ("ByLayer", ""), ("Continuous", "Solid line")].map(|(name, text)| (name, text, &[][..]));
    let dashed = dashed.into_iter().map(|l| (l.style().name, l.style().name, l.style().dash_mm));
    for (name, description, dash_mm) in full.into_iter().chain(dashed) {
        tags.record("LTYPE", LINE_TYPE_TABLE, "AcDbLinetypeTableRecord");
        tags.put(2, name);
        tags.put(70, 0);
        tags.put(3, description);
        tags.put(72, 65);
        tags.put(73, dash_mm.len());
        tags.real(40, dash_mm.iter().sum());
        for (index, mm) in dash_mm.iter().enumerate() {
            // Gaps are negative.
            tags.real(49, if index % 2 == 0 { *mm } else { -mm });
            tags.put(74, 0);
        }
    }
    tags.put(0, "ENDTAB");
}

fn layers(tags: &mut Tags) {
    tags.table("LAYER", LAYER_TABLE, Layer::ALL.len() + 1);
    let zero = ("0", 7, "Continuous", 25);
    let ours = Layer::ALL.map(|l| (l.style().name, l.style().dxf_colour, line_type_name(l), line_weight(l)));
    for (name, colour, line_type, weight) in [zero].into_iter().chain(ours) {
        tags.record("LAYER", LAYER_TABLE, "AcDbLayerTableRecord");
        tags.put(2, name);
        tags.put(70, 0);
        tags.put(62, colour);
        tags.put(6, line_type);
        tags.put(370, weight);
    }
    tags.put(0, "ENDTAB");
}

/// Stroke width in hundredths of a mm.
#[expect(clippy::cast_possible_truncation, reason = "widths in the style table are below a mm")]
fn line_weight(layer: Layer) -> i32 {
    (layer.style().width_mm * 100.0).round() as i32
}

const REGULAR: &str = "Standard";
const BOLD: &str = "Bold";

fn text_styles(tags: &mut Tags) {
    tags.table("STYLE", STYLE_TABLE, 2);
    for (name, file) in [(REGULAR, "arial.ttf"), (BOLD, "arialbd.ttf")] {
        tags.record("STYLE", STYLE_TABLE, "AcDbTextStyleTableRecord");
        tags.put(2, name);
        tags.put(70, 0);
        tags.real(40, 0.0);
        tags.real(41, 1.0);
        tags.real(50, 0.0);
        tags.put(71, 0);
        tags.real(42, 2.5);
        tags.put(3, file);
        tags.put(4, "");
    }
    tags.put(0, "ENDTAB");
}

fn blocks(tags: &mut Tags) {
    tags.section("BLOCKS");
    for (name, record) in [("*Model_Space", MODEL_SPACE), ("*Paper_Space", PAPER_SPACE)] {
        for (kind, class) in [("BLOCK", "AcDbBlockBegin"), ("ENDBLK", "AcDbBlockEnd")] {
            tags.put(0, kind);
            tags.new_handle();
            tags.owner(record);
            tags.put(100, "AcDbEntity");
            tags.put(8, "0");
            tags.put(100, class);
            if kind == "BLOCK" {
                tags.put(2, name);
                tags.put(70, 0);
                tags.point(10, Point::ZERO);
                tags.put(3, name);
                tags.put(1, "");
            }
        }
    }
    tags.end_section();
}

fn objects(tags: &mut Tags) {
    tags.section("OBJECTS");
    for (handle, owner, entry) in
        [(ROOT_DICTIONARY, 0, Some(("ACAD_GROUP", GROUP_DICTIONARY))), (GROUP_DICTIONARY, ROOT_DICTIONARY, None)]
    {
        tags.put(0, "DICTIONARY");
        tags.handle(handle);
        tags.owner(owner);
        tags.put(100, "AcDbDictionary");
        tags.put(281, 1);
        if let Some((name, handle)) = entry {
            tags.put(3, name);
            tags.put(350, format_args!("{handle:X}"));
        }
    }
    tags.end_section();
}

fn begin(tags: &mut Tags, kind: &str, layer: Layer, class: &str) {
    tags.put(0, kind);
    tags.new_handle();
    tags.owner(MODEL_SPACE);
    tags.put(100, "AcDbEntity");
    tags.put(8, layer.style().name);
    tags.put(100, class);
}

fn entity(tags: &mut Tags, item: &Item) {
    let layer = item.layer;
    match &item.shape {
        Shape::Line(line) => {
            begin(tags, "LINE", layer, "AcDbLine");
            tags.point(10, line.p0);
            tags.point(11, line.p1);
        }
        Shape::Circle(c) => circle(tags, layer, c.center, c.radius),
        Shape::Arc(a) => arc(tags, layer, a),
        Shape::Dots(dots) => {
            for center in &dots.centers {
                circle(tags, layer, *center, dots.radius_mm);
            }
        }
        Shape::Path(path) | Shape::Solid(path) => write_path(tags, layer, path),
        Shape::Text(words) => text(tags, layer, words),
        Shape::Area { .. } => {}
    }
}

fn circle(tags: &mut Tags, layer: Layer, center: Point, radius_mm: f64) {
    begin(tags, "CIRCLE", layer, "AcDbCircle");
    tags.point(10, center);
    tags.real(40, radius_mm);
}

/// DXF arcs run counter-clockwise from start to end.
fn arc(tags: &mut Tags, layer: Layer, arc: &Arc) {
    if arc.sweep_rad.abs() >= std::f64::consts::TAU - 1e-12 {
        circle(tags, layer, arc.center, arc.radius_mm);
        return;
    }
    let (from, to) = (-arc.start_rad, -(arc.start_rad + arc.sweep_rad));
    let (from, to) = if arc.sweep_rad > 0.0 { (to, from) } else { (from, to) };
    begin(tags, "ARC", layer, "AcDbCircle");
    tags.point(10, arc.center);
    tags.real(40, arc.radius_mm);
    tags.put(100, "AcDbArc");
    tags.real(50, from.to_degrees().rem_euclid(360.0));
    tags.real(51, to.to_degrees().rem_euclid(360.0));
}

/// Runs of lines become polylines, runs of curves become splines.
fn write_path(tags: &mut Tags, layer: Layer, path: &BezPath) {
    let (mut start, mut last) = (Point::ZERO, Point::ZERO);
    let mut run = Run::Lines(Vec::new());
    for el in path {
        match el {
            PathEl::MoveTo(p) => {
                run.finish(tags, layer, false);
                (start, last) = (p, p);
            }
            PathEl::LineTo(p) => {
                run.lines(tags, layer, last).push(p);
                last = p;
            }
            PathEl::QuadTo(c, p) => {
                let (c1, c2) = (last.lerp(c, 2.0 / 3.0), p.lerp(c, 2.0 / 3.0));
                run.curves(tags, layer, last).extend([c1, c2, p]);
                last = p;
            }
            PathEl::CurveTo(c1, c2, p) => {
                run.curves(tags, layer, last).extend([c1, c2, p]);
                last = p;
            }
            PathEl::ClosePath => {
                let whole = matches!(&run, Run::Lines(points) if points.first() == Some(&start));
                if !whole && last != start {
                    run.lines(tags, layer, last).push(start);
                }
                run.finish(tags, layer, whole);
                last = start;
            }
        }
    }
    run.finish(tags, layer, false);
}

/// Points of the polyline, or control points of the spline, being collected.
enum Run {
    Lines(Vec<Point>),
    Curves(Vec<Point>),
}

impl Run {
    fn lines(&mut self, tags: &mut Tags, layer: Layer, from: Point) -> &mut Vec<Point> {
        if matches!(self, Self::Curves(_)) {
            self.finish(tags, layer, false);
            *self = Self::Lines(Vec::new());
        }
        self.points_from(from)
    }

    fn curves(&mut self, tags: &mut Tags, layer: Layer, from: Point) -> &mut Vec<Point> {
        if matches!(self, Self::Lines(_)) {
            self.finish(tags, layer, false);
            *self = Self::Curves(Vec::new());
        }
        self.points_from(from)
    }

    fn points_from(&mut self, from: Point) -> &mut Vec<Point> {
        let (Self::Lines(points) | Self::Curves(points)) = self;
        if points.is_empty() {
            points.push(from);
        }
        points
    }

    /// Writes what has been collected and starts again.
    fn finish(&mut self, tags: &mut Tags, layer: Layer, closed: bool) {
        match self {
            Self::Lines(points) => {
                if points.len() > 1 {
                    polyline(tags, layer, points, closed);
                }
                points.clear();
            }
            Self::Curves(points) => {
                if points.len() > 3 {
                    spline(tags, layer, points);
                }
                points.clear();
            }
        }
    }
}

fn polyline(tags: &mut Tags, layer: Layer, points: &[Point], closed: bool) {
    let points = if closed && points.first() == points.last() { &points[..points.len() - 1] } else { points };
    begin(tags, "LWPOLYLINE", layer, "AcDbPolyline");
    tags.put(90, points.len());
    tags.put(70, u8::from(closed));
    for p in points {
        tags.real(10, p.x);
        tags.real(20, -p.y);
    }
}

/// Cubic Bezier curves end to end are a spline of degree 3 whose inner knots count threefold.
fn spline(tags: &mut Tags, layer: Layer, controls: &[Point]) {
    let pieces = (controls.len() - 1) / 3;
    begin(tags, "SPLINE", layer, "AcDbSpline");
    // 8: planar.
    tags.put(70, 8);
    tags.put(71, 3);
    tags.put(72, controls.len() + 4);
    tags.put(73, controls.len());
    tags.put(74, 0);
    for knot in 0..=pieces {
        let times = if knot == 0 || knot == pieces { 4 } else { 3 };
        for _ in 0..times {
            tags.real(40, knot as f64);
        }
    }
    for p in controls {
        tags.point(10, *p);
    }
}

fn text(tags: &mut Tags, layer: Layer, text: &Text) {
    begin(tags, "TEXT", layer, "AcDbText");
    tags.point(10, text.drawing_from_text() * Point::ZERO);
    tags.real(40, text.cap_height_mm);
    tags.put(1, encoded(&text.text));
    tags.real(50, (-text.rotation_rad.to_degrees()).rem_euclid(360.0));
    tags.put(
        7,
        match text.weight {
            Weight::Regular => REGULAR,
            Weight::Bold => BOLD,
        },
    );
    let justified = match text.anchor {
        Anchor::Start => 0,
        Anchor::Middle => 1,
        Anchor::End => 2,
    };
    tags.put(72, justified);
    if justified != 0 {
        tags.point(11, text.position);
    }
    tags.put(100, "AcDbText");
}

/// ASCII as it is, all else by number, control characters left out.
fn encoded(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut units = [0; 2];
    for c in text.chars().filter(|c| !c.is_control()) {
        match c {
            ' '..='~' => out.push(c),
            _ => out.extend(c.encode_utf16(&mut units).iter().map(|unit| format!("\\U+{unit:04X}"))),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stroke_widths_are_ones_that_the_format_knows() {
        // Published: DXF reference, group code 370.
        let known = [0, 5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100, 106, 120, 140, 158, 200, 211];
        for layer in Layer::ALL {
            assert!(known.contains(&line_weight(layer)), "{layer:?}");
        }
    }

    #[test]
    fn words_stay_on_one_ascii_line() {
        assert_eq!(encoded("Ø 12\nmm \u{1F9F5}"), "\\U+00D8 12mm \\U+D83E\\U+DDF5");
    }
}
