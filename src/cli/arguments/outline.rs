//! Arguments about the outline of a garment of one's own.

use super::line::{named, units};
use clap::Args;
use clap::builder::TypedValueParser;
use pleatwright::geometry::Panels;
use pleatwright::import::FileUnit;
use pleatwright::photo::{Halves, SheetPaper};
use std::path::PathBuf;

/// Where the outline comes from, for `--garment own`.
#[derive(Debug, Args)]
pub(crate) struct OutlineArguments {
    /// Take the garment's outline from a drawing, an SVG or DXF file: the whole of it alike on both sides, or a half with its fold upright. Or from a
    /// photograph from above of the undyed garment: it lies flat and upright on a plain table of another colour, a sheet of paper beside it.
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
    /// The sheet in the photographs. Default: A4 or Letter by its shape.
    #[arg(long, value_parser = papers(), value_name = "PAPER")]
    pub(crate) outline_paper: Option<SheetPaper>,
    /// Which half of what the photographs show, left and right as you see them. Default: the mean of both.
    #[arg(long, value_parser = halves(), value_name = "HALF")]
    pub(crate) outline_half: Option<Halves>,
    /// How many layers of cloth lie on the table. Default: two.
    #[arg(long, value_parser = layers(), value_name = "LAYERS")]
    pub(crate) layers: Option<Panels>,
}

impl OutlineArguments {
    /// What is asked for of drawings alone, and whether it is given.
    pub(crate) fn of_drawings(&self) -> [(&'static str, bool); 3] {
        [
            ("--outline-which", self.outline_which.is_some()),
            ("--outline-unit", self.outline_unit.is_some()),
            ("--outline-back-which", self.outline_back_which.is_some()),
        ]
    }

    /// What is asked for of photographs alone, and whether it is given.
    pub(crate) fn of_photographs(&self) -> [(&'static str, bool); 2] {
        [("--outline-paper", self.outline_paper.is_some()), ("--outline-half", self.outline_half.is_some())]
    }
}

fn papers() -> impl TypedValueParser<Value = SheetPaper> {
    named(SheetPaper::ALL.map(SheetPaper::name).to_vec(), SheetPaper::named, SheetPaper::A4)
}

fn halves() -> impl TypedValueParser<Value = Halves> {
    let of = |name: &str| Halves::ALL.into_iter().find(|halves| halves.name() == name);
    named(Halves::ALL.map(Halves::name).to_vec(), of, Halves::Mean)
}

fn layers() -> impl TypedValueParser<Value = Panels> {
    let of = |name: &str| Panels::ALL.into_iter().find(|layers| layers.name() == name);
    named(Panels::ALL.map(Panels::name).to_vec(), of, Panels::Two)
}
