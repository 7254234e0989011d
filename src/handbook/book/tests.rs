//! The book as it is set: nothing leaves its column, no heading stands at a sheet's foot, every link finds its place.

use super::format::Format;
use super::pictures::Pictures;
use super::*;
use crate::handbook::Block;
use crate::print::{Face, STANDARD_PAPERS, Shape};
use kurbo::Rect;

fn paper(name: &str) -> Paper {
    name.parse().unwrap()
}

/// The words on a sheet with their boxes, running head and number left out.
fn words(sheet: &[crate::print::Placed]) -> Vec<(String, Rect, f64)> {
    let texts = sheet[0].drawing.items().filter_map(|item| match &item.shape {
        Shape::Text(text) => Some((text.text.clone(), item.shape.bounding_box(), text.cap_height_mm)),
        _ => None,
    });
    texts.collect()
}

/// Sheets without their pictures, for sizes that a maker may have.
#[test]
fn nothing_leaves_its_column() {
    for name in ["A4", "Letter", "148x210", "A3"] {
        let (format, pictures) = (Format::of(&paper(name)).unwrap(), Pictures::default());
        let column = format.words.inflate(0.2, 0.0);
        for page in pages().iter().filter(|page| page.name() != "reveal") {
            let set = set(page, &format, &pictures);
            for (number, sheet) in set.sheets.iter().enumerate() {
                for (text, at, _) in words(sheet) {
                    assert!(at.x0 >= column.x0 && at.x1 <= column.x1, "{name}, {} {number}: {text} {at:?}", page.name());
                    assert!(
                        at.y0 >= column.y0 - 2.0 && at.y1 <= column.y1 + 2.0,
                        "{name}, {} {number}: {text} {at:?}",
                        page.name()
                    );
                }
                for placed in &sheet[1..] {
                    for item in placed.drawing.items() {
                        let reach = item.shape.transformed(placed.page_from_drawing).bounding_box();
                        let clip = placed.clip.map(|clip| placed.page_from_drawing.transform_rect_bbox(clip));
                        if clip.is_some_and(|clip| !clip.overlaps(reach)) {
                            continue;
                        }
                        let seen = clip.map_or(reach, |clip| reach.intersect(clip));
                        let is_within = seen.x0 >= column.x0 - 1.0 && seen.x1 <= column.x1 + 1.0;
                        assert!(is_within && seen.y1 <= column.y1 + 1.0, "{name}, {} {number}: {item:?} {seen:?}", page.name());
                    }
                }
            }
        }
    }
}

/// No heading is the last on its sheet, and words don't stand on each other.
#[test]
fn no_heading_stands_alone_and_no_words_overlap() {
    let (format, pictures) = (Format::of(&paper("A4")).unwrap(), Pictures::default());
    for page in pages().iter().filter(|page| page.name() != "reveal") {
        let set = set(page, &format, &pictures);
        for sheet in &set.sheets {
            let words = words(sheet);
            let lowest = words.iter().max_by(|a, b| a.1.y1.total_cmp(&b.1.y1)).unwrap();
            let is_heading = page.blocks().iter().any(|block| match block {
                Block::Heading { runs, .. } => runs.iter().any(|run| lowest.0.contains(run.text.trim())),
                _ => false,
            });
            assert!(!is_heading || sheet.len() > 1, "{}: {lowest:?}", page.name());
            for (index, (text, at, cap_mm)) in words.iter().enumerate() {
                let core = |at: &Rect, cap: f64| Rect::new(at.x0 + 0.1, at.y1 - 1.2 * cap, at.x1 - 0.1, at.y1 - 0.4 * cap);
                let other = words[index + 1..].iter().find(|(_, other, other_cap)| {
                    let shared = core(at, *cap_mm).intersect(core(other, *other_cap));
                    shared.width() > 0.0 && shared.height() > 0.0
                });
                assert!(other.is_none(), "{}: {text} and {other:?}", page.name());
            }
        }
    }
}

#[test]
fn every_anchor_and_link_is_placed() {
    let (format, pictures) = (Format::of(&paper("A4")).unwrap(), Pictures::default());
    for page in pages().iter().filter(|page| page.name() != "reveal") {
        let set = set(page, &format, &pictures);
        for block in page.blocks() {
            if let Block::Heading { anchor, .. } = block {
                let place = set.anchors.get(anchor).unwrap_or_else(|| panic!("{} {anchor}", page.name()));
                assert!(place.sheet < set.sheets.len() && place.y_mm < format.size_mm.height);
            }
        }
        let linked = page.blocks().iter().flat_map(Block::runs).filter(|run| run.link.is_some()).count();
        assert!(set.links.len() >= linked, "{}: {} of {linked}", page.name(), set.links.len());
    }
}

/// The letters of a page in a face, without spaces, as they stand on its sheets.
fn letters_in(face: Face, sheets: &[Vec<crate::print::Placed>]) -> String {
    let items = sheets.iter().flat_map(|sheet| sheet[0].drawing.items());
    let texts = items.filter_map(|item| match &item.shape {
        Shape::Text(text) if text.face == face => Some(text.text.as_str()),
        _ => None,
    });
    texts.flat_map(str::chars).filter(|letter| !letter.is_whitespace()).collect()
}

/// What is typed stands in letters of one width, what is stressed or explained in slanted ones, and nothing else does.
#[test]
fn code_and_stressed_words_have_faces_of_their_own() {
    let (format, pictures) = (Format::of(&paper("A4")).unwrap(), Pictures::default());
    let mut seen = [0, 0];
    for page in pages().iter().filter(|page| page.name() != "reveal") {
        let set = set(page, &format, &pictures);
        let mut written = [String::new(), String::new()];
        for block in page.blocks() {
            written[0].push_str(&code_of(block));
            let stressed = block.runs().into_iter().filter(|run| run.style.emphasis && !run.style.code && !run.style.strong);
            stressed.for_each(|run| written[1].push_str(&run.text));
        }
        for (index, face) in [Face::Code, Face::Italic].into_iter().enumerate() {
            let expected: String = written[index].chars().filter(|letter| !letter.is_whitespace()).collect();
            assert_eq!(letters_in(face, &set.sheets), expected, "{}", page.name());
            seen[index] += expected.len();
        }
    }
    assert!(seen.iter().all(|letters| *letters > 300), "{seen:?}");
}

/// What is typed in a block, in its order.
fn code_of(block: &Block) -> String {
    match block {
        Block::Code(code) => code.clone(),
        Block::List { items, .. } => items.iter().flatten().map(code_of).collect(),
        block => block.runs().into_iter().filter(|run| run.style.code).map(|run| run.text.as_str()).collect(),
    }
}

#[test]
fn papers_that_no_book_is_read_on_are_refused() {
    assert_eq!(Format::of(&paper("roll:610")), Err(BookError::Roll { width_mm: 610.0 }));
    assert!(matches!(Format::of(&paper("100x150")), Err(BookError::TooSmall { .. })));
    for standard in STANDARD_PAPERS {
        assert!(Format::of(&Paper::standard(standard)).is_ok(), "{}", standard.name);
    }
}
