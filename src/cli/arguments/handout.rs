//! What may stand after `handout`.

use super::{RegionArgument, UnitArguments};
use clap::{Args, ValueEnum};
use pleatwright::plan::GradeRule;
use std::path::PathBuf;

/// Arguments of `handout`.
#[derive(Debug, Args)]
pub(crate) struct HandoutArguments {
    /// The layout file.
    pub(crate) layout: PathBuf,
    /// File to write; its extension sets the format: .pdf to print, or .png to post; - for a PDF to standard output.
    #[arg(short, long, value_name = "FILE")]
    pub(crate) output: PathBuf,
    /// Paper of a PDF: a name or a size, as for `print`. Default: A4.
    #[arg(long)]
    pub(crate) paper: Option<String>,
    #[command(flatten)]
    pub(crate) units: UnitArguments,
    /// What happens to rings, lines and widths on other sizes.
    #[arg(long, value_enum, default_value_t = RingsArgument::Scaled)]
    pub(crate) rings: RingsArgument,
    /// Recipe: a built-in name (see `plan --list`) or a file. Default: the one that suits the process.
    #[arg(long)]
    pub(crate) recipe: Option<PathBuf>,
    /// Process: a built-in name (see `plan --list`) or a file. Default: the one that suits the garment's colour.
    #[arg(long)]
    pub(crate) process: Option<PathBuf>,
    /// Whose gas limits and mask names the cautions use.
    #[arg(long, value_enum)]
    pub(crate) region: Option<RegionArgument>,
}

/// What happens to rings on other sizes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum RingsArgument {
    /// They grow and shrink with the garment's width.
    Scaled,
    /// They stay as they are.
    Kept,
}

impl RingsArgument {
    pub(crate) const fn rule(self) -> GradeRule {
        match self {
            Self::Scaled => GradeRule::Scaled,
            Self::Kept => GradeRule::Kept,
        }
    }
}
