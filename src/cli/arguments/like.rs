//! Arguments of `like`.

use super::UnitArguments;
use super::photo::sides;
use clap::Args;
use pleatwright::geometry::Panel;
use std::path::PathBuf;

/// Arguments of `like`.
#[derive(Debug, Args)]
pub(crate) struct LikeArguments {
    /// The photograph: JPEG, PNG, WebP or TIFF; as for `photo`, the garment lies flat on a plain table.
    pub(crate) photograph: PathBuf,
    /// The layout to begin with, of the photographed garment's kind and size and with its centre or line: the new garment's fold, thread, dyes and
    /// process are its.
    #[arg(long, value_name = "LAYOUT")]
    pub(crate) layout: PathBuf,
    /// Where points of the garment and the sheet's corners are. Default: those kept beside the photograph; where there are none, points are found by
    /// their looks
    #[arg(long, value_name = "MARKS")]
    pub(crate) marks: Option<PathBuf>,
    /// The side that it shows, where points are to be found.
    #[arg(long, value_parser = sides(), value_name = "SIDE", default_value = "front", conflicts_with = "marks")]
    pub(crate) side: Panel,
    /// Name of the wish, which the new layout takes; that of the photograph's file unless given.
    #[arg(long, value_name = "NAME")]
    pub(crate) name: Option<String>,
    /// Wish to write, such as wish.ron; - for standard output.
    #[arg(short, long, value_name = "FILE")]
    pub(crate) output: PathBuf,
    #[command(flatten)]
    pub(crate) units: UnitArguments,
}
