//! The fold map of a burst: fan folded about its centre, exact in both directions.
//!
//! About the centre, radius `r` and angle `p` from straight up. A pleat of angle `a` takes the wedge from `j a` to `(j + 1) a`; the
//! fraction of it is the place across the pleat, counted backwards in odd pleats, and the layers of an odd pleat lie backwards too:
//! that is what turning the cloth over at each crease does.

use super::{Burst, Centring, ClothPoint, DiscCutter, Fold, Outline, Panel, PanelOutline, PanelPair, PanelSet, RodCut, RodPoint};
use kurbo::{Line, ParamCurve as _, Point, Vec2};
use std::f64::consts::TAU;

/// A burst on the cloth of a garment.
#[derive(Debug, Clone)]
pub struct BurstFold {
    burst: Burst,
    panels: PanelSet,
    cutters: PanelPair<Option<DiscCutter>>,
    stack: Vec<Layer>,
}

/// A layer of the garment as it is laid: a whole panel when laid open, a half of one when folded.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Layer {
    panel: Panel,
    half: Option<Half>,
}

/// The wearer's left or right.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Half {
    Left,
    Right,
}

impl Half {
    fn of(x_mm: f64) -> Self {
        if x_mm.is_sign_negative() { Self::Right } else { Self::Left }
    }
}

/// The layers from the bottom up; what a garment of one panel does not have is left out.
fn stack(centring: Centring, panels: &PanelSet) -> Vec<Layer> {
    let order: &[(Panel, Option<Half>)] = match centring {
        Centring::Nested => &[
            (Panel::Front, Some(Half::Left)),
            (Panel::Front, Some(Half::Right)),
            (Panel::Back, Some(Half::Right)),
            (Panel::Back, Some(Half::Left)),
        ],
        Centring::PlainHalf => &[
            (Panel::Back, Some(Half::Left)),
            (Panel::Front, Some(Half::Left)),
            (Panel::Front, Some(Half::Right)),
            (Panel::Back, Some(Half::Right)),
        ],
        Centring::Open => &[(Panel::Back, None), (Panel::Front, None)],
    };
    let present = |&&(panel, _): &&(Panel, Option<Half>)| panels.panel(panel).is_some();
    order.iter().filter(present).map(|&(panel, half)| Layer { panel, half }).collect()
}

impl BurstFold {
    /// Folds the garment whose panels these are.
    #[must_use]
    pub fn new(burst: Burst, panels: PanelSet) -> Self {
        let cutter = |panel| Some(DiscCutter::new(laid_outline(&burst, panels.panel(panel)?), burst.centre_as_laid()));
        let cutters = PanelPair::from_fn(cutter);
        let stack = stack(burst.centring(), &panels);
        Self { burst, panels, cutters, stack }
    }

    /// The burst.
    #[must_use]
    pub fn burst(&self) -> &Burst {
        &self.burst
    }

    /// The garment's panels.
    #[must_use]
    pub fn panels(&self) -> &PanelSet {
        &self.panels
    }

    /// The radius up to which every ring on a panel is as long as it can be, mm; 0 where the centre itself is bare.
    ///
    /// A ring is broken where the laid cloth ends: at the panel's edge, and for a mirrored pair at the fold too. About a centre on the
    /// fold the halves carry on each other's rings, so there the whole panel counts.
    #[must_use]
    pub fn whole_ring_to_mm(&self, panel: Panel) -> f64 {
        let centre = self.burst.centre_as_laid();
        match self.panels.panel(panel) {
            Some(outline) if outline.contains(centre) => {
                let unbroken = if self.burst.is_mirrored_pair() { outline.half() } else { outline.whole() };
                DiscCutter::new(unbroken, centre).nearest_mm()
            }
            _ => 0.0,
        }
    }

    /// Which layer that is, from 0 at the bottom; a panel that the garment lacks counts as the layer on top.
    fn layer(&self, layer: Layer) -> u32 {
        let index = self.stack.iter().position(|&other| other == layer).unwrap_or(self.stack.len() - 1);
        u32::try_from(index).unwrap_or(u32::MAX)
    }

    /// The stretches of the circle of this radius that lie on cloth as the garment is laid (the half at `x >= 0` when folded), on
    /// any of the panels named: angles `start..end` in rad from the x axis towards y, each with `end > start`, in rising order.
    #[must_use]
    pub fn arcs_on_cloth_rad(&self, panels: &[Panel], radius_mm: f64) -> Vec<(f64, f64)> {
        let present = || panels.iter().filter_map(|&panel| Some((self.cutters.of(panel).as_ref()?, self.panels.panel(panel)?)));
        let centre = self.burst.centre_as_laid();
        let on_cloth = |angle: f64| {
            let point = centre + radius_mm * Vec2::from_angle(angle);
            present().any(|(_, panel)| laid_outline(&self.burst, panel).contains(point))
        };
        let mut cuts: Vec<f64> = present().flat_map(|(cutter, _)| cutter.crossings_rad(radius_mm)).collect();
        if cuts.is_empty() {
            return if on_cloth(AWAY_FROM_THE_FOLD_RAD) { vec![(0.0, TAU)] } else { vec![] };
        }
        cuts.sort_by(f64::total_cmp);
        let ends = cuts.iter().skip(1).copied().chain([cuts[0] + TAU]);
        join(cuts.iter().copied().zip(ends).filter(|&(from, to)| to > from && on_cloth(0.5 * (from + to))).collect())
    }

    /// The creases as the garment is laid, from `from_mm` of the centre outward: their pieces that lie on the cloth of any panel.
    /// The first and last crease of a half turn, which are the fold itself, are left out.
    #[must_use]
    pub fn creases_on_cloth(&self, from_mm: f64) -> Vec<Line> {
        let on_the_fold = self.burst.centring().is_folded() && !self.burst.is_mirrored_pair();
        let directions = self.burst.creases_rad().into_iter().map(|angle_rad| Vec2::new(angle_rad.sin(), -angle_rad.cos()));
        let centre = self.burst.centre_as_laid();
        let ray = |direction: Vec2| Line::new(centre + from_mm * direction, centre + (self.length_mm() + 1.0) * direction);
        directions
            .filter(|direction| !(on_the_fold && direction.x.abs() < 1e-9))
            .flat_map(|direction| self.on_cloth(ray(direction)))
            .collect()
    }

    /// The pieces of a straight line that lie on the cloth of any panel, as it is laid.
    fn on_cloth(&self, line: Line) -> Vec<Line> {
        let outlines = || self.panels.iter().map(|(_, panel)| laid_outline(&self.burst, panel));
        let crossings = outlines().flat_map(Outline::segments).flat_map(|segment| segment.intersect_line(line));
        let mut cuts: Vec<f64> = crossings.map(|crossing| crossing.line_t).chain([0.0, 1.0]).collect();
        cuts.sort_by(f64::total_cmp);
        let on_any = |at: f64| outlines().any(|outline| outline.contains(line.eval(at)));
        let mut pieces: Vec<(f64, f64)> = Vec::new();
        for cut in cuts.windows(2).filter(|cut| on_any(0.5 * (cut[0] + cut[1]))) {
            match pieces.last_mut() {
                Some(last) if last.1 >= cut[0] => last.1 = cut[1],
                _ => pieces.push((cut[0], cut[1])),
            }
        }
        pieces.into_iter().map(|(from, to)| line.subsegment(from..to)).collect()
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

/// A direction that meets no corner of an outline, to ask whether a circle that crosses nothing lies in it: any would do.
const AWAY_FROM_THE_FOLD_RAD: f64 = 0.1;

/// The outline that the circles cut: half the panel when folded.
fn laid_outline<'a>(burst: &Burst, panel: &'a PanelOutline) -> &'a Outline {
    if burst.centring().is_folded() { panel.half() } else { panel.whole() }
}

impl Fold for BurstFold {
    fn pleats(&self) -> u32 {
        self.burst.pleats()
    }

    fn layers(&self) -> u32 {
        // At most four.
        u32::try_from(self.stack.len()).unwrap_or(u32::MAX)
    }

    fn to_rod(&self, point: ClothPoint) -> RodPoint {
        let laid = Point::new(self.burst.x_as_laid_mm(point.x_mm), point.y_mm);
        let from_centre = laid - self.burst.centre_as_laid();
        // From straight up (-y) towards +x; in [0, 2 pi).
        let angle = from_centre.x.atan2(-from_centre.y).rem_euclid(TAU);
        let pleat_exact = angle / self.burst.pleat_angle_rad();
        // The last crease belongs to the last pleat.
        let pleat = pleat_exact.floor().min(f64::from(self.pleats() - 1));
        let fraction = (pleat_exact - pleat).clamp(0.0, 1.0);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a whole number below the number of pleats")]
        let pleat = pleat as u32;
        let half = self.burst.centring().is_folded().then(|| Half::of(point.x_mm));
        let layer = self.layer(Layer { panel: point.panel, half });
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
        let layer = if turned { self.layers() - 1 - in_pleat } else { in_pleat };
        let Layer { panel, half } = self.stack[layer as usize % self.stack.len()];
        let angle = (f64::from(pleat) + fraction) * self.burst.pleat_angle_rad();
        let laid = self.burst.centre_as_laid() + point.along_mm * Vec2::new(angle.sin(), -angle.cos());
        let x_mm = match half {
            None => laid.x,
            // A point of the folded garment lies at x >= 0 but for rounding at the fold.
            Some(Half::Left) => laid.x.max(0.0),
            Some(Half::Right) => -laid.x.max(0.0),
        };
        ClothPoint { panel, x_mm, y_mm: laid.y }
    }

    fn has_cloth(&self, point: ClothPoint) -> bool {
        self.panels.panel(point.panel).is_some_and(|panel| panel.contains(point.position()))
    }

    fn pleat_width_mm(&self, along_mm: f64) -> f64 {
        self.burst.pleat_angle_rad() * along_mm
    }

    /// The centre line, unless the burst's centre lies on it, for then it is a crease of the first and the last pleat.
    fn over_fold(&self, point: ClothPoint) -> Option<(ClothPoint, f64)> {
        self.burst.is_mirrored_pair().then(|| (ClothPoint { x_mm: -point.x_mm, ..point }, point.x_mm.abs()))
    }

    fn cut(&self, along_mm: f64) -> PanelPair<RodCut> {
        self.cutters.map(|cutter| {
            let measure = cutter.as_ref().map(|cutter| cutter.measure(along_mm)).unwrap_or_default();
            let halves = self.burst.halves();
            RodCut { cloth_mm: halves * measure.arc_mm, area_mm2: halves * measure.area_mm2 }
        })
    }

    fn length_mm(&self) -> f64 {
        Panel::BOTH
            .into_iter()
            .filter_map(|panel| self.cutters.of(panel).as_ref())
            .map(DiscCutter::farthest_mm)
            .fold(0.0, f64::max)
    }
}
