//! Arguments of `wish`.

use super::UnitArguments;
use clap::Args;
use std::path::PathBuf;

/// Arguments of `wish`.
#[derive(Debug, Args)]
pub(crate) struct WishArguments {
    /// The wish: which colour is wanted from where to where, and the layout to begin with.
    pub(crate) wish: PathBuf,
    /// Layout to write, such as shirt.ron; - for standard output.
    #[arg(short, long, value_name = "FILE")]
    pub(crate) output: PathBuf,
    /// What was learned from photographs, instead of the layout's own calibration.
    #[arg(long, value_name = "FILE")]
    pub(crate) calibration: Option<PathBuf>,
    /// As JSON with stable names and every length in mm.
    #[arg(long)]
    pub(crate) json: bool,
    #[command(flatten)]
    pub(crate) units: UnitArguments,
}
