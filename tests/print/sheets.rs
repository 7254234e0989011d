//! Sheets of real layouts: as few as can be, and every word and hole on them whole.

#![allow(
    clippy::unwrap_used,
    clippy::cast_possible_truncation,
    reason = "a failed unwrap is a failed test; cells are counted in whole numbers"
)]

use kurbo::{Point, Rect, Shape as _};
use pleatwright::geometry::{GarmentKind, RawMeasures};
use pleatwright::layout::{Figures, Layout, starter};
use pleatwright::measure::{InchFraction, LengthStyle};
use pleatwright::print::parts::*;
use pleatwright::print::{
    Drawing, FLATTEN_MM, Item, Layer, Page, Painted, Paper, PaperForm, Placed, PrinterCorrection, Shape, Text, TilingOptions,
    width_mm,
};
use pleatwright::store::{EXAMPLE_LAYOUTS, parse_layout};
use std::collections::HashMap;
use std::sync::Arc;

fn examples() -> impl Iterator<Item = (&'static str, Layout, Figures)> {
    EXAMPLE_LAYOUTS.iter().map(|example| {
        let layout = parse_layout(example.text).unwrap();
        let figures = Figures::of(&layout);
        (example.name, layout, figures)
    })
}

/// Papers, what the printer makes of 100 mm, and overlaps.
const PRINTS: [(&str, f64, f64); 6] = [
    ("A4", 100.0, 10.0),
    ("A4", 99.2, 10.0),
    ("A4", 100.0, 0.0),
    ("Letter", 101.3, 10.0),
    ("A3", 98.7, 15.0),
    ("roll:610", 100.0, 10.0),
];

fn options((paper, printed, overlap_mm): (&str, f64, f64)) -> PrintOptions {
    let correction = PrinterCorrection::from_printed_mm_per_100(printed).unwrap();
    let tiling = TilingOptions { correction, overlap_mm, ..TilingOptions::default() };
    PrintOptions { paper: paper.parse().unwrap(), tiling, template: TemplateOptions::default() }
}

fn pages(layout: &Layout, figures: &Figures, kinds: &[PartKind], options: &PrintOptions) -> Vec<Page> {
    print_parts(layout, figures, kinds, options).unwrap().parts.into_iter().flat_map(|part| part.pages).collect()
}

/// Side of a cell of the picture that the brute force counts in, mm.
const CELL_MM: f64 = 0.5;

/// A picture of a drawing's lines, as sums over all cells left and above.
struct Picture {
    bounds: Rect,
    columns: usize,
    rows: usize,
    sums: Vec<u32>,
}

fn points(drawing: &Drawing) -> Vec<Point> {
    let mut points = Vec::new();
    for item in drawing.items.iter().filter(|item| !matches!(item.shape, Shape::Text(_))) {
        let mut last = Point::ZERO;
        kurbo::flatten(item.shape.outline(), FLATTEN_MM, |el| match el {
            kurbo::PathEl::MoveTo(p) => last = p,
            kurbo::PathEl::LineTo(p) => {
                let steps = (last.distance(p) / (0.5 * CELL_MM)).ceil().max(1.0) as u32;
                points.extend((0..=steps).map(|step| last.lerp(p, f64::from(step) / f64::from(steps))));
                last = p;
            }
            _ => {}
        });
    }
    points
}

impl Picture {
    fn of(points: &[Point]) -> Self {
        let bounds = points.iter().map(|p| Rect::from_points(*p, *p)).reduce(|a, b| a.union(b)).unwrap().inflate(1.0, 1.0);
        let (columns, rows) = ((bounds.width() / CELL_MM) as usize + 1, (bounds.height() / CELL_MM) as usize + 1);
        let mut sums = vec![0_u32; (columns + 1) * (rows + 1)];
        for p in points {
            let (column, row) = (((p.x - bounds.x0) / CELL_MM) as usize, ((p.y - bounds.y0) / CELL_MM) as usize);
            sums[(row + 1) * (columns + 1) + column + 1] = 1;
        }
        for row in 1..=rows {
            for column in 1..=columns {
                let at = |row: usize, column: usize| row * (columns + 1) + column;
                sums[at(row, column)] += sums[at(row - 1, column)] + sums[at(row, column - 1)] - sums[at(row - 1, column - 1)];
            }
        }
        Self { bounds, columns, rows, sums }
    }

    /// Whether there may be ink in a box: cells on its edge and half a line beyond count.
    fn is_inked(&self, area: Rect) -> bool {
        let area = area.inflate(0.3, 0.3);
        let cell = |at: f64, origin: f64, count: usize| ((at - origin) / CELL_MM).clamp(0.0, count as f64) as usize;
        let (x0, x1) = (cell(area.x0, self.bounds.x0, self.columns), cell(area.x1 + CELL_MM, self.bounds.x0, self.columns));
        let (y0, y1) = (cell(area.y0, self.bounds.y0, self.rows), cell(area.y1 + CELL_MM, self.bounds.y0, self.rows));
        let at = |row: usize, column: usize| self.sums[row * (self.columns + 1) + column];
        x0 < x1 && y0 < y1 && at(y1, x1) + at(y0, x0) > at(y0, x1) + at(y1, x0)
    }
}

/// Depth of the band of bars at a sheet's edge, mm.
const BAND_MM: f64 = 13.0;
/// How near to the burst centre sheets may meet, mm.
const CENTRE_MM: f64 = 6.0;

/// The fewest sheets over all places of an endless grid in steps of a millimetre, upright and lying, the band along either edge.
fn brute_force(picture: &Picture, centre: Point, options: &PrintOptions) -> usize {
    let PaperForm::Sheet { width_mm, height_mm } = options.paper.form() else { panic!("sheets only") };
    let TilingOptions { margin_mm, overlap_mm, correction } = options.tiling;
    let mut fewest = usize::MAX;
    for (width, height) in [(width_mm, height_mm), (height_mm, width_mm)] {
        let printable = |side: f64| (side - 2.0 * margin_mm) / correction.page_per_sheet();
        for (band_x, band_y) in [(BAND_MM, 0.0), (0.0, BAND_MM)] {
            let (pitch_x, pitch_y) = (printable(width) - band_x - overlap_mm, printable(height) - band_y - overlap_mm);
            for off_x in 0..=pitch_x as u32 {
                for off_y in 0..=pitch_y as u32 {
                    let (x0, y0) = (picture.bounds.x0 - f64::from(off_x), picture.bounds.y0 - f64::from(off_y));
                    let near = |place: f64, pitch: f64| (place - pitch * (place / pitch).round()).abs() < CENTRE_MM;
                    if near(centre.x - x0, pitch_x) || near(centre.y - y0, pitch_y) {
                        continue;
                    }
                    let (columns, rows) =
                        (((picture.bounds.x1 - x0) / pitch_x).ceil(), ((picture.bounds.y1 - y0) / pitch_y).ceil());
                    let core = |column: u32, row: u32| {
                        let corner = Point::new(x0 + f64::from(column) * pitch_x, y0 + f64::from(row) * pitch_y);
                        Rect::from_origin_size(corner, (pitch_x, pitch_y))
                    };
                    let places = (0..rows as u32).flat_map(|row| (0..columns as u32).map(move |column| (column, row)));
                    // Counted no further than to as many as were found already.
                    let inked = places.filter(|&(column, row)| picture.is_inked(core(column, row)));
                    fewest = fewest.min(inked.take(fewest).count());
                }
            }
        }
    }
    fewest
}

/// Places used to be tried on a lattice of 33 each way only, and a sheet was spent on labels: 8 sheets of A4 where 6 do.
#[test]
fn no_place_of_the_grid_takes_fewer_sheets() {
    for (name, layout, figures) in examples() {
        let Some(centre) = layout.burst().map(pleatwright::geometry::Burst::centre_as_laid) else { continue };
        let lines = template(&layout, &figures, &TemplateOptions::default());
        let picture = Picture::of(&points(&lines));
        for print in PRINTS.into_iter().filter(|(paper, ..)| !paper.starts_with("roll")) {
            let options = options(print);
            let found = pages(&layout, &figures, &[PartKind::Template], &options).len() - 1;
            let fewest = brute_force(&picture, centre, &options);
            assert!(found.max(1) <= fewest, "{name} on {print:?}: {found} sheets where {fewest} do");
        }
    }
}

/// The first layout of every kind, as lines, as dots to prick, and without creases.
#[test]
fn no_sheet_of_a_first_layout_holds_labels_only() {
    for kind in GarmentKind::ALL {
        let sizes = kind.sizes();
        let size = sizes[sizes.len() / 2].name.to_string();
        let layout = Layout::try_from(starter(kind, Some(&size), &RawMeasures::default()).unwrap()).unwrap();
        let figures = Figures::of(&layout);
        let usual = TemplateOptions::default();
        // Thousands of dots take their time: they lie where the lines do, whatever the paper.
        let dots = TemplateOptions { pounce_mm: Some(5.0), creases: false, ..usual };
        for (template, prints) in [(usual, &[PRINTS[0], PRINTS[3]][..]), (dots, &PRINTS[..1])] {
            for &print in prints {
                let name = format!("{kind} on {print:?}");
                check_lines(
                    &name,
                    &pages(&layout, &figures, &[PartKind::Template], &PrintOptions { template, ..options(print) }),
                );
            }
        }
    }
}

/// Checks that every sheet shows lines or dots of the drawing, not its labels alone.
fn check_lines(name: &str, pages: &[Page]) {
    // All sheets of a part show windows of one drawing.
    let mut flattened: HashMap<*const Painted, Vec<Point>> = HashMap::new();
    for page in pages {
        let cut: Vec<&Placed> = page.placed.iter().filter(|placed| placed.clip.is_some()).collect();
        // The map is not cut.
        let Some(clip) = cut.first().and_then(|placed| placed.clip) else { continue };
        let inked = cut.iter().any(|placed| {
            let points = flattened.entry(Arc::as_ptr(&placed.drawing)).or_insert_with(|| {
                let mut lines = Drawing::new("");
                lines.items.extend(placed.drawing.items().cloned());
                points(&lines)
            });
            points.iter().any(|point| clip.contains(*point))
        });
        assert!(inked, "{name}: {}", page.name);
    }
}

/// Boxes of a line of words' letters, on the page.
fn letters(text: &Text, placed: &Placed) -> Vec<Rect> {
    let ends: Vec<usize> = text.text.char_indices().map(|(at, letter)| at + letter.len_utf8()).collect();
    let reach = |end: usize| width_mm(&text.text[..end], text.face, text.cap_height_mm);
    let page_from_text = placed.page_from_drawing * text.drawing_from_text();
    let starts = std::iter::once(0.0).chain(ends.iter().map(|&end| reach(end)));
    let letter = |(from, &end): (f64, &usize)| {
        let area = Rect::new(from, -text.cap_height_mm, reach(end), 0.0);
        (page_from_text * area.to_path(FLATTEN_MM)).bounding_box()
    };
    starts.zip(&ends).map(letter).collect()
}

/// The boxes of what must be whole in a placed drawing, on the page, with what it says.
fn whole(placed: &Placed) -> Vec<(String, Vec<Rect>)> {
    let of_item = |item: &Item| match &item.shape {
        Shape::Text(text) => Some((text.text.clone(), letters(text, placed))),
        Shape::Circle(circle) if circle.radius <= 2.0 => {
            Some(("a hole".to_owned(), vec![placed.page_from_drawing.transform_rect_bbox(circle.bounding_box())]))
        }
        _ => None,
    };
    placed.drawing.items().filter_map(of_item).collect()
}

/// Checks that every word and hole of a cut drawing is on its pages whole, once, and that nothing of the sheets' own lies over it; what
/// the pages say.
fn check_whole(name: &str, pages: &[Page]) -> Vec<String> {
    let mut said = Vec::new();
    for page in pages {
        let furniture = page.placed.iter().filter(|placed| placed.clip.is_none());
        let over: Vec<Rect> = furniture
            .flat_map(|placed| {
                let reach = |item: &Item| placed.page_from_drawing.transform_rect_bbox(item.shape.bounding_box());
                let not_bar = |item: &&Item| item.layer == Layer::Marks || matches!(item.shape, Shape::Text(_));
                placed.drawing.items().filter(not_bar).map(reach).collect::<Vec<_>>()
            })
            .collect();
        for placed in page.placed.iter().filter(|placed| placed.clip.is_some()) {
            let room = placed.page_from_drawing.transform_rect_bbox(placed.clip.unwrap());
            for (words, boxes) in whole(placed) {
                let inside = boxes.iter().filter(|area| room.contains_rect(**area)).count();
                assert_eq!(inside, boxes.len(), "{name}, {}: so much of {words:?} is on the sheet", page.name);
                let covered = boxes.iter().find(|area| over.iter().any(|mark| mark.overlaps(**area)));
                assert_eq!(covered, None, "{name}, {}: {words:?} lies under a mark or crosses a join", page.name);
                said.push(words);
            }
        }
    }
    said.sort();
    said
}

/// Every print in millimetres, and the first in inches too.
fn styled_prints() -> impl Iterator<Item = ((&'static str, f64, f64), LengthStyle)> {
    let inches = LengthStyle::Inches { nearest: InchFraction::Sixteenth };
    PRINTS.into_iter().map(|print| (print, LengthStyle::default())).chain([(PRINTS[0], inches)])
}

/// The second piece of a swing strip used to begin with "60 mm" of "260 mm"; the hole of a bind lay under a join mark.
#[test]
fn every_word_and_hole_of_the_strips_is_whole_once() {
    for (name, layout, figures) in examples() {
        for (print, lengths) in styled_prints() {
            let template = TemplateOptions { lengths: Some(lengths), ..TemplateOptions::default() };
            let options = PrintOptions { template, ..options(print) };
            for kind in [PartKind::SwingStrip, PartKind::RodStrip].into_iter().filter(|kind| kind.serves(&layout)) {
                let pages = pages(&layout, &figures, &[kind], &options);
                let said = check_whole(&format!("{name}, {print:?}, {}", kind.name()), &pages);
                let drawn = drawings(&layout, &figures, kind, &template);
                let of_drawing = |item: &Item| match &item.shape {
                    Shape::Text(text) => Some(text.text.clone()),
                    Shape::Circle(_) => Some("a hole".to_owned()),
                    _ => None,
                };
                let mut wanted: Vec<String> = drawn.iter().flat_map(|strip| &strip.items).filter_map(of_drawing).collect();
                wanted.sort();
                assert_eq!(said, wanted, "{name} on {print:?}");
            }
        }
    }
}

/// Labels used to be cut by the sheets' edges and to lie under join marks; two of fourteen sheets of a hooded top used to hold labels and no line.
#[test]
fn every_label_of_the_template_is_whole_and_no_sheet_holds_labels_only() {
    for (name, layout, figures) in examples() {
        for (print, lengths) in styled_prints() {
            let template = TemplateOptions { lengths: Some(lengths), ..TemplateOptions::default() };
            let options = PrintOptions { template, ..options(print) };
            let pages = pages(&layout, &figures, &[PartKind::Template], &options);
            check_lines(&format!("{name} on {print:?}"), &pages);
            let said = check_whole(&format!("{name}, {print:?}"), &pages);
            // What the whole drawings name the sheets name, once a tie.
            let drawn = drawings(&layout, &figures, PartKind::Template, &template);
            let names =
                |words: &str, number: u32| words == format!("no. {number}") || words.starts_with(&format!("no. {number} "));
            for number in 1..=figures.ties().iter().map(|tie| tie.binds.len()).max().unwrap_or(0) {
                let number = u32::try_from(number).unwrap();
                let is_named = |item: &&Item| matches!(&item.shape, Shape::Text(text) if names(&text.text, number));
                let wanted = drawn.iter().filter(|drawing| drawing.items.iter().any(|item| is_named(&item))).count();
                let found = said.iter().filter(|words| names(words, number)).count();
                assert!(found >= wanted && (wanted > 0) == (found > 0), "{name} on {print:?}: no. {number}, {found} of {wanted}");
            }
            let bursts = layout.ties().iter().filter(|tie| tie.burst().is_some()).count();
            for words in ["burst centre", "a hole"].into_iter().filter(|_| layout.burst().is_some()) {
                assert_eq!(said.iter().filter(|said| *said == words).count(), bursts, "{name} on {print:?}: {words}");
            }
        }
    }
}

/// Where swing and rod strip together fill less than a sheet they used to take one each.
#[test]
fn strips_share_sheets_where_that_saves_any() {
    let mut shared = 0;
    for (name, layout, figures) in examples() {
        for paper in ["A4", "A3", "A2", "Letter", "Tabloid"] {
            let options = options((paper, 100.0, 10.0));
            let of = |kinds: &[PartKind]| pages(&layout, &figures, kinds, &options);
            let both = of(&[PartKind::SwingStrip, PartKind::RodStrip]);
            let alone = of(&[PartKind::SwingStrip]).len() + of(&[PartKind::RodStrip]).len();
            assert!(both.len() <= alone, "{name} on {paper}");
            shared += alone - both.len();
            // What all pieces take, against what their sheets have room for.
            let area =
                |page: &Page| page.placed.iter().filter_map(|placed| placed.clip).map(|clip| clip.area()).sum::<f64>() / 2.0;
            let paper: Paper = paper.parse().unwrap();
            let PaperForm::Sheet { width_mm, height_mm } = paper.form() else { panic!("a sheet") };
            let filled: f64 = both.iter().map(area).sum();
            if filled < 0.5 * width_mm * height_mm {
                // What only blocks hold has no strips.
                assert_eq!(both.len(), alone.min(1), "{name} on {paper}: {filled} mm2 on several sheets");
            }
        }
    }
    assert!(shared >= 10, "{shared} sheets saved");
}
