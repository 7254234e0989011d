//! Paper tags with the binds' numbers: every one is read, however near the rings lie.

use super::paint::{Brush, Marked};
use super::scene::{Ring, Scene};
use egui::{Align2, CornerRadius, FontId, Pos2, Rect, Stroke, StrokeKind, Vec2, pos2, vec2};
use kurbo::Point;
use std::f64::consts::PI;
use std::ops::RangeInclusive;

/// From the middle of a tag to that of the next, points.
const APART: f32 = 15.0;
/// From the fold to the tags beside it, points.
const BESIDE_FOLD: f32 = 7.0;
/// Which ways the tags of an open garment go from the burst centre, in turn, radians clockwise from the right: neighbouring rings have
/// theirs on different rays, so that each lies on its own ring.
const RAYS: [f64; 4] = [0.9, PI - 0.9, PI + 0.9, -0.9];
/// How far a ring's place may lie beside the ray to be tagged there, as a cosine.
const ON_RAY: f64 = 0.97;

/// Room for a tag of two figures, points.
const TAG: Vec2 = vec2(24.0, 14.0);

/// A ring that is to have a tag.
struct Tagged<'a> {
    ring: &'a Ring,
    number: u32,
    /// Where it is tied to the ring, on the screen.
    at: Pos2,
}

impl Brush<'_> {
    /// The tags: beside the fold where the garment lies folded, on the rings where it does not. Where the screen can't hold all, those
    /// of some rings are left to the pointer. Where each lies, with its number.
    pub(super) fn tags(&self, scene: &Scene, marked: Marked) -> Vec<(Rect, u32)> {
        if !scene.tagged {
            return Vec::new();
        }
        let centre = scene.centres.first().copied().unwrap_or_else(|| scene.bounds.center());
        let mut on_cloth = Vec::new();
        let mut at_fold = Vec::new();
        for ring in &scene.rings {
            let Some(number) = ring.number else { continue };
            match ring_at_fold(ring, scene.tags_below_mm).filter(|_| scene.folded).map(|place| self.at(place)) {
                Some(at) if self.area.contains(at) => at_fold.push(Tagged { ring, number, at }),
                Some(_) => {}
                None => on_cloth.push((ring, number)),
            }
        }
        let mut painted = self.beside_fold(at_fold, marked);
        let mut taken: Vec<Rect> = Vec::new();
        for (ring, number) in on_cloth.into_iter().rev() {
            painted.extend(self.on_ring(ring, number, centre, marked, &mut taken));
        }
        painted
    }

    /// Tags in a column beside the fold, moved apart where rings lie too near, and led to their rings.
    fn beside_fold(&self, mut tagged: Vec<Tagged<'_>>, marked: Marked) -> Vec<(Rect, u32)> {
        let room = self.area.top() + APART..=self.area.bottom() - APART;
        tagged.sort_by(|a, b| a.at.y.total_cmp(&b.at.y));
        thin_out(&mut tagged, ((room.end() - room.start()) / APART).max(1.0), marked);
        let wanted: Vec<f32> = tagged.iter().map(|tagged| tagged.at.y).collect();
        let paint = |(tagged, y): (&Tagged<'_>, f32)| {
            let at = pos2(tagged.at.x - BESIDE_FOLD, y);
            if (y - tagged.at.y).abs() > 0.5 {
                self.painter.line_segment([tagged.at, at], Stroke::new(1.0, self.palette.chalk));
            }
            self.tag(at, Align2::RIGHT_CENTER, tagged.ring, tagged.number, marked)
        };
        tagged.iter().zip(spread(&wanted, APART, &room)).map(paint).collect()
    }

    /// A tag on its ring: on the ray whose turn it is, else on the next where cloth and room are.
    fn on_ring(&self, ring: &Ring, number: u32, centre: Point, marked: Marked, taken: &mut Vec<Rect>) -> Option<(Rect, u32)> {
        let points = || ring.stretches.iter().flatten().copied();
        let turn = RAYS.into_iter().cycle().skip(number as usize % RAYS.len()).take(RAYS.len());
        let places = turn
            .filter_map(|ray| points().max_by(|a, b| toward(*a, centre, ray).total_cmp(&toward(*b, centre, ray))).zip(Some(ray)));
        let places: Vec<(Point, bool)> = places.map(|(place, ray)| (place, toward(place, centre, ray) > ON_RAY)).collect();
        let free = |place: &Point| {
            let rect = Rect::from_center_size(self.at(*place), TAG);
            (!taken.iter().any(|other| other.intersects(rect))).then_some(rect)
        };
        let on_rays = places.iter().filter(|(_, on_ray)| *on_ray).chain(&places).map(|(place, _)| *place);
        let found = on_rays.clone().find_map(|place| Some((place, free(&place)?)));
        let must = is_marked(marked, ring) || ring.guide;
        let place = found
            .map(|(place, rect)| {
                taken.push(rect);
                place
            })
            .or_else(|| on_rays.clone().next().filter(|_| must));
        place.map(|place| self.tag(self.at(place), Align2::CENTER_CENTER, ring, number, marked))
    }

    fn tag(&self, at: Pos2, anchor: Align2, ring: &Ring, number: u32, marked: Marked) -> (Rect, u32) {
        let [paper, ink] = self.palette.tag;
        let font = FontId::proportional(if ring.guide { 14.0 } else { 12.5 });
        let galley = self.painter.layout_no_wrap(number.to_string(), font, ink);
        let rect = anchor.anchor_size(at, vec2(galley.size().x + 9.0, APART - 1.5));
        let is_marked = is_marked(marked, ring);
        let edge = if is_marked { Stroke::new(2.0, self.palette.accent) } else { Stroke::new(1.0, ink.gamma_multiply(0.5)) };
        self.painter.rect(rect, CornerRadius::same(2), paper, edge, StrokeKind::Outside);
        self.painter.galley(rect.center() - 0.5 * galley.size(), galley, ink);
        (rect, number)
    }
}

/// Leaves out tags, evenly, until there are about `most`; those that are handled and that of the guide arc stay.
fn thin_out(tagged: &mut Vec<Tagged<'_>>, most: f32, marked: Marked) {
    let all = f32::from(u16::try_from(tagged.len()).unwrap_or(u16::MAX));
    let every = (1..).find(|&every| all <= most * f32::from(every)).unwrap_or(u16::MAX);
    let stays = |tagged: &Tagged<'_>| {
        tagged.ring.guide || tagged.number.is_multiple_of(u32::from(every)) || is_marked(marked, tagged.ring)
    };
    tagged.retain(stays);
}

fn is_marked(marked: Marked, ring: &Ring) -> bool {
    [marked.selected, marked.hovered].into_iter().flatten().any(|handle| handle.is_ring(ring))
}

/// Where a ring meets the fold, below a height.
fn ring_at_fold(ring: &Ring, below_mm: f64) -> Option<Point> {
    let at_fold = ring.stretches.iter().flatten().copied().filter(|p| p.x.abs() < 1e-6 && p.y > below_mm);
    at_fold.max_by(|a, b| a.y.total_cmp(&b.y))
}

/// How well a point lies on a ray from the centre, as a cosine.
fn toward(p: Point, centre: Point, ray: f64) -> f64 {
    let from_centre = p - centre;
    from_centre.dot(kurbo::Vec2::from_angle(ray)) / from_centre.hypot().max(1e-9)
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
