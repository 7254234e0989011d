//! Points found before a maker marks any: what is not table is garment or sheet, the plan's outline is laid onto the garment's edge, and the map
//! that marks would give is fitted to that edge.
//!
//! # Limits
//! Needs a plain table of another colour all round, and a garment whose edge is not hidden. What is found is a guess to be looked at: points of
//! an outline without corners there, as along a straight hem, may lie some mm beside themselves.

pub(super) mod paper;
mod pose;
pub(super) mod region;
pub(super) mod small;

use self::pose::pose;
use self::region::{Mask, Region};
use self::small::Small;
use super::marks::FEWEST_POINTS;
use super::outline::SeenOutline;
use super::points::NamedPoint;
use super::registration::{Registration, RegistrationOptions};
use super::{MarkedPoint, Marks, MarksError, MarksProblem, PhotoError, Photograph, Sheet, SheetPaper, named_points};
use crate::geometry::Panel;
use crate::layout::Layout;
use crate::projection::{Homography, Pair};
use crate::reveal::Cancel;
use kurbo::{Point, Size, Vec2};

/// Lines as broad as this, px of the small picture, may run through the cloth in the table's colour: 12 mm.
const LINE_PX: usize = 3;
/// Smallest part of the picture that is taken for a garment.
const LEAST_SHARE: f64 = 0.04;
/// How far the plan's outline may lie off the edge on average, as a share of the garment's size: a sleeve laid elsewhere makes some hundredths.
const MOST_OFF: f64 = 0.05;
/// How far off points are taken to be that the outline's place gives, mm, and within what distance the edge is looked for: the first time, and when
/// it is fitted once more.
const ROUNDS: [(f64, &[f64]); 2] = [(12.0, &[30.0]), (5.0, &[16.0, 10.0])];
/// A point of which no more is known than this is a guess, mm.
const GUESS_MM: f64 = 2.5;
/// Over how many places of the outline to each side a corner turns, some 25 mm, and by how much at least, rad: 25 degrees (our own judgement).
const CORNER_STEPS: usize = 4;
const CORNER_RAD: f64 = 0.44;
/// How much of the outline has to be found: as much as is needed to measure.
const LEAST_OUTLINE: f64 = 0.55;
/// How much of the picture a garment fills whose place is not known.
const UNKNOWN_SHARE: f64 = 0.6;

/// A point of the garment that was found, or placed where it may be.
#[derive(Debug, Clone, PartialEq)]
pub struct FoundPoint {
    /// The point and its place.
    pub mark: MarkedPoint,
    /// Whether the edge of the cloth was found beside it.
    pub is_sure: bool,
}

/// What was found in a photograph.
#[derive(Debug, Clone, PartialEq)]
pub struct FoundPoints {
    /// Every named point of the side, in their order.
    pub points: Vec<FoundPoint>,
    /// The white sheet, where one was found.
    pub sheet: Option<Sheet>,
}

impl FoundPoints {
    /// The marks as they were found: guesses are left out where enough of the others are sure.
    #[must_use]
    pub fn marks(&self, side: Panel) -> Marks {
        let points = self.points.iter().filter(|point| self.counts(point)).map(|point| point.mark.clone());
        Marks { side, points: points.collect(), sheet: self.sheet.clone() }
    }

    /// Whether enough of the points are sure to be measured by before anybody has looked at them.
    #[must_use]
    pub fn is_enough(&self) -> bool {
        self.sure() >= FEWEST_POINTS
    }

    /// How many of the points are sure.
    #[must_use]
    pub fn sure(&self) -> usize {
        self.points.iter().filter(|point| point.is_sure).count()
    }

    /// Whether a point of these counts before anybody has looked at it: a guess does where too few of the others are sure.
    #[must_use]
    pub fn counts(&self, point: &FoundPoint) -> bool {
        point.is_sure || !self.is_enough()
    }
}

/// Looks for the garment and for a white sheet. Where no garment can be made out, its points are placed in the middle of the picture.
///
/// # Errors
/// [`PhotoError::Marks`] for a side that the garment lacks; [`PhotoError::Reveal`] where it is stopped.
pub fn find_points(photograph: &Photograph, layout: &Layout, side: Panel, cancel: &Cancel) -> Result<FoundPoints, PhotoError> {
    let lacking = || MarksError { field: "side".into(), problem: MarksProblem::Side { side } };
    let panel = layout.panels().panel(side).ok_or_else(lacking)?;
    let named = named_points(layout, side);
    let outline = SeenOutline::of(panel, side);
    cancel.check()?;
    let small = Small::of(photograph);
    let Some((away, limit)) = small.away() else { return Ok(guessed(photograph, &outline, &named)) };
    cancel.check()?;
    let sheet = paper::sheet(&small, &away, limit);
    let garment = garment(&small, &away, limit, sheet, LINE_PX);
    let sheet = sheet.map(|corners| paper::sharpened(photograph, corners.map(|at| small.whole(photograph, at))));
    cancel.check()?;
    let edge: Vec<Point> = garment.iter().flat_map(Region::edge).map(|at| small.whole(photograph, at)).collect();
    let laid = pose(outline.round(), &edge).filter(|(map, off_px)| {
        let bounds = outline.bounds();
        let size_mm = 0.5 * (bounds.width() + bounds.height());
        map.scale_at(outline.middle).is_some_and(|px_per_mm| *off_px < MOST_OFF * size_mm * px_per_mm)
    });
    let Some((map, _)) = laid else {
        let sheet = sheet.map(|corners| Sheet { paper: SheetPaper::A4, corners });
        return Ok(FoundPoints { sheet, ..guessed(photograph, &outline, &named) });
    };
    let sheet = sheet.map(|corners| Sheet { paper: paper_of(corners, &map, outline.middle), corners });
    let (points, found) = fitted(photograph, &outline, &named, map, sheet.as_ref(), cancel)?;
    // What was fitted to the edge knows the camera's tilt, by which sheets of like sizes are told apart.
    let sheet = sheet.map(|sheet| match &found {
        Some(found) => Sheet { paper: nearest_paper(sheet.corners.iter().filter_map(|at| found.back(*at)).collect()), ..sheet },
        None => sheet,
    });
    Ok(FoundPoints { points, sheet })
}

/// Where a sheet of this paper may lie, beside a garment that is marked so: to its right, upright.
#[must_use]
pub fn guessed_sheet(photograph: &Photograph, paper: SheetPaper) -> Sheet {
    let [width, height] = photograph.whole().map(f64::from);
    let [short, long] = paper.sides_mm();
    // A shirt takes about three times the longer side of A4.
    let px_per_mm = height.min(width) / 1000.0;
    let half = 0.5 * px_per_mm * Vec2::new(short, long);
    let middle = Point::new(width - half.x - 0.02 * width, 0.7 * height.max(2.0 * half.y));
    let corner = |x: f64, y: f64| {
        let at = middle + Vec2::new(x * half.x, y * half.y);
        Point::new(at.x.clamp(0.0, width), at.y.clamp(0.0, height))
    };
    Sheet { paper, corners: [corner(-1.0, -1.0), corner(1.0, -1.0), corner(1.0, 1.0), corner(-1.0, 1.0)] }
}

/// What is not table, without the sheet: the largest part of it. Gaps up to twice so many pixels across are closed.
pub(super) fn garment(small: &Small, away: &[f32], limit: f32, sheet: Option<[Point; 4]>, closed: usize) -> Option<Region> {
    let sheet = sheet.map(|corners| Sheet { paper: SheetPaper::A4, corners });
    let mask = Mask::new(small.width, small.height, |index| away[index] > limit);
    let mask = mask.without(|at| sheet.as_ref().is_some_and(|sheet| sheet.outside_px(at) < LINE_PX as f64));
    let regions = mask.closed(closed).filled().opened(1).regions();
    regions.into_iter().next().filter(|region| region.pixels.len() as f64 > LEAST_SHARE * small.light.len() as f64)
}

/// The paper whose sides are nearest to a sheet's as it lies beside the plan.
fn paper_of(corners: [Point; 4], map: &Homography, middle: Point) -> SheetPaper {
    let Some(back) = map.apply(middle).and_then(|seen| map.inverse(seen)) else { return SheetPaper::A4 };
    nearest_paper(corners.iter().filter_map(|at| back.apply(*at)).collect())
}

/// The paper whose sides are nearest to those of a sheet with these corners, mm.
fn nearest_paper(on_plan: Vec<Point>) -> SheetPaper {
    let [a, b, c, d] = on_plan[..] else { return SheetPaper::A4 };
    let mut sides = [0.5 * (a.distance(b) + c.distance(d)), 0.5 * (b.distance(c) + d.distance(a))];
    sides.sort_by(f64::total_cmp);
    let off = |paper: &SheetPaper| {
        let [short, long] = paper.sides_mm();
        // The size is known to some hundredths, the shape better.
        let (size, shape) = ((sides[0] * sides[1] / (short * long)).ln(), (sides[1] / sides[0] / (long / short)).ln());
        (size / 0.1).powi(2) + (shape / 0.02).powi(2)
    };
    SheetPaper::ALL.into_iter().min_by(|one, other| off(one).total_cmp(&off(other))).unwrap_or(SheetPaper::A4)
}

/// The named points where the edge of the cloth has them: as marks would be fitted, twice, the second time from where the first has them.
fn fitted(
    photograph: &Photograph,
    outline: &SeenOutline,
    named: &[NamedPoint],
    map: Homography,
    sheet: Option<&Sheet>,
    cancel: &Cancel,
) -> Result<(Vec<FoundPoint>, Option<Registration>), PhotoError> {
    let px_per_mm = map.scale_at(outline.middle).unwrap_or(1.0);
    let pairs = |seen: &dyn Fn(Point) -> Option<Point>| -> Vec<Pair> {
        named.iter().filter_map(|point| Some(Pair { from: point.at, to: seen(point.at)? })).collect()
    };
    let mut found: Option<Registration> = None;
    for (off_mm, windows_mm) in ROUNDS {
        let options = RegistrationOptions {
            click_px: off_mm * px_per_mm,
            windows_mm: windows_mm.to_vec(),
            ..RegistrationOptions::default()
        };
        let seen = |at: Point| found.as_ref().map_or_else(|| map.apply(at), |found| found.apply(at));
        let registered = Registration::of(photograph, outline, &pairs(&seen), sheet, &options, cancel);
        match registered {
            Ok(registered) => found = Some(registered),
            Err(PhotoError::Reveal(stopped)) => return Err(stopped.into()),
            // What can't be fitted is left as it lies.
            Err(_) => break,
        }
    }
    let [width, height] = photograph.whole().map(f64::from);
    let is_known = |at: Point| {
        let sd_mm = |along: Vec2| found.as_ref().map_or(f64::INFINITY, |found| found.lay().sd_mm(&[(at, along)]));
        has_corner(outline.round(), at)
            && [Vec2::new(1.0, 0.0), Vec2::new(0.0, 1.0)].into_iter().all(|along| sd_mm(along) < GUESS_MM)
    };
    let is_found = found.as_ref().is_some_and(|found| found.outline_found() >= LEAST_OUTLINE);
    let point = |point: &NamedPoint| {
        let seen = found.as_ref().map_or_else(|| map.apply(point.at), |found| found.apply(point.at))?;
        let at = Point::new(seen.x.clamp(0.0, width), seen.y.clamp(0.0, height));
        let mark = MarkedPoint { name: point.name.clone(), at };
        Some(FoundPoint { mark, is_sure: is_found && is_known(point.at) && at == seen })
    };
    let points = named.iter().filter_map(point).collect();
    Ok((points, found))
}

/// Whether the outline turns near a point: along an edge without a corner nothing shows where it is.
fn has_corner(round: &[Point], at: Point) -> bool {
    let away = |index: &usize| round[*index].distance_squared(at);
    let Some(here) = (0..round.len()).min_by(|a, b| away(a).total_cmp(&away(b))) else { return false };
    let place = |by: usize| round[(here + by) % round.len()];
    let (before, after) = (round[here] - place(round.len().saturating_sub(CORNER_STEPS)), place(CORNER_STEPS) - round[here]);
    before.cross(after).atan2(before.dot(after)).abs() > CORNER_RAD
}

/// The plan in the middle of the picture, upright.
fn guessed(photograph: &Photograph, outline: &SeenOutline, named: &[NamedPoint]) -> FoundPoints {
    let [width, height] = photograph.whole().map(f64::from);
    let (picture, bounds) = (Size::new(width, height), outline.bounds());
    let px_per_mm = UNKNOWN_SHARE * (picture.width / bounds.width()).min(picture.height / bounds.height());
    let at = |point: Point| Point::new(0.5 * width, 0.5 * height) + px_per_mm * (point - outline.middle);
    let point = |point: &NamedPoint| {
        let mark = MarkedPoint { name: point.name.clone(), at: at(point.at) };
        FoundPoint { mark, is_sure: false }
    };
    FoundPoints { points: named.iter().map(point).collect(), sheet: None }
}
