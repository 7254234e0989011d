//! Half a garment's outline out of a photograph that `new` begins with.

use super::CliError;
use super::arguments::OutlineArguments;
use kurbo::BezPath;
use pleatwright::geometry::half_outline;
use pleatwright::measure::LengthStyle;
use pleatwright::photo::{Halves, Sheet, SheetPaper, find_outline, half_of};
use pleatwright::store::read_photograph;
use pleatwright::telling::{Refused as _, Voice};
use std::path::Path;

/// How an outline was taken from a photograph.
#[derive(Debug, Clone, Copy)]
pub(super) struct FromPhoto {
    paper: SheetPaper,
    halves: Halves,
    apart_mm: f64,
}

impl FromPhoto {
    /// `taken from a photograph, the mean of both halves, which lie up to 6 mm apart`.
    pub(super) fn words(self, lengths: LengthStyle) -> String {
        let which = match self.halves {
            Halves::Mean => "the mean of both halves",
            Halves::Left => "its left half",
            Halves::Right => "its right half",
        };
        format!(
            "taken from a photograph by a sheet of {}, {which}; its halves lie up to {} apart",
            self.paper.name(),
            lengths.format(self.apart_mm.round())
        )
    }
}

/// What is said beside every outline from a photograph.
pub(super) const SCALE_WORDS: &str =
    "a sheet tells sizes to 1.6 %: tape width and height, and give them by --measure cloth_width=.. --measure cloth_height=..";

/// The half that a photograph shows.
pub(super) fn half(path: &Path, argument: &str, asked: &OutlineArguments) -> Result<(BezPath, FromPhoto), CliError> {
    let place = format!("{argument} {}", path.display());
    if let Some(name) = asked.of_drawings().into_iter().find_map(|(name, is_given)| is_given.then_some(name)) {
        return Err(CliError::argument(name, "a photograph has no lines to choose among and no unit", "leave it out"));
    }
    let photograph = read_photograph(path).map_err(|error| CliError::Argument(error.told(Voice::FILE)))?;
    let found = find_outline(&photograph);
    let refused = |what: &str, cure: &str| Err(CliError::argument(place.clone(), what, cure));
    if found.nodes.is_empty() {
        return refused("no garment can be made out in it", "lay it on a plain table of another colour");
    }
    if found.is_cut {
        return refused("the garment goes on beyond the picture", "photograph it with table all round");
    }
    let Some(sheet) = found.sheet else {
        return refused(
            "no white sheet can be made out in it",
            "lay a sheet of A4, A3 or Letter beside the garment, on a table of another colour",
        );
    };
    let sheet = Sheet { paper: asked.outline_paper.unwrap_or(sheet.paper), ..sheet };
    let halves = asked.outline_half.unwrap_or_default();
    let traced = half_of(&found.nodes, &sheet, halves).map_err(|error| CliError::because(place.clone(), &error))?;
    let (half, _) = half_outline(&traced.half).map_err(|error| CliError::because(place.clone(), &error))?;
    Ok((half, FromPhoto { paper: sheet.paper, halves, apart_mm: traced.apart_mm }))
}
