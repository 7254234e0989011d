//! The fold map of a line: fan folded along it, exact in both directions.
//!
//! A point of the laid cloth goes to its foot on the line. The foot's place along the line gives the pleat and the share of it, counted
//! backwards in odd pleats, whose layers lie backwards too, as in a burst; the signed distance is the place along the bundle, counted from
//! the cloth that lies deepest within the line.

use super::bends::check_bends;
use super::chain::{Chain, Course, End, Foot};
use super::error::LineError;
use super::joins::{self, OverRidge};
use super::marks;
use super::normals::{FAR_MM, Normal, feet_at, normals, peak_mm, reach_at};
use super::parallel::{Cutter, Part, on_cloth};
use super::pleating::Pleating;
use super::recent::Recent;
use super::ridge::Way;
use super::source::chain;
use super::spec::{LineKind, LineSpec};
use super::unflat::{LoneEnds, Unflat, all_lone_ends};
use crate::geometry::pleat_stack::{FanEnd, PleatStack};
use crate::geometry::{
    Bundle, BundlePoint, CellSize, ClothPoint, Crease, Cut, Extent, Fold, Joins, Lay, OpenFaces, Outline, Panel, PanelOutline,
    PanelPair, PanelSet, Pin, Stretch,
};
use kurbo::{Line, Point};
use std::ops::Range;
use std::sync::{Arc, OnceLock};

/// A garment folded along a line.
#[derive(Debug, Clone)]
pub struct LineFold {
    kind: LineKind,
    lay: Lay,
    chain: Chain,
    pleating: Pleating,
    normals: Vec<Normal>,
    lone: LoneEnds,
    cutters: PanelPair<Option<Cutter>>,
    guide_mm: f64,
    further_mm: Vec<f64>,
    /// Signed distance from the line of the cloth deepest within it, mm.
    tip_mm: f64,
    length_mm: f64,
    recent: Recent,
    over_ridge: OverRidge,
    /// Found when it is first asked for.
    ridge: Arc<OnceLock<Vec<Line>>>,
}

/// The range of the partial sums of widths with signs by turns, less the widest.
fn lean_mm(widths_mm: &[f64]) -> f64 {
    let (mut edge_mm, mut range) = (0.0_f64, [0.0_f64; 2]);
    for (pleat, width_mm) in widths_mm.iter().enumerate() {
        edge_mm += if pleat % 2 == 0 { *width_mm } else { -width_mm };
        range = [range[0].min(edge_mm), range[1].max(edge_mm)];
    }
    let widest_mm = widths_mm.iter().copied().fold(0.0, f64::max);
    range[1] - range[0] - widest_mm
}

/// Less cloth of a pleat than this is not found by a hand, mm (own choice).
const FELT_MM: f64 = 1.0;
/// What is no farther beyond the fold than this lies on it, mm: rounding of a few metres.
const ROUNDING_MM: f64 = 1e-6;
impl LineFold {
    /// Folds the garment whose panels these are along a line.
    ///
    /// On a folded garment what lies within half a millimetre of the fold line is put onto it. The pleats of a line that closes are made
    /// even in number.
    ///
    /// # Errors
    /// [`LineError`] when a number is unusable, the line meets itself, leaves the cloth, runs over the fold line or bends too tightly.
    pub fn new(spec: &LineSpec, panels: PanelSet) -> Result<Self, LineError> {
        let lay = Lay::new(spec.centring, panels);
        let chain = chain(spec.kind, &spec.path, &lay)?;
        spec.check_distances(chain.has_inside())?;
        let pleating = Pleating::new(&chain, spec.guide_mm, spec.pleats)?;
        check_bends(&chain, &pleating, &lay)?;
        let normals = normals(&chain, &pleating, &lay);
        let lone = all_lone_ends(&chain, &lay, &normals);
        let cutters = PanelPair::from_fn(|panel| Some(Cutter::new(&chain, lay.outline(panel)?)));
        let reach = [&cutters.front, &cutters.back].into_iter().flatten().map(Cutter::reach_mm);
        let (least_mm, most_mm) = reach.fold((f64::INFINITY, f64::NEG_INFINITY), |all, one| (all.0.min(one.0), all.1.max(one.1)));
        let peak_mm = |way| peak_mm(&chain, &pleating, &lay, &normals, way);
        let tip_mm = if chain.has_inside() { least_mm.min(-peak_mm(Way::In)) } else { 0.0 };
        let length_mm = most_mm.max(peak_mm(Way::Out)) - tip_mm;
        let (kind, guide_mm, further_mm) = (spec.kind, spec.guide_mm, spec.further_mm.clone());
        Ok(Self {
            kind,
            lay,
            chain,
            pleating,
            normals,
            lone,
            cutters,
            guide_mm,
            further_mm,
            tip_mm,
            length_mm,
            recent: Recent::default(),
            over_ridge: OverRidge::default(),
            ridge: Arc::default(),
        })
    }

    /// What the line is to the cloth.
    #[must_use]
    pub fn kind(&self) -> LineKind {
        self.kind
    }

    /// Where along the bundle the line itself lies, mm.
    #[must_use]
    pub fn line_mm(&self) -> f64 {
        0.0 - self.tip_mm
    }

    /// Where along the bundle the guide lies, mm.
    #[must_use]
    pub fn guide_mm(&self) -> f64 {
        self.guide_mm - self.tip_mm
    }

    /// Where along the bundle the first bind sits, mm: on the line itself, or where nothing lies within it, on the guide.
    #[must_use]
    pub fn first_bind_mm(&self) -> f64 {
        if self.chain.has_inside() { self.line_mm() } else { self.guide_mm() }
    }

    /// Where along the bundle further parallels lie, mm.
    #[must_use]
    pub fn further_mm(&self) -> Vec<f64> {
        self.further_mm.iter().map(|further_mm| further_mm - self.tip_mm).collect()
    }

    /// Number of pleats.
    #[must_use]
    pub fn pleats(&self) -> u32 {
        self.pleating.pleats()
    }

    /// Length of the line itself, mm, whether cloth lies under it or not: of a stroke there and back, of a line across as far as any cloth
    /// needs it.
    #[must_use]
    pub fn source_length_mm(&self) -> f64 {
        let all_mm: f64 = self.chain.pieces().iter().map(super::piece::Piece::length_mm).sum();
        all_mm - self.chain.spare_mm().iter().sum::<f64>()
    }

    /// By how much the line turns from its beginning to its end, rad: a full turn for a ring.
    #[must_use]
    pub fn turning_rad(&self) -> f64 {
        self.chain.pieces().iter().map(super::piece::Piece::turn_rad).sum()
    }

    /// How wide each pleat is before it is tied, crease to crease, mm, at a place along the bundle: 0 where it has none.
    #[must_use]
    pub fn pleat_widths_mm(&self, along_mm: f64) -> Vec<f64> {
        (0..self.pleats()).map(|pleat| self.pleat_mm(pleat, 0.0..1.0, along_mm)).collect()
    }

    /// How far the edges of the pleats lie from each other at a place along the bundle, less the widest pleat's own width, mm: the stack
    /// leans by that. Edges add up the widths back and forth from pleat to pleat.
    #[must_use]
    pub fn lean_mm(&self, along_mm: f64) -> f64 {
        lean_mm(&self.pleat_widths_mm(along_mm))
    }

    /// How many pleats have cloth at a place along the bundle; those whose cloth ends before, in a corner of the line or at its ridge, have
    /// not.
    #[must_use]
    pub fn pleats_at(&self, along_mm: f64) -> u32 {
        let distance_mm = along_mm + self.tip_mm;
        let whole = self.recent.whole(&self.chain, distance_mm);
        let panels = [&self.cutters.front, &self.cutters.back].into_iter().flatten();
        let present: Vec<Vec<f64>> =
            panels.map(|cutter| self.present_mm(&on_cloth(&self.chain, &[cutter], &whole, distance_mm), distance_mm)).collect();
        let has_cloth = |pleat: &u32| present.iter().any(|of| of.get(*pleat as usize).is_some_and(|&mm| mm >= FELT_MM));
        u32::try_from((0..self.pleats()).filter(has_cloth).count()).unwrap_or(self.pleats())
    }

    /// What of the cloth can't lie flat.
    #[must_use]
    pub fn unflat(&self) -> Unflat {
        self.unflat_within(f64::INFINITY)
    }

    /// What of the cloth within a distance along the bundle, mm, can't lie flat.
    #[must_use]
    pub fn unflat_within(&self, along_mm: f64) -> Unflat {
        Unflat::of(&self.chain, &self.pleating, &self.lay, &self.normals, &self.lone, along_mm + self.tip_mm)
    }

    /// How far the normal at a share of the line, as it is measured on the guide, is the shortest way to it: outward and inward, mm. Where
    /// the cloth goes on past all of it, 5 m.
    #[must_use]
    pub fn ridge_mm(&self, share: f64) -> [f64; 2] {
        let creases = self.pleating.creases_mm();
        let at_mm = creases[0] + share * (creases[creases.len() - 1] - creases[0]);
        Way::BOTH.map(|way| reach_at(&self.chain, &self.pleating, &self.lay, at_mm, way, FAR_MM).away_mm)
    }

    fn stack(&self) -> PleatStack {
        PleatStack { pleats: self.pleats(), layers: self.lay.layers() }
    }

    /// Where shares of a pleat lie along the line, counted backwards in odd pleats.
    fn at_mm(&self, pleat: u32, across: f64) -> f64 {
        let pleat_mm = self.pleating.pleat_mm(pleat);
        pleat_mm.start + PleatStack::across(pleat, across) * (pleat_mm.end - pleat_mm.start)
    }

    fn pleat_mm(&self, pleat: u32, across: Range<f64>, along_mm: f64) -> f64 {
        let ends = [self.at_mm(pleat, across.start), self.at_mm(pleat, across.end)];
        self.pleating.width_mm(&self.chain, ends[0].min(ends[1])..ends[0].max(ends[1]), along_mm + self.tip_mm)
    }

    /// A point of the laid garment's plane, put on this side of the fold line.
    fn mirrored(&self, laid: Point) -> Point {
        self.lay.plane_as_laid(laid)
    }

    #[cfg(test)]
    pub(super) fn chain(&self) -> &Chain {
        &self.chain
    }

    fn cutters_of<'a>(&'a self, panels: &'a [Panel]) -> Vec<&'a Cutter> {
        panels.iter().filter_map(|&panel| self.cutters.of(panel).as_ref()).collect()
    }
}

impl Bundle for LineFold {
    fn to_bundle(&self, point: ClothPoint) -> Option<BundlePoint> {
        let foot = self.chain.foot(self.lay.as_laid(point));
        let (pleat, share) = self.pleating.pleat_at(self.pleating.at_mm(foot.piece, foot.share));
        Some(BundlePoint {
            along_mm: foot.distance_mm - self.tip_mm,
            across: PleatStack::across(pleat, share),
            place: f64::from(self.stack().place(pleat, self.lay.layer_of(point))),
        })
    }

    /// A pleat's place ends on the ridge, at the fold line of a folded garment, and where its bend or corner comes to a point.
    fn to_cloth(&self, point: BundlePoint) -> Option<ClothPoint> {
        let (pleat, layer) = self.stack().pleat_and_layer(point.layer());
        let distance_mm = point.along_mm + self.tip_mm;
        let at_mm = self.at_mm(pleat, point.across);
        let feet = feet_at(&self.chain, &self.pleating, at_mm).map(|(piece, share)| Foot { piece, share, distance_mm });
        let foot = feet.into_iter().find(|foot| self.chain.is_there(foot.piece, distance_mm))?;
        let laid = self.chain.point(foot);
        let is_beyond_the_fold = self.lay.is_folded() && laid.x < -ROUNDING_MM;
        (!is_beyond_the_fold && self.chain.is_nearest(foot, laid)).then(|| self.lay.cloth_at(layer, laid))
    }

    fn has_cloth(&self, point: ClothPoint) -> bool {
        self.lay.has_cloth(point)
    }

    fn outline(&self, panel: Panel) -> Option<&Outline> {
        self.lay.panels().panel(panel).map(PanelOutline::whole)
    }

    fn extent(&self) -> Extent {
        Extent { length_mm: self.length_mm, pleats: self.pleats(), layers: self.lay.layers(), is_closed: false }
    }

    fn cell(&self, along_mm: Range<f64>, place: u32, across: Range<f64>) -> CellSize {
        let (pleat, _) = self.stack().pleat_and_layer(place);
        let width_mm = self.pleat_mm(pleat, across, 0.5 * (along_mm.start + along_mm.end));
        CellSize { length_mm: along_mm.end - along_mm.start, width_mm }
    }

    fn cell_widths_mm(&self, along_mm: Range<f64>, place: u32, widths_mm: &mut [f64]) {
        let (pleat, _) = self.stack().pleat_and_layer(place);
        let distance_mm = 0.5 * (along_mm.start + along_mm.end) + self.tip_mm;
        self.pleating.widths_mm(&self.chain, self.pleating.pleat_mm(pleat), distance_mm, widths_mm);
        if PleatStack::across(pleat, 0.0) > 0.5 {
            widths_mm.reverse();
        }
    }

    fn is_even(&self) -> bool {
        false
    }

    fn mates(&self, place: u32) -> [Option<u32>; 2] {
        let beyond = match self.chain.course() {
            Course::Closed => [FanEnd::Closes; 2],
            Course::Open(ends) => ends.map(|end| match end {
                End::OnFold => FanEnd::OnFold,
                End::Beyond => FanEnd::Bare,
            }),
        };
        self.stack().mates(place, &self.lay, beyond)
    }

    fn cut(&self, along_mm: f64) -> PanelPair<Cut> {
        let (halves, distance_mm) = (self.lay.centring().halves(), along_mm + self.tip_mm);
        let whole = self.recent.whole(&self.chain, distance_mm);
        self.cutters.map(|cutter| {
            let cut = cutter.as_ref().map(|cutter| cutter.measure(&self.chain, &whole, distance_mm)).unwrap_or_default();
            Cut { cloth_mm: halves * cut.cloth_mm, area_mm2: halves * cut.area_mm2 }
        })
    }

    /// The mean over the cloth there: of each layer of each pleat the length that is present, weighed by itself.
    fn width_mm(&self, along_mm: f64) -> f64 {
        let distance_mm = along_mm + self.tip_mm;
        let whole = self.recent.whole(&self.chain, distance_mm);
        let (mut squares, mut sum) = (0.0, 0.0);
        for cutter in [&self.cutters.front, &self.cutters.back].into_iter().flatten() {
            for present_mm in self.present_mm(&on_cloth(&self.chain, &[cutter], &whole, distance_mm), distance_mm) {
                squares += present_mm * present_mm;
                sum += present_mm;
            }
        }
        if sum > 0.0 { squares / sum } else { self.pleat_widths_mm(along_mm).iter().sum::<f64>() / f64::from(self.pleats()) }
    }

    fn joins(&self, point: ClothPoint, within_mm: f64) -> Joins {
        joins::joins(&self.chain, &self.over_ridge, &self.lay, point, within_mm)
    }

    fn has_joins(&self) -> bool {
        self.chain.pieces().len() > 1 || (self.lay.is_folded() && self.chain.course() == Course::Closed)
    }

    /// Both ends of a line from edge to edge are edges of the cloth.
    fn open(&self) -> OpenFaces {
        OpenFaces { ends: [self.kind == LineKind::Across, true], ..OpenFaces::ROD }
    }
}

impl LineFold {
    /// The parallel at a signed distance where it lies on any of the panels named.
    fn stretches(&self, panels: &[Panel], distance_mm: f64) -> Vec<Stretch> {
        let whole = self.recent.whole(&self.chain, distance_mm);
        let parts = on_cloth(&self.chain, &self.cutters_of(panels), &whole, distance_mm);
        parts.iter().map(|part| self.chain.pieces()[part.piece].stretch(distance_mm, part.from..part.to)).collect()
    }

    /// How much of each pleat some parts of a parallel make up, mm.
    fn present_mm(&self, parts: &[Part], distance_mm: f64) -> Vec<f64> {
        let creases = self.pleating.creases_mm();
        let mut present_mm = vec![0.0; creases.len() - 1];
        for part in parts {
            let [from, to] = [part.from, part.to].map(|share| self.pleating.at_mm(part.piece, share));
            let length_mm = (part.to - part.from) * self.chain.pieces()[part.piece].width_mm(distance_mm);
            let first = creases.partition_point(|&crease| crease <= from).saturating_sub(1);
            for pleat in first..present_mm.len() {
                let held = creases[pleat + 1].min(to) - creases[pleat].max(from);
                if held <= 0.0 {
                    break;
                }
                present_mm[pleat] += length_mm * held / (to - from);
            }
        }
        present_mm
    }
}

impl Fold for LineFold {
    fn lay(&self) -> &Lay {
        &self.lay
    }

    fn parallel(&self, panels: &[Panel], along_mm: f64) -> Vec<Stretch> {
        let distance_mm = along_mm + self.tip_mm;
        if !self.chain.has_inside() && distance_mm <= 0.0 {
            return Vec::new();
        }
        self.stretches(panels, distance_mm)
    }

    fn along_as_laid_mm(&self, laid: Point) -> f64 {
        self.chain.nearest(self.mirrored(laid)).1 - self.tip_mm
    }

    fn creases(&self, from_mm: f64) -> Vec<Crease> {
        marks::creases(&self.chain, &self.lay, &self.normals, &self.lone, from_mm + self.tip_mm)
    }

    /// Corners, and bends that a string can swing.
    fn pins(&self) -> Vec<Pin> {
        marks::pins(&self.chain, self.tip_mm)
    }

    /// A stroke is walked there and back; it is drawn once.
    fn source(&self) -> Vec<Stretch> {
        if self.kind == LineKind::Point {
            return Vec::new();
        }
        let mut drawn: Vec<Stretch> = Vec::new();
        for stretch in self.stretches(&Panel::BOTH, 0.0) {
            let [from, to] = [0.0, 1.0].map(|share| stretch.point(share));
            let is_back = |there: &Stretch| there.point(0.5).distance(stretch.point(0.5)) < ROUNDING_MM;
            if from.distance(to) > ROUNDING_MM && (self.chain.has_inside() || !drawn.iter().any(is_back)) {
                drawn.push(stretch);
            }
        }
        drawn
    }

    fn ridge(&self) -> Vec<Line> {
        self.ridge.get_or_init(|| marks::ridge(&self.chain, &self.pleating, &self.lay, &self.normals)).clone()
    }
}

#[cfg(test)]
mod tests {
    use super::lean_mm;

    /// By hand: equal pleats lie edge on edge; 3, 1, 3, 1 climb by 2 a pair: edges at 0, 3, 2, 5, 4.
    #[test]
    fn a_stack_of_unequal_pleats_leans() {
        assert_eq!(lean_mm(&[2.0; 7]), 0.0);
        assert_eq!(lean_mm(&[3.0, 1.0, 3.0, 1.0]), 2.0);
        assert_eq!(lean_mm(&[]), 0.0);
    }
}
