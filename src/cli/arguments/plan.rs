//! What may stand after `plan`.

use super::{PartArgument, Units};
use clap::{Args, ValueEnum};
use jiff::civil::DateTime;
use pleatwright::plan::{Region, WallClock, WorkPlace};
use std::path::PathBuf;

/// Arguments of `plan`.
#[derive(Debug, Args)]
pub(crate) struct PlanArguments {
    /// A layout, for one garment, or an order.
    #[arg(required_unless_present = "list")]
    pub(crate) file: Option<PathBuf>,
    /// List the built-in recipes and processes by the names that orders, --recipe and --process use.
    #[arg(long, exclusive = true)]
    pub(crate) list: bool,
    /// Start at this time, such as 2027-05-03T09:00; a date alone means its first working hour.
    #[arg(long, value_parser = time, value_name = "TIME")]
    pub(crate) start: Option<DateTime>,
    /// Finish by this time, whatever deadline the order has; with --start, report by how much it is missed.
    #[arg(long, value_parser = time, value_name = "TIME")]
    pub(crate) deadline: Option<DateTime>,
    /// Time zone, such as Europe/Berlin (default: this machine's); waits allow for clock changes.
    #[arg(long, value_parser = zone)]
    pub(crate) zone: Option<WallClock>,
    /// File to write; its extension sets the format: .pdf to print, .txt, or .ics for a calendar. Default: show the text.
    #[arg(short, long, value_name = "FILE")]
    pub(crate) output: Option<PathBuf>,
    /// As JSON, every unit named, in local clock time.
    #[arg(long, conflicts_with = "output")]
    pub(crate) json: bool,
    /// Show the formula of every amount, with its numbers and their sources.
    #[arg(long)]
    pub(crate) formulas: bool,
    /// Paper of a PDF: a name, a size or a roll, as for `print`. Default: A4.
    #[arg(long)]
    pub(crate) paper: Option<String>,
    /// Print the whole order to this folder: a PDF for each size and kind, with job cards for the day, and the plan.
    #[arg(long, value_name = "FOLDER", conflicts_with_all = ["output", "json"])]
    pub(crate) print: Option<PathBuf>,
    /// With --print, what to print of each garment; may be repeated.
    #[arg(long, value_enum, default_value = "all", requires = "print")]
    pub(crate) part: Vec<PartArgument>,
    /// With --print, put an estimate of the opened garment on each card; this takes longest.
    #[arg(long, requires = "print")]
    pub(crate) pictures: bool,
    /// With --print, unit of lengths. Default: that of each layout's marks.
    #[arg(long, value_enum, requires = "print")]
    pub(crate) units: Option<Units>,
    /// Recipe for a layout: a built-in name (see --list) or a file. Default: the one that suits the process.
    #[arg(long)]
    pub(crate) recipe: Option<PathBuf>,
    /// Process for a layout: a built-in name (see --list) or a file. Default: the one that suits the garment's colour.
    #[arg(long)]
    pub(crate) process: Option<PathBuf>,
    /// Where you discharge: outdoors, extraction, or indoors:VOLUME in m³.
    #[arg(long, value_parser = work_place, value_name = "PLACE")]
    pub(crate) place: Option<WorkPlace>,
    /// Whose gas limits and mask names the cautions use.
    #[arg(long, value_enum)]
    pub(crate) region: Option<RegionArgument>,
    /// Room temperature in °C, which sets how fast ice melts and dye fixes. Default: 20.
    #[arg(long, value_name = "C", value_parser = celsius)]
    pub(crate) room: Option<f64>,
    /// Temperature in °C around the wrapped rods while the dye fixes, if not the room's.
    #[arg(long, value_name = "C", value_parser = celsius)]
    pub(crate) keep_at: Option<f64>,
    /// A scrap was already tested: skip that step.
    #[arg(long)]
    pub(crate) scrap_tested: bool,
    /// Leave the shelf out: count only what the order says you have.
    #[arg(long)]
    pub(crate) without_shelf: bool,
    /// The journal's folder, where the shelf is kept. Default: the window's own.
    #[arg(long, value_name = "FOLDER", conflicts_with = "without_shelf")]
    pub(crate) journal: Option<PathBuf>,
}

/// Whose gas limits and mask names the cautions use.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum RegionArgument {
    /// The European Union's.
    Europe,
    /// Those of the United States.
    UnitedStates,
}

impl RegionArgument {
    pub(crate) const fn region(self) -> Region {
        match self {
            Self::Europe => Region::Europe,
            Self::UnitedStates => Region::UnitedStates,
        }
    }
}

fn celsius(text: &str) -> Result<f64, String> {
    let bare = text.trim().trim_end_matches(['C', 'c']).trim_end_matches('°').trim();
    match bare.parse::<f64>() {
        Ok(celsius) if (1.0..=110.0).contains(&celsius) => Ok(celsius),
        _ => Err("give a temperature from 1 to 110 °C, such as 18".to_owned()),
    }
}

/// A time by the clock, as ISO 8601 writes it.
pub(super) fn time(text: &str) -> Result<DateTime, String> {
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
        Some(("indoors", volume)) => match volume.trim().trim_end_matches("m3").trim_end_matches("m³").trim_end().parse() {
            Ok(room_m3) => Ok(WorkPlace::Indoors { room_m3 }),
            Err(_) => Err("give the room's volume in m³, such as indoors:30".to_owned()),
        },
        _ => Err("give outdoors, extraction, or indoors:VOLUME with the room's volume in m³".to_owned()),
    }
}
