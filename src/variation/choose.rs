//! Choosing few that differ out of many.

/// Picks one after the other what lies farthest from the nearest that is there already, of what still `fits` beside it, until there are
/// `most` or the next would lie nearer than `least`. `nearest` says of each how far it lies from what is there before anything is picked;
/// what is picked is `0` from itself.
///
/// Source: T. F. Gonzalez, Clustering to minimize the maximum intercluster distance, 1985 (from memory): where all fits, nothing that is left
/// out lies farther from what is picked than twice what the best choice of as many could reach.
pub(super) fn farthest_first(
    mut nearest: Vec<f64>,
    apart: impl Fn(usize, usize) -> f64,
    fits: impl Fn(&[usize], usize) -> bool,
    most: usize,
    least: f64,
) -> Vec<usize> {
    let mut picked = Vec::new();
    while picked.len() < most {
        let fitting = nearest.iter().enumerate().filter(|(at, _)| fits(&picked, *at));
        let farthest = fitting.max_by(|(_, one), (_, other)| one.total_cmp(other));
        let Some((next, _)) = farthest.filter(|(_, distance)| **distance >= least) else { break };
        picked.push(next);
        for (other, distance) in nearest.iter_mut().enumerate() {
            *distance = if other == next { 0.0 } else { distance.min(apart(next, other)) };
        }
    }
    picked
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn the_farthest_come_first_and_the_near_stay_out() {
        let places = [0.5_f64, 9.0, 4.0, 9.2, -1.0];
        let nearest: Vec<f64> = places.iter().map(|place| place.abs()).collect();
        let apart = |one: usize, other: usize| (places[one] - places[other]).abs();
        assert_eq!(
            farthest_first(nearest.clone(), apart, |_, _| true, 12, 1.0),
            [3, 2, 4],
            "0.5 lies near the start, 9.0 near 9.2"
        );
        assert_eq!(farthest_first(nearest.clone(), apart, |_, _| true, 1, 1.0), [3]);
        let not_with_2 = |picked: &[usize], next: usize| next != 3 && !(next == 4 && picked.contains(&2));
        assert_eq!(farthest_first(nearest, apart, not_with_2, 12, 1.0), [1, 2]);
        assert_eq!(farthest_first(vec![0.2], |_, _| 0.0, |_, _| true, 3, 1.0), [0_usize; 0]);
    }

    proptest! {
        #![proptest_config(ProptestConfig { rng_seed: proptest::test_runner::RngSeed::Fixed(1985), ..ProptestConfig::with_cases(200) })]

        /// Gonzalez's bound, against every choice there is: with the start and three more as centres.
        #[test]
        fn never_worse_than_twice_the_best(places in prop::collection::vec((-10.0_f64..10.0, -10.0_f64..10.0), 4..9)) {
            let distance = |one: (f64, f64), other: (f64, f64)| (one.0 - other.0).hypot(one.1 - other.1);
            let cost = |picked: &[usize]| {
                let to = |place: &(f64, f64)| picked.iter().map(|&at| distance(*place, places[at])).fold(distance(*place, (0.0, 0.0)), f64::min);
                places.iter().map(to).fold(0.0, f64::max)
            };
            let nearest = places.iter().map(|&place| distance(place, (0.0, 0.0))).collect();
            let picked = farthest_first(nearest, |one, other| distance(places[one], places[other]), |_, _| true, 3, 0.0);
            let all = 0..places.len();
            let mut best = f64::INFINITY;
            for one in all.clone() {
                for other in one + 1..places.len() {
                    for third in other + 1..places.len() {
                        best = best.min(cost(&[one, other, third]));
                    }
                }
            }
            prop_assert!(cost(&picked) <= 2.0 * best + 1e-9, "{} against {best}", cost(&picked));
        }
    }
}
