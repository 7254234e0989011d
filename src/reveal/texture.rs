//! The faint look of cloth that has been unfolded and washed: uneven yarn, loops, what is left of the creases, softer light at the
//! edges. It changes the light of a colour by little and no number anywhere.
//!
//! Everything lies on the cloth, in mm, so that a spot looks the same at every resolution; what is too fine for the pixels fades out
//! before it could alias. The same seed gives the same cloth.
//!
//! # Limits
//! Courses run straight across every panel, sleeves and hood too. All strengths and lengths are our own judgement, no source.

use super::mask::PixelFrame;
use super::noise::{cell, lattice, plane_scale, weights};
use super::relief::{CREASE_MM, STEEPEST, ramp};
use super::unfold::DoseMap;
use crate::geometry::{Outline, Panel};
use kurbo::{PathEl, Point, Vec2};
use std::f64::consts::{SQRT_2, TAU};
use std::ops::Range;

/// Whether a picture of the cloth shows it as cloth or as flat colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Texture {
    /// Yarn, creases and edges, faintly: the light of a colour changes by at most [`Texture::MOST`].
    #[default]
    Faint,
    /// Flat colours.
    Off,
}

impl Texture {
    /// The most by which the light of a pixel differs from its flat colour's, as a share of it.
    pub const MOST: f32 = 0.04;
}

/// Unevenness of yarn: lengths along and across the courses, mm, and strength (root mean square, a share of the light). Yarn lies
/// along the courses, so its thick and thin places are longer than broad.
const YARN: [([f64; 2], f64); 3] = [([2.2, 0.8], 0.010), ([5.0, 2.0], 0.010), ([14.0, 6.0], 0.006)];
/// Breadth of a column of loops and height of a row, mm: about 12 and 16 to a centimetre, a plain shirt jersey (common practice, no
/// source).
const LOOP_MM: [f64; 2] = [0.8, 0.6];
/// Strength of the loops, a share of the light.
const LOOP: f64 = 0.012;
/// Strength of a crease's two flanks where light falls straight across them, a share of the light.
const CREASE: f64 = 0.020;
/// How far from the outline an edge still curls from the light, mm.
const EDGE_MM: f64 = 6.0;
/// How much darker the very edge is, a share of the light.
const EDGE: f64 = 0.03;

/// How much of something so long shows with pixels of this size: all of it where two pixels or more cover it, nothing where but one
/// does. Cubic noise on a lattice has next to nothing that is shorter than two of its cells.
fn shown(length_mm: f64, pixel_mm: f64) -> f64 {
    ramp(length_mm / pixel_mm - 1.0)
}

/// The texture of one panel, ready to be read row by row.
pub(super) struct ClothTexture<'a> {
    frame: PixelFrame,
    side: f64,
    outline: Option<&'a Outline>,
    yarn: Vec<Yarn>,
    /// The loops' part of each column, and what each row multiplies it by.
    loops: Option<(Vec<f32>, Vec<f32>)>,
    /// From a difference of the relief to light; 0 where pixels are too coarse.
    crease: f32,
}

/// The same on a band of the panel.
pub(super) struct BandTexture<'a> {
    texture: &'a ClothTexture<'a>,
    map: &'a DoseMap,
    /// Light that each pixel loses as an edge.
    edge: Option<Vec<f32>>,
}

impl<'a> ClothTexture<'a> {
    pub(super) fn new(panel: Panel, frame: PixelFrame, outline: Option<&'a Outline>, seed: u64) -> Self {
        let side = if panel == Panel::Back { -1.0 } else { 1.0 };
        // Beside the seeds of the hand's wander, which are multiples of four.
        let seed = seed.wrapping_mul(16).wrapping_add(if panel == Panel::Back { 0xC107_0008 } else { 0xC107_0000 });
        let yarn = (0..).zip(YARN).filter_map(|(index, (lengths_mm, strength))| {
            let strength = strength * shown(lengths_mm[1], frame.pixel_mm);
            (strength > 0.0).then(|| Yarn::new(&frame, side, lengths_mm, strength, seed + index))
        });
        let slope = CREASE * CREASE_MM / STEEPEST / (2.0 * SQRT_2 * frame.pixel_mm);
        Self {
            frame,
            side,
            outline,
            yarn: yarn.collect(),
            loops: loops(&frame, side),
            crease: light(slope * shown(CREASE_MM, frame.pixel_mm)),
        }
    }

    /// On a band that has one row more above and below than is asked for, but where the frame ends.
    pub(super) fn on(&'a self, map: &'a DoseMap) -> BandTexture<'a> {
        let outline = self.outline.filter(|_| shown(EDGE_MM, self.frame.pixel_mm) > 0.0);
        let edge = outline.map(|outline| edges(outline, &self.frame, &map.rows, self.side));
        BandTexture { texture: self, map, edge }
    }
}

impl BandTexture<'_> {
    /// Factors of the light for some of a row's pixels.
    pub(super) fn light(&self, row: usize, columns: Range<usize>) -> Vec<f32> {
        let mut light = vec![0.0; columns.len()];
        for yarn in &self.texture.yarn {
            yarn.add(row, columns.clone(), &mut light);
        }
        if let Some((of_column, of_row)) = &self.texture.loops {
            light.iter_mut().zip(&of_column[columns.clone()]).for_each(|(light, column)| *light += column * of_row[row]);
        }
        if self.texture.crease > 0.0 {
            self.add_creases(row, columns.clone(), &mut light);
        }
        if let Some(edge) = &self.edge {
            let edge = &edge[self.map.row(row)][columns];
            light.iter_mut().zip(edge).for_each(|(light, edge)| *light -= edge);
        }
        light.iter_mut().for_each(|light| *light = 1.0 + light.clamp(-Texture::MOST, Texture::MOST));
        light
    }

    /// Light falls from the upper left: what rises toward it is darker behind.
    fn add_creases(&self, row: usize, columns: Range<usize>, light: &mut [f32]) {
        let (map, width, here) = (self.map, self.map.frame.width, self.map.row(row).start);
        let above = map.row(row.saturating_sub(1).max(map.rows.start)).start;
        let below = map.row((row + 1).min(map.rows.end - 1)).start;
        for (column, light) in columns.zip(light) {
            let own = map.relief[here + column];
            let relief = |pixel: usize| if map.coverage[pixel] > 0.0 { map.relief[pixel] } else { own };
            let (before, behind) = (relief(above + column.saturating_sub(1)), relief(below + (column + 1).min(width - 1)));
            *light += self.texture.crease * (behind - before);
        }
    }
}

#[expect(clippy::cast_possible_truncation, reason = "light is kept in f32")]
fn light(value: f64) -> f32 {
    value as f32
}

/// One size of the yarn's unevenness: noise on a lattice of the cloth, with the four lattice columns and their weights for each column
/// of pixels.
struct Yarn {
    lattice: Vec<f32>,
    stride: usize,
    columns: Vec<(usize, [f32; 4])>,
    /// First of the four lattice rows and their weights, for each row of pixels.
    rows: Vec<(usize, [f32; 4])>,
}

impl Yarn {
    fn new(frame: &PixelFrame, side: f64, [along_mm, over_mm]: [f64; 2], strength: f64, seed: u64) -> Self {
        let x = |column: usize| cell(side * frame.middle(column, 0).x / along_mm);
        let y = |row: usize| cell(frame.middle(0, row).y / over_mm);
        let (left, right) = (x(0).0.min(x(frame.width - 1).0), x(0).0.max(x(frame.width - 1).0));
        let (top, foot) = (y(0).0, y(frame.height - 1).0);
        let taps = |(at, t): (i64, f64), first: i64| (usize::try_from(at - first).unwrap_or(0), weights(t).map(light));
        let scale = strength * plane_scale();
        let nodes = (top - 1..foot + 3).flat_map(|j| (left - 1..right + 3).map(move |i| light(scale * lattice(seed, i, j))));
        Self {
            lattice: nodes.collect(),
            stride: usize::try_from(right - left + 4).unwrap_or(4),
            columns: (0..frame.width).map(|column| taps(x(column), left)).collect(),
            rows: (0..frame.height).map(|row| taps(y(row), top)).collect(),
        }
    }

    fn add(&self, row: usize, columns: Range<usize>, light: &mut [f32]) {
        let (first, weights) = self.rows[row];
        let lines: [&[f32]; 4] = std::array::from_fn(|line| &self.lattice[(first + line) * self.stride..][..self.stride]);
        let node = |node: usize| (0..4).map(|line| weights[line] * lines[line][node]).sum::<f32>();
        let nodes: Vec<f32> = (0..self.stride).map(node).collect();
        for (light, (first, weights)) in light.iter_mut().zip(&self.columns[columns]) {
            let nodes = &nodes[*first..first + 4];
            *light += weights[0] * nodes[0] + weights[1] * nodes[1] + weights[2] * nodes[2] + weights[3] * nodes[3];
        }
    }
}

/// Loops of the knit: columns that are lighter in their middle, the more so in the middle of a row.
fn loops(frame: &PixelFrame, side: f64) -> Option<(Vec<f32>, Vec<f32>)> {
    // Half a wave takes a pixel at the least.
    let strength = LOOP * shown(0.5 * LOOP_MM[1], frame.pixel_mm);
    let wave = |at_mm: f64, length_mm: f64| (TAU * at_mm / length_mm).cos();
    let column = |column: usize| light(strength * wave(side * frame.middle(column, 0).x, LOOP_MM[0]));
    let row = |row: usize| light(0.6 + 0.4 * wave(frame.middle(0, row).y, LOOP_MM[1]));
    (strength > 0.0).then(|| ((0..frame.width).map(column).collect(), (0..frame.height).map(row).collect()))
}

/// How finely the outline is followed, mm, and the longest piece of it that is looked about at once.
const FLATNESS_MM: f64 = 0.2;
const LONGEST_MM: f64 = 24.0;

/// The light that pixels of some rows lose that are near the outline, by their distance from it.
fn edges(outline: &Outline, frame: &PixelFrame, rows: &Range<usize>, side: f64) -> Vec<f32> {
    let mut edges =
        Edges { losses: vec![0.0; frame.width * rows.len()], frame, rows, strength: EDGE * shown(EDGE_MM, frame.pixel_mm) };
    let drawn = |p: Point| Point::new(side * p.x, p.y);
    let (mut first, mut last) = (Point::ORIGIN, Point::ORIGIN);
    kurbo::flatten(outline.path(), FLATNESS_MM, |element| match element {
        PathEl::MoveTo(p) => (first, last) = (p, p),
        PathEl::LineTo(p) => {
            edges.add(drawn(last), drawn(p));
            last = p;
        }
        _ => {
            edges.add(drawn(last), drawn(first));
            last = first;
        }
    });
    edges.losses
}

struct Edges<'a> {
    losses: Vec<f32>,
    frame: &'a PixelFrame,
    rows: &'a Range<usize>,
    strength: f64,
}

impl Edges<'_> {
    fn add(&mut self, from: Point, to: Point) {
        let pieces = ((to - from).hypot() / LONGEST_MM).ceil().max(1.0);
        let step = (to - from) / pieces;
        let mut start = from;
        while (start - from).hypot2() + 1e-9 < (to - from).hypot2() {
            self.add_piece(start, step);
            start += step;
        }
    }

    fn add_piece(&mut self, from: Point, along: Vec2) {
        let frame = self.frame;
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to the picture; casts saturate")]
        let span = |a: f64, b: f64, origin_mm: f64, within: Range<usize>| {
            let pixel = |at_mm: f64| ((at_mm - origin_mm) / frame.pixel_mm).max(0.0) as usize;
            let first = pixel(a.min(b) - EDGE_MM).clamp(within.start, within.end);
            first..(pixel(a.max(b) + EDGE_MM) + 1).clamp(first, within.end)
        };
        let (to, strength) = (from + along, self.strength);
        let columns = span(from.x, to.x, frame.left_mm, 0..frame.width);
        for row in span(from.y, to.y, frame.top_mm, self.rows.clone()) {
            let losses = &mut self.losses[(row - self.rows.start) * frame.width..][columns.clone()];
            for (column, loss) in columns.clone().zip(losses) {
                let at = frame.middle(column, row) - from;
                let t = (at.dot(along) / along.hypot2()).clamp(0.0, 1.0);
                let near = 1.0 - (at - t * along).hypot() / EDGE_MM;
                if near > 0.0 {
                    *loss = loss.max(light(strength * near * near));
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layout::Layout;
    use crate::reveal::colour::{DyeSet, LinearRgb};
    use crate::reveal::{Cancel, Picture, PictureMap, Reveal, RevealOptions, picture, picture_of, reveal_doses};
    use crate::store::{EXAMPLE_LAYOUTS, parse_layout};

    fn revealed(pixel_mm: f64, seed: u64) -> (Reveal, DyeSet) {
        let mut raw = parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap().raw().clone();
        raw.process.hand.seed = seed;
        let layout = Layout::try_from(raw).unwrap();
        let options = RevealOptions { pixel_mm, ..RevealOptions::preview() };
        (reveal_doses(&layout, &options, &Cancel::new()).unwrap(), DyeSet::of_layout(&layout, None))
    }

    fn textured(reveal: &Reveal, dyes: &DyeSet) -> Picture {
        picture_of(reveal, dyes, PictureMap::Cloth, Texture::Faint)
    }

    fn front(reveal: &Reveal) -> DoseMap {
        reveal.map(Panel::Front).unwrap()
    }

    fn of_front<'a>(reveal: &'a Reveal, front: &DoseMap) -> ClothTexture<'a> {
        let layout = reveal.layout();
        let outline = layout.panels().panel(Panel::Front).unwrap().whole();
        ClothTexture::new(Panel::Front, front.frame, Some(outline), layout.process().hand.seed)
    }

    /// Mean luminance of a picture's cloth, by IEC 61966-2-1 (weights from memory).
    fn luminance(picture: &Picture) -> f64 {
        let cloth = picture.rgba.as_chunks::<4>().0.iter().filter(|pixel| pixel[3] == 255);
        let light = |&[red, green, blue, _]: &[u8; 4]| {
            let LinearRgb([red, green, blue]) = crate::layout::Srgb { red, green, blue }.into();
            0.2126 * red + 0.7152 * green + 0.0722 * blue
        };
        cloth.clone().map(light).sum::<f64>() / cloth.count() as f64
    }

    /// The same seed, the same bytes; another, another cloth. Off is the flat picture, and so is every map that is not the cloth.
    #[test]
    fn a_seed_gives_one_cloth_and_off_gives_none() {
        let ((reveal, dyes), (again, _)) = (revealed(1.5, 1), revealed(1.5, 1));
        let first = textured(&reveal, &dyes);
        assert!(first == textured(&again, &dyes));
        let flat = picture(&reveal, &dyes);
        assert!(first != flat);
        assert!(picture_of(&reveal, &dyes, PictureMap::Cloth, Texture::Off) == flat);
        for map in [PictureMap::DoseReached, PictureMap::GroundLeft] {
            assert!(picture_of(&reveal, &dyes, map, Texture::Faint) == picture_of(&reveal, &dyes, map, Texture::Off));
        }
        let front = front(&reveal);
        let light_of = |seed: u64| ClothTexture::new(Panel::Front, front.frame, None, seed).on(&front).light(200, 0..400);
        let other = light_of(2);
        assert!(other != light_of(1));
    }

    /// It gives and takes as much light: the cloth's mean luminance stays within 0.5 %, and no pixel's light goes beyond the bound.
    #[test]
    fn the_light_stays_as_much_as_it_was() {
        for pixel_mm in [0.5, 1.0, 3.0] {
            let (reveal, dyes) = revealed(pixel_mm, 1);
            let (flat, shown) = (luminance(&picture(&reveal, &dyes)), luminance(&textured(&reveal, &dyes)));
            assert!((shown / flat - 1.0).abs() < 0.005, "{pixel_mm} mm: {flat} {shown}");
            let front = front(&reveal);
            let (texture, frame) = (of_front(&reveal, &front), front.frame);
            let texture = texture.on(&front);
            let light: Vec<f32> = (0..frame.height).flat_map(|row| texture.light(row, 0..frame.width)).collect();
            assert!(light.iter().all(|light| (light - 1.0).abs() <= Texture::MOST + f32::EPSILON), "{pixel_mm} mm");
            let whole = || light.iter().zip(&front.coverage).filter(|(_, covered)| **covered >= 1.0);
            let cloth = || whole().map(|(light, _)| f64::from(light - 1.0));
            let strength = (cloth().map(|light| light * light).sum::<f64>() / cloth().count() as f64).sqrt();
            // Where pixels are coarse hardly anything of it is left.
            assert!(strength < 0.018 && (pixel_mm > 2.0 || strength > 0.006), "{pixel_mm} mm: {strength}");
        }
    }

    /// A spot of the cloth looks the same at two resolutions: the mean of fine pixels is the coarse one, but for what is too fine for it.
    #[test]
    fn a_spot_looks_the_same_at_two_resolutions() {
        // Frames are laid about the centre line and from one height, so 2 by 2 fine pixels make a coarse one.
        let ((fine, _), (coarse, _)) = (revealed(0.5, 1), revealed(1.0, 1));
        let (fine_front, coarse_front) = (front(&fine), front(&coarse));
        let (fine_texture, coarse_texture) = (of_front(&fine, &fine_front), of_front(&coarse, &coarse_front));
        let (fine_texture, coarse_texture) = (fine_texture.on(&fine_front), coarse_texture.on(&coarse_front));
        let (coarse, fine) = (coarse_front.frame, fine_front.frame);
        let middle = (coarse.width / 2, fine.width / 2);
        let (mut products, mut squares, mut fine_squares, mut worst) = (0.0, 0.0, 0.0, 0.0_f64);
        for row in (40..coarse.height - 40).step_by(7) {
            let rows = [0, 1].map(|half| fine_texture.light(2 * row + half, 0..fine.width));
            let light = coarse_texture.light(row, 0..coarse.width);
            // Light beside the cloth is never shown, and a pixel that is partly bare has the edge's in it.
            let is_cloth = |column: &usize| coarse_front.coverage[row * coarse.width + column] >= 1.0;
            for column in (300..coarse.width - 300).step_by(3).filter(is_cloth) {
                let at = 2 * column + middle.1 - 2 * middle.0;
                let mean = 0.25 * (rows[0][at] + rows[0][at + 1] + rows[1][at] + rows[1][at + 1]) - 1.0;
                let own = light[column] - 1.0;
                (products, squares, fine_squares) = (products + own * mean, squares + own * own, fine_squares + mean * mean);
                worst = worst.max(f64::from((own - mean).abs()));
            }
        }
        let alike = products / (squares * fine_squares).sqrt();
        assert!(alike > 0.8, "correlation {alike}, worst {worst}");
        assert!(worst < 0.03, "{worst}");
    }
}
