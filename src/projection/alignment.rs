//! What follows from a projector's marks: the maps between table and picture, and how well they are known.

use super::corners::check_corners;
use super::{Homography, Pair, Projector, ProjectorProblem};
use kurbo::{Point, Rect, Vec2};

/// The maps between table and picture, and how well they are known.
#[derive(Debug, Clone, PartialEq)]
pub struct Alignment {
    picture_from_table: Homography,
    table_from_picture: Homography,
    /// Of each mark, mm.
    residuals_mm: Vec<f64>,
    slip_mm: f64,
}

impl Alignment {
    /// From the table, mm, to the picture, px.
    #[must_use]
    pub fn picture_from_table(&self) -> &Homography {
        &self.picture_from_table
    }

    /// From the picture, px, to the table, mm.
    #[must_use]
    pub fn table_from_picture(&self) -> &Homography {
        &self.table_from_picture
    }

    /// How far the marks lie from where the picture has them, mm on the table: the root of the mean square. Four corners always fit: 0 but for
    /// rounding.
    #[must_use]
    pub fn residual_mm(&self) -> f64 {
        #[expect(clippy::cast_precision_loss, reason = "nine at the most")]
        let count = self.residuals_mm.len() as f64;
        (self.residuals_mm.iter().map(|mm| mm * mm).sum::<f64>() / count).sqrt()
    }

    /// The mark that fits worst, counted from 1, and how far it is off, mm.
    #[must_use]
    pub fn worst(&self) -> (usize, f64) {
        let numbered = (1..).zip(self.residuals_mm.iter().copied());
        numbered.max_by(|one, other| one.1.total_cmp(&other.1)).unwrap_or((1, 0.0))
    }

    /// How far lines at the corners of the picture may be off when every mark is off by a pixel, mm: the root of the sum of squares of what
    /// each does, at the worst corner. Marks that lie close together, or far from a corner, make it large.
    #[must_use]
    pub fn slip_mm(&self) -> f64 {
        self.slip_mm
    }

    /// Whether the picture shows the table as in a mirror: right only when it comes from below the cloth's ground.
    #[must_use]
    pub fn is_mirrored(&self) -> bool {
        self.picture_from_table.is_mirrored()
    }
}

impl Projector {
    /// The maps that follow from the marks.
    ///
    /// # Errors
    /// [`ProjectorProblem`]: the marks are too few or lie as no rectangle's can.
    pub fn alignment(&self) -> Result<Alignment, ProjectorProblem> {
        let [width, height] = self.picture.map(f64::from);
        let set = super::MarkSet::of_count(self.marks.len()).ok_or(ProjectorProblem::Marks { count: self.marks.len() })?;
        let picture = Rect::new(0.0, 0.0, width, height);
        for (mark, at) in (1..).zip(&self.marks) {
            if !(picture.x0..=picture.x1).contains(&at.x) || !(picture.y0..=picture.y1).contains(&at.y) {
                return Err(ProjectorProblem::Outside { mark, at: [at.x, at.y], picture: self.picture });
            }
        }
        let &[one, two, three, four, ..] = &self.marks[..] else {
            return Err(ProjectorProblem::Marks { count: self.marks.len() });
        };
        check_corners([one, two, three, four], self.picture)?;
        let places = set.places().iter().map(|place| self.on_table(*place));
        let pairs: Vec<Pair> = places.zip(&self.marks).map(|(from, to)| Pair { from, to: *to }).collect();
        let (picture_from_table, table_from_picture) = both_ways(&pairs)?;
        let corners = [Point::ZERO, Point::new(width, 0.0), Point::new(width, height), Point::new(0.0, height)];
        let mut seen = [Point::ZERO; 4];
        for (index, corner) in corners.iter().enumerate() {
            let on_table = table_from_picture.apply(*corner).filter(|at| picture_from_table.apply(*at).is_some());
            seen[index] = on_table.ok_or(ProjectorProblem::Horizon { corner: index + 1 })?;
        }
        let off_mm = |pair: &Pair| table_from_picture.apply(pair.to).map_or(f64::INFINITY, |at| at.distance(pair.from));
        let residuals_mm = pairs.iter().map(off_mm).collect();
        let slip_mm = slip_mm(&pairs, &corners, &seen);
        Ok(Alignment { picture_from_table, table_from_picture, residuals_mm, slip_mm })
    }
}

fn both_ways(pairs: &[Pair]) -> Result<(Homography, Homography), ProjectorProblem> {
    let there = Homography::fit(pairs)?;
    // The rectangle's middle is the table's origin.
    let back = there.inverse(Point::ZERO).ok_or(ProjectorProblem::Unsettled { marks: pairs.len() })?;
    Ok((there, back))
}

/// How far points of the picture move on the table when each mark is a pixel off, mm, at the worst of them; `seen` is where they are.
fn slip_mm(pairs: &[Pair], points: &[Point], seen: &[Point]) -> f64 {
    let mut squares = vec![0.0; points.len()];
    for index in 0..pairs.len() {
        for by in [Vec2::new(1.0, 0.0), Vec2::new(0.0, 1.0)] {
            let mut slipped = pairs.to_vec();
            slipped[index].to += by;
            let Ok((_, back)) = both_ways(&slipped) else { return f64::INFINITY };
            for ((square, point), at) in squares.iter_mut().zip(points).zip(seen) {
                *square += back.apply(*point).map_or(f64::INFINITY, |moved| moved.distance_squared(*at));
            }
        }
    }
    squares.into_iter().fold(0.0, f64::max).sqrt()
}
