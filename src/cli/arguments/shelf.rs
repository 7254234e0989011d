//! What may stand after `shelf`.

use clap::{Args, Subcommand};
use std::path::PathBuf;

/// Arguments of `shelf`.
#[derive(Debug, Args)]
pub(crate) struct ShelfArguments {
    #[command(subcommand)]
    pub(crate) command: ShelfCommand,
    /// The journal's folder, where the shelf is kept. Default: the window's own.
    #[arg(long, global = true, value_name = "FOLDER")]
    pub(crate) journal: Option<PathBuf>,
}

/// What to do with the shelf.
#[derive(Debug, Subcommand)]
pub(crate) enum ShelfCommand {
    /// List what is on the shelf.
    List,
    /// Add something or change it; what you leave out stays as it was.
    Set {
        /// A supply, such as "dye, teal", "soda ash" or thread; with --blank undyed garments, such as "crew-neck tee, M, plum".
        name: String,
        /// The name is of undyed garments.
        #[arg(long)]
        blank: bool,
        /// What you have, such as 120g, 1.2kg, 4oz or 30m; for undyed garments, how many.
        #[arg(long, value_name = "AMOUNT")]
        on_hand: Option<String>,
        /// A pack it is sold in, such as "50g=4.90"; may be repeated, and replaces the earlier packs.
        #[arg(long, value_name = "HOLDS=PRICE")]
        pack: Vec<String>,
        /// What one undyed garment costs.
        #[arg(long)]
        price: Option<f64>,
        /// The currency of all prices.
        #[arg(long)]
        currency: Option<String>,
    },
    /// Remove something.
    Remove {
        /// Its name.
        name: String,
    },
    /// Undo the last change; a second time, redo it.
    Undo,
    /// Export the shelf to a file.
    Export {
        /// File to write, in RON; - for standard output.
        file: PathBuf,
    },
    /// Replace the shelf with a file's; `undo` brings the earlier one back.
    Import {
        /// The file.
        file: PathBuf,
    },
}
