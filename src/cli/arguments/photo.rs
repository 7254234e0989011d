//! Arguments of `photo`.

use super::UnitArguments;
use clap::Args;
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
    /// Default: those that the window keeps beside the photograph, under its name and .marks.ron
    #[arg(long, value_name = "MARKS")]
    pub(crate) marks: Option<PathBuf>,
    /// As JSON with stable names and every length in mm.
    #[arg(long)]
    pub(crate) json: bool,
    /// Picture to write, ending in .png: the photograph straightened onto the plan.
    #[arg(short, long, value_name = "FILE")]
    pub(crate) output: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) units: UnitArguments,
}
