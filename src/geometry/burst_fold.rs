//! The fold map of a burst: fan folded about its centre, exact in both directions.
//!
//! About the centre, radius `r` and angle `p` from straight up. A pleat of angle `a` takes the wedge from `j a` to `(j + 1) a`; the
//! fraction of it is the place across the pleat, counted backwards in odd pleats, and the layers of an odd pleat lie backwards too:
//! that is what turning the cloth over at each crease does.

use super::pleat_stack::{FanEnd, PleatStack};
use super::{
    Arc, Beyond, Bundle, BundlePoint, Burst, CellSize, ClothPoint, Crease, Cut, DiscCutter, Extent, Fold, Joins, Lay, Outline,
    Panel, PanelOutline, PanelPair, PanelSet, Pin, Stretch,
};
use kurbo::{Line, Point, Vec2};
use std::f64::consts::TAU;
use std::ops::Range;

/// A burst on the cloth of a garment.
#[derive(Debug, Clone)]
pub struct BurstFold {
    burst: Burst,
    lay: Lay,
    cutters: PanelPair<Option<DiscCutter>>,
    length_mm: f64,
}

impl BurstFold {
    /// Folds the garment whose panels these are.
    #[must_use]
    pub fn new(burst: Burst, panels: PanelSet) -> Self {
        let lay = Lay::new(burst.centring(), panels);
        let cutters = PanelPair::from_fn(|panel| Some(DiscCutter::new(lay.outline(panel)?, burst.centre_as_laid())));
        let farthest_mm = |panel| cutters.of(panel).as_ref().map_or(0.0, DiscCutter::farthest_mm);
        let length_mm = Panel::BOTH.into_iter().map(farthest_mm).fold(0.0, f64::max);
        Self { burst, lay, cutters, length_mm }
    }

    /// The burst.
    #[must_use]
    pub fn burst(&self) -> &Burst {
        &self.burst
    }

    /// The radius up to which every ring on a panel is as long as it can be, mm; 0 where the centre itself is bare.
    ///
    /// A ring is broken where the laid cloth ends: at the panel's edge, and for a mirrored pair at the fold too. About a centre on the
    /// fold the halves carry on each other's rings, so there the whole panel counts.
    #[must_use]
    pub fn whole_ring_to_mm(&self, panel: Panel) -> f64 {
        let centre = self.burst.centre_as_laid();
        match self.lay.panels().panel(panel) {
            Some(outline) if outline.contains(centre) => {
                let unbroken = if self.burst.is_mirrored_pair() { outline.half() } else { outline.whole() };
                DiscCutter::new(unbroken, centre).nearest_mm()
            }
            _ => 0.0,
        }
    }

    /// The directions in which the circle of this radius lies on cloth of any of the panels named, as the garment is laid: angles
    /// `start..end` in rad from the x axis towards y, each with `end > start`, in rising order.
    fn directions_on_cloth_rad(&self, panels: &[Panel], radius_mm: f64) -> Vec<(f64, f64)> {
        let cutters = || panels.iter().filter_map(|&panel| self.cutters.of(panel).as_ref());
        let centre = self.burst.centre_as_laid();
        let on_cloth = |angle: f64| {
            let point = centre + radius_mm * Vec2::from_angle(angle);
            self.lay.outlines(panels).any(|outline| outline.contains(point))
        };
        let mut cuts: Vec<f64> = cutters().flat_map(|cutter| cutter.crossings_rad(radius_mm)).collect();
        if cuts.is_empty() {
            return if on_cloth(AWAY_FROM_THE_FOLD_RAD) { vec![(0.0, TAU)] } else { vec![] };
        }
        cuts.sort_by(f64::total_cmp);
        let ends = cuts.iter().skip(1).copied().chain([cuts[0] + TAU]);
        join(cuts.iter().copied().zip(ends).filter(|&(from, to)| to > from && on_cloth(0.5 * (from + to))).collect())
    }

    fn stack(&self) -> PleatStack {
        PleatStack { pleats: self.burst.pleats(), layers: self.lay.layers() }
    }

    /// Whether the first and the last crease are the garment's own fold.
    fn ends_on_the_fold(&self) -> bool {
        self.lay.is_folded() && !self.burst.is_mirrored_pair()
    }
}

/// Joins stretches where one ends and the next begins, over the turn's end too.
fn join(stretches: Vec<(f64, f64)>) -> Vec<(f64, f64)> {
    let mut joined: Vec<(f64, f64)> = Vec::with_capacity(stretches.len());
    for (from, to) in stretches {
        match joined.last_mut() {
            Some(last) if last.1 >= from => last.1 = to,
            _ => joined.push((from, to)),
        }
    }
    if let [(first_from, first_to), .., (_, last_to)] = joined[..]
        && last_to >= first_from + TAU
    {
        joined.remove(0);
        if let Some(last) = joined.last_mut() {
            last.1 = first_to + TAU;
        }
    }
    joined
}

/// An angle from -pi to pi as one of `[0, 2 pi]`. A remainder would give the same at many times the price.
fn turn_from(angle_rad: f64) -> f64 {
    if angle_rad < 0.0 { angle_rad + TAU } else { angle_rad }
}

/// What is no farther beyond the fold than this lies on it, mm: rounding of a few metres.
const ROUNDING_MM: f64 = 1e-6;

/// A direction that meets no corner of an outline, to ask whether a circle that crosses nothing lies in it: any would do.
const AWAY_FROM_THE_FOLD_RAD: f64 = 0.1;

impl Bundle for BurstFold {
    fn to_bundle(&self, point: ClothPoint) -> Option<BundlePoint> {
        let from_centre = self.lay.as_laid(point) - self.burst.centre_as_laid();
        // From straight up (-y) towards +x; in [0, 2 pi).
        let angle = turn_from(from_centre.x.atan2(-from_centre.y));
        let pleat_exact = angle / self.burst.pleat_angle_rad();
        // The last crease belongs to the last pleat.
        let pleat = pleat_exact.floor().min(f64::from(self.burst.pleats() - 1));
        let fraction = (pleat_exact - pleat).clamp(0.0, 1.0);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a whole number below the number of pleats")]
        let pleat = pleat as u32;
        Some(BundlePoint {
            along_mm: from_centre.hypot(),
            across: PleatStack::across(pleat, fraction),
            place: f64::from(self.stack().place(pleat, self.lay.layer_of(point))),
        })
    }

    /// A burst beside the fold of a folded garment has directions in which the cloth ends at the fold: beyond it there is none.
    fn to_cloth(&self, point: BundlePoint) -> Option<ClothPoint> {
        let (pleat, layer) = self.stack().pleat_and_layer(point.layer());
        let fraction = PleatStack::across(pleat, point.across);
        let angle = (f64::from(pleat) + fraction) * self.burst.pleat_angle_rad();
        let laid = self.burst.centre_as_laid() + point.along_mm * Vec2::new(angle.sin(), -angle.cos());
        let is_beyond_the_fold = self.lay.is_folded() && laid.x < -ROUNDING_MM;
        (!is_beyond_the_fold).then(|| self.lay.cloth_at(layer, laid))
    }

    fn has_cloth(&self, point: ClothPoint) -> bool {
        self.lay.has_cloth(point)
    }

    fn outline(&self, panel: Panel) -> Option<&Outline> {
        self.lay.panels().panel(panel).map(PanelOutline::whole)
    }

    fn extent(&self) -> Extent {
        let (pleats, layers) = (self.burst.pleats(), self.lay.layers());
        Extent { length_mm: self.length_mm, pleats, layers, is_closed: false }
    }

    fn cell(&self, along_mm: Range<f64>, _place: u32, across: Range<f64>) -> CellSize {
        let width_mm = self.width_mm(0.5 * (along_mm.start + along_mm.end)) * (across.end - across.start);
        CellSize { length_mm: along_mm.end - along_mm.start, width_mm }
    }

    fn mates(&self, place: u32) -> [Option<u32>; 2] {
        let beyond = if self.ends_on_the_fold() { FanEnd::OnFold } else { FanEnd::Closes };
        self.stack().mates(place, &self.lay, [beyond; 2])
    }

    fn cut(&self, along_mm: f64) -> PanelPair<Cut> {
        let halves = self.lay.centring().halves();
        self.cutters.map(|cutter| {
            let measure = cutter.as_ref().map(|cutter| cutter.measure(along_mm)).unwrap_or_default();
            Cut { cloth_mm: halves * measure.arc_mm, area_mm2: halves * measure.area_mm2 }
        })
    }

    fn width_mm(&self, along_mm: f64) -> f64 {
        self.burst.pleat_angle_rad() * along_mm
    }

    /// The centre line, unless the burst's centre lies on it, for then it is a crease of the first and the last pleat.
    fn joins(&self, point: ClothPoint, within_mm: f64) -> Joins {
        let away_mm = point.x_mm.abs();
        let beyond = || Beyond { point: ClothPoint { x_mm: -point.x_mm, ..point }, away_mm };
        [(self.has_joins() && away_mm < within_mm).then(beyond), None, None, None]
    }

    fn has_joins(&self) -> bool {
        self.burst.is_mirrored_pair()
    }
}

/// The number of a crease in the order of folding, from 1.
fn crease_number(index: usize) -> u32 {
    u32::try_from(index + 1).unwrap_or(u32::MAX)
}

impl Fold for BurstFold {
    fn lay(&self) -> &Lay {
        &self.lay
    }

    fn parallel(&self, panels: &[Panel], along_mm: f64) -> Vec<Stretch> {
        let centre = self.burst.centre_as_laid();
        let arc = |(from_rad, to_rad)| Stretch::Arc(Arc { centre, radius_mm: along_mm, from_rad, to_rad });
        self.directions_on_cloth_rad(panels, along_mm).into_iter().map(arc).collect()
    }

    fn along_as_laid_mm(&self, laid: Point) -> f64 {
        laid.distance(self.burst.centre_as_laid())
    }

    /// The first and last crease of a half turn, which are the fold itself, are left out.
    fn creases(&self, from_mm: f64) -> Vec<Crease> {
        let centre = self.burst.centre_as_laid();
        let ray = |direction: Vec2| Line::new(centre + from_mm * direction, centre + (self.length_mm + 1.0) * direction);
        let directions =
            self.burst.creases_rad().into_iter().map(|angle_rad| Vec2::new(angle_rad.sin(), -angle_rad.cos())).enumerate();
        directions
            .filter(|(_, direction)| !(self.ends_on_the_fold() && direction.x.abs() < 1e-9))
            .flat_map(|(number, direction)| {
                let pieces = self.lay.pieces_on_cloth(ray(direction));
                let (is_over, number) = (number % 2 == 0, crease_number(number));
                let crease = move |line| Crease { line, is_over, ends_alone: false, number, toward: None };
                pieces.into_iter().map(crease)
            })
            .collect()
    }

    fn pins(&self) -> Vec<Pin> {
        vec![Pin { at: self.burst.centre_as_laid(), origin_mm: 0.0, is_shortening: false }]
    }
}
