//! Arguments of `learn` and `testcloth`.

use clap::Args;
use std::path::PathBuf;
use std::str::FromStr;

/// Arguments of `learn`.
#[derive(Debug, Args)]
pub(crate) struct LearnArguments {
    /// A piece that you made: its layout and photographs of it, one of each side, such as shirt.ron=front.jpg,back.jpg. Marks on each photograph are
    /// read from beside it, where the window keeps them.
    #[arg(required_unless_present = "show", value_name = "LAYOUT=PHOTOGRAPH,..")]
    pub(crate) pieces: Vec<PieceArgument>,
    /// A piece that is not learned from: how far what is learned foretells it, beside the earlier values.
    #[arg(long, value_name = "LAYOUT=PHOTOGRAPH,..")]
    pub(crate) kept_back: Option<PieceArgument>,
    /// What was learned before; these pieces add to it.
    #[arg(long, value_name = "FILE")]
    pub(crate) earlier: Option<PathBuf>,
    /// File to write, such as my-calibration.ron; - for standard output.
    #[arg(short, long, required_unless_present = "show", value_name = "FILE")]
    pub(crate) output: Option<PathBuf>,
    /// As JSON with stable names.
    #[arg(long)]
    pub(crate) json: bool,
    /// Shows what was learned before, and learns nothing.
    #[arg(long, value_name = "FILE", conflicts_with_all = ["pieces", "kept_back", "earlier", "output", "json"])]
    pub(crate) show: Option<PathBuf>,
}

/// A layout and photographs of what was made from it.
#[derive(Debug, Clone)]
pub(crate) struct PieceArgument {
    pub(crate) layout: PathBuf,
    pub(crate) photographs: Vec<PathBuf>,
}

impl FromStr for PieceArgument {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        let parts = text.split_once('=').filter(|(layout, photographs)| !layout.is_empty() && !photographs.is_empty());
        let Some((layout, photographs)) = parts else {
            return Err("not a layout and its photographs; write LAYOUT=PHOTOGRAPH, such as shirt.ron=front.jpg".to_owned());
        };
        Ok(Self { layout: layout.into(), photographs: photographs.split(',').map(PathBuf::from).collect() })
    }
}

/// Arguments of `testcloth`.
#[derive(Debug, Args)]
pub(crate) struct TestClothArguments {
    /// Folder for layouts, sheets, the day's plan and what to do; made if missing. Nothing in it is overwritten.
    #[arg(short, long, value_name = "FOLDER", value_hint = clap::ValueHint::DirPath)]
    pub(crate) output: PathBuf,
    /// When the day begins, such as 2027-06-12T09:00.
    #[arg(long, value_parser = super::plan::time, value_name = "TIME")]
    pub(crate) start: jiff::civil::DateTime,
    /// Paper: a name or a size, as for `print`. Default: A4.
    #[arg(long)]
    pub(crate) paper: Option<String>,
}
