//! Whether a garment marked as its back is its front.
//!
//! Where the back's cloth reaches beyond the front's, at the neck, a back shows cloth. A front may show it too: the inside of the back.

use super::outline::SeenOutline;
use super::{Marks, PhotoError, Photograph, Registration};
use crate::geometry::Panel;
use crate::layout::Layout;
use kurbo::Point;

/// From place to place, mm.
const STEP_MM: f64 = 4.0;
/// How far from both outlines a place has to lie, mm.
const CLEAR_MM: f64 = 12.0;
/// How far beyond the garment the table is taken, mm.
const TABLE_MM: [f64; 2] = [16.0, 30.0];
/// Fewest places that say something.
const FEWEST_PLACES: usize = 20;
/// A place nearer to the table's colour than this, in square roots of light, shows the table: half the least contrast of an edge.
const LIKE_TABLE: f64 = 0.05;
/// How many of the places have to show it.
const MOST: f64 = 0.7;

/// Refuses a back whose neck shows the table.
pub(super) fn check_side(photograph: &Photograph, layout: &Layout, marks: &Marks, map: &Registration) -> Result<(), PhotoError> {
    let panels = layout.panels();
    let (Panel::Back, Some(back)) = (marks.side, &panels.back) else { return Ok(()) };
    let [front, back] = [&panels.front, back].map(|panel| SeenOutline::of(panel, Panel::Back));
    let light = |at: Point| {
        let px = map.apply(at)?;
        let is_on_sheet = marks.sheet.as_ref().is_some_and(|sheet| sheet.outside_px(px) < 0.0);
        if is_on_sheet { None } else { photograph.at(px).map(super::photograph::root) }
    };
    let table: Vec<[f32; 3]> =
        back.places.iter().flat_map(|place| TABLE_MM.map(|mm| light(place.at + mm * place.outward))).flatten().collect();
    if table.is_empty() {
        return Ok(());
    }
    let table = [0, 1, 2].map(|channel| super::snap::middle_of(table.iter().map(|light| f64::from(light[channel])).collect()));
    let bounds = back.bounds();
    let mut places = Vec::new();
    let mut y = bounds.y0;
    while y < bounds.y1 {
        let mut x = bounds.x0;
        while x < bounds.x1 {
            let at = Point::new(x, y);
            if back.contains(at) && !front.contains(at) && back.away_mm(at) > CLEAR_MM && front.away_mm(at) > CLEAR_MM {
                places.extend(light(at));
            }
            x += STEP_MM;
        }
        y += STEP_MM;
    }
    let off = |light: &&[f32; 3]| {
        (0..3).map(|channel| (f64::from(light[channel]) - table[channel]).powi(2)).sum::<f64>().sqrt() < LIKE_TABLE
    };
    let like_table = places.iter().filter(off).count() as f64 / places.len().max(1) as f64;
    if places.len() >= FEWEST_PLACES && like_table > MOST {
        return Err(PhotoError::OtherSide { marked: Panel::Back, seen: Panel::Front });
    }
    Ok(())
}
