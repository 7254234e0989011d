//! The mark that does not go with the others, where one does not.

use super::lens::{Lens, LensPrior};
use super::{Marks, points};
use crate::layout::Layout;
use crate::projection::Pair;

/// Fewest marks among which one can be told to be off: without it there have to be more than a plane needs.
const FEWEST_POINTS: usize = 6;
/// How far off it has to lie, mm, and how many times as far as any of the others: a sleeve that is laid otherwise is off by less (our own
/// judgement).
const LEAST_MM: f64 = 40.0;
const TIMES: f64 = 4.0;

/// The name of the mark that lies far from where all others put it, who agree among themselves, and how far, mm.
pub(super) fn off_point(layout: &Layout, marks: &Marks, picture: [u32; 2]) -> Option<(String, f64)> {
    let pairs = points::pairs(layout, marks).ok().filter(|pairs| pairs.len() >= FEWEST_POINTS)?;
    let (at, off_mm) = off_pair(&pairs, picture)?;
    Some((marks.points.get(at)?.name.clone(), off_mm))
}

/// Its place among the marks. Each is left out in turn; the others agree best without the one that is off.
fn off_pair(pairs: &[Pair], picture: [u32; 2]) -> Option<(usize, f64)> {
    let off_mm = |lens: &Lens, pair: &Pair| {
        let off = lens.apply(pair.from).and_then(|seen| lens.on_plan(pair.from, pair.to - seen));
        off.map_or(f64::INFINITY, kurbo::Vec2::hypot)
    };
    let without = |at: usize| {
        let others = [&pairs[..at], &pairs[at + 1..]].concat();
        let lens = Lens::fit(&others, picture, LensPrior::default()).ok()?;
        let worst_mm = others.iter().map(|pair| off_mm(&lens, pair)).fold(0.0, f64::max);
        Some((at, off_mm(&lens, &pairs[at]), worst_mm))
    };
    let (at, off_mm, others_mm) = (0..pairs.len()).filter_map(without).min_by(|a, b| a.2.total_cmp(&b.2))?;
    (off_mm.is_finite() && off_mm >= LEAST_MM.max(TIMES * others_mm)).then_some((at, off_mm))
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::{Point, Vec2};

    /// Marks seen through a planted homography, each off by up to two millimetres.
    fn pairs() -> Vec<Pair> {
        let plan = [(-90.0, 0.0), (90.0, 0.0), (-250.0, 700.0), (250.0, 700.0), (-420.0, 180.0), (420.0, 180.0), (0.0, 98.0)];
        let see = |(x, y): (f64, f64)| {
            let by = 1.0 + 0.0001 * x + 0.0002 * y;
            Point::new((2000.0 + 2.6 * x + 0.2 * y) / by, (600.0 - 0.1 * x + 2.8 * y) / by)
        };
        let pair = |(number, &at): (usize, &(f64, f64))| Pair {
            from: at.into(),
            to: see(at) + 5.0 * Vec2::from_angle(2.4 * number as f64),
        };
        plan.iter().enumerate().map(pair).collect()
    }

    /// Each mark moved by 60 mm (there about 2.6 px a millimetre) is named, and told to lie so far off, give or take what the others are off.
    #[test]
    fn the_mark_that_is_off_is_told() {
        let picture = [4000, 3000];
        assert_eq!(off_pair(&pairs(), picture), None);
        for moved in 0..pairs().len() {
            let mut pairs = pairs();
            pairs[moved].to += Vec2::new(90.0, -120.0);
            let (at, off_mm) = off_pair(&pairs, picture).unwrap();
            assert!(at == moved && (45.0..90.0).contains(&off_mm), "{moved}: {at}, {off_mm}");
        }
    }

    /// Two that are off together leave nothing to tell them by.
    #[test]
    fn two_marks_that_are_off_are_not_told() {
        let mut pairs = pairs();
        for moved in [1, 4] {
            pairs[moved].to += Vec2::new(-200.0, 150.0);
        }
        assert_eq!(off_pair(&pairs, [4000, 3000]), None);
    }
}
