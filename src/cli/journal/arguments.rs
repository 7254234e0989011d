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
    /// The journal's folder. Without it, the window's own: the folder `journal` in `$XDG_DATA_HOME/pleatwright` or
    /// `~/.local/share/pleatwright`; on macOS in `~/Library/Application Support/Pleatwright`; on Windows in
    /// `%APPDATA%\Pleatwright\data`.
    #[arg(long, global = true, value_name = "FOLDER")]
    pub(crate) journal: Option<PathBuf>,
}

/// What to do with the journal.
#[derive(Debug, Subcommand)]
pub(crate) enum JournalCommand {
    /// Write down what was made; its layout is kept as it is now.
    Add {
        /// The layout that it was made from.
        layout: PathBuf,
        /// The day on which it was made, such as 2027-05-05.
        #[arg(long, value_parser = date, value_name = "DATE")]
        made: Date,
        #[command(flatten)]
        said: Said,
    },
    /// Say more about an entry, or say it otherwise; what it said before is kept.
    Amend {
        /// The entry, as `list` names it.
        id: String,
        /// The day on which it was made.
        #[arg(long, value_parser = date, value_name = "DATE")]
        made: Option<Date>,
        #[command(flatten)]
        said: Said,
        /// A photograph to take from the entry, by the name that `show` gives; may be given several times.
        #[arg(long, value_name = "NAME")]
        drop_photo: Vec<String>,
    },
    /// List everything, what was made last first.
    List,
    /// Show an entry.
    Show {
        /// The entry.
        id: String,
        /// Show also what it said before it was amended.
        #[arg(long)]
        earlier: bool,
        /// Show the layout too, as it was.
        #[arg(long)]
        layout: bool,
    },
    /// List what fits everything given.
    Search {
        /// Words that all occur in it; capitals do not matter.
        words: Vec<String>,
        /// Kind of garment, such as crew-tee.
        #[arg(long)]
        garment: Option<String>,
        /// A colour of the design or of the garment; may be given several times.
        #[arg(long = "colour", value_name = "NAME")]
        colours: Vec<String>,
        /// Rated at least so.
        #[arg(long, value_name = "N", value_parser = rating())]
        rating_from: Option<u8>,
        /// Rated at most so.
        #[arg(long, value_name = "N", value_parser = rating())]
        rating_to: Option<u8>,
        /// Made on this day or later.
        #[arg(long, value_parser = date, value_name = "DATE")]
        from: Option<Date>,
        /// Made on this day or before.
        #[arg(long, value_parser = date, value_name = "DATE")]
        to: Option<Date>,
    },
    /// Show in what two entries and their layouts differ.
    Compare {
        /// The first.
        first: String,
        /// The second.
        second: String,
        #[command(flatten)]
        units: UnitArguments,
    },
    /// Write an entry's layout into a file, to make it again.
    Again {
        /// The entry.
        id: String,
        /// File to write; - for standard output.
        #[arg(short, long, value_name = "FILE")]
        output: PathBuf,
        /// With what to change as the layout's note.
        #[arg(long)]
        with_changes: bool,
    },
    /// Write everything into a folder, as plain files.
    Export {
        /// The folder.
        folder: PathBuf,
    },
    /// Bring back what still reads of a damaged journal; nothing is thrown away.
    Salvage,
    /// Take in the plain files of a folder; nothing that is in the journal is changed.
    Import {
        /// The folder.
        folder: PathBuf,
    },
}

/// What is said of something made.
#[derive(Debug, Args)]
pub(crate) struct Said {
    /// How it came out: 1 (not again) to 5 (just so).
    #[arg(long, value_name = "N", value_parser = rating())]
    pub(crate) rating: Option<u8>,
    /// What was done otherwise than the layout says.
    #[arg(long, value_name = "TEXT")]
    pub(crate) differently: Option<String>,
    /// What to change next time.
    #[arg(long, value_name = "TEXT")]
    pub(crate) change: Option<String>,
    /// Anything else.
    #[arg(long, value_name = "TEXT")]
    pub(crate) note: Option<String>,
    /// A photograph; may be given several times.
    #[arg(long = "photo", value_name = "FILE")]
    pub(crate) photos: Vec<PathBuf>,
    /// The run of that day: how its waits came out is written down.
    #[arg(long, value_name = "FILE")]
    pub(crate) run: Option<PathBuf>,
}

fn rating() -> clap::builder::RangedI64ValueParser<u8> {
    clap::value_parser!(u8).range(1..=5)
}

fn date(text: &str) -> Result<Date, String> {
    text.trim().parse().map_err(|_not_a_date| "give a date such as 2027-05-05".to_owned())
}
