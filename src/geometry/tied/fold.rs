//! A fold of which a tie takes a part.

use super::Taken;
use super::shared::{Shared, edge, meeting, runs};
use super::taken::owner;
use crate::geometry::{
    Arc as CircleArc, Beyond, Bundle, BundlePoint, CellSize, ClothPoint, Crease, Cut, Extent, Fold, Folded, Joins, Lay,
    OpenFaces, Outline, Panel, PanelPair, Pin, Ring, Stretch,
};
use kurbo::{Line, ParamCurve as _, Point, Vec2};
use std::ops::Range;
use std::sync::Arc;

/// A garment folded up of which a tie takes only the cloth within its last bind that no earlier tie took.
///
/// Its bundle ends at that bind and is closed there: the loose cloth goes on beyond.
#[derive(Debug, Clone)]
pub struct TiedFold {
    taken: Taken,
    earlier: Vec<Taken>,
    shared: Option<Shared>,
}

impl TiedFold {
    /// A fold's cloth up to a distance along its bundle, mm, less what earlier ties took.
    #[must_use]
    pub fn new(folded: Arc<Folded>, until_mm: f64, earlier: &[Taken]) -> Self {
        let taken = Taken::new(folded, until_mm);
        let meeting = meeting(taken.fold(), until_mm, earlier);
        let shared = (!meeting.is_empty()).then(|| Shared::of(taken.fold(), until_mm, &meeting));
        match shared.filter(|shared| !shared.is_nothing()) {
            Some(shared) => Self { taken, earlier: meeting, shared: Some(shared) },
            None => Self { taken, earlier: Vec::new(), shared: None },
        }
    }

    /// The cloth within its last bind, whoever took it.
    #[must_use]
    pub fn taken(&self) -> &Taken {
        &self.taken
    }

    /// Whether earlier ties took some of that, so that it meets their cloth.
    #[must_use]
    pub fn meets_earlier(&self) -> bool {
        !self.earlier.is_empty()
    }

    /// How much of that earlier ties took, mm2.
    #[must_use]
    pub fn shared_mm2(&self) -> PanelPair<f64> {
        let all = self.shared.as_ref().map(|shared| shared.cut(self.taken.until_mm));
        all.unwrap_or_default().map(|cut| cut.area_mm2)
    }

    fn fold(&self) -> &dyn Fold {
        self.taken.fold()
    }

    /// Whether an earlier tie took a point.
    fn is_gone(&self, point: ClothPoint) -> bool {
        owner(&self.earlier, point).is_some()
    }

    /// Whether the laid garment has nothing left for this tie there, in any layer.
    fn is_gone_as_laid(&self, laid: Point) -> bool {
        !self.earlier.is_empty() && (0..self.fold().layers()).all(|layer| self.is_gone(self.fold().lay().cloth_at(layer, laid)))
    }

    /// A line that leads outward, as far as this tie's cloth goes.
    fn within(&self, line: Line) -> Option<Line> {
        let is_beyond = |at: f64| self.fold().along_as_laid_mm(line.eval(at)) > self.taken.until_mm;
        match [is_beyond(0.0), is_beyond(1.0)] {
            [true, true] => None,
            [false, false] => Some(line),
            [true, false] => Some(line.subsegment(edge(0.0, 1.0, |at| !is_beyond(at))..1.0)),
            [false, true] => Some(line.subsegment(0.0..edge(0.0, 1.0, is_beyond))),
        }
    }

    /// The pieces of a line that earlier ties left.
    fn left_of(&self, line: Line) -> Vec<Line> {
        if self.earlier.is_empty() {
            return vec![line];
        }
        let left = runs(&Stretch::Straight(line), |at| !self.is_gone_as_laid(at));
        left.into_iter().map(|run| line.subsegment(run)).collect()
    }
}

/// A part of a stretch, by shares of it.
fn part(stretch: &Stretch, run: Range<f64>) -> Stretch {
    match stretch {
        Stretch::Straight(line) => Stretch::Straight(line.subsegment(run)),
        Stretch::Arc(arc) => {
            let at_rad = |share: f64| arc.from_rad + share * (arc.to_rad - arc.from_rad);
            Stretch::Arc(CircleArc { from_rad: at_rad(run.start), to_rad: at_rad(run.end), ..*arc })
        }
    }
}

impl Bundle for TiedFold {
    fn to_bundle(&self, point: ClothPoint) -> Option<BundlePoint> {
        let there = self.fold().to_bundle(point).filter(|there| there.along_mm <= self.taken.until_mm)?;
        (!self.is_gone(point)).then_some(there)
    }

    fn to_cloth(&self, point: BundlePoint) -> Option<ClothPoint> {
        let is_within = point.along_mm <= self.taken.until_mm;
        let cloth = is_within.then(|| self.fold().to_cloth(point)).flatten()?;
        (!self.is_gone(cloth)).then_some(cloth)
    }

    fn extent(&self) -> Extent {
        let all = self.fold().extent();
        Extent { length_mm: all.length_mm.min(self.taken.until_mm), is_closed: true, ..all }
    }

    fn cell(&self, along_mm: Range<f64>, place: u32, across: Range<f64>) -> CellSize {
        self.fold().cell(along_mm, place, across)
    }

    fn cell_widths_mm(&self, along_mm: Range<f64>, place: u32, widths_mm: &mut [f64]) {
        self.fold().cell_widths_mm(along_mm, place, widths_mm);
    }

    /// Where others took cloth, a cell may be empty between corners that are not.
    fn is_even(&self) -> bool {
        self.fold().is_even() && self.earlier.is_empty()
    }

    fn mates(&self, place: u32) -> [Option<u32>; 2] {
        self.fold().mates(place)
    }

    fn cut(&self, along_mm: f64) -> PanelPair<Cut> {
        let along_mm = along_mm.min(self.taken.until_mm);
        let all = self.fold().cut(along_mm);
        let Some(shared) = &self.shared else { return all };
        let gone = shared.cut(along_mm);
        PanelPair::from_fn(|panel| {
            let (all, gone) = (all.of(panel), gone.of(panel));
            Cut { cloth_mm: (all.cloth_mm - gone.cloth_mm).max(0.0), area_mm2: (all.area_mm2 - gone.area_mm2).max(0.0) }
        })
    }

    fn width_mm(&self, along_mm: f64) -> f64 {
        self.fold().width_mm(along_mm)
    }

    fn has_cloth(&self, point: ClothPoint) -> bool {
        self.fold().has_cloth(point) && !self.is_gone(point)
    }

    fn outline(&self, panel: Panel) -> Option<&Outline> {
        if self.earlier.is_empty() { self.fold().outline(panel) } else { None }
    }

    fn joins(&self, point: ClothPoint, within_mm: f64) -> Joins {
        let is_own = |beyond: &Beyond| self.to_bundle(beyond.point).is_some();
        self.fold().joins(point, within_mm).map(|beyond| beyond.filter(is_own))
    }

    fn has_joins(&self) -> bool {
        self.fold().has_joins()
    }

    fn creased(&self, point: ClothPoint, within_mm: f64) -> Option<[f64; 2]> {
        self.fold().creased(point, within_mm)
    }

    fn wrapped(&self, place: u32, outward: Vec2) -> u32 {
        self.fold().wrapped(place, outward)
    }

    fn footprint(&self, along_mm: Range<f64>, across: Range<f64>) -> f64 {
        self.fold().footprint(along_mm, across)
    }

    fn open(&self) -> OpenFaces {
        self.fold().open()
    }

    fn yields(&self) -> f64 {
        self.fold().yields()
    }

    fn ring(&self) -> Option<Ring> {
        self.fold().ring()
    }
}

impl Fold for TiedFold {
    fn lay(&self) -> &Lay {
        self.fold().lay()
    }

    fn parallel(&self, panels: &[Panel], along_mm: f64) -> Vec<Stretch> {
        let all = self.fold().parallel(panels, along_mm);
        if self.earlier.is_empty() {
            return all;
        }
        let left = |stretch: &Stretch| -> Vec<Stretch> {
            runs(stretch, |at| !self.is_gone_as_laid(at)).into_iter().map(|run| part(stretch, run)).collect()
        };
        all.iter().flat_map(left).collect()
    }

    fn along_as_laid_mm(&self, laid: Point) -> f64 {
        self.fold().along_as_laid_mm(laid)
    }

    fn creases(&self, from_mm: f64) -> Vec<Crease> {
        let own = self.fold().creases(from_mm).into_iter().filter_map(|crease| Some((self.within(crease.line)?, crease)));
        own.flat_map(|(line, crease)| self.left_of(line).into_iter().map(move |line| Crease { line, ..crease })).collect()
    }

    fn pins(&self) -> Vec<Pin> {
        self.fold().pins()
    }

    fn source(&self) -> Vec<Stretch> {
        self.fold().source()
    }

    fn ridge(&self) -> Vec<Line> {
        self.fold().ridge().into_iter().filter_map(|line| self.within(line)).collect()
    }
}
