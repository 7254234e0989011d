//! Closed outlines of straight lines and cubic curves, and the two halves of a panel.

use kurbo::{Affine, BezPath, PathEl, PathSeg, Point, Rect, Shape};
use std::ops::Range;

/// Why a path is no outline.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum OutlineError {
    /// The path has no segments, or more than one piece.
    #[error("an outline is one closed curve; this path has {pieces} pieces")]
    Pieces {
        /// How many pieces the path has.
        pieces: usize,
    },
    /// A coordinate is infinite or not a number.
    #[error("an outline needs finite coordinates")]
    Infinite,
    /// The curve encloses no area, or encloses it the wrong way round (see [`crate::geometry`]).
    #[error("an outline runs clockwise round a positive area; this one encloses {area_mm2} mm2")]
    Area {
        /// Signed area, mm2.
        area_mm2: f64,
    },
    /// A half profile leaves the half plane `x >= 0`, or does not start and end on the centre line.
    #[error("a half profile starts and ends on the centre line and stays at x >= 0; this one reaches x = {x_mm} mm")]
    AcrossCentreLine {
        /// The offending coordinate, mm.
        x_mm: f64,
    },
}

/// How far a half profile may stray from the centre line by rounding, mm.
const ON_CENTRE_LINE_MM: f64 = 1e-6;

/// One simple closed curve of lines and cubics, mm, running clockwise as drawn (positive area).
///
/// That the curve does not cross itself is the maker's promise, not checked here: a garment draft checks its own.
#[derive(Debug, Clone, PartialEq)]
pub struct Outline {
    path: BezPath,
    area_mm2: f64,
}

impl Outline {
    /// Takes a closed path (an open one is closed by a straight line).
    ///
    /// # Errors
    /// [`OutlineError`] when the path is empty, in several pieces, not finite, or encloses no positive area.
    pub fn from_path(mut path: BezPath) -> Result<Self, OutlineError> {
        let pieces = path.elements().iter().filter(|el| matches!(el, PathEl::MoveTo(_))).count();
        if pieces != 1 || path.elements().len() < 3 {
            return Err(OutlineError::Pieces { pieces });
        }
        if !path.is_finite() {
            return Err(OutlineError::Infinite);
        }
        if !matches!(path.elements().last(), Some(PathEl::ClosePath)) {
            path.close_path();
        }
        let area_mm2 = path.area();
        if area_mm2 > 0.0 { Ok(Self { path, area_mm2 }) } else { Err(OutlineError::Area { area_mm2 }) }
    }

    /// The curve, closed.
    #[must_use]
    pub fn path(&self) -> &BezPath {
        &self.path
    }

    /// The curve's segments in order, the closing line among them.
    pub fn segments(&self) -> impl Iterator<Item = PathSeg> + '_ {
        self.path.segments()
    }

    /// Enclosed area, mm2.
    #[must_use]
    pub fn area_mm2(&self) -> f64 {
        self.area_mm2
    }

    /// The smallest upright rectangle around the curve, mm.
    #[must_use]
    pub fn bounds(&self) -> Rect {
        self.path.bounding_box()
    }

    /// Whether `p` (mm) lies inside. On the curve itself either answer may come.
    #[must_use]
    pub fn contains(&self, p: Point) -> bool {
        self.path.contains(p)
    }
}

/// The cloth of one panel: the half at `x >= 0` and the whole, mirrored at the centre line.
#[derive(Debug, Clone, PartialEq)]
pub struct PanelOutline {
    profile: BezPath,
    half: Outline,
    whole: Outline,
    top_mm: f64,
    foot_mm: f64,
}

impl PanelOutline {
    /// Closes an open half profile, which runs from the top of the centre line to its foot at `x >= 0`, along the centre line,
    /// and mirrors it.
    ///
    /// # Errors
    /// [`OutlineError`] as for [`Outline::from_path`], and when the profile crosses the centre line or does not end on it.
    pub fn from_half_profile(profile: &BezPath) -> Result<Self, OutlineError> {
        let (start, end) = check_half_plane(profile)?;
        let half = Outline::from_path(profile.clone())?;
        let mirrored = Affine::scale_non_uniform(-1.0, 1.0) * profile.reverse_subpaths();
        let mut whole = profile.clone();
        whole.extend(mirrored.elements().iter().skip(1).copied());
        Ok(Self { profile: profile.clone(), half, whole: Outline::from_path(whole)?, top_mm: start.y, foot_mm: end.y })
    }

    /// The open profile: neck, shoulder, side and hem, without the centre line.
    #[must_use]
    pub fn profile(&self) -> &BezPath {
        &self.profile
    }

    /// The half at `x >= 0`, closed along the centre line.
    #[must_use]
    pub fn half(&self) -> &Outline {
        &self.half
    }

    /// Both halves as one curve.
    #[must_use]
    pub fn whole(&self) -> &Outline {
        &self.whole
    }

    /// Where cloth begins and ends on the centre line, mm below the shoulder point.
    #[must_use]
    pub fn centre_line_mm(&self) -> Range<f64> {
        self.top_mm..self.foot_mm
    }

    /// Whether cloth lies at `p` (mm), on either side of the centre line.
    #[must_use]
    pub fn contains(&self, p: Point) -> bool {
        self.whole.contains(p)
    }
}

/// The profile's end points, when it is what it should be.
fn check_half_plane(profile: &BezPath) -> Result<(Point, Point), OutlineError> {
    if !profile.is_finite() {
        return Err(OutlineError::Infinite);
    }
    let mut ends = profile.segments();
    let (Some(first), last) = (ends.next(), ends.last()) else {
        return Err(OutlineError::Pieces { pieces: 0 });
    };
    let start = first.to_cubic().p0;
    let end = last.map_or(first.to_cubic().p3, |seg| seg.to_cubic().p3);
    let off_line = [start.x, end.x].into_iter().find(|x| x.abs() > ON_CENTRE_LINE_MM);
    let leftmost = profile.bounding_box().x0;
    match off_line.or((leftmost < -ON_CENTRE_LINE_MM).then_some(leftmost)) {
        Some(x_mm) => Err(OutlineError::AcrossCentreLine { x_mm }),
        None => Ok((start, end)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rectangle_profile(width: f64, top: f64, bottom: f64) -> BezPath {
        let mut path = BezPath::new();
        path.move_to((0.0, top));
        path.line_to((width, top));
        path.line_to((width, bottom));
        path.line_to((0.0, bottom));
        path
    }

    #[test]
    fn half_and_whole_of_a_rectangle() {
        let panel = PanelOutline::from_half_profile(&rectangle_profile(30.0, 10.0, 60.0)).unwrap();
        assert_eq!(panel.half().area_mm2(), 1500.0);
        assert_eq!(panel.whole().area_mm2(), 3000.0);
        assert!(panel.contains(Point::new(-29.0, 11.0)) && !panel.contains(Point::new(31.0, 11.0)));
    }

    #[test]
    fn wrong_paths_are_refused_by_name() {
        assert_eq!(Outline::from_path(BezPath::new()), Err(OutlineError::Pieces { pieces: 0 }));
        let backwards = rectangle_profile(30.0, 10.0, 60.0).reverse_subpaths();
        assert!(matches!(Outline::from_path(backwards), Err(OutlineError::Area { .. })));
        let mut across = rectangle_profile(30.0, 10.0, 60.0);
        across.apply_affine(Affine::translate((-1.0, 0.0)));
        assert_eq!(PanelOutline::from_half_profile(&across), Err(OutlineError::AcrossCentreLine { x_mm: -1.0 }));
    }
}
