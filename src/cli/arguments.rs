//! What may stand on the command line: one definition for parsing and help.

use super::journal::JournalArguments;
use clap::{Args, Parser, Subcommand, ValueEnum};
use jiff::civil::DateTime;
use pleatwright::measure::{InchFraction, LengthStyle, LengthUnit, RuleMarks, parse_length};
use pleatwright::plan::{WallClock, WorkPlace};
use pleatwright::print::parts::PartKind;
use pleatwright::reveal::PictureMap;
use std::path::PathBuf;

/// Design a fold-and-dye burst on a real garment: numbers, strips and a full-size template.
#[derive(Debug, Parser)]
#[command(version, args_conflicts_with_subcommands = true)]
pub(crate) struct Arguments {
    /// A layout file; its sheets are printed into the current folder. Without one, the example's.
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
    /// Check files (layouts, spacings, recipes, processes, orders), and say what is wrong with them or to look out for.
    Check(CheckArguments),
    /// Begin a layout for a garment.
    New(NewArguments),
    /// Plan the work for a layout or an order: what to weigh, buy and ask, and when to do what.
    Plan(PlanArguments),
    /// Write down what was made and how it came out; find it again, compare, make it again.
    Journal(JournalArguments),
    /// Show how the opened garment may come out, as a picture: an estimate.
    Reveal(RevealArguments),
    /// List, save and apply spacing presets.
    Spacing(SpacingArguments),
}

/// How lengths are written.
#[derive(Debug, Clone, Copy, Args)]
pub(crate) struct UnitArguments {
    /// Unit in which lengths are written.
    #[arg(long, value_enum, default_value_t = Units::Mm)]
    pub(crate) units: Units,
    /// Finest fraction of an inch, one in this many: 2, 4, 8 or 16.
    #[arg(long, default_value = "16", value_parser = inch_fraction)]
    pub(crate) nearest: InchFraction,
}

/// The unit of lengths.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Units {
    /// Millimetres.
    Mm,
    /// Inches and fractions.
    In,
}

impl Units {
    /// The unit of a length given without one.
    pub(crate) fn unit(self) -> LengthUnit {
        match self {
            Self::Mm => LengthUnit::Millimetre,
            Self::In => LengthUnit::Inch,
        }
    }
}

impl UnitArguments {
    /// The style.
    pub(crate) fn style(self) -> LengthStyle {
        match self.units {
            Units::Mm => LengthStyle::default(),
            Units::In => LengthStyle::Inches { nearest: self.nearest },
        }
    }
}

fn inch_fraction(text: &str) -> Result<InchFraction, String> {
    match text.trim_start_matches("1/") {
        "2" => Ok(InchFraction::Half),
        "4" => Ok(InchFraction::Quarter),
        "8" => Ok(InchFraction::Eighth),
        "16" => Ok(InchFraction::Sixteenth),
        _ => Err("give 2, 4, 8 or 16".to_owned()),
    }
}

/// A length as a maker types it, in mm where no unit is given.
pub(crate) fn length_mm(text: &str) -> Result<f64, String> {
    parse_length(text, LengthUnit::Millimetre).map_err(|error| error.to_string())
}

/// A length that can't be negative, as a maker types it.
fn length_from_0_mm(text: &str) -> Result<f64, String> {
    let mm = length_mm(text)?;
    if mm < 0.0 { Err("it can't be negative; give 0 mm or more".to_owned()) } else { Ok(mm) }
}

/// Arguments of `print`.
#[derive(Debug, Args)]
pub(crate) struct PrintArguments {
    /// The layout file.
    pub(crate) layout: PathBuf,
    /// File to write; its ending says the form: .pdf (cut into sheets), .svg or .dxf (whole, one file a part).
    #[arg(short, long, value_name = "FILE")]
    pub(crate) output: PathBuf,
    /// What to print; may be given several times.
    #[arg(long, value_enum, default_value = "all")]
    pub(crate) part: Vec<PartArgument>,
    /// Paper: a name (A4, Letter, Arch-D ...), a size ("300x400", "24in x 36in") or a roll ("roll:610").
    /// A4 if left out. For PDF only, as are margin, overlap and the printer's scale.
    #[arg(long)]
    pub(crate) paper: Option<String>,
    /// Border that the printer can't print.
    #[arg(long, value_parser = length_from_0_mm, value_name = "LENGTH", allow_hyphen_values = true)]
    pub(crate) margin: Option<f64>,
    /// How far neighbouring sheets overlap.
    #[arg(long, value_parser = length_from_0_mm, value_name = "LENGTH", allow_hyphen_values = true)]
    pub(crate) overlap: Option<f64>,
    /// What the 100 mm bar measures on your printer's sheets, in mm, to put its scale right.
    #[arg(long, value_parser = length_from_0_mm, value_name = "MM", allow_hyphen_values = true)]
    pub(crate) printer_prints: Option<f64>,
    /// Dots to prick and chalk through in place of lines, this far apart (5 mm if not said): --pounce or --pounce=4mm.
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
    /// The numbers.
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
                Self::JobCard => *kind == PartKind::JobCard,
                Self::All => true,
            })
        };
        PartKind::ALL.into_iter().filter(wanted).collect()
    }
}

/// Arguments of `figures`.
#[derive(Debug, Args)]
pub(crate) struct FiguresArguments {
    /// The layout file.
    pub(crate) layout: PathBuf,
    /// As JSON with stable names, every length in mm whatever the units.
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
    /// File to write.
    #[arg(short, long, value_name = "FILE")]
    pub(crate) output: PathBuf,
    /// Kind of garment, such as crew-tee, tank or tote-bag; a part of the name will do where it fits one kind only.
    #[arg(long, default_value = "crew-tee")]
    pub(crate) garment: String,
    /// Size, such as M; which a kind has is said when it has not. Without it the size is M, or the kind's first, unless the
    /// measurements given need none.
    #[arg(long)]
    pub(crate) size: Option<String>,
    /// A measurement taken on the garment, such as `neck_width=172mm` or `"length=29 1/2in"`; may be given several times.
    #[arg(long, value_name = "NAME=LENGTH")]
    pub(crate) measure: Vec<String>,
    /// The layout's name.
    #[arg(long)]
    pub(crate) name: Option<String>,
    /// Marks of your rule, which the radii are rounded to. Without it: every sixteenth of an inch where a length or --units is in
    /// inches, else every millimetre.
    #[arg(long, value_enum)]
    pub(crate) marks: Option<MarksArgument>,
    /// Unit of lengths that are given without one.
    #[arg(long, value_enum, default_value_t = Units::Mm)]
    pub(crate) units: Units,
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

/// Arguments of `plan`.
#[derive(Debug, Args)]
pub(crate) struct PlanArguments {
    /// A layout, for one garment, or an order.
    pub(crate) file: PathBuf,
    /// Begin at this time, such as 2027-05-03T09:00 or, for the first working hour of a day, 2027-05-03.
    #[arg(long, value_parser = time, value_name = "TIME", required_unless_present = "deadline")]
    pub(crate) start: Option<DateTime>,
    /// Be done by this time; with --start, say by how much it is missed.
    #[arg(long, value_parser = time, value_name = "TIME")]
    pub(crate) deadline: Option<DateTime>,
    /// Time zone whose clock shows the times, such as Europe/Berlin: waits are reckoned through its summer time. This machine's if left
    /// out.
    #[arg(long, value_parser = zone)]
    pub(crate) zone: Option<WallClock>,
    /// File to write; its ending says the form: .pdf to print, .txt, or .ics for a calendar. Without one, the text is shown.
    #[arg(short, long, value_name = "FILE")]
    pub(crate) output: Option<PathBuf>,
    /// As JSON, every unit named, times by the clock on the wall.
    #[arg(long, conflicts_with = "output")]
    pub(crate) json: bool,
    /// Show the formula of every amount, with its numbers and how far they can be trusted.
    #[arg(long)]
    pub(crate) formulas: bool,
    /// Paper of a PDF: a name, a size or a roll, as for `print`. A4 if left out.
    #[arg(long)]
    pub(crate) paper: Option<String>,
    /// Print the whole order into this folder: a PDF for each size and kind, with job cards for the day, and the plan.
    #[arg(long, value_name = "FOLDER", conflicts_with_all = ["output", "json"])]
    pub(crate) print: Option<PathBuf>,
    /// With --print, what to print of each garment; may be given several times.
    #[arg(long, value_enum, default_value = "all", requires = "print")]
    pub(crate) part: Vec<PartArgument>,
    /// With --print, a picture on each card of how it may come out: an estimate, and the longest part of the work.
    #[arg(long, requires = "print")]
    pub(crate) pictures: bool,
    /// With --print, unit in which lengths are written.
    #[arg(long, value_enum, default_value_t = Units::Mm, requires = "print")]
    pub(crate) units: Units,
    /// Recipe for a layout: the name of one that comes with the program, or a file.
    #[arg(long)]
    pub(crate) recipe: Option<PathBuf>,
    /// Process for a layout: discharge-and-dye, plain-dye, or a file. By default as the garment's colour asks for.
    #[arg(long)]
    pub(crate) process: Option<PathBuf>,
    /// Where a layout's discharge is done: outdoors, extraction, or indoors:VOLUME in m3.
    #[arg(long, value_parser = work_place, value_name = "PLACE")]
    pub(crate) place: Option<WorkPlace>,
}

/// A time by the clock, as ISO 8601 writes it.
fn time(text: &str) -> Result<DateTime, String> {
    let parsed = text.trim().replacen(' ', "T", 1).parse::<DateTime>();
    parsed.map_err(|_not_a_time| "give a date and time such as 2027-05-03T09:00, or a date alone".to_owned())
}

fn zone(name: &str) -> Result<WallClock, String> {
    WallClock::of_zone(name).map_err(|error| error.to_string())
}

fn work_place(text: &str) -> Result<WorkPlace, String> {
    match text.split_once(':') {
        None if text == "outdoors" => Ok(WorkPlace::Outdoors),
        None if text == "extraction" => Ok(WorkPlace::Extraction),
        Some(("indoors", volume)) => match volume.trim_end_matches("m3").parse() {
            Ok(room_m3) => Ok(WorkPlace::Indoors { room_m3 }),
            Err(_) => Err("give the room's volume in m3, such as indoors:30".to_owned()),
        },
        _ => Err("give outdoors, extraction, or indoors:VOLUME with the room's volume in m3".to_owned()),
    }
}

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
        /// File to write.
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

/// Arguments of `reveal`.
#[derive(Debug, Args)]
pub(crate) struct RevealArguments {
    /// The layout file.
    pub(crate) layout: PathBuf,
    /// Picture to write, ending in .png.
    #[arg(short, long, value_name = "FILE")]
    pub(crate) output: PathBuf,
    /// Edge of a pixel on the cloth.
    #[arg(long, value_parser = length_mm, value_name = "LENGTH", default_value = "1mm")]
    pub(crate) pixel: f64,
    /// What the garment's colour becomes when it is discharged, as #rrggbb, in place of what the layout says.
    #[arg(long, value_name = "COLOUR")]
    pub(crate) discharged: Option<pleatwright::layout::Srgb>,
    /// What the picture shows.
    #[arg(long, value_enum, default_value_t = MapArgument::Cloth)]
    pub(crate) map: MapArgument,
    /// Paint flat colours, without the faint yarn, creases and edges of washed cloth.
    #[arg(long)]
    pub(crate) flat: bool,
    /// Another layout, drawn below and compared with.
    #[arg(long, value_name = "LAYOUT")]
    pub(crate) beside: Option<PathBuf>,
}

/// What a picture shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum MapArgument {
    /// The cloth as it may come out.
    Cloth,
    /// The dose of all dyes; hatched where it is too small to count as reached.
    Dose,
    /// The share of the garment's own colour that is left.
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
