//! What may stand on the command line after `journal`.

use crate::cli::arguments::UnitArguments;
use clap::{Args, Subcommand};
use jiff::civil::Date;
use std::path::PathBuf;

/// Arguments of `journal`.
#[derive(Debug, Args)]
pub(crate) struct JournalArguments {
    #[command(subcommand)]
    pub(crate) command: JournalCommand,
    /// The journal's folder. Default: the window's own.
    #[arg(long, global = true, value_name = "FOLDER")]
    pub(crate) journal: Option<PathBuf>,
}

/// What to do with the journal.
#[derive(Debug, Subcommand)]
pub(crate) enum JournalCommand {
    /// Add what you made; its layout is kept as it is now.
    Add {
        /// The layout it was made from.
        layout: PathBuf,
        /// The day it was made, such as 2027-05-05.
        #[arg(long, value_parser = date, value_name = "DATE")]
        made: Date,
        /// With --run, which of several garments of that layout it is, 1 for the first; all together unless given.
        #[arg(long, requires = "run", value_name = "NUMBER")]
        garment: Option<u32>,
        #[command(flatten)]
        said: Said,
    },
    /// Edit an entry; the earlier version is kept.
    Amend {
        /// The entry, as `list` names it.
        id: String,
        /// The day it was made.
        #[arg(long, value_parser = date, value_name = "DATE")]
        made: Option<Date>,
        #[command(flatten)]
        said: Said,
        /// A photograph to remove, by the name `show` gives; may be repeated.
        #[arg(long, value_name = "NAME")]
        drop_photo: Vec<String>,
    },
    /// List all entries, newest first.
    List,
    /// Show an entry.
    Show {
        /// The entry.
        id: String,
        /// Show earlier versions too.
        #[arg(long)]
        earlier: bool,
        /// Show its layout too.
        #[arg(long)]
        layout: bool,
    },
    /// List the entries that match everything given.
    Search {
        /// Words that must all be in it; capitals don't matter.
        words: Vec<String>,
        /// Kind of garment, such as crew-tee.
        #[arg(long)]
        garment: Option<String>,
        /// A colour of the design or of the garment; may be repeated.
        #[arg(long = "colour", value_name = "NAME")]
        colours: Vec<String>,
        /// Rated at least this.
        #[arg(long, value_name = "N", value_parser = rating())]
        rating_from: Option<u8>,
        /// Rated at most this.
        #[arg(long, value_name = "N", value_parser = rating())]
        rating_to: Option<u8>,
        /// Made on this day or later.
        #[arg(long, value_parser = date, value_name = "DATE")]
        from: Option<Date>,
        /// Made on this day or before.
        #[arg(long, value_parser = date, value_name = "DATE")]
        to: Option<Date>,
    },
    /// Show how two entries and their layouts differ.
    Compare {
        /// The first.
        first: String,
        /// The second.
        second: String,
        #[command(flatten)]
        units: UnitArguments,
    },
    /// Save an entry's layout to a file, to make it again.
    Again {
        /// The entry.
        id: String,
        /// File to write; - for standard output.
        #[arg(short, long, value_name = "FILE")]
        output: PathBuf,
        /// Put the changes to make in the layout's note.
        #[arg(long)]
        with_changes: bool,
    },
    /// Export all entries to a folder as plain files.
    Export {
        /// The folder.
        folder: PathBuf,
    },
    /// Recover what can be read of a damaged journal; nothing is deleted.
    Salvage,
    /// Import an exported journal; existing entries stay unchanged.
    Import {
        /// The folder.
        folder: PathBuf,
    },
}

/// What is said of something made.
#[derive(Debug, Args)]
pub(crate) struct Said {
    /// How it came out: 1 (not again) to 5 (just right).
    #[arg(long, value_name = "N", value_parser = rating())]
    pub(crate) rating: Option<u8>,
    /// What you did differently from the layout.
    #[arg(long, value_name = "TEXT")]
    pub(crate) differently: Option<String>,
    /// What to change next time.
    #[arg(long, value_name = "TEXT")]
    pub(crate) change: Option<String>,
    /// Anything else.
    #[arg(long, value_name = "TEXT")]
    pub(crate) note: Option<String>,
    /// A photograph; may be repeated.
    #[arg(long = "photo", value_name = "FILE")]
    pub(crate) photos: Vec<PathBuf>,
    /// The run of that day, to record how its waits came out and, with a new entry, its notes and times.
    #[arg(long, value_name = "FILE")]
    pub(crate) run: Option<PathBuf>,
}

fn rating() -> clap::builder::RangedI64ValueParser<u8> {
    clap::value_parser!(u8).range(1..=5)
}

fn date(text: &str) -> Result<Date, String> {
    text.trim().parse().map_err(|_not_a_date| "give a date such as 2027-05-05".to_owned())
}
