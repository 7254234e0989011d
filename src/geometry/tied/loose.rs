//! The cloth that no tie takes.

use super::{Taken, TiedFold};
use crate::geometry::{Bundle as _, ClothPoint, PanelPair, PanelSet};

/// Cloth of a garment that none of its ties takes, mm2: all of it less what each took.
#[must_use]
pub fn loose_mm2<'a>(panels: &PanelSet, ties: impl Iterator<Item = &'a TiedFold>) -> PanelPair<f64> {
    let all = PanelPair::from_fn(|panel| panels.panel(panel).map_or(0.0, |outline| outline.whole().area_mm2()));
    ties.fold(all, |left, tie| left - tie.cut(tie.taken().until_mm()).map(|cut| cut.area_mm2))
}

/// How many times as much cloth as lies flat there is round a tie that was drawn up, where a point lies.
///
/// Of a burst: the ring at `r` has `2 pi r` of cloth, and once the cloth within `d` hangs in the rod it lies only `r - d` from the knot:
/// `r / (r - d)`. Of a line likewise, counted from its bundle's tip. Without bound at the last bind itself.
#[must_use]
pub fn crowding(tie: &Taken, point: ClothPoint) -> f64 {
    let (until_mm, beyond_mm) = (tie.until_mm(), tie.beyond_mm(point));
    if beyond_mm <= 0.0 { f64::INFINITY } else { (until_mm + beyond_mm) / beyond_mm }
}
