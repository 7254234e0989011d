//! Arguments of `photo`.

use super::UnitArguments;
use super::line::named;
use clap::Args;
use clap::builder::TypedValueParser;
use pleatwright::geometry::Panel;
use std::path::PathBuf;

/// Arguments of `photo`.
#[derive(Debug, Args)]
pub(crate) struct PhotoArguments {
    /// The photograph: JPEG, PNG, WebP or TIFF. The garment lies flat on a plain table, a white sheet 30 mm beside it, and the table shows all
    /// round.
    pub(crate) photograph: PathBuf,
    /// The layout that the garment was made from.
    #[arg(long, value_name = "LAYOUT")]
    pub(crate) layout: PathBuf,
    /// Where points of the garment and the sheet's corners are, in px from the upper left of the upright picture; a wrong name lists the points.
    /// Default: those kept beside the photograph, under its name and .marks.ron; where there are none, points are found by their looks
    #[arg(long, value_name = "MARKS")]
    pub(crate) marks: Option<PathBuf>,
    /// The side that it shows, where points are to be found.
    #[arg(long, value_parser = sides(), value_name = "SIDE", default_value = "front", conflicts_with = "marks")]
    pub(crate) side: Panel,
    /// Keep the points that are found beside the photograph: the window shows them, to be corrected.
    #[arg(long, conflicts_with = "marks")]
    pub(crate) keep_marks: bool,
    /// As JSON with stable names and every length in mm.
    #[arg(long)]
    pub(crate) json: bool,
    /// Picture to write, ending in .png: the photograph straightened onto the plan.
    #[arg(short, long, value_name = "FILE")]
    pub(crate) output: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) units: UnitArguments,
}

pub(super) fn sides() -> impl TypedValueParser<Value = Panel> {
    const NAMES: [(&str, Panel); 2] = [("front", Panel::Front), ("back", Panel::Back)];
    let of = |name: &str| NAMES.into_iter().find(|(known, _)| *known == name).map(|(_, side)| side);
    named(NAMES.map(|(name, _)| name).to_vec(), of, Panel::Front)
}
