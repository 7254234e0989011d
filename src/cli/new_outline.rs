//! The outline of a garment of one's own that `new` begins with.

use super::CliError;
use super::arguments::OutlineArguments;
use super::new_drawing::Drawing;
use super::new_photo::{self, FromPhoto, SCALE_WORDS};
use kurbo::BezPath;
use pleatwright::geometry::{GarmentKind, OwnOutline, Panels, TakenAs, half_outline};
use pleatwright::measure::LengthStyle;
use pleatwright::store::is_named_photograph;
use std::path::Path;

/// An outline, and as what front and back were taken.
pub(super) struct Taken {
    pub(super) outline: OwnOutline,
    front: From,
    back: Option<From>,
}

/// Where an outline comes from.
#[derive(Debug, Clone, Copy)]
enum From {
    Drawing(TakenAs),
    Photo(FromPhoto),
}

impl From {
    fn words(self, lengths: LengthStyle) -> String {
        match self {
            Self::Drawing(taken) => taken.words().to_owned(),
            Self::Photo(taken) => taken.words(lengths),
        }
    }
}

impl Taken {
    /// `taken as the whole garment`, with the back where it is cut otherwise.
    pub(super) fn words(&self, lengths: LengthStyle) -> String {
        let front = self.front.words(lengths);
        self.back.map_or_else(|| format!("outline {front}"), |back| format!("front {front}, back {}", back.words(lengths)))
    }

    /// What else is to be said of it.
    pub(super) fn advice(&self) -> Option<&'static str> {
        let is_photo = |from: &From| matches!(from, From::Photo(_));
        (is_photo(&self.front) || self.back.as_ref().is_some_and(is_photo)).then_some(SCALE_WORDS)
    }
}

/// The outline that is asked for; none for a kind that is drafted, of which none may be asked for.
pub(super) fn outline(kind: GarmentKind, asked: &OutlineArguments) -> Result<Option<Taken>, CliError> {
    let given = [
        ("--outline", asked.outline.is_some()),
        ("--outline-which", asked.outline_which.is_some()),
        ("--outline-unit", asked.outline_unit.is_some()),
        ("--outline-back", asked.outline_back.is_some()),
        ("--outline-back-which", asked.outline_back_which.is_some()),
        ("--layers", asked.layers.is_some()),
    ];
    let given = given.into_iter().chain(asked.of_photographs());
    match (&asked.outline, kind) {
        (Some(path), GarmentKind::Own) => taken(path, asked).map(Some),
        (None, GarmentKind::Own) => {
            Err(CliError::argument("--garment own", "it needs an outline", "add --outline with a .svg or .dxf file"))
        }
        _ => match given.into_iter().find(|(_, is_given)| *is_given) {
            Some((name, _)) => {
                let what = format!("{kind} is drafted from its measurements");
                Err(CliError::argument(name, what, "leave it out, or add --garment own and --outline"))
            }
            None => Ok(None),
        },
    }
}

fn taken(path: &Path, asked: &OutlineArguments) -> Result<Taken, CliError> {
    let unit = ("--outline-unit", asked.outline_unit);
    let which = ("--outline-which", asked.outline_which.as_deref());
    let photographs = || std::iter::once(path).chain(asked.outline_back.as_deref()).any(is_named_photograph);
    if let Some((name, _)) = asked.of_photographs().into_iter().find(|(_, is_given)| *is_given && !photographs()) {
        return Err(CliError::argument(name, "the outline is no photograph", "leave it out"));
    }
    let (front, front_as) = half(&Drawing { path, argument: "--outline", unit, which }, asked)?;
    let outline = OwnOutline::alike(front, asked.layers.unwrap_or(Panels::Two));
    let (back, which) = (asked.outline_back.as_deref(), ("--outline-back-which", asked.outline_back_which.as_deref()));
    if back.is_none() && which.1.is_none() {
        return Ok(Taken { outline, front: front_as, back: None });
    }
    let argument = if back.is_some() { "--outline-back" } else { "--outline" };
    if outline.panels == Panels::One {
        let name = if back.is_some() { argument } else { which.0 };
        return Err(CliError::argument(name, "a single layer has no back of its own", "leave it out, or give two layers"));
    }
    let (back, back_as) = half(&Drawing { path: back.unwrap_or(path), argument, unit, which }, asked)?;
    Ok(Taken { outline: outline.with_back(back), front: front_as, back: Some(back_as) })
}

fn half(drawing: &Drawing<'_>, asked: &OutlineArguments) -> Result<(BezPath, From), CliError> {
    if is_named_photograph(drawing.path) {
        let (half, taken) = new_photo::half(drawing.path, drawing.argument, asked)?;
        return Ok((half, From::Photo(taken)));
    }
    let (half, taken) = half_outline(&drawing.outline()?.path).map_err(|error| CliError::because(drawing.place(), &error))?;
    Ok((half, From::Drawing(taken)))
}
