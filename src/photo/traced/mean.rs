//! The mean of two lines that run alike: point by point of a matching that goes along both (dynamic time warping: H. Sakoe, S. Chiba, "Dynamic
//! programming algorithm optimization for spoken word recognition", 1978).

use kurbo::{Point, Vec2};

/// What a way that differs by all of its direction counts as, mm apart: so much that corners meet corners (our own judgement).
const TURN_MM: f64 = 20.0;

/// The mean of two lines, both given in places near each other, from their first to their last.
pub(super) fn mean(one: &[Point], other: &[Point]) -> Vec<Point> {
    matched(one, other).into_iter().map(|(a, b)| one[a].midpoint(other[b])).collect()
}

/// The pairs of places, each line's in order and none left out, whose distances and ways add up to the least.
fn matched(one: &[Point], other: &[Point]) -> Vec<(usize, usize)> {
    let (rows, columns) = (one.len(), other.len());
    if rows == 0 || columns == 0 {
        return Vec::new();
    }
    let ways = |line: &[Point]| -> Vec<Vec2> {
        let way = |at: usize| {
            let along = line[(at + 1).min(line.len() - 1)] - line[at.saturating_sub(1)];
            if along == Vec2::ZERO { along } else { TURN_MM * along.normalize() }
        };
        (0..line.len()).map(way).collect()
    };
    let (ways_of_one, ways_of_other) = (ways(one), ways(other));
    let cost = |row: usize, column: usize| {
        one[row].distance_squared(other[column]) + (ways_of_one[row] - ways_of_other[column]).hypot2()
    };
    // The least sum up to each pair.
    let mut sums = vec![f64::INFINITY; rows * columns];
    let before = |row: usize, column: usize| {
        let diagonal = row.checked_sub(1).zip(column.checked_sub(1));
        [diagonal, row.checked_sub(1).map(|row| (row, column)), column.checked_sub(1).map(|column| (row, column))]
    };
    for row in 0..rows {
        for column in 0..columns {
            let least = before(row, column).into_iter().flatten().map(|(row, column)| sums[row * columns + column]);
            let least = least.min_by(f64::total_cmp).unwrap_or(0.0);
            sums[row * columns + column] = least + cost(row, column);
        }
    }
    let mut pairs = vec![(rows - 1, columns - 1)];
    while let Some((row, column)) = pairs.last().copied() {
        let sum = |(row, column): &(usize, usize)| sums[row * columns + column];
        match before(row, column).into_iter().flatten().min_by(|a, b| sum(a).total_cmp(&sum(b))) {
            Some(pair) => pairs.push(pair),
            None => break,
        }
    }
    pairs.reverse();
    pairs
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Two steps, one longer by 8 mm: the mean's corner lies halfway.
    #[test]
    fn corners_meet_corners() {
        let step = |long: u32| {
            let along = (0..long).map(|x| Point::new(f64::from(x), 0.0));
            along.chain((0..=60).map(move |y| Point::new(f64::from(long), f64::from(y)))).collect::<Vec<_>>()
        };
        let mean = mean(&step(50), &step(58));
        let corner = mean.iter().map(|at| at.distance(Point::new(54.0, 0.0))).fold(f64::INFINITY, f64::min);
        assert!(corner < 0.75, "{corner} mm: {mean:?}");
        assert_eq!((mean[0], mean.last().copied()), (Point::ORIGIN, Some(Point::new(54.0, 60.0))));
    }

    /// The least of all matchings, each of which is a way through the table, on small random lines.
    #[test]
    fn no_matching_is_better() {
        fn least(one: &[Point], other: &[Point], row: usize, column: usize, cost: &dyn Fn(usize, usize) -> f64) -> f64 {
            let own = cost(row, column);
            let steps = [(row + 1, column + 1), (row + 1, column), (row, column + 1)];
            let on = steps.into_iter().filter(|(row, column)| *row < one.len() && *column < other.len());
            let rest = on.map(|(row, column)| least(one, other, row, column, cost)).min_by(f64::total_cmp);
            own + rest.unwrap_or(if row + 1 == one.len() && column + 1 == other.len() { 0.0 } else { f64::INFINITY })
        }
        let mut seed = 5_u32;
        let mut random = || {
            seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            f64::from(seed >> 8) / f64::from(1 << 24)
        };
        for _ in 0..20 {
            let mut line =
                |count: usize| (0..count).map(|x| Point::new(3.0 * x as f64 + random(), 4.0 * random())).collect::<Vec<_>>();
            let (one, other) = (line(6), line(5));
            let way = |line: &[Point], at: usize| {
                TURN_MM * (line[(at + 1).min(line.len() - 1)] - line[at.saturating_sub(1)]).normalize()
            };
            let cost = |row: usize, column: usize| {
                one[row].distance_squared(other[column]) + (way(&one, row) - way(&other, column)).hypot2()
            };
            let found: f64 = matched(&one, &other).into_iter().map(|(row, column)| cost(row, column)).sum();
            let wanted = least(&one, &other, 0, 0, &cost);
            assert!((found - wanted).abs() < 1e-9 * wanted, "{found}, not {wanted}");
        }
    }
}
