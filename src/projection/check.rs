//! The figure that a alignment is checked by: a cross with arms to measure, and a bar.

use super::{Alignment, Role, TableLine};
use crate::measure::{LengthStyle, LengthUnit};
use kurbo::{Point, Vec2};

/// What the bar may measure, mm: the longest that the picture holds is drawn.
const BARS_MM: [f64; 7] = [500.0, 400.0, 300.0, 200.0, 150.0, 100.0, 50.0];
/// The same in inches, for an inch rule.
const BARS_IN: [f64; 7] = [20.0, 16.0, 12.0, 8.0, 6.0, 4.0, 2.0];
/// The cross is at most so long, across and down: longer than most sheets to align by.
const LONGEST_CROSS: usize = 2;
/// Border of the picture that stays free, as a share of its shorter side.
const BORDER: f64 = 0.03;
/// Where the bar lies, as shares of the picture's sides: below the cross, above it, or where its arms are; the first that holds the longest counts.
const BAR_PLACES: [[f64; 2]; 5] = [[0.5, 0.82], [0.5, 0.18], [0.82, 0.5], [0.18, 0.5], [0.5, 0.5]];
/// Ticks at the ends of what is measured, mm from the line to either side.
const TICK_MM: f64 = 12.0;

/// A cross and a bar on the table, each as long as is measured from tick to tick.
#[derive(Debug, Clone, PartialEq)]
pub struct CheckFigure {
    /// The middle of the cross on the table, mm.
    pub middle: Point,
    /// The length of either of its lines, from end to end, mm: along the rectangle's sides.
    pub cross_mm: f64,
    /// The ends of the bar on the table, mm.
    pub bar: [Point; 2],
}

impl CheckFigure {
    /// The longest figure that a picture of this width and height, px, holds: a bar of 500 mm, or of 20 in on an inch rule, where it has room.
    /// None where not even the shortest has.
    #[must_use]
    pub fn of(alignment: &Alignment, picture: [u32; 2], lengths: LengthStyle) -> Option<Self> {
        let steps_mm = match lengths {
            LengthStyle::Inches { .. } => BARS_IN.map(|inches| inches * LengthUnit::Inch.in_mm()),
            LengthStyle::Metric { .. } => BARS_MM,
        };
        let [width, height] = picture.map(f64::from);
        let border = BORDER * width.min(height);
        let holds = |at: Point| {
            let seen = alignment.picture_from_table().apply(at);
            seen.is_some_and(|at| (border..=width - border).contains(&at.x) && (border..=height - border).contains(&at.y))
        };
        let on_table = |[x, y]: [f64; 2]| alignment.table_from_picture().apply(Point::new(x * width, y * height));
        let middle = on_table([0.5, 0.5])?;
        let arms = |mm: f64| [Vec2::new(0.5 * mm, 0.0), Vec2::new(0.0, 0.5 * mm)];
        let cross_mm = steps_mm
            .into_iter()
            .skip(LONGEST_CROSS)
            .find(|mm| arms(*mm).into_iter().all(|arm| holds(middle + arm) && holds(middle - arm)))?;
        let bars = steps_mm.into_iter().flat_map(|mm| BAR_PLACES.map(|place| (mm, place)));
        let bar = bars.filter_map(|(mm, place)| {
            let at = on_table(place)?;
            // Along the picture's breadth, whichever of the rectangle's sides lies nearer to that.
            arms(mm).into_iter().map(|arm| [at - arm, at + arm]).find(|ends| ends.iter().all(|end| holds(*end)))
        });
        Some(Self { middle, cross_mm, bar: bar.into_iter().next()? })
    }

    /// The bar's length, mm.
    #[must_use]
    pub fn bar_mm(&self) -> f64 {
        self.bar[0].distance(self.bar[1])
    }

    /// Its lines on the table: the cross, the bar, and a tick across each end.
    #[must_use]
    pub fn lines(&self) -> Vec<TableLine> {
        let half = 0.5 * self.cross_mm;
        let across = [self.middle - Vec2::new(half, 0.0), self.middle + Vec2::new(half, 0.0)];
        let down = [self.middle - Vec2::new(0.0, half), self.middle + Vec2::new(0.0, half)];
        let line = |ends: [Point; 2]| TableLine { role: Role::Guide, number: None, points: ends.to_vec() };
        let ticks = |[from, to]: [Point; 2]| {
            let aside = TICK_MM * (to - from).normalize().turn_90();
            [from, to].map(|end| line([end - aside, end + aside]))
        };
        [across, down, self.bar].into_iter().flat_map(|ends| std::iter::once(line(ends)).chain(ticks(ends))).collect()
    }
}
