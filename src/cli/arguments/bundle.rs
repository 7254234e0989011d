//! What may stand after `bundle`.

use clap::Args;
use std::path::PathBuf;

/// Arguments of `bundle`.
#[derive(Debug, Args)]
pub(crate) struct BundleArguments {
    /// The layout file.
    pub(crate) layout: PathBuf,
    /// Bundle to write, ending in .pleatbundle; - for standard output.
    #[arg(short, long, value_name = "FILE")]
    pub(crate) output: PathBuf,
    /// Preset file or folder to take the layout's spacing preset from, instead of your own presets; may be repeated.
    #[arg(long = "preset", value_name = "PLACE")]
    pub(crate) presets: Vec<PathBuf>,
    /// Book to take the swatches of the layout's dyes from, instead of your own.
    #[arg(long, value_name = "FILE")]
    pub(crate) swatches: Option<PathBuf>,
    /// Leave the reveal's picture out.
    #[arg(long)]
    pub(crate) without_picture: bool,
}
