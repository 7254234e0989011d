//! The fold map of a burst: fan folded about its centre, exact in both directions.
//!
//! About the centre, radius `r` and angle `p` from straight up. A pleat of angle `a` takes the wedge from `j a` to `(j + 1) a`; the
//! fraction of it is the place across the pleat, counted backwards in odd pleats, and the layers of an odd pleat lie backwards too:
//! that is what turning the cloth over at each crease does.

use super::{Burst, Centring, ClothPoint, DiscCutter, DiscMeasure, Fold, Panel, PanelOutline, PanelPair, RodCut, RodPoint};
use kurbo::{Point, Vec2};
use std::f64::consts::TAU;

/// A burst on the cloth of a garment.
#[derive(Debug, Clone)]
pub struct BurstFold {
    burst: Burst,
    panels: PanelPair<PanelOutline>,
    cutters: PanelPair<DiscCutter>,
}

impl BurstFold {
    /// Folds the garment whose panels these are.
    #[must_use]
    pub fn new(burst: Burst, panels: PanelPair<PanelOutline>) -> Self {
        let centre = burst.centre_as_laid();
        let cutters = panels.map(|panel| DiscCutter::new(laid_outline(&burst, panel), centre));
        Self { burst, panels, cutters }
    }

    /// The burst.
    #[must_use]
    pub fn burst(&self) -> &Burst {
        &self.burst
    }

    /// The garment's panels.
    #[must_use]
    pub fn panels(&self) -> &PanelPair<PanelOutline> {
        &self.panels
    }

    /// The stretches of the circle of this radius that lie on a panel as it is laid (the half at `x >= 0` when folded), as angles
    /// `start..end` in rad from the x axis towards y, each with `end > start`.
    #[must_use]
    pub fn arcs_on_cloth_rad(&self, panel: Panel, radius_mm: f64) -> Vec<(f64, f64)> {
        let outline = laid_outline(&self.burst, self.panels.of(panel));
        let centre = self.burst.centre_as_laid();
        let on_cloth = |angle: f64| outline.contains(centre + radius_mm * Vec2::from_angle(angle));
        let mut cuts: Vec<f64> = self.cutters.of(panel).crossings_rad(radius_mm).collect();
        if cuts.is_empty() {
            return if on_cloth(1e-3) { vec![(0.0, TAU)] } else { vec![] };
        }
        cuts.sort_by(f64::total_cmp);
        let ends = cuts.iter().skip(1).copied().chain([cuts[0] + TAU]);
        cuts.iter().copied().zip(ends).filter(|&(from, to)| to > from && on_cloth(0.5 * (from + to))).collect()
    }

    /// Which layer of the laid garment a half of a panel is, from 0 at the bottom.
    fn layer(&self, panel: Panel, right_half: bool) -> u32 {
        match (self.burst.centring(), panel, right_half) {
            (Centring::Nested, Panel::Front, false) => 0,
            (Centring::Nested, Panel::Front, true) => 1,
            (Centring::Nested, Panel::Back, true) => 2,
            (Centring::Nested, Panel::Back, false) => 3,
            (Centring::PlainHalf, Panel::Back, false) => 0,
            (Centring::PlainHalf, Panel::Front, false) => 1,
            (Centring::PlainHalf, Panel::Front, true) => 2,
            (Centring::PlainHalf, Panel::Back, true) => 3,
            (Centring::Open, Panel::Back, _) => 0,
            (Centring::Open, Panel::Front, _) => 1,
        }
    }

    /// The inverse of [`Self::layer`]; the half is `None` when the garment is laid open.
    fn panel_of(&self, layer: u32) -> (Panel, Option<bool>) {
        let (panels, right_from, right_to) = match self.burst.centring() {
            Centring::Nested => ([Panel::Front, Panel::Front, Panel::Back, Panel::Back], 1, 2),
            Centring::PlainHalf => ([Panel::Back, Panel::Front, Panel::Front, Panel::Back], 2, 3),
            Centring::Open => return (if layer == 0 { Panel::Back } else { Panel::Front }, None),
        };
        (panels[layer.min(3) as usize], Some((right_from..=right_to).contains(&layer)))
    }
}

/// The outline that the circles cut: half the panel when folded.
fn laid_outline<'a>(burst: &Burst, panel: &'a PanelOutline) -> &'a super::Outline {
    match burst.centring() {
        Centring::Nested | Centring::PlainHalf => panel.half(),
        Centring::Open => panel.whole(),
    }
}

impl Fold for BurstFold {
    fn pleats(&self) -> u32 {
        self.burst.pleats()
    }

    fn layers(&self) -> u32 {
        self.burst.centring().layers()
    }

    fn to_rod(&self, point: ClothPoint) -> RodPoint {
        let folded = self.burst.centring() != Centring::Open;
        let laid_x = if folded { point.x_mm.abs() } else { point.x_mm };
        let from_centre = Point::new(laid_x, point.y_mm) - self.burst.centre_as_laid();
        // From straight up (-y) towards +x; in [0, 2 pi).
        let angle = from_centre.x.atan2(-from_centre.y).rem_euclid(TAU);
        let pleat_exact = angle / self.burst.pleat_angle_rad();
        // The last crease belongs to the last pleat.
        let pleat = pleat_exact.floor().min(f64::from(self.pleats() - 1));
        let fraction = (pleat_exact - pleat).clamp(0.0, 1.0);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a whole number below the number of pleats")]
        let pleat = pleat as u32;
        let layer = self.layer(point.panel, point.x_mm.is_sign_negative());
        let turned = pleat % 2 == 1;
        RodPoint {
            along_mm: from_centre.hypot(),
            across: if turned { 1.0 - fraction } else { fraction },
            place: pleat * self.layers() + if turned { self.layers() - 1 - layer } else { layer },
        }
    }

    fn to_cloth(&self, point: RodPoint) -> ClothPoint {
        let (pleat, in_pleat) = (point.place / self.layers(), point.place % self.layers());
        let turned = pleat % 2 == 1;
        let fraction = if turned { 1.0 - point.across } else { point.across };
        let (panel, right_half) = self.panel_of(if turned { self.layers() - 1 - in_pleat } else { in_pleat });
        let angle = (f64::from(pleat) + fraction) * self.burst.pleat_angle_rad();
        let laid = self.burst.centre_as_laid() + point.along_mm * Vec2::new(angle.sin(), -angle.cos());
        let x_mm = match right_half {
            None => laid.x,
            // A point of the folded garment lies at x >= 0 but for rounding at the fold.
            Some(false) => laid.x.max(0.0),
            Some(true) => -laid.x.max(0.0),
        };
        ClothPoint { panel, x_mm, y_mm: laid.y }
    }

    fn has_cloth(&self, point: ClothPoint) -> bool {
        self.panels.of(point.panel).contains(point.position())
    }

    fn pleat_width_mm(&self, along_mm: f64) -> f64 {
        self.burst.pleat_angle_rad() * along_mm
    }

    fn cut(&self, along_mm: f64) -> PanelPair<RodCut> {
        let halves = if self.burst.centring() == Centring::Open { 1.0 } else { 2.0 };
        self.cutters.map(|cutter| {
            let DiscMeasure { area_mm2, arc_mm } = cutter.measure(along_mm);
            RodCut { cloth_mm: halves * arc_mm, area_mm2: halves * area_mm2 }
        })
    }

    fn length_mm(&self) -> f64 {
        self.cutters.front.farthest_mm().max(self.cutters.back.farthest_mm())
    }
}
