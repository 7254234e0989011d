//! Where a ring's label goes: on the free paper beside the fold where the ring meets it, otherwise along the ring.

use super::settle::Label;
use crate::geometry::BurstFold;
use crate::print::{Anchor, Layer, Text};
use kurbo::{Point, Vec2};
use std::f64::consts::{FRAC_PI_2, PI, TAU};

/// A ring to be labelled.
pub(super) struct Ring {
    /// Its radius, mm.
    pub(super) radius_mm: f64,
    /// Free room inside it, mm.
    pub(super) room_mm: f64,
    /// The label.
    pub(super) words: String,
    /// The label where there is no room for the words.
    pub(super) short: String,
    /// How it is drawn.
    pub(super) layer: Layer,
}

/// Tallest label, mm.
const TALLEST_MM: f64 = 3.2;
/// Shortest label that can still be read on a bench, mm.
pub(super) const SHORTEST_MM: f64 = 1.8;
/// Share of the room that a label takes.
const SHARE_OF_ROOM: f64 = 0.6;
/// Space between a ring and its label, mm.
const CLEAR_MM: f64 = 0.8;
/// Directions in which a label is tried along a ring, degrees from the x axis towards y, each moved to the middle of its pleat: one
/// ladder first, then where there is cloth.
const DIRECTIONS_DEG: [f64; 14] = [25.0, -25.0, 50.0, -50.0, 65.0, -65.0, 10.0, -10.0, 80.0, -80.0, 155.0, 205.0, 130.0, 230.0];
/// Directions tried at last, all round.
const STEPS_ROUND: u32 = 120;
/// Directions in which a ring that is labelled at the fold is numbered once more, degrees.
const NUMBERED_DEG: [f64; 3] = [-52.0, -14.0, 33.0];

/// A bind's number in words: "no." keeps it apart from the length beside it and shows which way up a 6 or a 9 is.
pub(super) fn numbered(number: u32) -> String {
    format!("no. {number}")
}

/// Which labels along a line stay, so that no two are nearer than `least_mm`: `first`, then from the far end inward. `places_mm` rise.
pub(super) fn spaced(places_mm: &[f64], first: Option<usize>, least_mm: f64) -> Vec<bool> {
    let mut kept = vec![false; places_mm.len()];
    for index in first.into_iter().chain((0..places_mm.len()).rev()) {
        let apart = |other: usize| other == index || (places_mm[other] - places_mm[index]).abs() >= least_mm;
        if (0..places_mm.len()).filter(|&other| kept[other]).all(apart) {
            kept[index] = true;
        }
    }
    kept
}

/// The labels of a ring that has these stretches of cloth.
pub(super) fn labels_of(fold: &BurstFold, ring: &Ring, stretches_rad: &[(f64, f64)]) -> Vec<Label> {
    let cap_mm = (SHARE_OF_ROOM * ring.room_mm).clamp(SHORTEST_MM, TALLEST_MM);
    let burst = fold.burst();
    let on_the_fold = burst.centring().is_folded() && !burst.is_mirrored_pair();
    // Binds are read below the centre, further arcs above it, so that they stay apart.
    let below = ring.layer != Layer::Arc;
    let at_fold_rad = if below { FRAC_PI_2 } else { -FRAC_PI_2 };
    let meets_fold = stretches_rad.iter().any(|&(from, to)| (from - at_fold_rad).abs() < 1e-6 || (to - at_fold_rad).abs() < 1e-6);
    let along = along_ring(ring, fold, stretches_rad, cap_mm);
    if !(on_the_fold && meets_fold) {
        return vec![Label::new(along)];
    }
    let y_mm = burst.centre_as_laid().y + ring.radius_mm * at_fold_rad.sin();
    // Level with the ring; where a sheet ends there, a little above or below it.
    let aside_mm = if ring.room_mm > 4.0 * cap_mm { 0.5 * cap_mm + CLEAR_MM } else { 0.0 };
    let beside = [0.0, -aside_mm, aside_mm]
        .map(|off_mm| text_of(ring, &ring.words, cap_mm).anchored(Anchor::End).at((-2.0, y_mm + off_mm + 0.5 * cap_mm)));
    let mut labels = vec![Label::new(beside.into_iter().chain(along).collect())];
    // Far from the fold a bind is known by its number, where that fits between two creases; an arc by its dashes.
    let text = text_of(ring, &ring.short, cap_mm);
    let fits_pleat = text.width_mm() <= burst.pleat_angle_rad() * ring.radius_mm;
    for degrees in NUMBERED_DEG.into_iter().filter(|_| fits_pleat && ring.layer != Layer::Arc) {
        let nearby = [0.0, 1.0, -1.0, 2.0, -2.0].map(|pleats| mid_pleat(fold, degrees) + pleats * burst.pleat_angle_rad());
        labels.push(Label::spare(set_along(&text, ring, fold, stretches_rad, &nearby)));
    }
    labels
}

fn text_of(ring: &Ring, words: &str, cap_mm: f64) -> Text {
    let text = Text::new(words, Point::ZERO, cap_mm).anchored(Anchor::Middle);
    if ring.layer == Layer::GuideArc { text.bold() } else { text }
}

trait At {
    fn at(self, position: impl Into<Point>) -> Self;
}

impl At for Text {
    fn at(self, position: impl Into<Point>) -> Self {
        Self { position: position.into(), ..self }
    }
}

/// The direction of the middle of the pleat that holds the given one, rad: no crease runs there.
fn mid_pleat(fold: &BurstFold, degrees: f64) -> f64 {
    let pleat_rad = fold.burst().pleat_angle_rad();
    let from_up_rad = degrees.to_radians() + FRAC_PI_2;
    ((from_up_rad / pleat_rad).floor() + 0.5) * pleat_rad - FRAC_PI_2
}

/// The places of a label along a ring: with its words, with its number only, and at last as small as can be read.
fn along_ring(ring: &Ring, fold: &BurstFold, stretches_rad: &[(f64, f64)], cap_mm: f64) -> Vec<Text> {
    let tried = DIRECTIONS_DEG.iter().map(|&degrees| mid_pleat(fold, degrees));
    let middles = stretches_rad.iter().map(|&(from, to)| 0.5 * (from + to));
    let all_round = (0..STEPS_ROUND).map(|step| TAU * f64::from(step) / f64::from(STEPS_ROUND) - PI);
    let directions: Vec<f64> = tried.chain(middles).chain(all_round).collect();
    let tried = [(&ring.words, cap_mm), (&ring.short, cap_mm), (&ring.short, SHORTEST_MM)];
    let set = tried
        .into_iter()
        .flat_map(|(words, cap_mm)| set_along(&text_of(ring, words, cap_mm), ring, fold, stretches_rad, &directions));
    // A ring that meets a corner of the cloth only: its number stands there and may reach over the edge.
    let longest = stretches_rad.iter().max_by(|a, b| (a.1 - a.0).total_cmp(&(b.1 - b.0)));
    let over_edge = |&(from, to): &(f64, f64)| turned(text_of(ring, &ring.short, SHORTEST_MM), ring, fold, 0.5 * (from + to));
    set.chain(longest.map(over_edge)).collect()
}

/// Sets words just inside a ring, in each of the directions in which there is cloth for all of them.
fn set_along(text: &Text, ring: &Ring, fold: &BurstFold, stretches_rad: &[(f64, f64)], directions_rad: &[f64]) -> Vec<Text> {
    let half_rad = half_mm(text) / ring.radius_mm;
    // Longer words would leave a small ring visibly.
    if half_rad >= 0.6 {
        return Vec::new();
    }
    let free = directions_rad.iter().filter(|&&direction| is_on_cloth(stretches_rad, half_rad, direction));
    free.map(|&direction| turned(text.clone(), ring, fold, direction)).collect()
}

/// Half the length of ring that words take, mm.
fn half_mm(text: &Text) -> f64 {
    0.5 * text.width_mm() + CLEAR_MM
}

/// Words just inside a ring in one direction; heads up, as far as a ring allows: turned by a quarter at most.
fn turned(text: Text, ring: &Ring, fold: &BurstFold, direction: f64) -> Text {
    // The words' outer corners keep clear of the ring.
    let reach_mm = ((ring.radius_mm - CLEAR_MM).powi(2) - half_mm(&text).powi(2)).max(0.0).sqrt();
    let upper = direction.sin() < 0.0;
    let (baseline_mm, turn_rad) =
        if upper { (reach_mm - text.cap_height_mm, direction + FRAC_PI_2) } else { (reach_mm, direction - FRAC_PI_2) };
    let position = fold.burst().centre_as_laid() + baseline_mm * Vec2::from_angle(direction);
    // To the turn within half a circle: adding whole turns changes nothing on paper.
    let turn_rad = (turn_rad + PI).rem_euclid(TAU) - PI;
    text.at(position).rotated(turn_rad)
}

fn is_on_cloth(stretches_rad: &[(f64, f64)], half_rad: f64, direction_rad: f64) -> bool {
    [direction_rad, direction_rad + TAU, direction_rad - TAU]
        .into_iter()
        .any(|angle| stretches_rad.iter().any(|&(from, to)| from <= angle - half_rad && angle + half_rad <= to))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn crowded_labels_give_way_to_the_guide_arc_and_to_outer_ones() {
        assert_eq!(spaced(&[10.0, 11.0, 12.0, 13.0, 20.0], Some(1), 2.0), [false, true, false, true, true]);
        assert_eq!(spaced(&[10.0, 11.0, 12.0], None, 2.0), [true, false, true]);
        assert_eq!(spaced(&[], None, 2.0), Vec::<bool>::new());
    }
}
