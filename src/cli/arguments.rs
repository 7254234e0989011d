//! Command-line arguments: one definition for parsing and help.

mod bundle;
mod flat;
mod handbook;
mod handout;
mod learn;
mod like;
mod line;
mod outline;
mod photo;
mod plan;
mod print;
mod shelf;
mod spacing;
mod spiral;
mod swatches;
mod unit;
mod wish;

pub(crate) use bundle::BundleArguments;
pub(crate) use flat::FlatArguments;
pub(crate) use handbook::HandbookArguments;
pub(crate) use handout::HandoutArguments;
pub(crate) use learn::{LearnArguments, PieceArgument, TestClothArguments};
pub(crate) use like::LikeArguments;
pub(crate) use line::LineArguments;
pub(crate) use outline::OutlineArguments;
pub(crate) use photo::PhotoArguments;
pub(crate) use plan::{PlanArguments, RegionArgument};
pub(crate) use print::{PartArgument, PrintArguments};
pub(crate) use shelf::{ShelfArguments, ShelfCommand};
pub(crate) use spacing::{FitArgument, SpacingArguments, SpacingCommand};
pub(crate) use spiral::SpiralArguments;
pub(crate) use swatches::{SquareArgument, SwatchesArguments};
pub(crate) use unit::{UnitArguments, Units, length_mm};
pub(crate) use wish::WishArguments;

use super::journal::JournalArguments;
use clap::builder::{PossibleValue, PossibleValuesParser, TypedValueParser};
use clap::{Args, Parser, Subcommand, ValueEnum};
use pleatwright::layout::FoldKind;
use pleatwright::measure::RuleMarks;
use pleatwright::reveal::PictureMap;
use std::path::PathBuf;

/// Plan the fold, print it full size, then tie and dye.
#[derive(Debug, Parser)]
#[command(version, args_conflicts_with_subcommands = true)]
pub(crate) struct Arguments {
    /// A layout file or a bundle to open in the window; without one, the window offers examples.
    pub(crate) layout: Option<PathBuf>,
    #[command(subcommand)]
    pub(crate) command: Option<Command>,
}

/// The jobs.
#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Print a layout true to size: template, strips and job card, as PDF, SVG or DXF.
    Print(PrintArguments),
    /// Show every computed number of a layout.
    Figures(FiguresArguments),
    /// Check files; report errors and warnings.
    Check(CheckArguments),
    /// Start a layout for a garment.
    New(Box<NewArguments>),
    /// Plan the work for a layout or an order: what to weigh and buy, what to charge, when to do what.
    Plan(PlanArguments),
    /// Record what you made and how it came out; find it, compare it, make it again.
    ///
    /// Without --journal, its folder is the window's: `journal` in `$XDG_DATA_HOME/pleatwright` or `~/.local/share/pleatwright`; on macOS in
    /// `~/Library/Application Support/Pleatwright`; on Windows in `%APPDATA%\Pleatwright\data`.
    Journal(JournalArguments),
    /// Keep the supplies that every plan's shopping list reads: dyes, agents, thread, undyed garments, with prices.
    Shelf(ShelfArguments),
    /// Show how the opened garment may come out, as a picture: an estimate.
    Reveal(RevealArguments),
    /// Find the binds and dyes that come nearest to rings wished on the opened garment; what can't be reached is named.
    Wish(WishArguments),
    /// Write a wish for rings like those of a photograph, to look over, change and find binds for.
    Like(LikeArguments),
    /// Hold a photograph of the opened garment against its plan: rings, colours, what to change next time.
    Photo(PhotoArguments),
    /// Take colours of dyed squares from a photograph, beside white paper, into a book of swatches.
    Swatches(SwatchesArguments),
    /// Learn calibration values from photographs of what you made: how far your dye reaches, what your thread lets through.
    Learn(LearnArguments),
    /// Begin a day that shows most calibration values: layouts of three squares, their sheets, the day's plan, what to do.
    #[command(name = "testcloth")]
    TestCloth(TestClothArguments),
    /// Make a few pages for others to follow on a garment of theirs, in all sizes: a PDF to print or a picture to post.
    Handout(HandoutArguments),
    /// List, save and apply spacing presets.
    Spacing(SpacingArguments),
    /// Write a bundle to hand on: a layout with its presets, swatches and picture in one file.
    Bundle(BundleArguments),
    /// Read the handbook: list its pages, show one, search them, or write them all as a PDF.
    Handbook(HandbookArguments),
    /// Write a completion script for your shell.
    Completions(CompletionsArguments),
    /// Write a manual page for each command.
    Man(ManArguments),
}

/// Arguments of `figures`.
#[derive(Debug, Args)]
pub(crate) struct FiguresArguments {
    /// The layout file.
    pub(crate) layout: PathBuf,
    /// As JSON with stable names and every length in mm.
    #[arg(long)]
    pub(crate) json: bool,
    #[command(flatten)]
    pub(crate) units: UnitArguments,
}

/// Arguments of `check`.
#[derive(Debug, Args)]
pub(crate) struct CheckArguments {
    /// The files.
    #[arg(required = true)]
    pub(crate) files: Vec<PathBuf>,
    #[command(flatten)]
    pub(crate) units: UnitArguments,
}

/// Arguments of `new`.
#[derive(Debug, Args)]
pub(crate) struct NewArguments {
    /// File to write; - for standard output.
    #[arg(short, long, value_name = "FILE")]
    pub(crate) output: PathBuf,
    /// Kind of garment, such as crew-tee, tank, tote-bag, or own for an outline of your own; part of the name is enough if only one kind
    /// matches. Default: crew-tee, or own with --outline.
    #[arg(long)]
    pub(crate) garment: Option<String>,
    #[command(flatten)]
    pub(crate) outline: OutlineArguments,
    /// The fold.
    #[arg(long, value_parser = folds(), default_value = FoldKind::default().name())]
    pub(crate) fold: FoldKind,
    #[command(flatten)]
    pub(crate) line: LineArguments,
    #[command(flatten)]
    pub(crate) flat: FlatArguments,
    #[command(flatten)]
    pub(crate) spiral: SpiralArguments,
    /// Size, such as M; a wrong one lists the choices. Default: M, or a medium bag, or a bandana, unless the measurements given suffice.
    #[arg(long)]
    pub(crate) size: Option<String>,
    /// A measurement taken on the garment, such as `neck_width=172mm` or `"length=29 1/2in"`; may be repeated.
    #[arg(long, value_name = "NAME=LENGTH")]
    pub(crate) measure: Vec<String>,
    /// The layout's name. Default: kind and size, such as "Crew-neck tee, M".
    #[arg(long)]
    pub(crate) name: Option<String>,
    /// What was learned from photographs, to begin the layout's calibration with.
    #[arg(long, value_name = "FILE")]
    pub(crate) calibration: Option<PathBuf>,
    /// Marks of your rule, to which radii are rounded. Default: every sixteenth of an inch if a length or --units is in
    /// inches, else every millimetre.
    #[arg(long, value_enum)]
    pub(crate) marks: Option<MarksArgument>,
    /// Unit of lengths given without one.
    #[arg(long, value_enum, default_value_t = Units::Mm)]
    pub(crate) units: Units,
}

/// The names of the folds, each with what it is, from the one table of them.
fn folds() -> impl TypedValueParser<Value = FoldKind> {
    let listed = FoldKind::ALL.map(|kind| PossibleValue::new(kind.name()).help(kind.about()));
    // Only names of that list come through.
    PossibleValuesParser::new(listed).map(|name| FoldKind::named(&name).unwrap_or_default())
}

/// The marks of a rule.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum MarksArgument {
    /// No rounding.
    Exact,
    /// Every millimetre.
    #[value(name = "1mm")]
    Millimetres1,
    /// Every five millimetres.
    #[value(name = "5mm")]
    Millimetres5,
    /// Every eighth of an inch.
    #[value(name = "1/8in")]
    InchEighth,
    /// Every sixteenth of an inch.
    #[value(name = "1/16in")]
    InchSixteenth,
}

impl From<MarksArgument> for RuleMarks {
    fn from(marks: MarksArgument) -> Self {
        match marks {
            MarksArgument::Exact => Self::Exact,
            MarksArgument::Millimetres1 => Self::Millimetres1,
            MarksArgument::Millimetres5 => Self::Millimetres5,
            MarksArgument::InchEighth => Self::InchEighth,
            MarksArgument::InchSixteenth => Self::InchSixteenth,
        }
    }
}

/// Arguments of `completions`.
#[derive(Debug, Args)]
pub(crate) struct CompletionsArguments {
    /// Your shell.
    pub(crate) shell: clap_complete::Shell,
    /// File to write; without one, or with -, the script goes to standard output.
    #[arg(short, long, value_name = "FILE")]
    pub(crate) output: Option<PathBuf>,
}

/// Arguments of `man`.
#[derive(Debug, Args)]
pub(crate) struct ManArguments {
    /// Folder for the pages; created if missing.
    #[arg(short, long, value_name = "FOLDER", value_hint = clap::ValueHint::DirPath)]
    pub(crate) output: PathBuf,
}

/// Arguments of `reveal`.
#[derive(Debug, Args)]
pub(crate) struct RevealArguments {
    /// The layout file.
    pub(crate) layout: PathBuf,
    /// Picture to write, ending in .png; - for standard output.
    #[arg(short, long, value_name = "FILE")]
    pub(crate) output: PathBuf,
    /// Size of a pixel on the cloth.
    #[arg(long, value_parser = length_mm, value_name = "LENGTH", default_value = "1mm")]
    pub(crate) pixel: f64,
    /// Colour of the discharged garment, as #rrggbb, instead of the layout's.
    #[arg(long, value_name = "COLOUR")]
    pub(crate) discharged: Option<pleatwright::layout::Srgb>,
    /// What the picture shows.
    #[arg(long, value_enum, default_value_t = MapArgument::Cloth)]
    pub(crate) map: MapArgument,
    /// Paint flat colours, without the texture of washed cloth.
    #[arg(long)]
    pub(crate) flat: bool,
    /// What was learned from photographs, instead of the layouts' own calibration.
    #[arg(long, value_name = "FILE")]
    pub(crate) calibration: Option<PathBuf>,
    /// Another layout, to draw below and compare.
    #[arg(long, value_name = "LAYOUT")]
    pub(crate) beside: Option<PathBuf>,
    /// Hatch where the picture may be off by what is believed of its calibration, and draw its two extremes below.
    #[arg(long, conflicts_with_all = ["beside", "map", "discharged"])]
    pub(crate) unsure: bool,
}

/// What a picture shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum MapArgument {
    /// The cloth as it may come out.
    Cloth,
    /// The dose of all dyes; hatched where too small to count as reached.
    Dose,
    /// The share of the garment colour that is left.
    Ground,
}

impl MapArgument {
    /// The map.
    pub(crate) fn map(self) -> PictureMap {
        match self {
            Self::Cloth => PictureMap::Cloth,
            Self::Dose => PictureMap::DoseReached,
            Self::Ground => PictureMap::GroundLeft,
        }
    }
}
