//! `swatches`: colours of dyed squares out of a photograph, into a book of swatches.

use super::CliError;
use super::arguments::{SquareArgument, SwatchesArguments};
use super::terminal;
use kurbo::Rect;
use pleatwright::measure::counted;
use pleatwright::photo::{
    Photograph, Sheet, SheetPaper, SquareColour, SquaresError, SquaresProblem, White, find_squares, square_colours,
};
use pleatwright::reveal::colour::{DyeSwatch, Renamed, SwatchBook};
use pleatwright::store::{SwatchShelf, read_photograph};
use pleatwright::telling::{Field, Refused as _, Voice};
use serde::Serialize;
use std::io::Write;
use std::path::Path;

pub(crate) fn run(arguments: &SwatchesArguments, output: &mut dyn Write) -> Result<(), CliError> {
    let file = arguments.photograph.display().to_string();
    let photograph = read_photograph(&arguments.photograph).map_err(|error| CliError::Argument(error.told(Voice::FILE)))?;
    let found = find_squares(&photograph);
    let no_white = || {
        let cure = "lay a sheet of white paper beside the squares, or give its corners by --sheet";
        CliError::argument(file.clone(), "no white paper can be made out in it", cure)
    };
    let white = match arguments.sheet {
        Some(corners) => White::Sheet(Sheet { paper: SheetPaper::A4, corners: corners.0 }),
        None if arguments.white_ground => White::Ground,
        None => found.white.ok_or_else(no_white)?,
    };
    let places = places(arguments, &found.squares, &file)?;
    let colours = square_colours(&photograph, &white, &places).map_err(|error| refused(&error, arguments, &photograph))?;
    let measured: Vec<Measured> = places
        .iter()
        .zip(&colours)
        .enumerate()
        .map(|(index, (place, colour))| Measured { given: arguments.squares.get(index), place: *place, colour: *colour })
        .collect();
    let renamed = arguments.output.as_deref().map(|path| put_into(path, &measured, arguments)).transpose()?;
    if arguments.json {
        let json: Vec<SquareJson> = measured.iter().map(SquareJson::of).collect();
        serde_json::to_writer_pretty(&mut *output, &json).map_err(std::io::Error::from)?;
        return Ok(writeln!(output)?);
    }
    tell(&file, &white, &measured, output)?;
    if let Some((path, renamed)) = arguments.output.as_deref().zip(renamed) {
        for Renamed { from, to } in renamed {
            writeln!(output, "{from} is put in as \"{to}\": the book has another colour of that name")?;
        }
        writeln!(output, "{}: {} put in", path.display(), counted(measured.len(), "swatch"))?;
    }
    Ok(())
}

/// Where each square is: as given, or as found.
fn places(arguments: &SwatchesArguments, found: &[Rect], file: &str) -> Result<Vec<Rect>, CliError> {
    let given = &arguments.squares;
    let places: Vec<Rect> = given.iter().filter_map(|square| square.place).collect();
    if !given.is_empty() && places.len() == given.len() {
        return Ok(places);
    }
    if !places.is_empty() {
        let what = format!("{} of {} squares have a place", places.len(), given.len());
        return Err(CliError::argument("--square", what, "give the place of each, or of none"));
    }
    if found.is_empty() {
        let cure = "give the place of each, such as --square teal=4@812,310,960,455";
        return Err(CliError::argument(file, "no squares can be made out in it", cure));
    }
    if !given.is_empty() && given.len() != found.len() {
        let what = format!("{} found and {} named", counted(found.len(), "square"), given.len());
        let cure = "see them without --square, name each, or give the place of each";
        return Err(CliError::argument(file, what, cure));
    }
    Ok(found.to_vec())
}

/// A refusal at the argument or the file that it is about.
fn refused(error: &SquaresError, arguments: &SwatchesArguments, photograph: &Photograph) -> CliError {
    let is_given = arguments.squares.iter().any(|square| square.place.is_some());
    let of_square = |index: usize| arguments.squares.get(index).filter(|_| is_given);
    let number = (0..arguments.squares.len()).find(|index| error.field == Some(Field::from("squares").item(index + 1)));
    match (&error.problem, number.and_then(of_square)) {
        (_, Some(SquareArgument { name, .. })) => {
            let told = SquaresError { field: None, ..error.clone() };
            CliError::because(format!("--square {name}"), &told)
        }
        (SquaresProblem::Picture(_), _) if arguments.sheet.is_some() => CliError::because("--sheet", error),
        _ => {
            let [width, height] = photograph.whole();
            let file = format!("{} ({width} x {height} px)", arguments.photograph.display());
            CliError::Argument(error.told(Voice::FILE).within(&file))
        }
    }
}

/// Puts the swatches into a book; those that were given another name.
fn put_into(path: &Path, measured: &[Measured], arguments: &SwatchesArguments) -> Result<Vec<Renamed>, CliError> {
    let swatches: Vec<DyeSwatch> = measured.iter().filter_map(|square| square.swatch(arguments)).collect();
    let because = |error: &dyn pleatwright::telling::Refused| CliError::because("--square", error);
    let book = SwatchBook::new("Swatches".to_owned(), String::new(), swatches).map_err(|error| because(&error))?;
    if terminal::is_output(path) {
        return Err(CliError::argument("-o -", "a book is added to, not written anew", "name its file"));
    }
    SwatchShelf::new(path.to_owned()).take_in(&book).map_err(|error| CliError::Argument(error.told(Voice::FILE)))
}

/// A square with its colour.
struct Measured<'a> {
    given: Option<&'a SquareArgument>,
    place: Rect,
    colour: SquareColour,
}

impl Measured<'_> {
    fn swatch(&self, arguments: &SwatchesArguments) -> Option<DyeSwatch> {
        self.given.map(|square| self.colour.swatch(&square.name, square.shade_percent, arguments.over))
    }

    fn name(&self) -> &str {
        self.given.map_or("", |square| &square.name)
    }
}

fn tell(file: &str, white: &White, measured: &[Measured], output: &mut dyn Write) -> Result<(), CliError> {
    let white = match white {
        White::Sheet(_) => "a white sheet",
        White::Ground => "white ground",
    };
    writeln!(output, "{file}: {} by {white}", counted(measured.len(), "square"))?;
    writeln!(output, "\n{:>6}{:>26}{:>10}{:>8}  name", "square", "left, top, right, bottom", "colour", "spread")?;
    for (number, square) in (1..).zip(measured) {
        let Rect { x0, y0, x1, y1 } = square.place;
        let place = [x0, y0, x1, y1].map(|side| format!("{side:.0}")).join(",");
        let SquareColour { srgb, spread, .. } = square.colour;
        writeln!(output, "{number:>6}{place:>26}{:>10}{spread:>8.1}  {}", srgb.to_string(), square.name())?;
    }
    for (number, square) in (1..).zip(measured).filter(|(_, square)| square.colour.is_uneven()) {
        let spread = square.colour.spread;
        writeln!(
            output,
            "Square {number} is uneven ({spread:.1}): more than one colour lies in it. Give the place of each square, such as \
             --square teal=4@812,310,960,455."
        )?;
    }
    Ok(writeln!(output)?)
}

/// A square, with names that stay.
#[derive(Debug, Serialize)]
struct SquareJson<'a> {
    name: Option<&'a str>,
    shade_percent: Option<f64>,
    /// Left, upper, right and lower side, px.
    place: [f64; 4],
    srgb: String,
    /// L*, a*, b* in daylight (D65).
    lab: [f64; 3],
    /// Mean CIEDE2000 of its parts.
    spread: f64,
}

impl<'a> SquareJson<'a> {
    fn of(measured: &'a Measured) -> Self {
        let (Rect { x0, y0, x1, y1 }, SquareColour { lab, srgb, spread }) = (measured.place, measured.colour);
        Self {
            name: measured.given.map(|square| &*square.name),
            shade_percent: measured.given.map(|square| square.shade_percent),
            place: [x0, y0, x1, y1],
            srgb: srgb.to_string(),
            lab: [lab.l, lab.a, lab.b],
            spread,
        }
    }
}
