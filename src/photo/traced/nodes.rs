//! Lines of many points as few straight ways: D. Douglas, T. Peucker, "Algorithms for the reduction of the number of points required to represent a
//! digitized line or its caricature", 1973.

use kurbo::{Line, ParamCurveNearest as _, Point};

/// Those points of a line that it can be drawn by within a tolerance, its ends among them.
pub(super) fn open_nodes(line: &[Point], tolerance: f64) -> Vec<Point> {
    let Some(last) = line.len().checked_sub(1).filter(|last| *last > 1) else { return line.to_vec() };
    let mut kept = vec![false; line.len()];
    (kept[0], kept[last]) = (true, true);
    let mut parts = vec![(0, last)];
    while let Some((from, to)) = parts.pop() {
        let away = |index: &usize| Line::new(line[from], line[to]).nearest(line[*index], 1e-9).distance_sq;
        let farthest = (from + 1..to).max_by(|a, b| away(a).total_cmp(&away(b)));
        if let Some(farthest) = farthest.filter(|index| away(index) > tolerance * tolerance) {
            kept[farthest] = true;
            parts.extend([(from, farthest), (farthest, to)]);
        }
    }
    line.iter().zip(kept).filter(|(_, is_kept)| *is_kept).map(|(at, _)| *at).collect()
}

/// The same of a closed line, from its first point and the one farthest from that.
pub(super) fn closed_nodes(line: &[Point], tolerance: f64) -> Vec<Point> {
    let Some(first) = line.first() else { return Vec::new() };
    let away = |index: &usize| line[*index].distance_squared(*first);
    let second = (0..line.len()).max_by(|a, b| away(a).total_cmp(&away(b))).unwrap_or_default();
    let back: Vec<Point> = line[second..].iter().chain([first]).copied().collect();
    let mut nodes = open_nodes(&line[..=second], tolerance);
    nodes.extend(open_nodes(&back, tolerance).into_iter().skip(1));
    nodes.pop();
    nodes
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::Vec2;

    /// A square's thousand points are four nodes; a circle's stay within the tolerance.
    #[test]
    fn nodes_draw_the_line_within_the_tolerance() {
        let side = |step: usize| step as f64 / 250.0;
        let square = (0..1000).map(|step| match step / 250 {
            0 => Point::new(side(step), 0.0),
            1 => Point::new(1.0, side(step - 250)),
            2 => Point::new(1.0 - side(step - 500), 1.0),
            _ => Point::new(0.0, 1.0 - side(step - 750)),
        });
        assert_eq!(
            closed_nodes(&square.collect::<Vec<_>>(), 0.01),
            [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)].map(Point::from)
        );
        let circle: Vec<Point> =
            (0..1000).map(|step| (100.0 * Vec2::from_angle(f64::from(step) * 0.002 * std::f64::consts::PI)).to_point()).collect();
        let drawn = closed_nodes(&circle, 0.5);
        // The sagitta of a chord over an angle a is r (1 - cos(a / 2)).
        let least = std::f64::consts::PI / (1.0 - 0.5 / 100.0_f64).acos();
        assert!(drawn.len() as f64 >= least && drawn.len() < 70, "{} nodes, at least {least}", drawn.len());
    }
}
