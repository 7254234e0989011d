//! The rim of a garment as it is seen: round what is not table, and sharpened in the photograph itself.

use super::nodes::closed_nodes;
use super::rectified::paper_of_shape;
use crate::photo::find::region::Mask;
use crate::photo::find::small::Small;
use crate::photo::find::{garment, paper};
use crate::photo::photograph::root;
use crate::photo::snap::middle_of;
use crate::photo::{Photograph, Sheet};
use kurbo::{Point, Vec2};

/// Over how many places to each side the rim's direction is taken, and its place is made even: about a small pixel each.
const BESIDE: usize = 3;
const EVEN: usize = 1;
/// How far to both sides of the rim its edge is looked for, small pixels, and samples on each side.
const SEARCH_PX: f64 = 3.0;
const SAMPLES: i32 = 18;
/// Least contrast of an edge, square roots of light: as between garment and table.
const LEAST_CONTRAST: f32 = 0.06;
/// Farther from its neighbours' middle than this a place is not taken, small pixels.
const STRAYS_PX: f64 = 1.2;
/// How far from the rim the straight ways between nodes may run, small pixels: about a millimetre.
const NODES_PX: f64 = 0.45;

/// A garment's outline as it was found, px of the whole picture.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct FoundOutline {
    /// The sheet, where one was found: A4 or Letter by its shape.
    pub sheet: Option<Sheet>,
    /// Nodes round the garment, the last joined to the first; empty where none was made out.
    pub nodes: Vec<Point>,
    /// Whether the garment goes on beyond the picture.
    pub is_cut: bool,
}

/// Looks for the sheet and for the rim of the largest thing beside it.
#[must_use]
pub fn find_outline(photograph: &Photograph) -> FoundOutline {
    let small = Small::of(photograph);
    let Some((away, limit)) = small.away() else { return FoundOutline::default() };
    let corners = paper::sheet(&small, &away, limit);
    // Undyed cloth has no lines in the table's colour, and an armpit is no gap.
    let cloth = garment(&small, &away, limit, corners, 0);
    let sheet = corners.map(|corners| paper::sharpened(photograph, corners.map(|at| small.whole(photograph, at))));
    let sheet = sheet.map(|corners| Sheet { paper: paper_of_shape(corners, photograph.whole()), corners });
    let Some(cloth) = cloth else { return FoundOutline { sheet, ..FoundOutline::default() } };
    let rim = round(&cloth.mask(), cloth.pixels.iter().copied().min().unwrap_or_default());
    let unit = small.whole(photograph, Point::new(1.0, 0.0)).x - small.whole(photograph, Point::ORIGIN).x;
    let rim: Vec<Point> = rim.into_iter().map(|at| small.whole(photograph, at)).collect();
    let rim = sharpened(photograph, &rim, unit);
    FoundOutline { sheet, nodes: closed_nodes(&rim, NODES_PX * unit), is_cut: cloth.reaches_border() }
}

/// The middles of pixel sides round a region, clockwise as seen, from above its first pixel; `first` is the least of its pixels.
///
/// A walker keeps the region on the right: at each corner it turns right where it can, else goes on, else turns left.
fn round(mask: &Mask, first: usize) -> Vec<Point> {
    let [width, height] = mask.size();
    let (width, height) = (isize::try_from(width).unwrap_or(0), isize::try_from(height).unwrap_or(0));
    let is_in = |x: isize, y: isize| {
        let inside = (0..width).contains(&x) && (0..height).contains(&y);
        inside && usize::try_from(y * width + x).is_ok_and(|index| mask.holds(index))
    };
    let first = isize::try_from(first).unwrap_or(0);
    let start = ((first % width.max(1), first / width.max(1)), (1, 0));
    let (mut at, mut way): ((isize, isize), (isize, isize)) = start;
    let mut rim = Vec::new();
    loop {
        rim.push(Point::new(at.0 as f64 + 0.5 * way.0 as f64, at.1 as f64 + 0.5 * way.1 as f64));
        at = (at.0 + way.0, at.1 + way.1);
        // The pixels ahead, on the right and on the left of the way; corners are counted by the pixel to their lower right.
        let ahead = |side: isize| {
            let (dx, dy) = way;
            let right = (-dy, dx);
            let x = at.0 as f64 + 0.5 * (dx + side * right.0) as f64 - 0.5;
            let y = at.1 as f64 + 0.5 * (dy + side * right.1) as f64 - 0.5;
            #[expect(clippy::cast_possible_truncation, reason = "whole numbers of pixels")]
            let (x, y) = (x.round() as isize, y.round() as isize);
            is_in(x, y)
        };
        way = match (ahead(1), ahead(-1)) {
            (false, _) => (-way.1, way.0),
            (true, false) => way,
            (true, true) => (way.1, -way.0),
        };
        if (at, way) == start || rim.len() > 8 * usize::try_from(width * height).unwrap_or(0) {
            return rim;
        }
    }
}

/// The same rim where light passes half between table and cloth; `unit` is a small pixel, px.
fn sharpened(photograph: &Photograph, rim: &[Point], unit: f64) -> Vec<Point> {
    let count = rim.len();
    let about = |index: usize, by: usize| -> Point {
        let sum = (0..=2 * by).fold(Vec2::ZERO, |sum, step| sum + rim[(index + count + step - by) % count].to_vec2());
        (sum / (2 * by + 1) as f64).to_point()
    };
    let even: Vec<Point> = (0..count).map(|index| about(index, EVEN.min(count / 2))).collect();
    let normal = |index: usize| {
        let along = even[(index + BESIDE) % count] - even[(index + count - BESIDE % count) % count];
        // The region lies on the right, its outside on the left.
        -along.normalize().turn_90()
    };
    let offsets: Vec<Option<f64>> =
        (0..count).map(|index| crossing(photograph, even[index], SEARCH_PX * unit * normal(index))).collect();
    let kept = |index: usize| {
        let near = (0..=4 * BESIDE).filter_map(|step| offsets[(index + count + step - 2 * BESIDE) % count]);
        let near: Vec<f64> = near.collect();
        let middle = (!near.is_empty()).then(|| middle_of(near));
        let own = offsets[index].zip(middle).filter(|(own, middle)| (own - middle).abs() * SEARCH_PX < STRAYS_PX);
        own.map(|(own, _)| own).or(middle).unwrap_or(0.0)
    };
    (0..count).map(|index| even[index] + kept(index) * SEARCH_PX * unit * normal(index)).collect()
}

/// Where light passes half between the table, which lies `outward`, and the cloth: how far outward, as a share.
fn crossing(photograph: &Photograph, at: Point, outward: Vec2) -> Option<f64> {
    let share = |step: i32| f64::from(step) / f64::from(SAMPLES);
    let line: Vec<[f32; 3]> =
        (-SAMPLES..=SAMPLES).map(|step| photograph.at(at + share(step) * outward).map(root)).collect::<Option<_>>()?;
    let quarter = line.len() / 4;
    let mean = |part: &[[f32; 3]]| {
        let sum = part.iter().fold([0.0_f32; 3], |sum, light| [0, 1, 2].map(|channel| sum[channel] + light[channel]));
        sum.map(|channel| channel / part.len() as f32)
    };
    let (cloth, table) = (mean(&line[..quarter]), mean(&line[line.len() - quarter..]));
    let way = [0, 1, 2].map(|channel| cloth[channel] - table[channel]);
    let contrast2: f32 = way.iter().map(|channel| channel * channel).sum();
    if contrast2 < LEAST_CONTRAST * LEAST_CONTRAST {
        return None;
    }
    let part = |light: &[f32; 3]| (0..3).map(|channel| (light[channel] - table[channel]) * way[channel]).sum::<f32>() / contrast2;
    let parts: Vec<f32> = line.iter().map(part).collect();
    // From outside: the first that is more cloth than table.
    let inside = parts.iter().rposition(|part| *part >= 0.5)?;
    let (own, next) = (parts[inside], *parts.get(inside + 1)?);
    let between = f64::from((own - 0.5) / (own - next).max(f32::MIN_POSITIVE));
    Some((inside as f64 + between) / f64::from(SAMPLES) - 1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mask(rows: &[&str]) -> Mask {
        let pixels: Vec<bool> = rows.iter().flat_map(|row| row.bytes().map(|byte| byte == b'#')).collect();
        Mask::new(rows[0].len(), rows.len(), |index| pixels[index])
    }

    /// As many sides as the region has, each next to the one before; by the shoelace formula they go round its area.
    #[test]
    fn the_walk_goes_round_every_side_once() {
        let mask = mask(&["......", "..##..", ".####.", ".#.##.", "......"]);
        let rim = round(&mask, 8);
        assert_eq!(rim.len(), mask.regions()[0].edge().len());
        let steps = rim.iter().zip(rim.iter().cycle().skip(1));
        assert!(steps.clone().all(|(a, b)| a.distance(*b) <= 1.0), "{rim:?}");
        let area: f64 = steps.map(|(a, b)| 0.5 * a.to_vec2().cross(b.to_vec2())).sum();
        // Corners are cut by an eighth of a pixel each, outer less inner ones by four in all.
        assert!((area - (9.0 - 0.5)).abs() < 1e-12, "{area}");
    }
}
