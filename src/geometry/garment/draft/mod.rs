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
mod pen;
mod simple;
mod tank;
mod top;

use kurbo::{Affine, BezPath, PathEl, Point};

use super::Measure::{BackNeckDrop, FrontNeckDrop, NeckWidth};
use super::{GarmentError, GarmentKind, GarmentPanel, Measurements};
use pen::{OUTWARD, Pen, between, toward};

pub(super) use bodysuit::leg_opening_ends;
pub(super) use hood::hood_points;
pub(super) use tank::tank_points;
pub(super) use top::{TopPoints, top_points};

/// The outlines of a garment's panels, in the garment's frame.
#[derive(Clone, Debug, PartialEq)]
pub struct Draft {
    /// The front.
    pub front: HalfProfile,
    /// The back, seen through the front.
    pub back: HalfProfile,
}

/// The outline of the wearer's left half of a panel, in mm: an open path of lines and cubics with `x >= 0`, from the top of the
/// centre line over neck, shoulder, sleeve, side and hem to the foot of the centre line.
///
/// Closed along the centre line it is a simple curve, clockwise as drawn with `y` down, so that its area is positive.
#[derive(Clone, Debug, PartialEq)]
pub struct HalfProfile {
    path: BezPath,
}

impl HalfProfile {
    /// The open path.
    pub const fn path(&self) -> &BezPath {
        &self.path
    }

    /// The path closed along the centre line: the outline of the half panel.
    pub fn closed(&self) -> BezPath {
        let mut path = self.path.clone();
        path.close_path();
        path
    }

    /// The outline of the whole panel: this half and its mirror image, as closed rings.
    ///
    /// Where the half outline runs along the centre line (at the top of a bag's handle) the two halves join, and what they
    /// enclose between them becomes a ring of its own, a hole that runs the other way around.
    pub fn whole(&self) -> BezPath {
        let mut whole = BezPath::new();
        for piece in self.pieces_off_centre() {
            let mirrored = Affine::FLIP_X * piece.reverse_subpaths();
            whole.extend(piece.elements().iter().chain(mirrored.elements().iter().skip(1)).copied());
            whole.close_path();
        }
        whole
    }

    /// The outline without the lines along the centre line: pieces that start and end on it.
    fn pieces_off_centre(&self) -> Vec<BezPath> {
        let mut pieces = vec![BezPath::new()];
        let mut at = Point::ORIGIN;
        for &el in self.path.elements() {
            let to = el.end_point().unwrap_or(at);
            let joins_halves = matches!(el, PathEl::LineTo(_)) && at.x.max(to.x) <= 0.0;
            match pieces.last_mut() {
                Some(piece) if !joins_halves => piece.push(el),
                _ => pieces.push(BezPath::from_vec(vec![PathEl::MoveTo(to)])),
            }
            at = to;
        }
        pieces
    }

    /// Where the outline starts on the centre line, in mm below the high point of the shoulder (negative above it).
    pub fn top_mm(&self) -> f64 {
        self.path.elements().first().and_then(PathEl::end_point).map_or(0.0, |p| p.y)
    }

    /// Where the outline ends on the centre line, in mm below the high point of the shoulder.
    pub fn foot_mm(&self) -> f64 {
        self.path.elements().last().and_then(PathEl::end_point).map_or(0.0, |p| p.y)
    }
}

impl Draft {
    /// Drafts a kind from measurements that fit together.
    pub(super) fn new(kind: GarmentKind, m: &Measurements) -> Result<Self, GarmentError> {
        let front = profile(kind, GarmentPanel::Front, m)?;
        let back = profile(kind, GarmentPanel::Back, m)?;
        Ok(Self { front, back })
    }

    /// One of the two outlines.
    pub const fn panel(&self, panel: GarmentPanel) -> &HalfProfile {
        match panel {
            GarmentPanel::Front => &self.front,
            GarmentPanel::Back => &self.back,
        }
    }

    /// Both outlines under a map that keeps the centre line where it is.
    pub(super) fn transformed(&self, map: Affine) -> Self {
        let mapped = |half: &HalfProfile| HalfProfile { path: map * half.path.clone() };
        Self { front: mapped(&self.front), back: mapped(&self.back) }
    }
}

fn profile(kind: GarmentKind, panel: GarmentPanel, m: &Measurements) -> Result<HalfProfile, GarmentError> {
    let path = match kind {
        GarmentKind::CrewTee | GarmentKind::VNeckTee | GarmentKind::LongSleeveTee => top::tee(kind, panel, m),
        GarmentKind::ShirtDress => top::dress(panel, m),
        GarmentKind::Tank => tank::outline(panel, m),
        GarmentKind::InfantBodysuit => bodysuit::outline(panel, m),
        GarmentKind::HoodedTop => hood::outline(panel, m),
        GarmentKind::ToteBag => bag::outline(m),
        GarmentKind::FlatCloth => cloth::outline(m),
    };
    match simple::crossing(&path) {
        Some(at) => Err(GarmentError::OutlineCrosses { kind, panel, at }),
        None => Ok(HalfProfile { path }),
    }
}

/// The neck's edge, drawn from the centre line to the high point of the shoulder.
fn begin_neck(kind: GarmentKind, panel: GarmentPanel, m: &Measurements, shoulder: Point) -> Pen {
    let hps = Point::new(m.of(NeckWidth) / 2.0, 0.0);
    let drop_mm = m.of(if panel == GarmentPanel::Front { FrontNeckDrop } else { BackNeckDrop });
    let centre = Point::new(0.0, drop_mm);
    let mut pen = Pen::at(centre);
    if kind == GarmentKind::VNeckTee && panel == GarmentPanel::Front {
        pen.bowed_to(hps, V_NECK_BOW);
        return pen;
    }
    let square_to_shoulder = toward(hps, shoulder).turn_90() * -1.0;
    let shallowness = (1.0 - drop_mm / hps.x).max(0.0);
    let arrive = between(square_to_shoulder, toward(centre, hps), shallowness * SHALLOW_NECK_SLANT);
    pen.round_to(hps, OUTWARD, arrive, ROUND_NECK);
    pen
}

/// How far the edge of a pointed neck bends toward the shoulder, as a part of its length (memory).
const V_NECK_BOW: f64 = 0.04;
/// Fullness of a round neck, at the centre and at the shoulder; a quarter of an ellipse has 0.5523 at both (memory).
const ROUND_NECK: [f64; 2] = [0.6, 0.46];
/// How far the edge of a neck without any drop is turned from square to the shoulder into its own straight line (memory): deep
/// necks meet the shoulder square, a shallow back neck at a slant.
const SHALLOW_NECK_SLANT: f64 = 0.95;
