//! What colour squares of dyed cloth are, and how even.

use super::ground::Ground;
use super::{SquaresError, SquaresProblem, White};
use crate::layout::{Srgb, Swatch};
use crate::photo::light::{BURNT, Light, MOST_BURNT};
use crate::photo::{Photograph, Sheet};
use crate::reveal::colour::{DyeSwatch, Lab, LinearRgb, Origin, ciede2000};
use crate::telling::Field;
use kurbo::{Point, Rect};

/// Most squares of a photograph. Own choice.
const MOST_SQUARES: usize = 60;
/// How much of a square is left out along each side, as a share: frayed edges and their shadow.
const INSET: f64 = 0.1;
/// Least shorter side of a square, kept pixels: so many parts with some pixels each.
const LEAST_SIDE: f64 = 16.0;
/// Parts along a side of a square, and places along a side of a part.
const PARTS: usize = 4;
const PLACES: usize = 8;

/// Most light of a channel that cloth reflects: some dyes and brightened cottons glow a little beyond white (own judgement).
const MOST_REFLECTED: f64 = 1.15;
/// Spread beyond which more than one colour lies in a square: twice what a hand-dyed section varies within itself (own judgement).
const MOST_SPREAD: f64 = 10.0;

/// The colour of a square.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SquareColour {
    /// Its mean, as in the light that white paper is white in.
    pub lab: Lab,
    /// The same as a screen shows it.
    pub srgb: Srgb,
    /// How far its sixteen parts stray from that: mean CIEDE2000.
    pub spread: f64,
}

impl SquareColour {
    /// Whether its parts stray so far that more than one colour lies in it.
    #[must_use]
    pub fn is_uneven(&self) -> bool {
        self.spread > MOST_SPREAD
    }

    /// A swatch of it, for the maker's book: dyed to a shade (% on weight of fibre) on undyed cloth of a colour, white where none is given.
    #[must_use]
    pub fn swatch(&self, name: &str, shade_percent: f64, over: Option<Srgb>) -> DyeSwatch {
        let colour = Swatch::plain(name, self.srgb);
        let note = format!("From a photograph beside white paper; its parts stray by {:.1} (CIEDE2000).", self.spread);
        DyeSwatch { colour, depth_percent: shade_percent, over, origin: Origin::Measured, note }
    }
}

/// Measures squares, px of the whole picture.
///
/// The light is taken to be as the ground shows it: that of the table round them, or of the paper where all lie on it. Its colour and amount are
/// told by the paper, which is taken to reflect 0.87 of each channel.
///
/// # Errors
/// [`SquaresError`] naming the first square that can't be measured, or why none can.
pub fn square_colours(photograph: &Photograph, white: &White, squares: &[Rect]) -> Result<Vec<SquareColour>, SquaresError> {
    check(photograph, white, squares)?;
    let light = Ground { photograph, white, squares }.light()?;
    let numbered = (1..).zip(squares);
    numbered
        .map(|(number, square)| {
            colour(photograph, &light, *square).map_err(|problem| SquaresError { field: Some(field(number)), problem })
        })
        .collect()
}

fn field(number: usize) -> Field {
    Field::from("squares").item(number)
}

fn check(photograph: &Photograph, white: &White, squares: &[Rect]) -> Result<(), SquaresError> {
    if squares.len() > MOST_SQUARES {
        let problem = SquaresProblem::TooMany { count: squares.len(), most: MOST_SQUARES };
        return Err(SquaresError { field: Some("squares".into()), problem });
    }
    if let White::Sheet(sheet) = white {
        sheet.check().map_err(|error| SquaresError { field: None, problem: SquaresProblem::Picture(error.into()) })?;
    }
    for (index, square) in squares.iter().enumerate() {
        let problem = problem(photograph, white, *square).or_else(|| {
            let over = squares[..index].iter().position(|earlier| earlier.overlaps(*square));
            over.map(|other| SquaresProblem::Over { other: other + 1 })
        });
        if let Some(problem) = problem {
            return Err(SquaresError { field: Some(field(index + 1)), problem });
        }
    }
    Ok(())
}

fn problem(photograph: &Photograph, white: &White, square: Rect) -> Option<SquaresProblem> {
    let picture = photograph.whole();
    let [width, height] = picture.map(f64::from);
    let Rect { x0, y0, x1, y1 } = square;
    let is_within = |from: f64, to: f64, most: f64| (0.0..=most).contains(&from) && (0.0..=most).contains(&to) && from < to;
    if !is_within(x0, x1, width) || !is_within(y0, y1, height) {
        return Some(SquaresProblem::Outside { sides: [x0, y0, x1, y1], picture });
    }
    let (side, least) = (square.width().min(square.height()), LEAST_SIDE * photograph.step());
    if side < least {
        return Some(SquaresProblem::Small { side, least });
    }
    let corners = [(x0, y0), (x1, y0), (x1, y1), (x0, y1)].map(Point::from);
    let is_half_on = |sheet: &Sheet| {
        let on = corners.iter().filter(|corner| sheet.outside_px(**corner) < 0.0).count();
        (1..4).contains(&on)
    };
    matches!(white, White::Sheet(sheet) if is_half_on(sheet)).then_some(SquaresProblem::HalfOnSheet)
}

fn colour(photograph: &Photograph, light: &Light, square: Rect) -> Result<SquareColour, SquaresProblem> {
    let inner = square.inset(-INSET * square.width().min(square.height()));
    let along = PARTS * PLACES;
    let share = |step: usize| (step as f64 + 0.5) / along as f64;
    let (mut sums, mut burnt) = ([[0.0; 3]; PARTS * PARTS], 0_usize);
    for row in 0..along {
        for column in 0..along {
            let at = Point::new(inner.x0 + share(column) * inner.width(), inner.y0 + share(row) * inner.height());
            // It lies within the picture.
            let Some(seen) = photograph.at(at) else { continue };
            burnt += usize::from(seen.iter().any(|channel| *channel > BURNT));
            let sum = &mut sums[row / PLACES * PARTS + column / PLACES];
            sum.iter_mut().zip(light.reflected(at, seen)).for_each(|(sum, channel)| *sum += channel);
        }
    }
    let burnt = burnt as f64 / (along * along) as f64;
    if burnt > MOST_BURNT {
        return Err(SquaresProblem::BurntOut { percent: 100.0 * burnt, most_percent: 100.0 * MOST_BURNT });
    }
    let parts = sums.map(|sum| LinearRgb(sum.map(|channel| channel / (PLACES * PLACES) as f64)));
    let mean = LinearRgb([0, 1, 2].map(|channel| parts.iter().map(|part| part.0[channel]).sum::<f64>() / parts.len() as f64));
    let brightest = mean.0.into_iter().fold(0.0, f64::max);
    if brightest > MOST_REFLECTED {
        return Err(SquaresProblem::BrighterThanPaper { percent: 100.0 * brightest, most_percent: 100.0 * MOST_REFLECTED });
    }
    let lab = mean.to_xyz().to_lab();
    let strays = parts.map(|part| ciede2000(part.to_xyz().to_lab(), lab));
    Ok(SquareColour { lab, srgb: mean.to_srgb(), spread: strays.iter().sum::<f64>() / strays.len() as f64 })
}
