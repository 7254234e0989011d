//! Whether a garment marked as its back is its front.
//!
//! Where the back's cloth reaches beyond the front's, at the neck, a back shows cloth. A front may show it too: the inside of the back.

use super::outline::SeenOutline;
use super::photograph::root;
use super::snap::middle_of;
use super::{Marks, PhotoError, Photograph, Registration};
use crate::geometry::Panel;
use crate::layout::Layout;
use kurbo::{Point, Rect, Vec2};

/// From place to place, mm.
const STEP_MM: f64 = 4.0;
/// How far from both outlines a place has to lie, mm.
const CLEAR_MM: f64 = 12.0;
/// How far beyond the garment the table is taken, mm.
const TABLE_MM: [f64; 2] = [16.0, 30.0];
/// Fewest places that say something.
const FEWEST_PLACES: usize = 20;
/// A place nearer to the table's colour than this, in square roots of light, shows the table: the least contrast of an edge.
const LIKE_TABLE: f64 = 0.06;
/// How far away the table is taken at most, mm: farther off it is lit otherwise.
const NEAR_MM: f64 = 200.0;
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
        if is_on_sheet { None } else { photograph.at(px).map(root) }
    };
    let clear = |outline: &SeenOutline, at: Point| outline.away_mm(at) > CLEAR_MM;
    let between = lattice(back.bounds()).filter(|at| back.contains(*at) && !front.contains(*at));
    let between: Vec<Point> = between.filter(|at| clear(&back, *at) && clear(&front, *at)).collect();
    let places: Vec<[f32; 3]> = between.iter().filter_map(|at| light(*at)).collect();
    let middle = between.iter().fold(Vec2::ZERO, |sum, at| sum + at.to_vec2()) / between.len().max(1) as f64;
    // The table's colour as it is lit there.
    let beside = back.places.iter().filter(|place| place.at.distance(middle.to_point()) < NEAR_MM);
    let table: Vec<[f32; 3]> =
        beside.flat_map(|place| TABLE_MM.map(|mm| light(place.at + mm * place.outward))).flatten().collect();
    if table.is_empty() || places.len() < FEWEST_PLACES {
        return Ok(());
    }
    let table = [0, 1, 2].map(|channel| middle_of(table.iter().map(|light| f64::from(light[channel])).collect()));
    let off = |light: &[f32; 3]| (0..3).map(|channel| (f64::from(light[channel]) - table[channel]).powi(2)).sum::<f64>().sqrt();
    let like_table = places.iter().filter(|light| off(light) < LIKE_TABLE).count() as f64 / places.len() as f64;
    if like_table > MOST {
        return Err(PhotoError::OtherSide { marked: Panel::Back, seen: Panel::Front });
    }
    Ok(())
}

/// Points of a lattice over a box.
fn lattice(area: Rect) -> impl Iterator<Item = Point> {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a garment's size in steps")]
    let [across, down] = [area.width(), area.height()].map(|length_mm| (length_mm / STEP_MM) as u32);
    let at = move |column: u32, row: u32| area.origin() + STEP_MM * Vec2::new(f64::from(column), f64::from(row));
    (0..down).flat_map(move |row| (0..across).map(move |column| at(column, row)))
}
