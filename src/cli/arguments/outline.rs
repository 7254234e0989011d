//! Arguments about the outline of a garment of one's own.

use super::line::{named, units};
use clap::Args;
use clap::builder::TypedValueParser;
use pleatwright::geometry::Panels;
use pleatwright::import::FileUnit;
use std::path::PathBuf;

/// Where the outline comes from, for `--garment own`.
#[derive(Debug, Args)]
pub(crate) struct OutlineArguments {
    /// Take the garment's outline from a drawing, an SVG or DXF file: the whole of it alike on both sides, or a half with its fold upright.
    #[arg(long, value_name = "FILE", value_hint = clap::ValueHint::FilePath)]
    pub(crate) outline: Option<PathBuf>,
    /// Which of several lines in the drawing: its number, name or layer.
    #[arg(long, value_name = "LINE")]
    pub(crate) outline_which: Option<String>,
    /// What the drawings' numbers measure, where they don't say.
    #[arg(long, value_parser = units(), value_name = "UNIT")]
    pub(crate) outline_unit: Option<FileUnit>,
    /// Take the back's outline from this drawing, if the back is cut otherwise; its top lies at the front's.
    #[arg(long, value_name = "FILE", value_hint = clap::ValueHint::FilePath)]
    pub(crate) outline_back: Option<PathBuf>,
    /// Which of several lines is the back's, in --outline-back or else in --outline.
    #[arg(long, value_name = "LINE")]
    pub(crate) outline_back_which: Option<String>,
    /// How many layers of cloth lie on the table. Default: two.
    #[arg(long, value_parser = layers(), value_name = "LAYERS")]
    pub(crate) layers: Option<Panels>,
}

fn layers() -> impl TypedValueParser<Value = Panels> {
    let of = |name: &str| Panels::ALL.into_iter().find(|layers| layers.name() == name);
    named(Panels::ALL.map(Panels::name).to_vec(), of, Panels::Two)
}
