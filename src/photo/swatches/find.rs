//! Squares found before a maker marks any: what is neither table nor paper, and the largest upright square within each piece of it.

use super::White;
use crate::photo::find::paper;
use crate::photo::find::region::{Mask, Region};
use crate::photo::find::small::{Small, least_channel};
use crate::photo::{Photograph, Sheet, SheetPaper};
use kurbo::{Point, Rect};

/// Smallest piece that is taken for a swatch, as a share of the picture: 2 cm of cloth on half a metre of table.
const LEAST_SHARE: f64 = 0.0012;
/// How much of the largest square within a piece is proposed: its edge frays (our own judgement).
const WITHIN: f64 = 0.86;
/// A square that is longer than this many of its piece's sides is none: a strip, a thread, the edge of a thing (our own judgement).
const LEAST_OF_PIECE: f64 = 0.3;
/// How broad a sheet's rim is that shows its own colour, as a share of its size.
const RIM: f64 = 0.06;
/// How far inside the sheet squares are looked for, small pixels.
const INSIDE_PX: f64 = 3.0;
/// What squares lie on is white paper where it is brighter than this share of the brightest there is, and than this share of the most that a file can
/// say, for cameras take a white ground for a grey one; and where its darkest channel has this share of its brightest, as white has in lamplight
/// (our own judgement).
const BRIGHT: f32 = 0.6;
const LIT: f32 = 0.12;
const NEUTRAL: f32 = 0.45;

/// What was found in a photograph of dyed squares.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct FoundSquares {
    /// What is white; none where neither a sheet nor white ground can be made out.
    pub white: Option<White>,
    /// The squares, px, line by line as one reads.
    pub squares: Vec<Rect>,
}

/// Looks for white paper and for squares on it and beside it. Cloth of the colour of what it lies on is not found.
#[must_use]
pub fn find_squares(photograph: &Photograph) -> FoundSquares {
    let small = Small::of(photograph);
    let Some((away, limit)) = small.away() else { return FoundSquares::default() };
    let sheet = paper::sheet(&small, &away, limit);
    let in_small = sheet.map(|corners| Sheet { paper: SheetPaper::A4, corners });
    let outside = |at: Point| in_small.as_ref().map_or(f64::INFINITY, |sheet| sheet.outside_px(at));
    let not_table = Mask::new(small.width, small.height, |index| away[index] > limit).without(|at| outside(at) < INSIDE_PX);
    let mut pieces = not_table.opened(1).filled().regions();
    if let Some((away, limit)) = in_small.as_ref().and_then(|sheet| away_from_sheet(&small, sheet)) {
        let on_sheet = Mask::new(small.width, small.height, |index| away[index] > limit).without(|at| outside(at) > -INSIDE_PX);
        pieces.extend(on_sheet.opened(1).filled().regions());
    }
    let least = LEAST_SHARE * small.light.len() as f64;
    let squares = pieces.iter().filter(|piece| piece.pixels.len() as f64 > least).filter_map(largest_square);
    let whole = |square: Rect| {
        let [first, last] = [square.origin(), Point::new(square.x1, square.y1)].map(|at| small.whole(photograph, at));
        Rect::from_points(first, last).intersect(picture(photograph))
    };
    let white = match sheet {
        Some(corners) => {
            let corners = paper::sharpened(photograph, corners.map(|at| small.whole(photograph, at)));
            Some(White::Sheet(Sheet { paper: SheetPaper::A4, corners }))
        }
        None => is_white_ground(&small, &away, limit).then_some(White::Ground),
    };
    FoundSquares { white, squares: in_lines(squares.map(whole).collect()) }
}

fn picture(photograph: &Photograph) -> Rect {
    let [width, height] = photograph.whole().map(f64::from);
    Rect::new(0.0, 0.0, width, height)
}

/// How far each pixel is from the sheet as it is lit there, which its rim shows.
fn away_from_sheet(small: &Small, sheet: &Sheet) -> Option<(Vec<f32>, f32)> {
    let [a, b, c, d] = sheet.corners;
    let size = 0.25 * (a.distance(b) + b.distance(c) + c.distance(d) + d.distance(a));
    let outside = |index: usize| sheet.outside_px(small.middle(index));
    let rim: Vec<usize> = (0..small.light.len()).filter(|index| (-RIM * size..-1.0).contains(&outside(*index))).collect();
    small.away_from(rim, |index| outside(index) < -1.0)
}

/// Whether what fills the picture's border is white: as bright as anything in it, and of no colour.
fn is_white_ground(small: &Small, away: &[f32], limit: f32) -> bool {
    let ground = small.light.iter().zip(away).filter(|(_, away)| **away < limit).map(|(light, _)| light);
    let ratios = ground.clone().map(|light| least_channel(light) / light.iter().copied().fold(f32::MIN_POSITIVE, f32::max));
    let [seen, neutral] = [ground.map(least_channel).collect(), ratios.collect()].map(|values| share_below(values, 0.5));
    let brightest = share_below(small.light.iter().map(least_channel).collect(), 0.99);
    matches!((seen, neutral, brightest), (Some(seen), Some(neutral), Some(brightest))
        if seen > LIT.max(BRIGHT * brightest) && neutral > NEUTRAL)
}

/// The value that such a share of all lie below.
fn share_below(mut values: Vec<f32>, share: f64) -> Option<f32> {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a share of some pixels")]
    let at = (share * values.len().checked_sub(1)? as f64) as usize;
    Some(*values.select_nth_unstable_by(at, f32::total_cmp).1)
}

/// The largest upright square within a piece, a little smaller; none of what is too long or too ragged to be a swatch.
///
/// Each pixel is the lower right corner of a square one larger than the least of those to its left, above, and above left.
fn largest_square(piece: &Region) -> Option<Rect> {
    let mask = piece.mask();
    let [width, height] = mask.size();
    let mut sides = vec![0_usize; width * height];
    let mut largest = (0, 0);
    for at in 0..width * height {
        if mask.holds(at) {
            let is_first = at % width == 0 || at < width;
            let before = if is_first { 0 } else { sides[at - 1].min(sides[at - width]).min(sides[at - width - 1]) };
            sides[at] = before + 1;
            largest = largest.max((sides[at], at));
        }
    }
    let (side, at) = largest;
    let bounds = piece.bounds()?;
    let corner = Point::new((at % width) as f64 + 1.0, (at / width) as f64 + 1.0);
    let side = side as f64;
    let square = Rect::new(corner.x - side, corner.y - side, corner.x, corner.y);
    let is_swatch = side > LEAST_OF_PIECE * bounds.width().max(bounds.height());
    is_swatch.then(|| Rect::from_center_size(square.center(), (WITHIN * side, WITHIN * side)))
}

/// The squares line by line, each from left to right: a line holds what reaches beside the middle of its first.
fn in_lines(mut squares: Vec<Rect>) -> Vec<Rect> {
    squares.sort_by(|a, b| a.center().y.total_cmp(&b.center().y));
    let mut lines: Vec<Vec<Rect>> = Vec::new();
    for square in squares {
        match lines.last_mut().filter(|line| line.first().is_some_and(|first| square.y0 < first.center().y)) {
            Some(line) => line.push(square),
            None => lines.push(vec![square]),
        }
    }
    lines.iter_mut().for_each(|line| line.sort_by(|a, b| a.x0.total_cmp(&b.x0)));
    lines.into_iter().flatten().collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn squares_are_read_line_by_line() {
        let at = |x: f64, y: f64| Rect::from_center_size((x, y), (10.0, 10.0));
        let read = in_lines(vec![at(40.0, 52.0), at(10.0, 20.0), at(10.0, 50.0), at(40.0, 17.0), at(70.0, 22.0)]);
        assert_eq!(read, [at(10.0, 20.0), at(40.0, 17.0), at(70.0, 22.0), at(10.0, 50.0), at(40.0, 52.0)]);
    }
}
