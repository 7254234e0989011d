//! What may stand after `print`.

use super::{UnitArguments, length_mm};
use clap::{Args, ValueEnum};
use pleatwright::print::parts::PartKind;
use std::path::PathBuf;

/// A length that can't be negative, as a maker types it.
fn length_from_0_mm(text: &str) -> Result<f64, String> {
    let mm = length_mm(text).map_err(|error| error.to_string())?;
    if mm < 0.0 { Err("it can't be negative; give 0 mm or more".to_owned()) } else { Ok(mm) }
}

/// Arguments of `print`.
#[derive(Debug, Args)]
pub(crate) struct PrintArguments {
    /// The layout file.
    pub(crate) layout: PathBuf,
    /// File to write; its extension sets the format: .pdf (split into sheets), .svg or .dxf (whole, one file a part). - sends a PDF to
    /// standard output, as in `-o - | lp`.
    #[arg(short, long, value_name = "FILE")]
    pub(crate) output: PathBuf,
    /// What to print; may be repeated.
    #[arg(long, value_enum, default_value = "all")]
    pub(crate) part: Vec<PartArgument>,
    /// Paper: a name (A4, Letter, Arch-D ...), a size ("300x400", "24in x 36in") or a roll ("roll:610").
    /// A4 if left out. For PDF only, as are margin, overlap and the printer's scale.
    #[arg(long)]
    pub(crate) paper: Option<String>,
    /// Border your printer leaves white.
    #[arg(long, value_parser = length_from_0_mm, value_name = "LENGTH", allow_hyphen_values = true)]
    pub(crate) margin: Option<f64>,
    /// How far neighbouring sheets overlap.
    #[arg(long, value_parser = length_from_0_mm, value_name = "LENGTH", allow_hyphen_values = true)]
    pub(crate) overlap: Option<f64>,
    /// What the 100 mm bar measures on your print, in mm; corrects the printer's scale.
    #[arg(long, value_parser = length_from_0_mm, value_name = "MM", allow_hyphen_values = true)]
    pub(crate) printer_prints: Option<f64>,
    /// Dots to prick and chalk through instead of lines, this far apart (default 5 mm): --pounce or --pounce=4mm.
    #[arg(
        long,
        value_parser = length_from_0_mm,
        value_name = "LENGTH",
        num_args = 0..=1,
        require_equals = true,
        default_missing_value = "5mm"
    )]
    pub(crate) pounce: Option<f64>,
    /// Leave the creases out of the template.
    #[arg(long)]
    pub(crate) without_creases: bool,
    #[command(flatten)]
    pub(crate) units: UnitArguments,
}

/// What to print.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum PartArgument {
    /// The full-size template.
    Template,
    /// The ruler to swing chalk with.
    SwingStrip,
    /// The strip to lay beside the rod.
    RodStrip,
    /// The block to cut from board, of a bundle that blocks hold.
    Block,
    /// A spiral's puck, with its bands and wedges.
    Puck,
    /// Every fold as a picture, of a flat bundle or a spiral.
    FoldingCard,
    /// The card with every number.
    JobCard,
    /// Everything.
    All,
}

impl PartArgument {
    /// The parts meant, each once, in printing order.
    pub(crate) fn kinds(arguments: &[Self]) -> Vec<PartKind> {
        let wanted = |kind: &PartKind| {
            arguments.iter().any(|argument| match argument {
                Self::Template => *kind == PartKind::Template,
                Self::SwingStrip => *kind == PartKind::SwingStrip,
                Self::RodStrip => *kind == PartKind::RodStrip,
                Self::Block => *kind == PartKind::Block,
                Self::Puck => *kind == PartKind::Puck,
                Self::FoldingCard => *kind == PartKind::FoldingCard,
                Self::JobCard => *kind == PartKind::JobCard,
                Self::All => true,
            })
        };
        PartKind::ALL.into_iter().filter(wanted).collect()
    }
}
