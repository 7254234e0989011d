//! What is written is read back by independent readers: lopdf (PDF), roxmltree (SVG), group codes (DXF).
//!
//! With `PLEATWRIGHT_PRINT_DIR` set to a folder, the files are left there for `tests/reference/read_back.py`.

use crate::common::reference;
use crate::half_tee;
use crate::pdf_reader;
use crate::pdf_text;
use half_tee::{CENTRE, KNOWN_RADIUS_MM, half_tee, rod_strip};
use kurbo::BezPath;
use pdf_reader::PdfFile;
use pdf_text::pdf_text;
use pleatwright::layout::Figures;
use pleatwright::print::parts::{PartKind, PrintOptions, TemplateOptions, printed_files};
use pleatwright::print::{
    Arc, Dots, Drawing, Layer, Paper, PaperForm, PdfDocument, PrintError, PrinterCorrection, STANDARD_PAPERS, Shape, Text,
    TilingOptions, pt_from_mm, strip_part, template_part, tile, write_dxf, write_pdf, write_svg,
};
use pleatwright::store::{EXAMPLE_LAYOUTS, parse_layout};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use std::path::Path;

/// How far a length read back may be off, in mm.
const TOLERANCE_MM: f64 = 0.05;

#[track_caller]
fn assert_close(found: f64, expected: f64, tolerance: f64) {
    assert!((found - expected).abs() <= tolerance, "found {found}, expected {expected} within {tolerance}");
}

fn options(printed_mm_per_100: f64) -> TilingOptions {
    let correction = PrinterCorrection::from_printed_mm_per_100(printed_mm_per_100).expect("in range");
    TilingOptions { correction, ..TilingOptions::default() }
}

fn tee_pdf(paper: &str, printed_mm_per_100: f64) -> Vec<u8> {
    let (paper, options) = (paper.parse::<Paper>().expect("a paper"), options(printed_mm_per_100));
    let template = template_part(&half_tee(), &paper, &options).expect("the tee fits");
    let strip = strip_part(&rod_strip(), "R", &paper, &options).expect("the strip fits");
    let document = PdfDocument { title: "Harbour Row".into(), parts: vec![template, strip] };
    write_pdf(&document).expect("a PDF")
}

fn leave(name: &str, bytes: &[u8]) {
    if let Some(folder) = std::env::var_os("PLEATWRIGHT_PRINT_DIR") {
        std::fs::write(Path::new(&folder).join(name), bytes).expect("the folder takes files");
    }
}

/// Sheet sizes against `tests/reference/paper.csv`: ISO 216:2007 and ANSI/ASME Y14.1 (published).
#[test]
fn papers_have_their_standard_sizes() {
    let table = include_str!("../reference/paper.csv");
    let rows = table.lines().filter(|l| !l.starts_with('#')).skip(1);
    let mut checked = 0;
    for row in rows {
        let cells: Vec<&str> = row.split(',').collect();
        let name = cells[0].split('/').next().expect("split gives one");
        let paper: Paper = name.parse().unwrap_or_else(|e| panic!("{e}"));
        let PaperForm::Sheet { width_mm, height_mm } = paper.form() else { panic!("{name} is a sheet") };
        let number = |n: usize| cells[n].parse::<f64>().expect("a number");
        assert_close(pt_from_mm(width_mm), number(3), 0.02);
        assert_close(pt_from_mm(height_mm), number(4), 0.02);
        checked += 1;
    }
    assert_eq!(checked, STANDARD_PAPERS.len());
}

#[test]
fn every_paper_takes_the_tee_true_to_size() {
    let rolls = ["roll:610", "roll:914", "300x400"].map(|p| p.parse::<Paper>().expect("a paper"));
    for paper in STANDARD_PAPERS.map(Paper::standard).into_iter().chain(rolls) {
        let part = template_part(&half_tee(), &paper, &TilingOptions::default()).unwrap_or_else(|e| panic!("{paper}: {e}"));
        let count = part.pages.len();
        let size = part.pages[0].size_mm;
        let file = PdfFile::read(&write_pdf(&PdfDocument { title: "t".into(), parts: vec![part] }).expect("a PDF"));
        assert_eq!(file.pages.len(), count, "{paper}");
        for page in &file.pages {
            assert_close(page.media_box[2], pt_from_mm(size.width), 0.02);
            assert_close(page.media_box[3], pt_from_mm(size.height), 0.02);
            let (bar_mm, bar_in) = page.bars_mm();
            assert_close(bar_mm, 100.0, TOLERANCE_MM);
            assert_close(bar_in, 101.6, TOLERANCE_MM);
        }
    }
}

#[test]
fn a_known_circle_and_both_bars_measure_true_on_a_true_printer() {
    let file = PdfFile::read(&tee_pdf("A4", 100.0));
    let radii = file.circle_radii_mm(KNOWN_RADIUS_MM);
    assert!(!radii.is_empty(), "the circle round the burst centre is on a sheet");
    for radius in radii {
        assert_close(radius, KNOWN_RADIUS_MM, TOLERANCE_MM);
    }
}

#[test]
fn a_printer_that_shrinks_prints_true_when_corrected() {
    for printed in [99.2, 101.5] {
        let file = PdfFile::read(&tee_pdf("A4", printed));
        let as_printed = printed / 100.0;
        for page in &file.pages {
            let (bar_mm, bar_in) = page.bars_mm();
            assert_close(bar_mm * as_printed, 100.0, TOLERANCE_MM);
            assert_close(bar_in * as_printed, 101.6, TOLERANCE_MM);
            assert_close(page.media_box[2].min(page.media_box[3]), pt_from_mm(210.0), 0.02);
        }
        let radii = file.circle_radii_mm(KNOWN_RADIUS_MM / as_printed);
        assert!(!radii.is_empty());
        for radius in radii {
            assert_close(radius * as_printed, KNOWN_RADIUS_MM, TOLERANCE_MM);
        }
    }
}

#[test]
fn viewers_are_told_what_the_file_is() {
    let bytes = tee_pdf("A4", 100.0);
    leave("tee-a4.pdf", &bytes);
    let file = PdfFile::read(&bytes);
    assert_eq!(file.print_scaling.as_deref(), Some("None"));
    assert_eq!(file.title.as_deref(), Some("Harbour Row"));
    assert_eq!(file.creator.as_deref(), Some("Pleatwright"));
    assert!(file.embedded_fonts >= 2, "{} fonts", file.embedded_fonts);
    assert!(file.labels.starts_with(&["Map".to_owned(), "A1".to_owned()]), "{:?}", file.labels);
    assert_eq!(file.labels.len(), file.pages.len());
    let parts = ["Harbour Row half tee, plum, medium", "Harbour Row rod strip"];
    assert!(parts.iter().all(|p| file.bookmarks.contains(&(*p).to_owned())), "{:?}", file.bookmarks);
    assert!(file.bookmarks.contains(&"A1".to_owned()));
}

#[test]
fn the_same_drawing_gives_the_same_bytes_and_a_small_file() {
    let bytes = tee_pdf("A4", 100.0);
    assert!(bytes == tee_pdf("A4", 100.0), "no clock, no chance");
    assert!(bytes.len() < 200_000, "{} bytes", bytes.len());
    for paper in ["A3", "Letter", "A0", "roll:610"] {
        leave(&format!("tee-{}.pdf", paper.replace(':', "-").to_lowercase()), &tee_pdf(paper, 100.0));
    }
    leave("tee-a4-99.2.pdf", &tee_pdf("A4", 99.2));
}

/// The map used to draw every line alike.
#[test]
fn the_map_shows_kinds_of_lines_and_names_them() {
    let part = template_part(&half_tee(), &"A4".parse().expect("a paper"), &TilingOptions::default()).expect("the tee fits");
    let map = &part.pages[0];
    let drawn: Vec<_> = map.placed.iter().map(|placed| format!("{placed:?}")).collect();
    // Burst centre and sheets are no lines: in the key they look as they do on the sheets.
    let key = |layer: Layer| {
        let items = map.placed.iter().flat_map(|placed| placed.drawing.items()).filter(move |item| item.layer == layer);
        items.map(|item| item.shape.clone()).collect::<Vec<_>>()
    };
    let circles = key(Layer::Pin).into_iter().filter(|shape| matches!(shape, Shape::Circle(_))).count();
    let boxes = key(Layer::Scale).into_iter().filter(|shape| matches!(shape, Shape::Path(_))).count();
    assert_eq!(circles, 2, "one on the map, one in the key");
    assert_eq!(boxes, part.pages.len(), "one a sheet, one in the key");
    for layer in ["Guide", "Crease", "Axis", "Outline"] {
        assert!(drawn.iter().any(|text| text.contains(&format!("layer: {layer}"))), "{layer}");
    }
    for name in ["guide arc", "bind", "crease", "centre line", "outline", "edge of a sheet"] {
        assert!(drawn.iter().any(|text| text.contains(&format!("text: \"{name}\""))), "{name}");
    }
}

#[test]
fn an_empty_document_and_a_broken_drawing_are_refused() {
    let nothing = PdfDocument { title: "t".into(), parts: Vec::new() };
    assert_eq!(write_pdf(&nothing), Err(PrintError::NoPages { title: "t".into() }));
    let mut drawing = Drawing::new("d");
    assert!(matches!(write_svg(&drawing), Err(PrintError::EmptyDrawing { .. })));
    drawing.line(Layer::Cut, (0.0, 0.0), (f64::INFINITY, 0.0));
    let a4: Paper = "A4".parse().expect("a paper");
    assert!(matches!(tile(&drawing, &a4, &TilingOptions::default()), Err(PrintError::NotFinite { item: 0, .. })));
    assert!(matches!(write_dxf(&drawing), Err(PrintError::NotFinite { .. })));
}

#[test]
fn svg_reads_back_in_mm() {
    let drawing = half_tee();
    let text = write_svg(&drawing).expect("an SVG");
    leave("tee.svg", text.as_bytes());
    let svg = roxmltree::Document::parse(&text).expect("well-formed XML");
    let root = svg.root_element();
    let number = |text: &str| text.trim_end_matches("mm").parse::<f64>().expect("a number");
    let width = number(root.attribute("width").expect("a width"));
    let view: Vec<f64> = root.attribute("viewBox").expect("a view box").split(' ').map(number).collect();
    assert_close(width, drawing.bounds.width(), 1e-3);
    assert_close(width, view[2], 1e-9);
    let circle = svg.descendants().find(|n| n.has_tag_name("circle")).expect("the burst centre");
    assert_close(number(circle.attribute("r").expect("a radius")), KNOWN_RADIUS_MM, 1e-9);
    assert_close(number(circle.attribute("cy").expect("a centre")), CENTRE.y, 1e-9);
    let group = |id: &str| svg.descendants().find(|n| n.attribute("id") == Some(id)).unwrap_or_else(|| panic!("layer {id}"));
    assert_eq!(group("bind").children().filter(|n| n.attribute("d").is_some_and(|d| d.contains('A'))).count(), 17);
    assert_eq!(group("guide-arc").attribute("stroke-width"), Some("0.6"));
    assert!(svg.descendants().any(|n| n.text() == Some("burst centre")));
    assert!(svg.descendants().any(|n| n.has_tag_name("title") && n.text() == Some(&drawing.title)));
    leave("strip.svg", write_svg(&rod_strip()).expect("an SVG").as_bytes());
}

/// Any shape, the degenerate ones included.
fn shapes() -> impl Strategy<Value = Shape> {
    let number = prop_oneof![Just(0.0), Just(f64::NAN), Just(1e300), Just(-7.5), -500.0..900.0, -1e5..1e5];
    (0..8_u8, prop::array::uniform6(number)).prop_map(|(kind, [a, b, c, d, e, f])| {
        let mut path = BezPath::new();
        path.move_to((a, b));
        path.curve_to((c, d), (e, f), (a, f));
        path.quad_to((b, c), (d, e));
        path.line_to((f, a));
        path.close_path();
        match kind {
            0 => Shape::Line(kurbo::Line::new((a, b), (c, d))),
            1 => Shape::Path(path),
            2 => Shape::Circle(kurbo::Circle::new((a, b), c)),
            3 => Shape::Arc(Arc { center: (a, b).into(), radius_mm: c, start_rad: d, sweep_rad: e }),
            4 => Shape::Dots(Dots { centers: vec![(a, b).into(), (c, d).into()], radius_mm: e }),
            5 => Shape::Solid(path),
            6 => Shape::Path(BezPath::new()),
            _ => Shape::Text(Text::new("wörds <&> \u{7}\u{1F9F5}", (a, b), c).rotated(d)),
        }
    })
}

proptest! {
    #![proptest_config(ProptestConfig { rng_seed: RngSeed::Fixed(1), failure_persistence: None, ..ProptestConfig::with_cases(128) })]

    #[test]
    fn no_drawing_breaks_a_writer(shapes in prop::collection::vec(shapes(), 1..4), paper in 0..STANDARD_PAPERS.len()) {
        let mut drawing = Drawing::new("any");
        for (shape, layer) in shapes.into_iter().zip(Layer::ALL) {
            drawing.add(layer, shape);
        }
        let paper = Paper::standard(STANDARD_PAPERS[paper]);
        let svg = write_svg(&drawing);
        prop_assert_eq!(svg.is_ok(), write_dxf(&drawing).is_ok());
        if let Ok(svg) = svg {
            prop_assert!(roxmltree::Document::parse(&svg).is_ok(), "{}", svg);
        }
        if let Ok(part) = template_part(&drawing, &paper, &TilingOptions::default()) {
            if part.pages.len() > 20 {
                return Ok(());
            }
            let pdf = write_pdf(&PdfDocument { title: "any".into(), parts: vec![part] });
            prop_assert!(pdf.is_ok(), "{:?}", pdf.err());
        }
    }
}

/// Entities of a DXF: kind and its pairs.
fn dxf_entities(text: &str) -> Vec<(String, Vec<(u16, String)>)> {
    let lines: Vec<&str> = text.lines().collect();
    let pairs = lines.chunks_exact(2).map(|p| (p[0].trim().parse::<u16>().expect("a group code"), p[1].to_owned()));
    let mut entities: Vec<(String, Vec<(u16, String)>)> = Vec::new();
    for (code, value) in pairs {
        match (code, entities.last_mut()) {
            (0, _) => entities.push((value, Vec::new())),
            (_, Some(entity)) => entity.1.push((code, value)),
            _ => panic!("a file begins with 0"),
        }
    }
    entities
}

#[test]
fn dxf_reads_back_in_mm_and_upright() {
    let text = write_dxf(&half_tee()).expect("a DXF");
    leave("tee.dxf", text.as_bytes());
    leave("strip.dxf", write_dxf(&rod_strip()).expect("a DXF").as_bytes());
    assert!(text.contains("$INSUNITS\n 70\n4\n"));
    let entities = dxf_entities(&text);
    let value = |pairs: &[(u16, String)], code: u16| {
        let pair = pairs.iter().find(|p| p.0 == code).unwrap_or_else(|| panic!("code {code}"));
        pair.1.parse::<f64>().expect("a number")
    };
    let of = |kind: &'static str| entities.iter().filter(move |e| e.0 == kind).map(|e| &e.1);
    let circle = of("CIRCLE").next().expect("the burst centre");
    assert_close(value(circle, 40), KNOWN_RADIUS_MM, 1e-6);
    assert_close(value(circle, 20), -CENTRE.y, 1e-6);
    // Half circles to the right of the centre line: counter-clockwise from straight down to straight up.
    assert_eq!(of("ARC").count(), 18);
    for arc in of("ARC") {
        assert_close(value(arc, 50), 270.0, 1e-6);
        assert_close(value(arc, 51), 90.0, 1e-6);
    }
    for spline in of("SPLINE") {
        let (knots, controls) = (value(spline, 72), value(spline, 73));
        assert_close(knots, controls + 4.0, 0.0);
        assert_eq!(spline.iter().filter(|p| p.0 == 40).count() as f64, knots);
        assert_eq!(spline.iter().filter(|p| p.0 == 10).count() as f64, controls);
    }
    let words: Vec<&str> = of("TEXT").filter_map(|t| t.iter().find(|p| p.0 == 1)).map(|p| p.1.as_str()).collect();
    assert!(words.contains(&"burst centre"));
}

/// What the sheets of real layouts hold, an operator a line: strips, card and a template on one large sheet.
#[test]
fn reference_texts_of_printed_sheets() {
    let printed = |example: &str, kinds: &[PartKind], paper: &str| {
        let text = EXAMPLE_LAYOUTS.iter().find(|layout| layout.name == example).expect("an example").text;
        let layout = parse_layout(text).expect("a layout");
        let options = PrintOptions {
            paper: paper.parse().expect("a paper"),
            tiling: TilingOptions::default(),
            template: TemplateOptions::default(),
        };
        let path = Path::new("sheets.pdf");
        let files = printed_files(&layout, &Figures::of(&layout), kinds, &options, path).expect("sheets");
        pdf_text(&files[0].bytes)
    };
    let card = printed("harbour-row-tee-m.ron", &[PartKind::JobCard], "A4");
    let strips = printed("harbour-row-tee-m.ron", &[PartKind::SwingStrip, PartKind::RodStrip], "Letter");
    let template = printed("harbour-row-bandana.ron", &[PartKind::Template], "A2");
    let references = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/sheets");
    let made = [("job-card", card), ("strips", strips), ("template", template)];
    let compared = made.map(|(name, text)| reference::compare_text(&references.join(name).with_extension("txt"), &text));
    let wrong: Vec<String> = compared.into_iter().flatten().collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
