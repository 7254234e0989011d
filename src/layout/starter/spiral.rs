//! A spiral to begin with.

use super::Room;
use crate::geometry::{
    Centring, Cloth, ORDINARY_PACKING, PanelSet, Progression, SpacingSpec, Spiral, SpiralError, SpiralSpec, Twist,
};
use std::f64::consts::PI;

/// A spiral to begin with: what of it is asked for; the rest is chosen.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct SpiralStart {
    /// Diameter of the puck, mm.
    pub puck_diameter_mm: Option<f64>,
    /// How often the pinch is turned.
    pub turns: Option<f64>,
    /// Which way it is turned.
    pub twist: Option<Twist>,
    /// Bands over the puck.
    pub bands: Option<u32>,
}

impl SpiralStart {
    /// What was asked of a spiral, for another garment, whose cloth gives the puck's size and the turns.
    #[must_use]
    pub fn like(spec: &SpiralSpec) -> Self {
        Self { twist: Some(spec.twist), bands: Some(spec.bands), ..Self::default() }
    }
}

/// A puck's height as a share of its diameter: it can be held in two hands and lies flat (our own judgement).
const HEIGHT_SHARE: f64 = 1.0 / 6.0;
/// The largest puck to begin with as a share of the diameter of a disc of as much cloth as a layer (our own judgement).
const WIDEST_SHARE: f64 = 0.6;
/// Radius of a pinch to begin with, mm: three fingertips (our own judgement).
const PINCH_MM: f64 = 12.0;
/// Pleats that the pinch begins with (our own judgement).
const PLEATS: u32 = 8;
/// Bands: six wedges, twice three colours (common practice, no source).
const BANDS: u32 = 3;
/// The share of the most turns that a hand reaches (our own judgement), and what turns are rounded down to.
const TURNS_SHARE: f64 = 0.95;
const TURNS_STEP: f64 = 0.25;

/// The spiral, and what its layout has in place of binds.
pub(super) fn spiral(start: SpiralStart, room: &Room) -> Result<(SpiralSpec, SpacingSpec), SpiralError> {
    let layer_mm = Cloth::default().free_thickness_mm;
    let spec = SpiralSpec {
        centring: Centring::Open,
        centre: room.centre(),
        pinch_radius_mm: PINCH_MM,
        turns: start.turns.unwrap_or(TURNS_STEP),
        twist: start.twist.unwrap_or(Twist::Clockwise),
        puck_diameter_mm: start.puck_diameter_mm.unwrap_or_else(|| diameter_mm(room, layer_mm)),
        puck_height_mm: None,
        pleats: PLEATS,
        seed: 1,
        bands: start.bands.unwrap_or(BANDS),
        first_band_deg: 0.0,
    };
    let most_turns = Spiral::new(&spec, &room.panels, layer_mm)?.most_turns();
    let reached = (TURNS_SHARE * most_turns / TURNS_STEP).floor() * TURNS_STEP;
    let turns = start.turns.unwrap_or(reached.max(TURNS_STEP));
    Ok((SpiralSpec { turns, ..spec }, no_binds(room)))
}

/// The diameter of a puck of ordinary packing that is so much lower than wide; less where there is little cloth.
fn diameter_mm(room: &Room, layer_mm: f64) -> f64 {
    let cloth_mm2 = cloth_mm2(&room.panels);
    let volume_mm3 = cloth_mm2 * layer_mm / ORDINARY_PACKING;
    // A cylinder's volume is pi/4 d^2 h, with h a share of d.
    let diameter_mm = (volume_mm3 / (0.25 * PI * HEIGHT_SHARE)).cbrt();
    let layers = room.panels.iter().count() as f64;
    let disc_mm = 2.0 * (cloth_mm2 / (layers * PI)).sqrt();
    room.round(diameter_mm.min(WIDEST_SHARE * disc_mm))
}

fn cloth_mm2(panels: &PanelSet) -> f64 {
    panels.iter().map(|(_, panel)| panel.whole().area_mm2()).sum()
}

/// Bands alone hold it.
fn no_binds(room: &Room) -> SpacingSpec {
    let none = || Progression::List { gaps_mm: Vec::new() };
    SpacingSpec { inward: none(), outward: none(), marks: room.marks, smallest_gap_mm: None, edits: Vec::new() }
}
