//! Curves as lines, close enough to look round.

use kurbo::{BezPath, PathEl, Point};

/// The path's stretches as points, none farther from the curve than `tolerance_mm`; closed ones end where they began.
pub(super) fn flat(path: &BezPath, tolerance_mm: f64) -> Vec<Vec<Point>> {
    let mut lines: Vec<Vec<Point>> = Vec::new();
    kurbo::flatten(path, tolerance_mm, |el| match el {
        PathEl::MoveTo(p) => lines.push(vec![p]),
        PathEl::LineTo(p) => lines.last_mut().into_iter().for_each(|line| line.push(p)),
        PathEl::ClosePath => lines.last_mut().into_iter().for_each(|line| line.extend(line.first().copied())),
        _ => {}
    });
    lines
}
