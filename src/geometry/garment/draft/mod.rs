//! Outlines drafted from finished measurements.
//!
//! Every draft has real curves where the garment has them, passes exactly through the points that the measurements name, and is
//! refused if it would cross itself. Between those points the curves are ours: natural, not taken from a given garment.
//!
//! # Limits
//! - Garments lie flat, smooth and symmetrical; front and back meet at shoulder, sleeve and side, without ease or overlap.
//! - Neckbands, cuffs and hems are part of the outline, and as thick as the rest of the cloth as far as the outline knows.

mod bag;
mod bodysuit;
mod cloth;
mod hood;
mod neck;
mod pen;
mod simple;
mod tank;
mod top;

use kurbo::{Affine, BezPath};

use super::{GarmentError, GarmentKind, Measurements};
use crate::geometry::{Panel, PanelOutline};

pub(super) use bodysuit::leg_opening_ends;
pub(super) use hood::hood_points;
pub(super) use tank::tank_points;
pub(super) use top::{TopPoints, top_points};

/// The outlines of a garment's panels, in the garment's frame.
#[derive(Clone, Debug, PartialEq)]
pub struct Draft {
    /// The front.
    pub front: PanelOutline,
    /// The back, seen through the front.
    pub back: PanelOutline,
}

impl Draft {
    /// Drafts a kind from measurements that fit together.
    pub(super) fn new(kind: GarmentKind, m: &Measurements) -> Result<Self, GarmentError> {
        Self::of_halves(kind, |panel| profile(kind, panel, m))
    }

    /// The outlines whose halves these are.
    pub(super) fn of_halves(kind: GarmentKind, half: impl Fn(Panel) -> BezPath) -> Result<Self, GarmentError> {
        let of = |panel: Panel| simple_outline(kind, panel, &half(panel));
        Ok(Self { front: of(Panel::Front)?, back: of(Panel::Back)? })
    }

    /// One of the two outlines.
    pub const fn panel(&self, panel: Panel) -> &PanelOutline {
        match panel {
            Panel::Front => &self.front,
            Panel::Back => &self.back,
        }
    }

    /// Both outlines under a map that keeps the centre line where it is and the way round.
    ///
    /// # Errors
    /// [`GarmentError::Outline`] if the map turns an outline over or makes it nothing.
    pub(super) fn transformed(&self, kind: GarmentKind, map: Affine) -> Result<Self, GarmentError> {
        let mapped = |panel: Panel| outline(kind, panel, &(map * self.panel(panel).profile().clone()));
        Ok(Self { front: mapped(Panel::Front)?, back: mapped(Panel::Back)? })
    }
}

fn outline(kind: GarmentKind, panel: Panel, profile: &BezPath) -> Result<PanelOutline, GarmentError> {
    PanelOutline::from_half_profile(profile).map_err(|reason| GarmentError::Outline { kind, panel, reason })
}

fn profile(kind: GarmentKind, panel: Panel, m: &Measurements) -> BezPath {
    match kind {
        GarmentKind::CrewTee | GarmentKind::VNeckTee | GarmentKind::LongSleeveTee => top::tee(kind, panel, m),
        GarmentKind::ShirtDress => top::dress(panel, m),
        GarmentKind::Tank => tank::outline(panel, m),
        GarmentKind::InfantBodysuit => bodysuit::outline(panel, m),
        GarmentKind::HoodedTop => hood::outline(panel, m),
        GarmentKind::ToteBag => bag::outline(m),
        // What is drawn by the maker has its outline from there; by its measurements alone it is a cloth.
        GarmentKind::FlatCloth | GarmentKind::Own => cloth::outline(m),
    }
}

fn simple_outline(kind: GarmentKind, panel: Panel, path: &BezPath) -> Result<PanelOutline, GarmentError> {
    match simple::crossing(path) {
        Some(at) => Err(GarmentError::OutlineCrosses { kind, panel, at }),
        None => outline(kind, panel, path),
    }
}
