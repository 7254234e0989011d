//! From a pattern to series of creases: where each runs, and the creases that bound the bundle.

use super::error::FlatError;
use super::fold_line::FoldLine;
use super::pack::Pack;
use super::series::Series;
use super::spec::{
    FlatFoldSpec, FlatPattern, HalfFold, MOST_HALF_FOLDS, MOST_PLACES, MOST_WEDGES, NARROWEST_MM, Triangle, WedgesFirst,
};
use crate::geometry::burst::centre_at;
use crate::geometry::{Centre, LARGEST_RADIUS_MM, Lay, ON_THE_FOLD_MM, Panel};
use crate::telling::Field;
use kurbo::{Affine, ParamCurveNearest as _, Point, Rect, Shape as _, Vec2};
use std::f64::consts::{PI, TAU};

/// How a garment is folded flat.
#[derive(Debug)]
pub(super) struct Folding {
    /// One after the other.
    pub(super) series: Vec<Series>,
    /// The creases that bound the first pieces of all, cloth on their near sides.
    pub(super) cell: Vec<FoldLine>,
    /// The way that the pattern itself runs.
    pub(super) along: Vec2,
}

/// The direction at an angle clockwise from straight up, and the one to its right.
pub(super) fn directions(angle_rad: f64) -> [Vec2; 2] {
    let (sin, cos) = angle_rad.sin_cos();
    [Vec2::new(sin, -cos), Vec2::new(cos, sin)]
}

/// The box round the laid garment as an isometry carries it.
pub(super) fn cloth_box(lay: &Lay, isometry: Affine) -> Rect {
    let segments = lay.outlines(&Panel::BOTH).flat_map(|outline| outline.segments());
    segments.map(|segment| (isometry * segment).bounding_box()).reduce(|a, b| a.union(b)).unwrap_or_default()
}

/// How far a share of a piece may be off by rounding.
const ROUNDING: f64 = 1e-9;
/// How far from the cloth a centre may lie, mm: on its very edge or corner it may be meant to.
const AT_EDGE_MM: f64 = 1.0;

/// What a pattern is laid on.
pub(super) struct Ground<'a> {
    pub(super) lay: &'a Lay,
    /// Thickness of a layer that lies free, mm.
    pub(super) layer_mm: f64,
}

/// Parallel creases on the cloth, and the strip that they fold it to: `u` across it from the first crease's stripe, `v` along it.
struct Strip {
    along: Vec2,
    right: Vec2,
    from_u: f64,
    width_mm: f64,
    cloth_v: [f64; 2],
    series: Series,
    /// Where a given point comes to lie on the strip, if there is one.
    start: Option<(f64, f64)>,
}

impl Strip {
    fn at(&self, u: f64, v: f64) -> Point {
        ((self.from_u + u) * self.right + v * self.along).to_point()
    }

    /// The crease from the strip's left edge to its right one, its far side along the strip.
    fn crease(&self, left_v: f64, right_v: f64) -> FoldLine {
        let (from, to) = (self.at(0.0, left_v), self.at(self.width_mm, right_v));
        // The strip's right lies to the right of its way: turned back by a right angle that is the way itself.
        let run = to - from;
        FoldLine::new(from, Vec2::new(run.y, -run.x))
    }

    fn edges(&self) -> [FoldLine; 2] {
        [FoldLine::new(self.at(0.0, 0.0), -self.right), FoldLine::new(self.at(self.width_mm, 0.0), self.right)]
    }

    /// Where the rows of a pattern begin along the strip, so that none of the cloth lies before.
    fn first_row(&self, row_mm: f64, given: Option<f64>) -> f64 {
        let least = self.cloth_v[0];
        given.map_or(least, |at| at - row_mm * ((at - least) / row_mm - ROUNDING).ceil())
    }

    /// Whether right triangles' first slant, rows beginning at `from`, meets the strip's left edge at the row's foot: in a given corner, as in
    /// the cloth's own, no slants meet, and they turn about from row to row.
    fn meets_slant_first(&self, from: f64, row_mm: f64) -> bool {
        let Some((u, v)) = self.start else { return false };
        let rows_before = ((v - from) / row_mm).round().rem_euclid(2.0) > 0.5;
        rows_before != (u > 0.0)
    }

    /// Rows of a pattern from one on that cover the cloth.
    fn rows(&self, from: f64, row_mm: f64) -> impl Iterator<Item = f64> {
        let most = self.cloth_v[1];
        (0..=MOST_PLACES).map(move |row| from + f64::from(row) * row_mm).take_while(move |v| *v < most - ROUNDING * row_mm)
    }
}

impl Ground<'_> {
    /// The creases of a spec.
    pub(super) fn folding(&self, spec: &FlatFoldSpec) -> Result<Folding, FlatError> {
        let mut folding = match &spec.pattern {
            FlatPattern::Halves { half_folds } => self.halves(half_folds),
            &FlatPattern::Stripes { width_mm, angle_deg, start } => {
                let strip = self.strip(width_mm, angle_deg, start, spec.pack)?;
                Ok(Folding { along: strip.along, cell: strip.edges().to_vec(), series: vec![strip.series] })
            }
            &FlatPattern::Squares { width_mm, height_mm, angle_deg, start } => {
                let strip = self.strip(width_mm, angle_deg, start, Pack::Zigzag)?;
                self.rectangles(strip, height_mm, spec.pack)
            }
            &FlatPattern::Triangles { triangle, width_mm, angle_deg, start } => {
                let strip = self.strip(width_mm, angle_deg, start, Pack::Zigzag)?;
                self.triangles(strip, triangle, spec.pack)
            }
            &FlatPattern::Wedges { wedges, centre, first } => self.wedges(wedges, centre, first, spec.pack),
        }?;
        let turn = angle_rad("along_turn_deg", spec.along_turn_deg)?;
        folding.along = Affine::rotate(turn) * folding.along.to_point() - Point::ORIGIN;
        let places = folding.series.iter().map(|series| u64::from(series.pieces())).product::<u64>();
        let layers = places.saturating_mul(u64::from(self.lay.layers()));
        if layers > u64::from(MOST_PLACES) {
            return Err(FlatError::TooManyLayers { layers, most: MOST_PLACES });
        }
        Ok(folding)
    }

    fn point(&self, key: &'static str, centre: Centre) -> Result<Point, FlatError> {
        let at = centre_at(centre, self.lay.panels());
        for value_mm in [at.x, at.y] {
            length(key, value_mm, -LARGEST_RADIUS_MM)?;
        }
        Ok(self.lay.plane_as_laid(at))
    }

    fn halves(&self, half_folds: &[HalfFold]) -> Result<Folding, FlatError> {
        let [Some(first), most] = [half_folds.first(), half_folds.get(MOST_HALF_FOLDS)] else {
            return Err(FlatError::HalfFolds { folds: 0, most: MOST_HALF_FOLDS });
        };
        if most.is_some() {
            return Err(FlatError::HalfFolds { folds: half_folds.len(), most: MOST_HALF_FOLDS });
        }
        let [along, _] = directions(angle_rad("half_folds.angle_deg", first.angle_deg)?);
        let crease = |fold: &HalfFold| {
            let through = self.point("half_folds.through", fold.through)?;
            let [_, right] = directions(angle_rad("half_folds.angle_deg", fold.angle_deg)?);
            Ok(FoldLine::new(through, right))
        };
        let cell = half_folds.iter().map(crease).collect::<Result<Vec<_>, FlatError>>()?;
        let series = cell.iter().map(|&crease| Series::new(vec![crease], Pack::Zigzag)).collect();
        Ok(Folding { series, cell, along })
    }

    fn strip(&self, width_mm: f64, angle_deg: f64, start: Option<Centre>, pack: Pack) -> Result<Strip, FlatError> {
        length("width_mm", width_mm, NARROWEST_MM)?;
        let [along, right] = directions(angle_rad("angle_deg", angle_deg)?);
        let start = start.map(|at| self.point("start", at)).transpose()?.map(Point::to_vec2);
        let cloth = cloth_box(self.lay, Affine::new([right.x, along.x, right.y, along.y, 0.0, 0.0]));
        let from_u =
            start.map(|at| at.dot(right)).map_or(cloth.x0, |u| u - width_mm * ((u - cloth.x0) / width_mm - ROUNDING).ceil());
        let pieces = ((cloth.x1 - from_u) / width_mm - ROUNDING).ceil().max(1.0);
        self.check_pieces("width_mm", width_mm, pieces, 1)?;
        let crease = |k: u32| FoldLine::new(((from_u + f64::from(k) * width_mm) * right).to_point(), right);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a whole number below the most places")]
        let series = Series::new((1..pieces as u32).map(crease).collect(), pack);
        let start = start.map(|at| {
            let (stripes, v) = ((at.dot(right) - from_u) / width_mm, at.dot(along));
            (if stripes.round().rem_euclid(2.0) < 0.5 { 0.0 } else { width_mm }, v)
        });
        Ok(Strip { along, right, from_u, width_mm, cloth_v: [cloth.y0, cloth.y1], series, start })
    }

    /// Refuses pieces narrower than what is folded into them is thick, and more than can be held.
    fn check_pieces(&self, key: &'static str, width_mm: f64, pieces: f64, before: u32) -> Result<(), FlatError> {
        let layers = f64::from(before * self.lay.layers());
        let thick_mm = layers * self.layer_mm;
        if pieces > 1.0 && width_mm < thick_mm {
            return Err(FlatError::TooNarrow { field: Field::from(key), width_mm, thick_mm });
        }
        if pieces * layers > f64::from(MOST_PLACES) {
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "casts saturate")]
            return Err(FlatError::TooManyLayers { layers: (pieces * layers) as u64, most: MOST_PLACES });
        }
        Ok(())
    }

    fn rectangles(&self, strip: Strip, height_mm: f64, pack: Pack) -> Result<Folding, FlatError> {
        length("height_mm", height_mm, NARROWEST_MM)?;
        let from = strip.first_row(height_mm, strip.start.map(|(_, v)| v));
        self.check_pieces("height_mm", height_mm, ((strip.cloth_v[1] - from) / height_mm).ceil(), strip.series.pieces())?;
        let creases = strip.rows(from, height_mm).skip(1).map(|v| strip.crease(v, v)).collect();
        let ends = [strip.crease(from, from).reversed(), strip.crease(from + height_mm, from + height_mm)];
        let cell = strip.edges().into_iter().chain(ends).collect();
        Ok(Folding { along: strip.along, cell, series: vec![strip.series, Series::new(creases, pack)] })
    }

    fn triangles(&self, strip: Strip, triangle: Triangle, pack: Pack) -> Result<Folding, FlatError> {
        let width_mm = strip.width_mm;
        let row_mm = match triangle {
            Triangle::Equilateral => 2.0 * width_mm / 3.0_f64.sqrt(),
            Triangle::Right => width_mm,
        };
        let rows = (strip.cloth_v[1] - strip.cloth_v[0]) / row_mm + 1.0;
        self.check_pieces("width_mm", width_mm, (2.0 * rows).ceil(), strip.series.pieces())?;
        let half_mm = 0.5 * row_mm;
        // The edge of the strip that the first triangle lies at.
        let mut first = 0;
        let (creases, foot) = match triangle {
            Triangle::Equilateral => {
                // Left corners are a whole side apart, right ones half-way between. The first triangle's foot lies before all cloth.
                let left = strip.start.map(|(u, v)| if u > 0.0 { v - half_mm } else { v });
                let from = strip.first_row(row_mm, left.map(|v| v + half_mm)) - half_mm;
                let row = |v: f64| [strip.crease(v + row_mm, v + half_mm), strip.crease(v + row_mm, v + 1.5 * row_mm)];
                (strip.rows(from, row_mm).flat_map(row).collect::<Vec<_>>(), strip.crease(from, from + half_mm))
            }
            Triangle::Right => {
                let from = strip.first_row(row_mm, strip.start.map(|(_, v)| v));
                let row = |(row, v): (u32, f64)| {
                    let rises_to_left = row.is_multiple_of(2);
                    let slant = if rises_to_left { strip.crease(v + row_mm, v) } else { strip.crease(v, v + row_mm) };
                    [slant, strip.crease(v + row_mm, v + row_mm)]
                };
                first = u32::from(strip.meets_slant_first(from, row_mm));
                ((first..).zip(strip.rows(from, row_mm)).flat_map(row).collect(), strip.crease(from, from))
            }
        };
        let cell = vec![strip.edges()[first as usize], foot.reversed(), creases[0]];
        let creases = creases.into_iter().filter(|crease| self.is_needed(&strip, crease)).collect();
        Ok(Folding { along: strip.along, cell, series: vec![strip.series, Series::new(creases, pack)] })
    }

    /// Whether any of the strip lies beyond one of its creases.
    fn is_needed(&self, strip: &Strip, crease: &FoldLine) -> bool {
        let end = strip.cloth_v[1];
        [0.0, strip.width_mm].into_iter().any(|u| crease.beyond_mm(strip.at(u, end)) > ROUNDING * strip.width_mm)
    }

    fn wedges(&self, wedges: u32, centre: Centre, first: WedgesFirst, pack: Pack) -> Result<Folding, FlatError> {
        if wedges % 2 == 1 || !(2..=MOST_WEDGES).contains(&wedges) {
            return Err(FlatError::Wedges { wedges, most: MOST_WEDGES });
        }
        let mut at = self.point("centre", centre)?;
        let top = self.lay.panels().top;
        if !self.is_by_cloth(at) {
            return Err(FlatError::OffCloth { field: Field::from("centre"), at, top });
        }
        let (from_rad, halved) = match first {
            WedgesFirst::OnTheFold if self.lay.is_folded() && at.x <= ON_THE_FOLD_MM => {
                at.x = 0.0;
                (0.0, None)
            }
            WedgesFirst::OnTheFold => return Err(FlatError::Crosses { at, top, is_folded: self.lay.is_folded() }),
            WedgesFirst::HalfFold { angle_deg } => {
                let from_rad = angle_rad("first.angle_deg", angle_deg)?;
                let [_, right] = directions(from_rad);
                (from_rad, Some(Series::new(vec![FoldLine::new(at, -right)], Pack::Zigzag)))
            }
        };
        let step_rad = TAU / f64::from(wedges);
        let ray = |wedge: u32| FoldLine::new(at, directions(from_rad + f64::from(wedge) * step_rad)[1]);
        let half = wedges / 2;
        let fan = (half > 1).then(|| Series::new((1..half).map(ray).collect(), pack));
        let mut cell = vec![ray(0).reversed()];
        if half > 1 {
            cell.push(ray(1));
        }
        let [along, _] = directions(from_rad + 0.5 * if half > 1 { step_rad } else { PI });
        Ok(Folding { series: halved.into_iter().chain(fan).collect(), cell, along })
    }

    fn is_by_cloth(&self, at: Point) -> bool {
        let mut segments = self.lay.outlines(&Panel::BOTH).flat_map(|outline| outline.segments());
        self.lay.is_cloth(at) || segments.any(|segment| segment.nearest(at, 1e-3).distance_sq <= AT_EDGE_MM * AT_EDGE_MM)
    }
}

fn length(key: &'static str, value_mm: f64, least_mm: f64) -> Result<(), FlatError> {
    let most_mm = LARGEST_RADIUS_MM;
    if (least_mm..=most_mm).contains(&value_mm) {
        return Ok(());
    }
    Err(FlatError::Length { field: Field::from(key), value_mm, least_mm, most_mm })
}

/// An angle within a full turn either way, given in degrees: rad.
fn angle_rad(key: &'static str, value_deg: f64) -> Result<f64, FlatError> {
    if value_deg.abs() <= 360.0 + ROUNDING {
        return Ok(value_deg.to_radians());
    }
    Err(FlatError::Angle { field: Field::from(key), value_deg })
}
