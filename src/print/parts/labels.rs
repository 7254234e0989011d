//! Where a ring's label goes: on the free paper beside the fold where the ring meets it, otherwise along the ring.

use crate::geometry::BurstFold;
use crate::print::{Anchor, Drawing, Layer, Text};
use kurbo::{Point, Vec2};
use std::f64::consts::{FRAC_PI_2, TAU};

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
const SHORTEST_MM: f64 = 1.8;
/// Share of the room that a label takes.
const SHARE_OF_ROOM: f64 = 0.6;
/// Space between a ring and its label, mm.
const CLEAR_MM: f64 = 0.8;
/// Directions in which a label is tried along a ring, degrees from the x axis towards y: one ladder first, then where there is
/// cloth.
const DIRECTIONS_DEG: [f64; 14] = [25.0, -25.0, 50.0, -50.0, 65.0, -65.0, 10.0, -10.0, 80.0, -80.0, 155.0, 205.0, 130.0, 230.0];

pub(super) fn add_label(drawing: &mut Drawing, fold: &BurstFold, ring: &Ring, stretches_rad: &[(f64, f64)]) {
    let cap_mm = (SHARE_OF_ROOM * ring.room_mm).clamp(SHORTEST_MM, TALLEST_MM);
    let burst = fold.burst();
    let centre = burst.centre_as_laid();
    let on_the_fold = burst.centring().is_folded() && !burst.is_mirrored_pair();
    // Binds are read below the centre, further arcs above it, so that they stay apart.
    let below = ring.layer != Layer::Arc;
    let at_fold_rad = if below { FRAC_PI_2 } else { -FRAC_PI_2 };
    let meets_fold = stretches_rad.iter().any(|&(from, to)| (from - at_fold_rad).abs() < 1e-6 || (to - at_fold_rad).abs() < 1e-6);
    let mut texts = Vec::new();
    if on_the_fold && meets_fold {
        let y_mm = centre.y + ring.radius_mm * at_fold_rad.sin();
        texts.push(beside_fold(ring, y_mm, cap_mm));
        // Far from the fold a ring is known by its number.
        texts.extend(NUMBERED_DEG.iter().filter_map(|degrees| {
            let text = Text::new(ring.short.as_str(), Point::ZERO, cap_mm).anchored(Anchor::Middle);
            set_along(text, ring, centre, stretches_rad, &[degrees.to_radians()])
        }));
    } else {
        texts.extend(along_ring(ring, centre, stretches_rad, cap_mm));
    }
    for text in texts {
        drawing.text(if ring.layer == Layer::GuideArc { text.bold() } else { text });
    }
}

/// Directions in which a ring that is labelled at the fold is numbered once more, degrees.
const NUMBERED_DEG: [f64; 3] = [-52.0, -14.0, 33.0];

fn beside_fold(ring: &Ring, y_mm: f64, cap_mm: f64) -> Text {
    Text::new(ring.words.as_str(), (-2.0, y_mm + 0.5 * cap_mm), cap_mm).anchored(Anchor::End)
}

fn along_ring(ring: &Ring, centre: Point, stretches_rad: &[(f64, f64)], cap_mm: f64) -> Option<Text> {
    let tried = DIRECTIONS_DEG.iter().map(|degrees| degrees.to_radians());
    let middles = stretches_rad.iter().map(|&(from, to)| 0.5 * (from + to));
    let directions: Vec<f64> = tried.chain(middles).collect();
    [&ring.words, &ring.short].into_iter().find_map(|words| {
        let text = Text::new(words.as_str(), Point::ZERO, cap_mm).anchored(Anchor::Middle);
        set_along(text, ring, centre, stretches_rad, &directions)
    })
}

/// Sets words just inside a ring, in the first of the directions in which there is cloth for all of them.
fn set_along(text: Text, ring: &Ring, centre: Point, stretches_rad: &[(f64, f64)], directions_rad: &[f64]) -> Option<Text> {
    let half_rad = (0.5 * text.width_mm() + CLEAR_MM) / ring.radius_mm;
    // Longer words would leave a small ring visibly.
    let fits = half_rad < 0.6;
    let direction = fits.then(|| free_direction(stretches_rad, half_rad, directions_rad)).flatten()?;
    let position = centre + (ring.radius_mm - CLEAR_MM - sagitta(half_rad, ring.radius_mm)) * Vec2::from_angle(direction);
    Some(Text { position, ..text }.rotated(upright(direction)))
}

/// How far a chord dips under its arc.
fn sagitta(half_rad: f64, radius_mm: f64) -> f64 {
    radius_mm * (1.0 - half_rad.cos())
}

/// A turn along the ring in which words on it have their heads toward the centre and their feet on the ring.
fn upright(direction_rad: f64) -> f64 {
    direction_rad - FRAC_PI_2
}

fn free_direction(stretches_rad: &[(f64, f64)], half_rad: f64, directions_rad: &[f64]) -> Option<f64> {
    directions_rad.iter().copied().find(|&direction| {
        [direction, direction + TAU, direction - TAU]
            .into_iter()
            .any(|angle| stretches_rad.iter().any(|&(from, to)| from <= angle - half_rad && angle + half_rad <= to))
    })
}
