//! Paper tags with the binds' numbers: every one is read, however near the rings lie.

use super::paint::{Brush, Marked};
use super::scene::{Ring, Scene};
use egui::{Align2, CornerRadius, FontId, Pos2, Rect, Stroke, StrokeKind, Vec2, vec2};
use kurbo::Point;
use std::ops::RangeInclusive;

/// From the middle of a tag to that of the next, points.
const APART: f32 = 15.0;
/// From a ring to its tag, points: beside the fold, and beside the ray where the garment lies open.
const BESIDE_FOLD: f32 = 7.0;
const BESIDE_RAY: f32 = 26.0;
/// Which way the tags of an open garment go from the burst centre, radians from the horizontal: down and to the right.
const RAY: f64 = 0.9;
/// How far a ring's place may lie beside the ray to be tagged along it, as a cosine.
const ON_RAY: f64 = 0.999;

/// A ring that is to have a tag.
struct Tagged<'a> {
    ring: &'a Ring,
    number: u32,
    /// Where it is tied to the ring, on the screen.
    at: Pos2,
}

impl Brush<'_> {
    /// The tags: beside the fold where the garment lies folded, along a ray where it does not. Where rings lie too near, tags are moved
    /// apart and led to their rings; where the screen can't hold all, those of some rings are left to the pointer.
    pub(super) fn tags(&self, scene: &Scene, marked: Marked) {
        let Some(&centre) = scene.centres.first() else { return };
        let rings = scene.rings.iter().filter_map(|ring| Some((ring, ring.number?, tag_place(ring, centre, scene)?)));
        let is_on_line = |place: Point| if scene.folded { place.x.abs() < 1e-6 } else { toward(place, centre) > ON_RAY };
        let (in_line, elsewhere): (Vec<_>, Vec<_>) = rings.partition(|(.., place)| is_on_line(*place));
        for (ring, number, place) in elsewhere {
            self.tag(self.at(place), Align2::CENTER_CENTER, ring, number, marked);
        }
        let (along, aside) = if scene.folded { (vec2(0.0, 1.0), vec2(-BESIDE_FOLD, 0.0)) } else { self.ray() };
        let tagged = in_line.into_iter().map(|(ring, number, place)| Tagged { ring, number, at: self.at(place) });
        let mut shown: Vec<Tagged<'_>> = tagged.filter(|tagged| self.area.contains(tagged.at)).collect();
        shown.sort_by(|a, b| a.at.to_vec2().dot(along).total_cmp(&b.at.to_vec2().dot(along)));
        let room = self.room(along, shown.first().map_or(Pos2::ZERO, |tagged| tagged.at));
        self.thin_out(&mut shown, &room, marked);
        let wanted: Vec<f32> = shown.iter().map(|tagged| tagged.at.to_vec2().dot(along)).collect();
        let anchor = if scene.folded { Align2::RIGHT_CENTER } else { Align2::CENTER_CENTER };
        for (tagged, to) in shown.iter().zip(spread(&wanted, APART, &room)) {
            let moved = to - tagged.at.to_vec2().dot(along);
            let at = tagged.at + along * moved + aside;
            if moved.abs() > 0.5 || !scene.folded {
                self.painter.line_segment([tagged.at, at], Stroke::new(1.0, self.palette.chalk));
            }
            self.tag(at, anchor, tagged.ring, tagged.number, marked);
        }
    }

    /// The ray of an open garment's tags on the screen, and which way tags lie beside it.
    fn ray(&self) -> (Vec2, Vec2) {
        let at = |p: Point| self.at(p).to_vec2();
        let out = kurbo::Vec2::from_angle(RAY);
        let along = (at(Point::new(out.x, out.y)) - at(Point::ZERO)).normalized();
        (along, BESIDE_RAY * vec2(-along.y, along.x))
    }

    /// The stretch of the line through a point that lies on the screen, along it.
    fn room(&self, along: Vec2, through: Pos2) -> RangeInclusive<f32> {
        let within: Rect = self.area.shrink(APART);
        let from = through.to_vec2().dot(along);
        let until = |low: f32, high: f32, at: f32, slope: f32| {
            let ends = [(low - at) / slope, (high - at) / slope];
            if slope.abs() < 1e-3 { [f32::NEG_INFINITY, f32::INFINITY] } else { [ends[0].min(ends[1]), ends[0].max(ends[1])] }
        };
        let [left, right] = until(within.left(), within.right(), through.x, along.x);
        let [above, below] = until(within.top(), within.bottom(), through.y, along.y);
        from + left.max(above).min(0.0)..=from + right.min(below).max(0.0)
    }

    /// Leaves out tags, evenly, until the rest has room; those that are handled and that of the guide arc stay.
    fn thin_out(&self, tagged: &mut Vec<Tagged<'_>>, room: &RangeInclusive<f32>, marked: Marked) {
        let most = ((room.end() - room.start()) / APART).max(1.0);
        let all = f32::from(u16::try_from(tagged.len()).unwrap_or(u16::MAX));
        let every = (1..).find(|&every| all <= most * f32::from(every)).unwrap_or(u16::MAX);
        tagged.retain(|tagged| {
            tagged.ring.guide || tagged.number.is_multiple_of(u32::from(every)) || is_marked(marked, tagged.ring)
        });
    }

    fn tag(&self, at: Pos2, anchor: Align2, ring: &Ring, number: u32, marked: Marked) {
        let [paper, ink] = self.palette.tag;
        let font = FontId::proportional(if ring.guide { 14.0 } else { 12.5 });
        let galley = self.painter.layout_no_wrap(number.to_string(), font, ink);
        let rect = anchor.anchor_size(at, vec2(galley.size().x + 9.0, APART - 1.5));
        let is_marked = is_marked(marked, ring);
        let edge = if is_marked { Stroke::new(2.0, self.palette.accent) } else { Stroke::new(1.0, ink.gamma_multiply(0.5)) };
        self.painter.rect(rect, CornerRadius::same(2), paper, edge, StrokeKind::Outside);
        self.painter.galley(rect.center() - 0.5 * galley.size(), galley, ink);
    }
}

fn is_marked(marked: Marked, ring: &Ring) -> bool {
    [marked.selected, marked.hovered].into_iter().flatten().any(|handle| handle.is_ring(ring))
}

/// Where a ring's tag is tied: where it meets the fold below the centre, else at its place that lies best toward the ray.
fn tag_place(ring: &Ring, centre: Point, scene: &Scene) -> Option<Point> {
    let points = || ring.stretches.iter().flatten().copied();
    if scene.folded {
        let at_fold = points().find(|p| p.x.abs() < 1e-6 && p.y > centre.y);
        if at_fold.is_some() {
            return at_fold;
        }
    }
    points().max_by(|a, b| toward(*a, centre).total_cmp(&toward(*b, centre)))
}

/// How well a point lies on the ray from the centre, as a cosine.
fn toward(p: Point, centre: Point) -> f64 {
    let from_centre = p - centre;
    from_centre.dot(kurbo::Vec2::from_angle(RAY)) / from_centre.hypot().max(1e-9)
}

/// Places in order, at least `apart` from each other and within `room` as far as it holds them, so that the squares of what each is moved
/// by add up to the least: isotonic regression by pooling adjacent violators (Barlow and others, Statistical Inference under Order
/// Restrictions, 1972; from memory) of the places less what the ones before take.
fn spread(wanted: &[f32], apart: f32, room: &RangeInclusive<f32>) -> Vec<f32> {
    // Each pool: its mean place, and how many are in it.
    let mut pools: Vec<(f32, f32)> = Vec::new();
    let mut before = 0.0;
    for place in wanted {
        let mut pool = (place - before, 1.0);
        while let Some((mean, count)) = pools.pop_if(|(mean, _)| *mean > pool.0) {
            let all = count + pool.1;
            pool = ((mean * count + pool.0 * pool.1) / all, all);
        }
        pools.push(pool);
        before += apart;
    }
    let last = room.end() - (before - apart).max(0.0);
    let mut pools = pools.into_iter();
    let (mut mean, mut left) = (0.0, 0.0);
    let mut before = 0.0;
    let places = wanted.iter().map(|_| {
        if left < 0.5 {
            (mean, left) = pools.next().unwrap_or_default();
        }
        left -= 1.0;
        let place = mean.min(last).max(*room.start()) + before;
        before += apart;
        place
    });
    places.collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_that_are_apart_stay() {
        assert_eq!(spread(&[10.0, 30.0, 50.0], 15.0, &(0.0..=100.0)), [10.0, 30.0, 50.0]);
        assert!(spread(&[], 15.0, &(0.0..=100.0)).is_empty());
    }

    /// Two that are too near part about their middle; with a wall beside them they give way to the other side.
    #[test]
    fn near_places_part_evenly_and_within_the_room() {
        assert_eq!(spread(&[20.0, 24.0], 10.0, &(0.0..=100.0)), [17.0, 27.0]);
        assert_eq!(spread(&[1.0, 2.0], 10.0, &(0.0..=100.0)), [0.0, 10.0]);
        assert_eq!(spread(&[98.0, 99.0], 10.0, &(0.0..=100.0)), [90.0, 100.0]);
    }

    /// Nothing on a grid does better.
    #[test]
    fn no_other_places_are_nearer_to_those_wanted() {
        let (wanted, apart, room) = ([3.0_f32, 5.0, 6.0, 20.0], 4.0, 0.0..=24.0);
        let cost = |places: &[f32]| places.iter().zip(wanted).map(|(place, wanted)| (place - wanted).powi(2)).sum::<f32>();
        let best = cost(&spread(&wanted, apart, &room));
        let steps: Vec<f32> = (0..=48_u8).map(|step| f32::from(step) * 0.5).collect();
        let mut tried = 0;
        for &a in &steps {
            for &b in steps.iter().filter(|b| **b >= a + apart) {
                for &c in steps.iter().filter(|c| **c >= b + apart) {
                    for &d in steps.iter().filter(|d| **d >= c + apart) {
                        tried += 1;
                        assert!(best <= cost(&[a, b, c, d]) + 1e-4);
                    }
                }
            }
        }
        assert!(tried > 1000);
    }
}
