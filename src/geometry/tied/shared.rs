//! How much of a tie's cloth earlier ties took.

use super::Taken;
use super::taken::owner;
use crate::geometry::{ClothPoint, Cut, Fold, Panel, PanelOutline, PanelPair, Stretch};
use kurbo::Point;
use std::ops::Range;

/// What earlier ties took of a fold's cloth, up to every distance along it.
#[derive(Debug, Clone)]
pub(super) struct Shared {
    /// Distance between two entries, mm.
    step_mm: f64,
    /// What a cut at each multiple of the step meets of it, and how much lies within.
    cuts: Vec<PanelPair<Cut>>,
}

/// Longest step along the bundle, mm. Between two steps lengths are taken for a parabola: a circle of 200 mm in another is found to 1e-5 of
/// its area (tested).
const STEP_MM: f64 = 2.0;
/// From point to point along a parallel, mm: narrower cloth between two ties is missed.
const ALONG_MM: f64 = 6.0;
/// Halvings by which the place is found where the cloth of another begins: to a ten-thousandth of a millimetre.
const HALVINGS: usize = 16;
/// Edge of the lattice on which ties are looked for that may have cloth in common, mm.
const LATTICE_MM: f64 = 20.0;

/// Those of the earlier ties that may have taken cloth of a fold within a distance along it.
///
/// A place along a bundle is a distance on the cloth, so that it changes by no more than a point is moved: if cloth is common, the corner of
/// the lattice beside it is hardly beyond either.
pub(super) fn meeting(fold: &dyn Fold, until_mm: f64, earlier: &[Taken]) -> Vec<Taken> {
    let near_mm = LATTICE_MM * std::f64::consts::FRAC_1_SQRT_2;
    let corners: Vec<ClothPoint> = lattice(fold);
    let own = |at: &&ClothPoint| fold.along_as_laid_mm(fold.lay().as_laid(**at)) <= until_mm + near_mm;
    let near: Vec<&ClothPoint> = corners.iter().filter(own).collect();
    earlier.iter().filter(|tie| near.iter().any(|&&at| tie.beyond_mm(at) <= near_mm)).cloned().collect()
}

/// The corners of a lattice over the garment, and one row all round it.
fn lattice(fold: &dyn Fold) -> Vec<ClothPoint> {
    let panels = fold.lay().panels();
    let corners = |(panel, outline): (Panel, &PanelOutline)| {
        let bounds = outline.whole().bounds();
        let steps = |from_mm: f64, to_mm: f64| {
            #[expect(clippy::cast_possible_truncation, reason = "a garment is a few metres wide; casts saturate")]
            let ends = [(from_mm / LATTICE_MM).floor() as i32 - 1, (to_mm / LATTICE_MM).ceil() as i32 + 1];
            (ends[0]..=ends[1]).map(|step| f64::from(step) * LATTICE_MM)
        };
        let rows = steps(bounds.y0, bounds.y1);
        rows.flat_map(move |y_mm| steps(bounds.x0, bounds.x1).map(move |x_mm| ClothPoint { panel, x_mm, y_mm }))
    };
    panels.iter().flat_map(corners).collect()
}

impl Shared {
    /// Measures it up to a distance along the fold, mm.
    pub(super) fn of(fold: &dyn Fold, until_mm: f64, earlier: &[Taken]) -> Self {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a rod is a few metres long; casts saturate")]
        let steps = (until_mm / STEP_MM).ceil().max(1.0) as usize;
        let step_mm = until_mm / steps as f64;
        let length = |half_steps: usize| taken_mm(fold, 0.5 * step_mm * half_steps as f64, earlier);
        let mut cuts = vec![PanelPair::from_fn(|panel| Cut { cloth_mm: *length(0).of(panel), area_mm2: 0.0 })];
        for step in 0..steps {
            let (middle, end, last) = (length(2 * step + 1), length(2 * step + 2), cuts[step]);
            // Simpson's rule.
            cuts.push(PanelPair::from_fn(|panel| {
                let lengths_mm = [last.of(panel).cloth_mm, *middle.of(panel), *end.of(panel)];
                let added_mm2 = step_mm / 6.0 * (lengths_mm[0] + 4.0 * lengths_mm[1] + lengths_mm[2]);
                Cut { cloth_mm: lengths_mm[2], area_mm2: last.of(panel).area_mm2 + added_mm2 }
            }));
        }
        Self { step_mm, cuts }
    }

    /// Whether it is nothing at all.
    pub(super) fn is_nothing(&self) -> bool {
        self.cuts.iter().all(|cut| cut.front.cloth_mm == 0.0 && cut.back.cloth_mm == 0.0)
    }

    /// What a cut there meets of it, and how much lies within.
    pub(super) fn cut(&self, along_mm: f64) -> PanelPair<Cut> {
        let at = (along_mm / self.step_mm).clamp(0.0, (self.cuts.len() - 1) as f64);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "held within the table")]
        let before = (at as usize).min(self.cuts.len() - 2);
        let (share, step_mm) = (at - before as f64, self.step_mm);
        PanelPair::from_fn(|panel| {
            let [from, to] = [before, before + 1].map(|entry| *self.cuts[entry].of(panel));
            between(from, to, step_mm, share)
        })
    }
}

/// The cubic through two areas with the lengths there as its slopes, and its own slope.
fn between(from: Cut, to: Cut, step_mm: f64, share: f64) -> Cut {
    let rise_mm = (to.area_mm2 - from.area_mm2) / step_mm;
    let (bend, twist) = (3.0 * rise_mm - 2.0 * from.cloth_mm - to.cloth_mm, from.cloth_mm + to.cloth_mm - 2.0 * rise_mm);
    Cut {
        cloth_mm: from.cloth_mm + share * (2.0 * bend + 3.0 * share * twist),
        area_mm2: from.area_mm2 + step_mm * share * (from.cloth_mm + share * (bend + share * twist)),
    }
}

/// Length of a cut's cloth that others took, mm.
fn taken_mm(fold: &dyn Fold, along_mm: f64, earlier: &[Taken]) -> PanelPair<f64> {
    PanelPair::from_fn(|panel| {
        let stretches = fold.parallel(&[panel], along_mm);
        let layers = layers_of(fold, panel);
        let of_layer = |stretch: &Stretch, layer: u32| -> f64 {
            let is_taken = |laid: Point| owner(earlier, fold.lay().cloth_at(layer, laid)).is_some();
            stretch.length_mm() * runs(stretch, is_taken).iter().map(|run| run.end - run.start).sum::<f64>()
        };
        stretches.iter().flat_map(|stretch| layers.iter().map(move |&layer| of_layer(stretch, layer))).sum()
    })
}

/// The layers of the laid garment that are of a panel.
fn layers_of(fold: &dyn Fold, panel: Panel) -> Vec<u32> {
    (0..fold.lay().layers()).filter(|&layer| fold.lay().cloth_at(layer, Point::ORIGIN).panel == panel).collect()
}

/// The shares of a stretch, from 0 to 1, over which something is so.
pub(super) fn runs(stretch: &Stretch, is_so: impl Fn(Point) -> bool) -> Vec<Range<f64>> {
    let steps = (stretch.length_mm() / ALONG_MM).ceil().max(2.0);
    let (mut runs, mut began, mut last) = (Vec::new(), None, 0.0);
    let mut step = 0.0;
    while step <= steps {
        let share = step / steps;
        match (is_so(stretch.point(share)), began) {
            (true, None) => began = Some(if step == 0.0 { 0.0 } else { edge(last, share, |at| is_so(stretch.point(at))) }),
            (false, Some(from)) => {
                runs.push(from..edge(last, share, |at| !is_so(stretch.point(at))));
                began = None;
            }
            _ => {}
        }
        last = share;
        step += 1.0;
    }
    runs.extend(began.map(|from| from..1.0));
    runs
}

/// Where between two places something becomes so.
pub(super) fn edge(mut not_yet: f64, mut so: f64, is_so: impl Fn(f64) -> bool) -> f64 {
    for _ in 0..HALVINGS {
        let middle = 0.5 * (not_yet + so);
        if is_so(middle) { so = middle } else { not_yet = middle }
    }
    0.5 * (not_yet + so)
}
