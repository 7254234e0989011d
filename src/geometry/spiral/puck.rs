//! A spiral laid on a garment: checked, with what it comes to.

use super::error::SpiralError;
use super::heights::{Valleys, tri};
use super::plan::{Plan, Within};
use super::spec::{
    FEWEST_TURNS, HEIGHT_MM, LEAST_PUCK_MM, MOST_PACKING, MOST_TURNS, ORDINARY_PACKING, PINCH_MM, PINCH_PLEATS, PUCK_BANDS,
    SpiralSpec, WIDEST,
};
use crate::geometry::burst::centre_at;
use crate::geometry::{Centre, DiscCutter, LARGEST_RADIUS_MM, Lay, ON_THE_FOLD_MM, Panel, PanelSet};
use kurbo::{Line, Point, Vec2};
use std::f64::consts::{PI, TAU};

/// A spiral laid on a garment: its pinch is on the cloth, and the puck has room for all of it.
///
/// # Limits
/// The plan is that of all layers together and smoothed over a pleat: layers that lie on each other come to lie at one place, so front and
/// back come out alike. All round the puck counts as full, for corners and sleeves are tucked in. Of cloth folded on its centre line and
/// pinched there half of every circle is on the cloth; what is beyond the fold counts as filled by the rest.
#[derive(Debug, Clone)]
pub struct Spiral {
    spec: SpiralSpec,
    centre: Point,
    plan: Plan,
    valleys: Valleys,
    height_mm: f64,
    layer_mm: f64,
    cloth_mm2: f64,
}

/// Step over which a slope is taken, mm.
const STEP_MM: f64 = 0.5;

/// Where cloth comes to lie in a puck.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct PuckPoint {
    /// Distance from its middle, mm.
    pub(super) rho_mm: f64,
    /// Direction, rad clockwise from the zero, in `[0, 2 pi)`.
    pub(super) psi_rad: f64,
    /// Height over its underside as a share of its own, 0 to 1.
    pub(super) height: f64,
}

impl Spiral {
    /// Lays a spiral on the garment whose panels these are, of cloth whose layers are `layer_mm` thick when they lie free.
    ///
    /// A centre within [`ON_THE_FOLD_MM`] of the centre line of a folded garment is moved onto it. More turns than the cloth allows are no
    /// error: [`Spiral::most_turns`] and [`Spiral::largest_stretch`] tell.
    ///
    /// # Errors
    /// [`SpiralError`] when a number is unusable, the centre lies on neither panel, the puck is nearly as large as the cloth, or has no room
    /// for it.
    pub fn new(spec: &SpiralSpec, panels: &PanelSet, layer_mm: f64) -> Result<Self, SpiralError> {
        let lay = Lay::new(spec.centring, panels.clone());
        let centre = centre_as_laid(spec, &lay)?;
        let cutters: Vec<DiscCutter> = lay.outlines(&Panel::BOTH).map(|outline| DiscCutter::new(outline, centre)).collect();
        let halves = lay.centring().halves();
        let within = |r_mm: f64| {
            let sums = cutters
                .iter()
                .map(|cutter| cutter.measure(r_mm))
                .fold((0.0, 0.0), |(area, arc), measure| (area + halves * measure.area_mm2, arc + halves * measure.arc_mm));
            Within { area_mm2: sums.0, arc_mm: sums.1 }
        };
        let far_mm = cutters.iter().map(DiscCutter::farthest_mm).fold(0.0, f64::max);
        let cloth_mm2 = within(far_mm).area_mm2;
        let layers = f64::from(lay.layers());
        // Pressed flat the cloth of one layer would be a disc of this diameter.
        let disc_mm = 2.0 * (cloth_mm2 / (layers * PI)).sqrt();
        let diameter_mm = length("puck_diameter_mm", spec.puck_diameter_mm, [LEAST_PUCK_MM, WIDEST * disc_mm])?;
        let pinch_mm = length("pinch_radius_mm", spec.pinch_radius_mm, [PINCH_MM[0], PINCH_MM[1].min(0.25 * far_mm)])?;
        let turns = Some(spec.turns).filter(|turns| (FEWEST_TURNS..=MOST_TURNS).contains(turns));
        let turns = turns.ok_or(SpiralError::Turns { turns: spec.turns, least: FEWEST_TURNS, most: MOST_TURNS })?;
        if !(PINCH_PLEATS[0]..=PINCH_PLEATS[1]).contains(&spec.pleats) {
            return Err(SpiralError::Pleats { pleats: spec.pleats });
        }
        if !(PUCK_BANDS[0]..=PUCK_BANDS[1]).contains(&spec.bands) {
            return Err(SpiralError::Bands { bands: spec.bands });
        }
        if !(0.0..=360.0).contains(&spec.first_band_deg) {
            return Err(SpiralError::Direction { degrees: spec.first_band_deg });
        }
        let full_mm = cloth_mm2 * layer_mm / (0.25 * PI * diameter_mm * diameter_mm);
        let height_mm = match spec.puck_height_mm {
            Some(height_mm) => length("puck_height_mm", height_mm, HEIGHT_MM)?,
            None => (full_mm / ORDINARY_PACKING).max(HEIGHT_MM[0]),
        };
        if height_mm > HEIGHT_MM[1] {
            // As wide as it must be to be no higher.
            let least_mm = diameter_mm * (height_mm / HEIGHT_MM[1]).sqrt();
            let most_mm = WIDEST * disc_mm;
            return Err(SpiralError::Length { field: "puck_diameter_mm".into(), value_mm: diameter_mm, least_mm, most_mm });
        }
        let least_mm = full_mm / MOST_PACKING;
        if height_mm < least_mm {
            return Err(SpiralError::TooTight { height_mm, packing: full_mm / height_mm, least_mm });
        }
        Ok(Self {
            spec: *spec,
            centre,
            plan: Plan::new(within, far_mm, pinch_mm, 0.5 * diameter_mm, Some(turns)),
            valleys: Valleys::new(spec.pleats, spec.seed),
            height_mm,
            layer_mm,
            cloth_mm2,
        })
    }

    /// What it was laid by.
    #[must_use]
    pub fn spec(&self) -> &SpiralSpec {
        &self.spec
    }

    /// The pinch on the garment as it is laid, mm.
    #[must_use]
    pub fn centre_as_laid(&self) -> Point {
        self.centre
    }

    /// The puck's radius, mm.
    #[must_use]
    pub fn radius_mm(&self) -> f64 {
        self.plan.radius_mm()
    }

    /// The puck's height, mm: as given, or as high as the cloth is at [`ORDINARY_PACKING`].
    #[must_use]
    pub fn height_mm(&self) -> f64 {
        self.height_mm
    }

    /// The share of the puck that is cloth: its volume lying free over the puck's. Out of [`super::USUAL_PACKING`] it falls open or can't be
    /// drawn together.
    #[must_use]
    pub fn packing(&self) -> f64 {
        self.cloth_mm2 * self.layer_mm / (PI * self.radius_mm() * self.radius_mm() * self.height_mm)
    }

    /// The most turns that the cloth allows without stretching: more can't be wound into a puck of this size.
    #[must_use]
    pub fn most_turns(&self) -> f64 {
        self.plan.most_turns()
    }

    /// The largest stretch of the plan: 1 at the most turns, and less with fewer, for then there is slack everywhere.
    #[must_use]
    pub fn largest_stretch(&self) -> f64 {
        self.plan.largest_stretch()
    }

    /// Girth of a band over the puck, through its middle: `2 (2 P + H)`, mm.
    #[must_use]
    pub fn band_girth_mm(&self) -> f64 {
        2.0 * (2.0 * self.radius_mm() + self.height_mm)
    }

    /// Girth of a string round its rim, mm.
    #[must_use]
    pub fn rim_mm(&self) -> f64 {
        TAU * self.radius_mm()
    }

    /// The tick that the zero is known by: from the circle that the fingers hold straight up, as long as its radius.
    #[must_use]
    pub fn tick(&self) -> Line {
        let up = |mm: f64| self.centre - Vec2::new(0.0, mm);
        Line::new(up(self.spec.pinch_radius_mm), up(2.0 * self.spec.pinch_radius_mm))
    }

    /// How far along the rim a millimetre of cloth leads at most, there on the laid cloth, mm.
    #[must_use]
    pub fn rim_per_mm(&self, laid: Point) -> f64 {
        let r_mm = laid.distance(self.centre).max(STEP_MM);
        let turned_rad = self.plan.lag_rad(r_mm + STEP_MM) - self.plan.lag_rad(r_mm - STEP_MM);
        self.radius_mm() * (1.0 / r_mm).hypot(turned_rad / (2.0 * STEP_MM))
    }

    /// Cloth of all layers, mm2.
    pub(super) fn cloth_mm2(&self) -> f64 {
        self.cloth_mm2
    }

    /// Room that a layer takes from the middle outward, mm.
    pub(super) fn sheet_mm(&self) -> f64 {
        self.layer_mm / self.packing()
    }

    pub(super) fn plan(&self) -> &Plan {
        &self.plan
    }

    pub(super) fn lag(&self) -> f64 {
        self.spec.twist.lag()
    }

    /// Where a point of the laid cloth comes to lie. Beyond the cloth it counts as at its edge.
    pub(super) fn to_puck(&self, laid: Point) -> PuckPoint {
        let from_pinch = laid - self.centre;
        let (r_mm, phi_rad) = (from_pinch.hypot(), from_pinch.x.atan2(-from_pinch.y));
        let psi_rad = (phi_rad + self.lag() * self.plan.lag_rad(r_mm)).rem_euclid(TAU);
        PuckPoint {
            rho_mm: self.plan.rho_mm(r_mm),
            // A negative nothing becomes a whole turn.
            psi_rad: if psi_rad < TAU { psi_rad } else { 0.0 },
            height: tri(self.valleys.away_mm(&self.plan, r_mm, phi_rad, self.lag()) / self.height_mm),
        }
    }

    /// The point of the laid cloth's plane whose plan lies there, at whatever height.
    pub(super) fn laid_at(&self, rho_mm: f64, psi_rad: f64) -> Point {
        let r_mm = self.plan.r_mm(rho_mm);
        self.on_wedge_line(r_mm, psi_rad)
    }

    /// The point at a distance from the pinch that lies in a direction of the puck.
    pub(super) fn on_wedge_line(&self, r_mm: f64, psi_rad: f64) -> Point {
        let phi_rad = psi_rad - self.lag() * self.plan.lag_rad(r_mm);
        self.centre + r_mm * Vec2::new(phi_rad.sin(), -phi_rad.cos())
    }
}

fn length(field: &'static str, value_mm: f64, [least_mm, most_mm]: [f64; 2]) -> Result<f64, SpiralError> {
    // Written so that a NaN is refused too.
    if value_mm >= least_mm && value_mm <= most_mm {
        Ok(value_mm)
    } else {
        Err(SpiralError::Length { field: field.into(), value_mm, least_mm, most_mm: most_mm.max(least_mm) })
    }
}

/// The centre, which has to lie on the cloth of a panel, on the garment as it is laid.
fn centre_as_laid(spec: &SpiralSpec, lay: &Lay) -> Result<Point, SpiralError> {
    let (aside, height) = match spec.centre {
        Centre::BelowShoulder { from_centre_line_mm, below_shoulder_mm } => {
            (from_centre_line_mm, ("centre.below_shoulder_mm", below_shoulder_mm))
        }
        Centre::AboveMiddle { from_centre_line_mm, above_middle_mm } => {
            (from_centre_line_mm, ("centre.above_middle_mm", above_middle_mm))
        }
    };
    for (what, value_mm) in [("centre.from_centre_line_mm", aside), height] {
        length(what, value_mm, [-LARGEST_RADIUS_MM, LARGEST_RADIUS_MM])?;
    }
    let mut at = centre_at(spec.centre, lay.panels());
    if spec.centring.is_folded() && at.x.abs() <= ON_THE_FOLD_MM {
        at.x = 0.0;
    }
    if !lay.panels().iter().any(|(_, panel)| panel.contains(at)) {
        return Err(SpiralError::OffCloth { at, top: lay.panels().top });
    }
    Ok(lay.plane_as_laid(at))
}
