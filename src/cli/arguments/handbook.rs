//! What may stand after `handbook`.

use clap::Args;
use std::path::PathBuf;

/// Arguments of `handbook`.
#[derive(Debug, Args)]
pub(crate) struct HandbookArguments {
    /// PDF to write; - for standard output.
    #[arg(short, long, value_name = "FILE", conflicts_with_all = ["page", "search"])]
    pub(crate) output: Option<PathBuf>,
    /// Paper of the PDF, a sheet: a name or a size, as for `print`. Default: A4.
    #[arg(long, requires = "output")]
    pub(crate) paper: Option<String>,
    /// Show a page as text; without any option, the pages are listed.
    #[arg(long, value_name = "NAME", conflicts_with = "search")]
    pub(crate) page: Option<String>,
    /// Show the pages that have all these words, the best first.
    #[arg(long, value_name = "WORDS")]
    pub(crate) search: Option<String>,
}
