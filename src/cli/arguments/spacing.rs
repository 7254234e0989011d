//! What may stand after `spacing`.

use clap::{Args, Subcommand, ValueEnum};
use std::path::PathBuf;

/// Arguments of `spacing`.
#[derive(Debug, Args)]
pub(crate) struct SpacingArguments {
    #[command(subcommand)]
    pub(crate) command: SpacingCommand,
}

/// What to do with spacing presets.
#[derive(Debug, Subcommand)]
pub(crate) enum SpacingCommand {
    /// List the built-in presets, and those in files and folders.
    List {
        /// Preset files, and folders that hold them.
        places: Vec<PathBuf>,
    },
    /// Save a layout's spacing under a name.
    Save {
        /// The layout file.
        layout: PathBuf,
        /// The preset's name.
        #[arg(long)]
        name: String,
        /// A note.
        #[arg(long, default_value = "")]
        note: String,
        /// File to write; - for standard output.
        #[arg(short, long, value_name = "FILE")]
        output: PathBuf,
    },
    /// Apply a preset's spacing to a layout.
    Apply {
        /// A preset file, or the name of a built-in preset.
        preset: String,
        /// The layout file.
        layout: PathBuf,
        /// File to write; may be the layout itself, whose earlier version is kept as .bak.
        #[arg(short, long, value_name = "FILE")]
        output: PathBuf,
        /// Whether the gaps grow with the guide arc.
        #[arg(long, value_enum, default_value_t = FitArgument::Scaled)]
        fit: FitArgument,
        /// Keep the layout's hand edits; without it they are dropped with the old spacing.
        #[arg(long)]
        keep_edits: bool,
        /// Take the preset's rule marks too; without it the layout keeps its own.
        #[arg(long)]
        preset_marks: bool,
    },
}

/// How a preset's lengths are carried over.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum FitArgument {
    /// In proportion to the guide arc.
    Scaled,
    /// As they are.
    Kept,
}
