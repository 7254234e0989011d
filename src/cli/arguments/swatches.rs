//! Arguments of `swatches`.

use clap::Args;
use kurbo::{Point, Rect};
use pleatwright::layout::Srgb;
use std::path::PathBuf;
use std::str::FromStr;

/// Arguments of `swatches`.
#[derive(Debug, Args)]
pub(crate) struct SwatchesArguments {
    /// The photograph: JPEG, PNG, WebP or TIFF. Dyed squares lie flat beside a white sheet of paper, or on it, in even light; the white is not
    /// burnt out.
    pub(crate) photograph: PathBuf,
    /// A square: its name and its shade in % of the dry cloth, such as "teal=4"; given once a square, as one reads them. With @ and left, upper, right
    /// and lower side in px, such as "teal=4@812,310,960,455", it is measured there; without, squares are found by their looks.
    #[arg(long = "square", value_name = "NAME=SHADE")]
    pub(crate) squares: Vec<SquareArgument>,
    /// The corners of the white sheet one after the other, x and y of each in px, such as "120,80,980,84,976,690,116,684". Default: found by its looks.
    #[arg(long, value_name = "X,Y,..", conflicts_with = "white_ground")]
    pub(crate) sheet: Option<CornersArgument>,
    /// The squares lie on white paper that fills the picture.
    #[arg(long)]
    pub(crate) white_ground: bool,
    /// Colour of the undyed cloth, such as #f3ecdc or ivory. Default: white.
    #[arg(long, value_parser = colour, value_name = "COLOUR")]
    pub(crate) over: Option<Srgb>,
    /// As JSON with stable names.
    #[arg(long)]
    pub(crate) json: bool,
    /// Book of swatches to put them into, such as my-swatches.ron; one that there is keeps what it has.
    #[arg(short, long, value_name = "FILE", requires = "squares")]
    pub(crate) output: Option<PathBuf>,
}

fn colour(text: &str) -> Result<Srgb, String> {
    Srgb::from_typed(text)
        .map_err(|_refusal| format!("\"{text}\" is not a colour; give a common name, or # and six digits such as #f3ecdc"))
}

/// A square: its name, its shade, and where it is.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct SquareArgument {
    pub(crate) name: String,
    pub(crate) shade_percent: f64,
    pub(crate) place: Option<Rect>,
}

/// What a square is to be written as.
const SQUARE: &str = "write NAME=SHADE, such as teal=4, or with its place teal=4@812,310,960,455";

impl FromStr for SquareArgument {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        let refusal = |what: String| format!("{what}; {SQUARE}");
        let (name, rest) = text.rsplit_once('=').ok_or_else(|| refusal("it has no shade".to_owned()))?;
        let (shade, place) = rest.split_once('@').map_or((rest, None), |(shade, place)| (shade, Some(place)));
        let shade = shade.trim().trim_end_matches('%').trim();
        let shade_percent = shade.parse().ok().filter(|percent: &f64| percent.is_finite() && *percent > 0.0);
        let shade_percent = shade_percent.ok_or_else(|| refusal(format!("\"{shade}\" is not a shade in %")))?;
        if name.trim().is_empty() {
            return Err(refusal("it has no name".to_owned()));
        }
        let place =
            place.map(|place| numbers::<4>(place).ok_or_else(|| refusal(format!("\"{place}\" is not a place")))).transpose()?;
        let place = place.map(|[x0, y0, x1, y1]| Rect::new(x0, y0, x1, y1));
        Ok(Self { name: name.trim().to_owned(), shade_percent, place })
    }
}

/// The corners of a sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct CornersArgument(pub(crate) [Point; 4]);

impl FromStr for CornersArgument {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        let refusal =
            || format!("\"{text}\" is not four corners; write x and y of each in px, such as 120,80,980,84,976,690,116,684");
        let [ax, ay, bx, by, cx, cy, dx, dy] = numbers::<8>(text).ok_or_else(refusal)?;
        Ok(Self([(ax, ay), (bx, by), (cx, cy), (dx, dy)].map(Point::from)))
    }
}

/// So many numbers with commas between them.
fn numbers<const COUNT: usize>(text: &str) -> Option<[f64; COUNT]> {
    let number = |number: &str| number.trim().parse().ok().filter(|number: &f64| number.is_finite());
    let numbers: Vec<f64> = text.split(',').map(number).collect::<Option<_>>()?;
    numbers.try_into().ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_square_is_a_name_a_shade_and_perhaps_a_place() {
        let read = |text: &str| text.parse::<SquareArgument>().map(|square| (square.name, square.shade_percent, square.place));
        assert_eq!(read("teal=4"), Ok(("teal".to_owned(), 4.0, None)));
        let place = Some(Rect::new(1.0, 2.0, 30.0, 40.5));
        assert_eq!(read("A = B, half=0.5 %@1,2,30,40.5"), Ok(("A = B, half".to_owned(), 0.5, place)));
        for wrong in ["teal", "teal=deep", "teal=NaN", "teal=-1", " =4", "teal=4@1,2,3", "teal=4@a,2,3,4", "teal=4@NaN,2,3,4"] {
            assert!(read(wrong).unwrap_err().contains("such as teal=4"), "{wrong}");
        }
        assert!("1,2,3,4,5,6,7,inf".parse::<CornersArgument>().unwrap_err().contains("is not four corners"));
    }
}
