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
    /// List the presets that come with the program, and those in files and folders.
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
        /// Anything to remember.
        #[arg(long, default_value = "")]
        note: String,
        /// File to write; - for standard output.
        #[arg(short, long, value_name = "FILE")]
        output: PathBuf,
    },
    /// Lay a preset's spacing on a layout.
    Apply {
        /// A preset file, or the name of a preset that comes with the program.
        preset: String,
        /// The layout file.
        layout: PathBuf,
        /// File to write; it may be the layout itself, whose earlier form is kept beside it.
        #[arg(short, long, value_name = "FILE")]
        output: PathBuf,
        /// Whether the gaps grow with the guide arc.
        #[arg(long, value_enum, default_value_t = FitArgument::Scaled)]
        fit: FitArgument,
        /// Keep the layout's edits by hand; without it they go with the spacing that they were made for.
        #[arg(long)]
        keep_edits: bool,
        /// Take the preset's marks of the rule; without it the layout keeps its own.
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
