//! Closed outlines of straight lines and cubic curves, and the two halves of a panel.

use super::within::Within;
use crate::telling::{Refused, Told, Voice, displayed_as_in_files};
use kurbo::{Affine, BezPath, PathEl, PathSeg, Point, Rect, Shape};
use std::ops::Range;
use std::sync::{Arc, OnceLock};

/// Why a path is no outline.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum OutlineError {
    /// The path has no segments.
    Empty,
    /// A coordinate is infinite or not a number.
    Infinite,
    /// The curve encloses no area, or encloses it the wrong way round (see [`crate::geometry`]).
    Area {
        /// Signed area, mm2.
        area_mm2: f64,
    },
    /// A half profile leaves the half plane `x >= 0`, or does not start and end on the centre line.
    AcrossCentreLine {
        /// The offending coordinate, mm.
        x_mm: f64,
    },
}

displayed_as_in_files!(OutlineError);

impl Refused for OutlineError {
    fn told(&self, voice: Voice) -> Told {
        match self {
            Self::Empty => Told::new("the outline is empty", "give a closed curve"),
            Self::Infinite => Told::new("the outline has a point at no finite place", "give finite coordinates"),
            Self::Area { area_mm2 } => {
                Told::new(format!("the outline encloses {}", voice.area(*area_mm2)), "run it clockwise round a positive area")
            }
            Self::AcrossCentreLine { x_mm } => Told::new(
                format!("the half outline reaches {} from the centre line", voice.length(*x_mm)),
                "start and end it on the centre line, and keep it on one side",
            ),
        }
    }
}

/// How far a half profile may stray from the centre line by rounding, mm.
const ON_CENTRE_LINE_MM: f64 = 1e-6;

/// Closed curves of lines and cubics, mm: mostly one, running clockwise as drawn (positive area); a hole in it is another, running
/// the other way.
///
/// That no curve crosses itself or another is the maker's promise, not checked here: a garment draft checks its own.
#[derive(Debug, Clone)]
pub struct Outline {
    path: BezPath,
    area_mm2: f64,
    /// Made when it is first asked for, and shared by clones.
    within: Arc<OnceLock<Within>>,
}

/// By their curves.
impl PartialEq for Outline {
    fn eq(&self, other: &Self) -> bool {
        self.path == other.path
    }
}

impl Outline {
    /// Takes closed curves (an open one is closed by a straight line).
    ///
    /// # Errors
    /// [`OutlineError`] when the path is empty, not finite, or encloses no positive area.
    pub fn from_path(path: &BezPath) -> Result<Self, OutlineError> {
        if path.segments().next().is_none() {
            return Err(OutlineError::Empty);
        }
        if !path.is_finite() {
            return Err(OutlineError::Infinite);
        }
        let mut closed = BezPath::new();
        for curve in path.subpaths() {
            closed.extend(curve.iter().copied());
            if !matches!(curve.last(), Some(PathEl::ClosePath)) {
                closed.close_path();
            }
        }
        let area_mm2 = closed.area();
        if area_mm2 > 0.0 {
            Ok(Self { path: closed, area_mm2, within: Arc::default() })
        } else {
            Err(OutlineError::Area { area_mm2 })
        }
    }

    /// The curves, closed.
    #[must_use]
    pub fn path(&self) -> &BezPath {
        &self.path
    }

    /// The curves' segments in order, the closing lines among them.
    pub fn segments(&self) -> impl Iterator<Item = PathSeg> + '_ {
        self.path.segments()
    }

    /// Enclosed area, mm2.
    #[must_use]
    pub fn area_mm2(&self) -> f64 {
        self.area_mm2
    }

    /// The smallest upright rectangle around it, mm.
    #[must_use]
    pub fn bounds(&self) -> Rect {
        self.path.bounding_box()
    }

    /// Whether `p` (mm) lies inside. On a curve itself either answer may come.
    #[must_use]
    pub fn contains(&self, p: Point) -> bool {
        let within = self.within.get_or_init(|| Within::of(self.segments()));
        within.holds(p).unwrap_or_else(|| self.path.contains(p))
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
    /// Where the profile itself runs along the centre line (at the top of a bag's handle) the halves join there, and what they
    /// enclose between them becomes a hole of the whole.
    ///
    /// # Errors
    /// [`OutlineError`] as for [`Outline::from_path`], and when the profile crosses the centre line or does not end on it.
    pub fn from_half_profile(profile: &BezPath) -> Result<Self, OutlineError> {
        let (start, end) = check_half_plane(profile)?;
        let mut whole = BezPath::new();
        for piece in pieces_off_centre(profile) {
            let mirrored = Affine::FLIP_X * piece.reverse_subpaths();
            whole.extend(piece.elements().iter().chain(mirrored.elements().iter().skip(1)).copied());
            whole.close_path();
        }
        Ok(Self {
            profile: profile.clone(),
            half: Outline::from_path(profile)?,
            whole: Outline::from_path(&whole)?,
            top_mm: start.y,
            foot_mm: end.y,
        })
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

/// A profile without its lines along the centre line: pieces that start and end on it.
fn pieces_off_centre(profile: &BezPath) -> Vec<BezPath> {
    let mut pieces = vec![BezPath::new()];
    let mut at = Point::ORIGIN;
    for &el in profile.elements() {
        let to = el.end_point().unwrap_or(at);
        let joins_halves = matches!(el, PathEl::LineTo(_)) && at.x.max(to.x) <= ON_CENTRE_LINE_MM;
        match pieces.last_mut() {
            Some(piece) if !joins_halves => piece.push(el),
            _ => pieces.push(BezPath::from_vec(vec![PathEl::MoveTo(to)])),
        }
        at = to;
    }
    pieces
}

/// The profile's end points, when it is what it should be.
fn check_half_plane(profile: &BezPath) -> Result<(Point, Point), OutlineError> {
    if !profile.is_finite() {
        return Err(OutlineError::Infinite);
    }
    let mut ends = profile.segments();
    let (Some(first), last) = (ends.next(), ends.last()) else {
        return Err(OutlineError::Empty);
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

    /// A frame: the half profile runs down the centre line between its inner and its outer edge.
    #[test]
    fn halves_that_join_along_the_centre_line_leave_a_hole() {
        let mut profile = BezPath::new();
        profile.move_to((0.0, 20.0));
        for corner in [(20.0, 20.0), (20.0, 10.0), (0.0, 10.0), (0.0, 0.0), (30.0, 0.0), (30.0, 40.0), (0.0, 40.0)] {
            profile.line_to(corner);
        }
        let panel = PanelOutline::from_half_profile(&profile).unwrap();
        assert_eq!((panel.half().area_mm2(), panel.whole().area_mm2()), (1000.0, 2000.0));
        assert_eq!(panel.whole().path().subpaths().count(), 2);
        assert!(!panel.contains(Point::new(0.0, 15.0)) && panel.contains(Point::new(0.0, 5.0)));
        assert_eq!(panel.centre_line_mm(), 20.0..40.0);
    }

    #[test]
    fn wrong_paths_are_refused_by_name() {
        assert_eq!(Outline::from_path(&BezPath::new()), Err(OutlineError::Empty));
        let backwards = rectangle_profile(30.0, 10.0, 60.0).reverse_subpaths();
        assert!(matches!(Outline::from_path(&backwards), Err(OutlineError::Area { .. })));
        let mut across = rectangle_profile(30.0, 10.0, 60.0);
        across.apply_affine(Affine::translate((-1.0, 0.0)));
        assert_eq!(PanelOutline::from_half_profile(&across), Err(OutlineError::AcrossCentreLine { x_mm: -1.0 }));
    }
}
