//! Template and strips of real layouts, measured in what is drawn and in what independent readers find in the files.

#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

use crate::pdf_reader;
use kurbo::{Point, Shape as _};
use pdf_reader::PdfFile;
use pleatwright::geometry::{GarmentKind, Panel};
use pleatwright::layout::{Figures, Layout};
use pleatwright::measure::{InchFraction, LengthStyle};
use pleatwright::print::parts::*;
use pleatwright::print::{
    Drawing, Item, Layer, PRINT_NOTE, Paper, STANDARD_PAPERS, Shape, TilingOptions, write_dxf, write_pdf, write_svg,
};
use pleatwright::store::{EXAMPLE_LAYOUTS, parse_layout};
use rayon::prelude::*;

/// How far a length read back from a file may be off, mm.
const TOLERANCE_MM: f64 = 0.05;

fn examples() -> impl Iterator<Item = (&'static str, Layout, Figures)> {
    EXAMPLE_LAYOUTS.iter().map(|example| {
        let layout = parse_layout(example.text).unwrap();
        let figures = Figures::of(&layout);
        (example.name, layout, figures)
    })
}

fn tee() -> (Layout, Figures) {
    let (_, layout, figures) = examples().next().unwrap();
    (layout, figures)
}

fn options(paper: &str) -> PrintOptions {
    PrintOptions { paper: paper.parse().unwrap(), tiling: TilingOptions::default(), template: TemplateOptions::default() }
}

fn words(drawing: &Drawing) -> Vec<&str> {
    drawing
        .items
        .iter()
        .filter_map(|item| if let Shape::Text(text) = &item.shape { Some(text.text.as_str()) } else { None })
        .collect()
}

fn rings(drawing: &Drawing) -> impl Iterator<Item = &pleatwright::print::Arc> {
    let on_ring = |item: &&Item| matches!(item.layer, Layer::Across | Layer::Guide | Layer::Reference);
    drawing.items.iter().filter(on_ring).filter_map(|item| if let Shape::Arc(arc) = &item.shape { Some(arc) } else { None })
}

/// Every example on every paper: all parts fit, and each has its pages.
#[test]
fn every_layout_goes_on_every_paper() {
    let others = ["roll:610", "roll:914", "300x400", "24in x 36in"].map(|paper| paper.parse::<Paper>().unwrap());
    // On all cores: it is the longest of these tests.
    examples().collect::<Vec<_>>().into_par_iter().for_each(|(name, layout, figures)| {
        for paper in STANDARD_PAPERS.map(Paper::standard).into_iter().chain(others.clone()) {
            let said = paper.to_string();
            let document = print_parts(&layout, &figures, &PartKind::ALL, &PrintOptions { paper, ..options("A4") });
            let document = document.unwrap_or_else(|error| panic!("{name} on {said}: {error}"));
            assert!(document.parts.iter().all(|part| !part.pages.is_empty()), "{name} on {said}");
        }
    });
}

/// The arcs that are drawn are the binds, about the burst centre, on cloth all the way.
#[test]
fn every_bind_is_drawn_at_its_radius_on_cloth() {
    for (name, layout, figures) in examples() {
        // Of a line `line/layouts.rs` measures the parallels.
        let Some(centre) = layout.burst().map(pleatwright::geometry::Burst::centre_as_laid) else { continue };
        let drawing = template(&layout, &figures, &TemplateOptions::default());
        for bind in &figures.binds {
            let arcs: Vec<_> = rings(&drawing).filter(|arc| arc.radius_mm == bind.radius_mm).collect();
            assert!(!arcs.is_empty(), "{name}: bind {}", bind.number);
            let drawn_mm: f64 = arcs.iter().map(|arc| arc.radius_mm * arc.sweep_rad).sum();
            // On both panels together no more is drawn than the longer ring, and no less.
            let halves = layout.lay().centring().halves();
            assert!(drawn_mm * halves >= bind.ring_mm.front.max(bind.ring_mm.back) - 1e-6, "{name}: bind {}", bind.number);
            for arc in arcs {
                assert_eq!(arc.center, centre);
                for t in [0.01, 0.37, 0.99] {
                    let point = arc.point_at(t);
                    assert!(layout.panels().iter().any(|(_, panel)| panel.contains(point)), "{name}: {point:?} is bare");
                }
            }
        }
    }
}

#[test]
fn labels_say_number_and_radius_in_the_unit_asked_for() {
    // A puck's bands are on its own sheet.
    for (name, layout, figures) in examples().filter(|(_, layout, _)| layout.spiral().is_none()) {
        let inches = LengthStyle::Inches { nearest: InchFraction::Sixteenth };
        for lengths in [LengthStyle::default(), inches] {
            let drawing = template(&layout, &figures, &TemplateOptions { lengths: Some(lengths), ..TemplateOptions::default() });
            let words = words(&drawing);
            for bind in &figures.binds {
                // "no." and the dot keep bind 1 at 11/16 in from being read as 1 11/16 in.
                let number = format!("no. {}", bind.number);
                let place = figures.fold.words.short_place(layout.from_zero_mm(bind.radius_mm), lengths);
                let label = format!("{number} · {place}");
                let found = words.iter().any(|word| word.starts_with(&label) || *word == number);
                assert!(found, "{name}: no {label} among {words:?}");
            }
        }
    }
}

fn texts(drawing: &Drawing) -> impl Iterator<Item = &pleatwright::print::Text> {
    drawing.items.iter().filter_map(|item| if let Shape::Text(text) = &item.shape { Some(text) } else { None })
}

/// Words on the upper half of the rings used to stand on their heads, and creases ran through them.
#[test]
fn words_stand_heads_up_and_no_crease_crosses_them() {
    for (name, layout, figures) in examples() {
        let drawing = template(&layout, &figures, &TemplateOptions::default());
        for text in texts(&drawing) {
            assert!(text.rotation_rad.abs() <= std::f64::consts::FRAC_PI_2 + 1e-9, "{name}: {text:?}");
            let text_from_drawing = text.drawing_from_text().inverse();
            let letters = kurbo::Rect::new(0.0, -text.cap_height_mm, text.width_mm(), 0.0);
            for item in drawing.items.iter().filter(|item| item.layer == Layer::Crease) {
                let Shape::Line(line) = &item.shape else { panic!("a crease is straight") };
                let crossed =
                    (0..=400).any(|k| letters.contains(text_from_drawing * line.p0.lerp(line.p1, f64::from(k) / 400.0)));
                assert!(!crossed, "{name}: a crease crosses {text:?}");
            }
        }
    }
}

#[test]
fn cloth_of_one_panel_has_no_front() {
    let (_, layout, figures) = examples().find(|(name, ..)| *name == "harbour-row-bandana.ron").unwrap();
    assert!(!words(&template(&layout, &figures, &TemplateOptions::default())).contains(&"front"));
    let (layout, figures) = tee();
    assert!(words(&template(&layout, &figures, &TemplateOptions::default())).contains(&"front"));
}

/// Creases run from the innermost bind outward at the pleats' angles, on cloth.
#[test]
fn creases_stand_at_the_angles_of_the_pleats() {
    let (layout, figures) = tee();
    let drawing = template(&layout, &figures, &TemplateOptions::default());
    let centre = layout.burst().unwrap().centre_as_laid();
    let creases: Vec<_> = drawing.items.iter().filter(|item| item.layer == Layer::Crease).collect();
    // Twenty creases, the first and last on the centre line; some come in pieces.
    assert!(creases.len() >= 18, "{}", creases.len());
    for crease in creases {
        let Shape::Line(line) = &crease.shape else { panic!("a crease is straight") };
        let middle = line.midpoint() - centre;
        let pleats = middle.x.atan2(-middle.y) / layout.burst().unwrap().pleat_angle_rad();
        assert_close!(pleats, pleats.round(), 1e-9);
        assert!(layout.panels().iter().any(|(_, panel)| panel.contains(line.midpoint())));
    }
}

/// A pounced template has dots where lines were, evenly spaced near the distance asked for.
#[test]
fn pounce_dots_lie_on_the_lines() {
    let (layout, figures) = tee();
    let lines = template(&layout, &figures, &TemplateOptions::default());
    let dotted = template(&layout, &figures, &TemplateOptions { pounce_mm: Some(5.0), ..TemplateOptions::default() });
    assert_eq!(rings(&dotted).count(), 0);
    let radii: Vec<f64> = rings(&lines).map(|arc| arc.radius_mm).collect();
    let centre = layout.burst().unwrap().centre_as_laid();
    let mut rows = 0;
    for item in dotted.items.iter().filter(|item| item.layer == Layer::Pounce) {
        let Shape::Dots(dots) = &item.shape else { panic!("pounced lines are dots") };
        rows += 1;
        for pair in dots.centers.windows(2) {
            assert!((3.0..7.0).contains(&pair[0].distance(pair[1])), "{pair:?}");
        }
        for dot in &dots.centers {
            let radius = dot.distance(centre);
            let on_ring = radii.iter().any(|ring| (ring - radius).abs() < 1e-9);
            assert!(on_ring || dot.x == 0.0, "{dot:?} lies on no line");
        }
    }
    assert_eq!(rows, radii.len() + 1, "every ring and the centre line");
}

/// The swing strip: from the pin every hole is as far as its ring, whichever lane it lies in.
#[test]
fn holes_of_the_swing_strip_are_as_far_as_their_rings() {
    // Those of lines are held to the line's own distances beside the tests of lines.
    for (name, layout, figures) in examples().filter(|(_, _, figures)| figures.burst.is_some()) {
        let drawing = swing_strip(&layout, &figures, LengthStyle::default());
        let holes: Vec<f64> = drawing
            .items
            .iter()
            .filter(|item| item.layer != Layer::Pin)
            .filter_map(
                |item| if let Shape::Circle(circle) = &item.shape { Some(circle.center.distance(Point::ZERO)) } else { None },
            )
            .collect();
        let rings = figures.binds.iter().map(|bind| bind.radius_mm).chain(figures.fold.references_mm.iter().copied());
        for ring in rings {
            assert!(holes.iter().any(|hole| (hole - ring).abs() < 1e-9), "{name}: no hole at {ring}");
        }
        assert_eq!(holes.len(), figures.binds.len() + figures.fold.references_mm.len(), "{name}");
        let outside = |item: &&Item| !drawing.bounds.inflate(0.5, 0.5).contains_rect_of(&item.shape);
        assert_eq!(drawing.items.iter().find(outside), None, "{name}: something leaves the strip");
    }
}

trait ContainsRectOf {
    fn contains_rect_of(&self, shape: &Shape) -> bool;
}

impl ContainsRectOf for kurbo::Rect {
    fn contains_rect_of(&self, shape: &Shape) -> bool {
        let reach = shape.bounding_box();
        self.x0 <= reach.x0 && self.y0 <= reach.y0 && reach.x1 <= self.x1 && reach.y1 <= self.y1
    }
}

/// The rod strip: a line at every bind, a patterned band for every section, no words over the strip's edges.
#[test]
fn the_rod_strip_shows_every_bind_and_section() {
    for (name, layout, figures) in examples() {
        for lengths in [LengthStyle::default(), LengthStyle::Inches { nearest: InchFraction::Sixteenth }] {
            let drawing = rod_strip(&layout, &figures, lengths);
            for bind in &figures.binds {
                let at_bind = |item: &Item| matches!((&item.layer, &item.shape), (Layer::Across | Layer::Guide, Shape::Line(line)) if line.p0.x == bind.radius_mm);
                assert!(drawing.items.iter().any(at_bind), "{name}: bind {}", bind.number);
            }
            let bands = drawing.items.iter().filter(|item| matches!(item.shape, Shape::Area { .. })).count();
            assert_eq!(bands, figures.sections.len(), "{name}");
            let edge = drawing.items.iter().find(|item| item.layer == Layer::Cut).unwrap().shape.bounding_box();
            for item in &drawing.items {
                assert!(edge.inflate(0.5, 0.5).contains_rect_of(&item.shape), "{name}: {item:?} leaves the strip");
            }
        }
    }
}

fn tee_with(old: &str, new: &str) -> (Layout, Figures) {
    let text = EXAMPLE_LAYOUTS[0].text;
    assert!(text.contains(old), "{old}");
    let layout = parse_layout(&text.replace(old, new)).unwrap();
    let figures = Figures::of(&layout);
    (layout, figures)
}

/// Names of more than eight letters used to leave the rod strip, and to become micro print on the card.
#[test]
fn long_colour_names_stay_legible_and_inside() {
    for name in ["golden yellow", "the blue of the club's old boat house door"] {
        let (layout, figures) = tee_with("teal", name);
        let strip = rod_strip(&layout, &figures, LengthStyle::default());
        let edge = strip.items.iter().find(|item| item.layer == Layer::Cut).unwrap().shape.bounding_box();
        for text in texts(&strip) {
            assert!(edge.contains_rect_of(&Shape::Text(text.clone())), "{text:?} leaves the strip");
            assert!(text.cap_height_mm >= 1.8, "{text:?}");
        }
        for page in job_card(&layout, &figures, LengthStyle::default()) {
            for text in texts(&page) {
                assert!(text.cap_height_mm >= 2.0, "{text:?}");
                assert!(page.bounds.inflate(0.01, 1.0).contains_rect_of(&Shape::Text(text.clone())), "{text:?} leaves the card");
            }
        }
    }
}

/// Cards of a tee used to take a second page for what to look out for.
#[test]
fn every_example_has_a_card_of_one_page() {
    for (name, layout, figures) in examples() {
        for lengths in [LengthStyle::default(), LengthStyle::Inches { nearest: InchFraction::Sixteenth }] {
            // Two ties to a page.
            let pages = layout.ties().len().div_ceil(2);
            assert_eq!(job_card(&layout, &figures, lengths).len(), pages, "{name}");
        }
    }
}

/// A card used to be set in ten points where half of its page was bare.
#[test]
fn a_card_is_set_as_large_as_its_page_has_room_for() {
    // Type of ten points by its capitals, mm: the font's own table has 1456 of 2048 parts.
    let ten_points_mm = 10.0 / 72.0 * 25.4 * 1456.0 / 2048.0;
    for (name, layout, figures) in examples() {
        for lengths in [LengthStyle::default(), LengthStyle::Inches { nearest: InchFraction::Sixteenth }] {
            let pages = job_card(&layout, &figures, lengths);
            let texts: Vec<_> = texts(&pages[0]).collect();
            let least_mm = texts.iter().map(|text| text.cap_height_mm).fold(f64::INFINITY, f64::min);
            let foot_mm = texts.iter().map(|text| text.position.y).fold(0.0, f64::max);
            assert!(least_mm >= ten_points_mm - 1e-9, "{name}: {least_mm} mm");
            let room = pages[0].bounds.height() / foot_mm;
            assert!(room < 1.2 || least_mm >= 1.19 * ten_points_mm, "{name}: {least_mm} mm on a page filled to {foot_mm} mm");
            assert!(!texts.iter().any(|text| text.text.contains("in in,")), "{name}");
        }
    }
}

/// Cards of totes and bandanas used to measure from a shoulder.
#[test]
fn a_card_measures_heights_from_what_the_garment_has() {
    for (name, layout, figures) in examples() {
        let pages = job_card(&layout, &figures, LengthStyle::default());
        let words: Vec<String> = pages.iter().flat_map(texts).map(|text| text.text.clone()).collect();
        let said = words.join(" ");
        let without_shoulder =
            [GarmentKind::ToteBag, GarmentKind::FlatCloth, GarmentKind::Own].contains(&layout.garment().kind());
        // A flat bundle has a height to tell only where its creases meet in a centre.
        let has_height = figures.flat.as_ref().is_none_or(|flat| flat.centre_below_shoulder_mm.is_some());
        assert_eq!(said.contains("below the upper edge"), without_shoulder && has_height, "{name}: {said}");
        assert_eq!(said.contains("below the shoulder point"), !without_shoulder && has_height, "{name}: {said}");
    }
}

/// A bind or an arc far beyond the cloth used to lengthen both strips.
#[test]
fn strips_end_with_the_cloth() {
    let (layout, figures) = tee();
    let mut far = figures.clone();
    let last = far.binds.last_mut().unwrap();
    last.radius_mm = 5000.0;
    far.fold.references_mm = vec![3000.0];
    let end_mm = figures.fold.length_mm;
    for strip in [rod_strip(&layout, &far, LengthStyle::default()), swing_strip(&layout, &far, LengthStyle::default())] {
        assert!(strip.bounds.x1 < end_mm + 20.0, "{:?}", strip.bounds);
        let number = format!("no. {}", figures.binds.len());
        assert!(
            words(&strip).iter().any(|word| word.contains(&format!("off the cloth: {number}, 1 arc"))),
            "{:?}",
            words(&strip)
        );
    }
}

/// A hole nearer to the pin than its own size used to be cut into the pin's.
#[test]
fn no_two_holes_of_the_swing_strip_run_into_each_other() {
    let (layout, mut figures) = tee();
    figures.binds[0].radius_mm = 2.0;
    let binds = figures.binds.len();
    for index in 1..binds {
        figures.binds[index].radius_mm = 20.0 + 0.6 * index as f64;
    }
    let strip = swing_strip(&layout, &figures, LengthStyle::default());
    let circle = |item: &Item| if let Shape::Circle(circle) = item.shape { Some(circle) } else { None };
    let holes: Vec<kurbo::Circle> = strip.items.iter().filter_map(circle).collect();
    for (index, a) in holes.iter().enumerate() {
        assert!(holes[..index].iter().all(|b| a.center.distance(b.center) > a.radius + b.radius), "{a:?}");
    }
    assert!(words(&strip).iter().any(|word| word.contains("no room for a hole; measure: no. 1,")), "{:?}", words(&strip));
}

/// SVG and DXF used to carry no bars and to ignore the printer correction.
#[test]
fn whole_drawings_carry_bars_that_print_true() {
    let (layout, figures) = tee();
    for printed in [100.0, 98.0] {
        let correction = pleatwright::print::PrinterCorrection::from_printed_mm_per_100(printed).unwrap();
        let tiling = TilingOptions { correction, ..TilingOptions::default() };
        for kind in PartKind::ALL.into_iter().filter(|kind| kind.serves(&layout)) {
            let [drawing] = &whole_drawings(&layout, &figures, kind, &PrintOptions { tiling, ..options("A4") })[..] else {
                panic!("one drawing")
            };
            let svg = write_svg(drawing).unwrap();
            let document = roxmltree::Document::parse(&svg).unwrap();
            let scale = document.descendants().find(|node| node.attribute("id") == Some("scale")).unwrap();
            let number =
                |node: &roxmltree::Node<'_, '_>, name: &str| node.attribute(name).map_or(0.0, |n| n.parse::<f64>().unwrap());
            let lengths: Vec<f64> = scale.children().map(|line| number(&line, "x2") - number(&line, "x1")).collect();
            for wanted in [100.0, 101.6] {
                let as_printed = |length: &f64| (length * printed / 100.0 - wanted).abs() < 1e-3;
                assert!(lengths.iter().any(as_printed), "{kind:?} at {printed}: {lengths:?}");
            }
            assert!(write_dxf(drawing).unwrap().contains("$INSUNITS\n 70\n4\n"));
        }
        let [drawing] = &whole_drawings(&layout, &figures, PartKind::Template, &PrintOptions { tiling, ..options("A4") })[..]
        else {
            panic!("one drawing")
        };
        for bind in &figures.binds {
            assert!(rings(drawing).any(|arc| (arc.radius_mm * printed / 100.0 - bind.radius_mm).abs() < 1e-9));
        }
    }
}

/// Independent reader: roxmltree. Every ring is a true arc of its radius, in mm.
#[test]
fn the_svg_has_every_ring_as_a_true_arc() {
    let (layout, figures) = tee();
    let svg = write_svg(&template(&layout, &figures, &TemplateOptions::default())).unwrap();
    let document = roxmltree::Document::parse(&svg).unwrap();
    let root = document.root_element();
    let view_box: Vec<f64> = root.attribute("viewBox").unwrap().split(' ').map(|n| n.parse().unwrap()).collect();
    assert_close!(root.attribute("width").unwrap().trim_end_matches("mm").parse().unwrap(), view_box[2], 1e-6);
    let arcs: Vec<f64> = document
        .descendants()
        .filter_map(|node| node.attribute("d"))
        .flat_map(|d| d.split('A').skip(1))
        .map(|arc| arc.trim_start().split([' ', ',']).next().unwrap().parse().unwrap())
        .collect();
    for bind in &figures.binds {
        assert!(arcs.iter().any(|radius| (radius - bind.radius_mm).abs() < 1e-3), "no arc of {} mm", bind.radius_mm);
    }
    let text: String = document.descendants().filter_map(|node| node.text()).collect();
    assert!(text.contains("no. 12 · 230 mm · guide arc"), "{text}");
}

/// Independent reader: DXF group codes. Entities ARC (40 is the radius), header $INSUNITS 4 (mm).
#[test]
fn the_dxf_has_every_ring_as_an_arc_in_millimetres() {
    let (layout, figures) = tee();
    let dxf = write_dxf(&template(&layout, &figures, &TemplateOptions::default())).unwrap();
    let lines: Vec<&str> = dxf.lines().map(str::trim).collect();
    let pairs: Vec<(&str, &str)> = lines.chunks_exact(2).map(|pair| (pair[0], pair[1])).collect();
    let units = pairs.iter().position(|pair| *pair == ("9", "$INSUNITS")).unwrap();
    assert_eq!(pairs[units + 1], ("70", "4"));
    let arcs: Vec<f64> = pairs
        .iter()
        .enumerate()
        .filter(|(_, pair)| **pair == ("0", "ARC"))
        .map(|(at, _)| pairs[at + 1..].iter().find(|(code, _)| *code == "40").unwrap().1.parse().unwrap())
        .collect();
    for bind in &figures.binds {
        assert!(arcs.iter().any(|radius| (radius - bind.radius_mm).abs() < 1e-6), "no arc of {} mm", bind.radius_mm);
    }
}

/// Independent reader: lopdf. The swing strip on a page long enough for it: the hole of the innermost bind and both bars measure
/// true, and the viewer is told not to scale.
#[test]
fn the_pdf_measures_true_and_has_its_parts() {
    let (layout, figures) = tee();
    let bytes = write_pdf(&print_parts(&layout, &figures, &PartKind::ALL, &options("A4")).unwrap()).unwrap();
    assert!(bytes.len() < 200_000, "{} bytes", bytes.len());
    let again = write_pdf(&print_parts(&layout, &figures, &PartKind::ALL, &options("A4")).unwrap()).unwrap();
    assert!(bytes == again, "the same layout gives the same bytes");
    let file = PdfFile::read(&bytes);
    for page in &file.pages {
        let (bar_mm, bar_in) = page.bars_mm();
        assert_close!(bar_mm, 100.0, TOLERANCE_MM);
        assert_close!(bar_in, 101.6, TOLERANCE_MM);
    }
    assert_eq!(file.title.as_deref(), Some("Harbour Row tee, M"));
    assert_eq!(file.print_scaling.as_deref(), Some("None"));
    assert_eq!(file.labels.len(), file.pages.len());
    for part in ["template", "swing strip", "rod strip", "job card"] {
        assert!(file.bookmarks.iter().any(|mark| mark.contains(part)), "{part} among {:?}", file.bookmarks);
    }
    // Holes of the swing strip have a radius of 1.5 mm: their circles measure true on the page.
    let holes = file.circle_radii_mm(1.5);
    assert!(holes.len() >= figures.binds.len(), "{} holes", holes.len());
    for radius in holes {
        assert_close!(radius, 1.5, TOLERANCE_MM);
    }
}

/// A garment laid open is drawn whole, with both of a tote's handles, each hole left free.
#[test]
fn a_tote_is_drawn_whole() {
    let (_, layout, figures) = examples().find(|(name, ..)| *name == "harbour-row-tote.ron").unwrap();
    let drawing = template(&layout, &figures, &TemplateOptions::default());
    let outline = drawing.items.iter().find(|item| item.layer == Layer::Outline).unwrap();
    let reach = outline.shape.bounding_box();
    assert_close!(reach.x0, -reach.x1, 1e-9);
    let whole = layout.panels().panel(Panel::Front).unwrap().whole().path().bounding_box();
    assert_close!(reach.width(), whole.width(), 1e-9);
    assert_eq!(layout.fold().layers(), 2);
}

/// Bars and words of a strip's sheet used to stand sideways on a lying sheet.
#[test]
fn the_foot_of_a_strips_sheet_reads_level() {
    let (layout, figures) = tee();
    let options =
        PrintOptions { paper: "A4".parse().unwrap(), tiling: TilingOptions::default(), template: TemplateOptions::default() };
    let document = print_parts(&layout, &figures, &[PartKind::SwingStrip], &options).unwrap();
    let notes: Vec<f64> = document.parts[0]
        .pages
        .iter()
        .flat_map(|page| page.placed.iter().flat_map(|placed| placed.drawing.items()))
        .filter_map(|item| if let Shape::Text(text) = &item.shape { Some(text) } else { None })
        .filter(|text| text.text == PRINT_NOTE)
        .map(|text| text.rotation_rad)
        .collect();
    assert_eq!(notes, vec![0.0; document.parts[0].pages.len()]);
}

/// Each of several ties has a template, a swing strip and a rod strip of its own, named after it, on sheets for its own marks; and in the
/// drawing of a sleeve's the rings have the radii of its binds, about its own centre.
#[test]
fn every_tie_has_sheets_of_its_own() {
    let (_, layout, figures) = examples().find(|(name, ..)| *name == "harbour-row-four-ties-tee-m.ron").unwrap();
    let templates = drawings(&layout, &figures, PartKind::Template, &TemplateOptions::default());
    let titles: Vec<&str> = templates.iter().map(|drawing| drawing.title.as_str()).collect();
    let title = |tie: &str| format!("{}, {tie}: template", layout.name());
    assert_eq!(titles, ["Heart", "Left sleeve", "Right sleeve", "Hem"].map(title));
    let sleeve = &layout.ties()[1];
    let (centre, wanted) = (sleeve.middle_as_laid().unwrap(), sleeve.binds());
    for bind in &wanted.binds {
        let is_ring = |item: &&Item| match &item.shape {
            Shape::Arc(arc) => arc.center.distance(centre) < 1e-6 && (arc.radius_mm - bind.radius_mm).abs() < TOLERANCE_MM,
            Shape::Circle(circle) => {
                circle.center.distance(centre) < 1e-6 && (circle.radius - bind.radius_mm).abs() < TOLERANCE_MM
            }
            _ => false,
        };
        assert!(templates[1].items.iter().any(|item| is_ring(&item)), "{bind:?}");
    }
    let document = print_parts(&layout, &figures, &PartKind::ALL, &options("A4")).unwrap();
    let names: Vec<&str> = document.parts.iter().flat_map(|part| &part.pages).map(|page| page.name.as_str()).collect();
    let of = |tie: &str| names.iter().filter(|name| name.starts_with(tie)).count();
    assert_eq!(["Heart ", "Left sleeve ", "Right sleeve ", "Hem "].map(of), [3, 1, 1, 1], "{names:?}");
}
