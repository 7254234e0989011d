//! Where the label of a line across the bundle goes: on the free paper beside the garment's fold where the line meets it, otherwise
//! along the line.

use super::settle::Label;
use crate::geometry::{BundlePoint, ClothPoint, Fold, Panel, Stretch};
use crate::print::{Anchor, Layer, Text};
use kurbo::{Line, Point, Vec2};
use std::f64::consts::{FRAC_PI_2, PI, TAU};

/// A line to be labelled.
pub(super) struct Labelled<'a> {
    /// Where it runs on the laid cloth.
    pub(super) stretches: &'a [Stretch],
    /// Where along the bundle it runs, mm.
    pub(super) along_mm: f64,
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

/// The labels of a line.
pub(super) fn labels_of(fold: &dyn Fold, line: &Labelled<'_>) -> Vec<Label> {
    let cap_mm = (SHARE_OF_ROOM * line.room_mm).clamp(SHORTEST_MM, TALLEST_MM);
    let runs = Run::all(line.stretches);
    let along = along_line(line, fold, &runs, cap_mm);
    // Binds are read where the way outward leads down, reference lines where it leads up, so that they stay apart.
    let below = line.layer != Layer::Reference;
    let at_fold = line.stretches.iter().find_map(|stretch| meets_fold_mm(stretch, below));
    let Some(y_mm) = at_fold.filter(|_| fold.lay().is_folded()) else { return vec![Label::new(along)] };
    // Level with the line; where a sheet ends there, a little above or below it.
    let aside_mm = if line.room_mm > 4.0 * cap_mm { 0.5 * cap_mm + CLEAR_MM } else { 0.0 };
    let beside = [0.0, -aside_mm, aside_mm]
        .map(|off_mm| text_of(line, &line.words, cap_mm).anchored(Anchor::End).at((-2.0, y_mm + off_mm + 0.5 * cap_mm)));
    let mut labels = vec![Label::new(beside.into_iter().chain(along).collect())];
    // Far from the fold a bind is known by its number, where that fits between two creases; a reference line by its dashes.
    let text = text_of(line, &line.short, cap_mm);
    let width_mm = fold.width_mm(line.along_mm);
    let fits_pleat = text.width_mm() <= width_mm;
    let half_mm = half_mm(&text);
    for degrees in NUMBERED_DEG.into_iter().filter(|_| fits_pleat && line.layer != Layer::Reference) {
        let numbered = runs.iter().flat_map(|run| run.near(fold, degrees, width_mm).into_iter().map(move |place| (run, place)));
        labels.push(Label::spare(numbered.filter_map(|(run, place)| run.set((&text, half_mm), fold, place)).collect()));
    }
    labels
}

/// Where a line meets the garment's own fold squarely, on the side where the way outward leads down or up: the height there, mm.
fn meets_fold_mm(stretch: &Stretch, outward_down: bool) -> Option<f64> {
    let Stretch::Arc(arc) = stretch else { return None };
    let at_rad = if outward_down { FRAC_PI_2 } else { -FRAC_PI_2 };
    let is_there = |end_rad: f64| (end_rad - at_rad).abs() < SQUARE_RAD;
    let on_the_fold = arc.centre.x.abs() < SQUARE_RAD && (is_there(arc.from_rad) || is_there(arc.to_rad));
    on_the_fold.then(|| arc.centre.y + arc.radius_mm * at_rad.sin())
}

/// What is no more turned than this meets the fold squarely, rad.
const SQUARE_RAD: f64 = 1e-6;

fn text_of(line: &Labelled<'_>, words: &str, cap_mm: f64) -> Text {
    let text = Text::new(words, Point::ZERO, cap_mm).anchored(Anchor::Middle);
    if line.layer == Layer::Guide { text.bold() } else { text }
}

trait At {
    fn at(self, position: impl Into<Point>) -> Self;
}

impl At for Text {
    fn at(self, position: impl Into<Point>) -> Self {
        Self { position: position.into(), ..self }
    }
}

/// Stretches of one circle, or a straight one: what a label is set along.
enum Run {
    Round { centre: Point, radius_mm: f64, stretches_rad: Vec<(f64, f64)> },
    Straight(Line),
}

impl Run {
    fn all(stretches: &[Stretch]) -> Vec<Self> {
        let mut runs: Vec<Self> = Vec::new();
        for stretch in stretches {
            match stretch {
                Stretch::Straight(line) => runs.push(Self::Straight(*line)),
                Stretch::Arc(arc) => {
                    let known = runs.iter_mut().find_map(|run| match run {
                        Self::Round { centre, radius_mm, stretches_rad }
                            if *centre == arc.centre && *radius_mm == arc.radius_mm =>
                        {
                            Some(stretches_rad)
                        }
                        _ => None,
                    });
                    let (centre, radius_mm, ends) = (arc.centre, arc.radius_mm, (arc.from_rad, arc.to_rad));
                    match known {
                        Some(stretches_rad) => stretches_rad.push(ends),
                        None => runs.push(Self::Round { centre, radius_mm, stretches_rad: vec![ends] }),
                    }
                }
            }
        }
        runs
    }

    /// Places to try along it, the best first: directions from a circle's centre, rad, or distances along a straight line, mm.
    fn places(&self, fold: &dyn Fold) -> Vec<f64> {
        match self {
            Self::Round { stretches_rad, .. } => {
                let tried = DIRECTIONS_DEG.iter().map(|degrees| self.mid_pleat_rad(fold, degrees.to_radians()));
                let middles = stretches_rad.iter().map(|&(from, to)| 0.5 * (from + to));
                let all_round = (0..STEPS_ROUND).map(|step| TAU * f64::from(step) / f64::from(STEPS_ROUND) - PI);
                tried.chain(middles).chain(all_round).collect()
            }
            Self::Straight(line) => {
                let length_mm = (line.p1 - line.p0).hypot();
                (1..2 * SHARES)
                    .map(|step| length_mm * (0.5 + f64::from(step / 2) * SIDES[step as usize % 2] / f64::from(2 * SHARES)))
                    .collect()
            }
        }
    }

    /// Places about a direction and in the pleats beside it; along a straight line about its middle.
    fn near(&self, fold: &dyn Fold, degrees: f64, width_mm: f64) -> [f64; 5] {
        let (middle, pleat) = match self {
            Self::Round { radius_mm, .. } => (self.mid_pleat_rad(fold, degrees.to_radians()), width_mm / radius_mm),
            Self::Straight(line) => (0.5 * (line.p1 - line.p0).hypot(), width_mm),
        };
        [0.0, 1.0, -1.0, 2.0, -2.0].map(|pleats| middle + pleats * pleat)
    }

    /// The direction of the middle of the pleat that holds the given one, rad: no crease runs there. A direction in which the laid
    /// garment has no cloth is itself.
    fn mid_pleat_rad(&self, fold: &dyn Fold, direction_rad: f64) -> f64 {
        let Self::Round { centre, radius_mm, .. } = self else { return direction_rad };
        let point = *centre + *radius_mm * Vec2::from_angle(direction_rad);
        if fold.lay().is_folded() && point.x < 0.0 {
            return direction_rad;
        }
        let cloth = ClothPoint { panel: Panel::Front, x_mm: point.x, y_mm: point.y };
        let middle = fold.to_bundle(cloth).and_then(|there| fold.to_cloth(BundlePoint { across: 0.5, ..there }));
        middle.map_or(direction_rad, |middle| (fold.lay().as_laid(middle) - *centre).atan2())
    }

    /// Words, with what they take to either side, just inside it at a place, where there is cloth for all of them.
    fn set(&self, (text, half_mm): (&Text, f64), fold: &dyn Fold, place: f64) -> Option<Text> {
        match self {
            Self::Round { radius_mm, stretches_rad, .. } => {
                let half_rad = half_mm / radius_mm;
                // Longer words would leave a small circle visibly.
                let fits = half_rad < 0.6 && is_on_cloth(stretches_rad, half_rad, place);
                fits.then(|| self.turned(text.clone(), fold, place))
            }
            Self::Straight(line) => {
                let length_mm = (line.p1 - line.p0).hypot();
                (half_mm..=length_mm - half_mm).contains(&place).then(|| self.turned(text.clone(), fold, place))
            }
        }
    }

    /// Words just inside it; heads up as far as it allows: turned by a quarter at most.
    fn turned(&self, text: Text, fold: &dyn Fold, place: f64) -> Text {
        match self {
            Self::Round { centre, radius_mm, .. } => {
                // The words' outer corners keep clear of the circle.
                let reach_mm = ((radius_mm - CLEAR_MM).powi(2) - half_mm(&text).powi(2)).max(0.0).sqrt();
                let upper = place.sin() < 0.0;
                let (baseline_mm, turn_rad) =
                    if upper { (reach_mm - text.cap_height_mm, place + FRAC_PI_2) } else { (reach_mm, place - FRAC_PI_2) };
                text.at(*centre + baseline_mm * Vec2::from_angle(place)).rotated(within_half_a_turn(turn_rad))
            }
            Self::Straight(line) => {
                let way = (line.p1 - line.p0).normalize();
                let at = line.p0 + place * way;
                // Reading from left to right.
                let reading = if way.x < 0.0 { -way } else { way };
                let up = Vec2::new(reading.y, -reading.x);
                let inside_is_up = fold.along_as_laid_mm(at + up) < fold.along_as_laid_mm(at - up);
                let lift_mm = if inside_is_up { CLEAR_MM } else { -CLEAR_MM - text.cap_height_mm };
                text.at(at + lift_mm * up).rotated(reading.atan2())
            }
        }
    }
}

/// Places along a straight line at which a label is tried, to either side of its middle.
const SHARES: u32 = 12;
const SIDES: [f64; 2] = [1.0, -1.0];

/// The places of a label along a line: with its words, with its number only, and at last as small as can be read.
fn along_line(line: &Labelled<'_>, fold: &dyn Fold, runs: &[Run], cap_mm: f64) -> Vec<Text> {
    // On a run shorter than the shortest label nothing can stand.
    let least_mm = 2.0 * half_mm(&text_of(line, &line.short, SHORTEST_MM));
    let places: Vec<(&Run, f64)> = runs
        .iter()
        .filter(|run| run.longest_mm() >= least_mm)
        .flat_map(|run| run.places(fold).into_iter().map(move |place| (run, place)))
        .collect();
    let tried = [(&line.words, cap_mm), (&line.short, cap_mm), (&line.short, SHORTEST_MM)];
    let set = tried.into_iter().flat_map(|(words, cap_mm)| {
        let text = text_of(line, words, cap_mm);
        // Of hundreds of places few hold it: it is measured once.
        let half_mm = half_mm(&text);
        places.iter().filter_map(move |&(run, place)| run.set((&text, half_mm), fold, place)).collect::<Vec<_>>()
    });
    // A line that meets a corner of the cloth only: its number stands there and may reach over the edge.
    let over_edge = |run: &Run| {
        let middle = run.longest_middle()?;
        Some(run.turned(text_of(line, &line.short, SHORTEST_MM), fold, middle))
    };
    set.chain(runs.first().and_then(over_edge)).collect()
}

impl Run {
    /// Length of its longest stretch, mm.
    fn longest_mm(&self) -> f64 {
        match self {
            Self::Round { radius_mm, stretches_rad, .. } => {
                let longest_rad = stretches_rad.iter().map(|(from, to)| to - from).fold(0.0, f64::max);
                longest_rad * radius_mm
            }
            Self::Straight(line) => (line.p1 - line.p0).hypot(),
        }
    }

    /// The middle of its longest stretch, as a place.
    fn longest_middle(&self) -> Option<f64> {
        match self {
            Self::Round { stretches_rad, .. } => {
                let longest = stretches_rad.iter().max_by(|a, b| (a.1 - a.0).total_cmp(&(b.1 - b.0)))?;
                Some(0.5 * (longest.0 + longest.1))
            }
            Self::Straight(line) => Some(0.5 * (line.p1 - line.p0).hypot()),
        }
    }
}

/// Half the length of line that words take, mm.
fn half_mm(text: &Text) -> f64 {
    0.5 * text.width_mm() + CLEAR_MM
}

/// The same turn within half a circle: adding whole turns changes nothing on paper.
fn within_half_a_turn(turn_rad: f64) -> f64 {
    (turn_rad + PI).rem_euclid(TAU) - PI
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
