//! Template sheets: a tiling turned into pages with bars, names, trim lines, join marks and the assembly map.

use std::sync::Arc;

use kurbo::{Affine, Point, Vec2};

use super::assembly::map_page;
use super::band::{BandText, band_items};
use super::drawing::Drawing;
use super::error::PrintError;
use super::ink::Ink;
use super::marks::{Joint, add_joint, add_name};
use super::page::{Page, Painted, Part, Placed};
use super::paper::Paper;
use super::tiling::{Tiling, TilingOptions, tile_ink};

/// Cuts a drawing into sheets and makes them pages: the assembly map first, when there is more than one.
///
/// # Errors
/// As [`tile`](super::tile).
pub fn template_part(drawing: &Drawing, paper: &Paper, options: &TilingOptions) -> Result<Part, PrintError> {
    options.check()?;
    drawing.check()?;
    let ink = Ink::of(drawing).ok_or_else(|| PrintError::EmptyDrawing { title: drawing.title.clone() })?;
    let tiling = tile_ink(&ink, drawing, paper, options)?;
    Ok(Part { title: drawing.title.clone(), pages: pages(drawing, &tiling, &ink) })
}

fn pages(drawing: &Drawing, tiling: &Tiling, ink: &Ink) -> Vec<Page> {
    let painted = Painted::of(drawing);
    let joints = joints(tiling, ink);
    let with_map = tiling.sheets.len() > 1;
    let total = tiling.sheets.len() + usize::from(with_map);
    let mut pages = Vec::with_capacity(total);
    if with_map {
        pages.push(map_page(drawing, tiling, total));
    }
    for index in 0..tiling.sheets.len() {
        let page = pages.len() + 1;
        let sheet = &tiling.sheets[index];
        let words = BandText { title: &drawing.title, name: &sheet.name, page, pages: total };
        pages.push(sheet_page(&painted, tiling, index, &joints, ink, &words));
    }
    pages
}

fn sheet_page(painted: &Arc<Painted>, tiling: &Tiling, index: usize, joints: &[Joint], ink: &Ink, words: &BandText<'_>) -> Page {
    let (frame, sheet) = (&tiling.frame, &tiling.sheets[index]);
    let to_sheet: Vec2 = frame.window.origin() - sheet.window.origin();
    let mut furniture = Drawing::new("");
    for joint in joints.iter().filter(|j| j.upper == index || j.lower == index) {
        let on_upper = joint.upper == index;
        let other = if on_upper { joint.lower } else { joint.upper };
        add_joint(&mut furniture, joint, on_upper, &tiling.sheets[other].name, tiling.overlap_mm / 2.0, ink, to_sheet);
    }
    if tiling.sheets.len() > 1 {
        add_name(&mut furniture, &sheet.name, sheet.core, ink, to_sheet);
    }
    furniture.items.extend(band_items(frame, words));
    let page_from_sheet = Affine::scale(frame.page_per_sheet);
    let placed = vec![
        Placed {
            drawing: painted.clone(),
            page_from_drawing: page_from_sheet * Affine::translate(to_sheet),
            clip: Some(sheet.window),
        },
        Placed { drawing: Painted::of(&furniture), page_from_drawing: page_from_sheet, clip: None },
    ];
    Page { name: sheet.name.clone(), size_mm: frame.page, placed }
}

/// Every trim line with its numbered marks, in drawing coordinates.
fn joints(tiling: &Tiling, ink: &Ink) -> Vec<Joint> {
    let mut joints: Vec<Joint> = Vec::new();
    for (index, sheet) in tiling.sheets.iter().enumerate() {
        let core = sheet.core;
        let right = sheet.neighbours.right.map(|n| (n, Point::new(core.x1, core.y0), Point::new(core.x1, core.y1)));
        let below = sheet.neighbours.below.map(|n| (n, Point::new(core.x0, core.y1), Point::new(core.x1, core.y1)));
        for (neighbour, start, end) in right.into_iter().chain(below) {
            let first_number = 1 + joints.iter().map(|j| j.marks.len()).sum::<usize>();
            joints.push(Joint::new(index, neighbour, start, end, ink, first_number));
        }
    }
    joints
}
