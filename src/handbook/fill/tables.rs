//! Tables that the program's own tables make, in Markdown.

use crate::geometry::{GarmentKind, Measure};
use crate::layout::Process;
use crate::measure::neat;
use crate::plan::{DischargeAgent, DyeClass, Gas, Region, air_limits};
use crate::store::{EXAMPLE_PRESETS, EXAMPLE_PROCESSES, EXAMPLE_RECIPES, parse_preset, parse_process, parse_recipe};
use crate::telling::capitalised;

/// A table by its name.
pub(super) fn table(name: &str) -> Option<String> {
    match name {
        "kinds" => Some(kinds()),
        "measures" => Some(of(
            ["measurement", "how to take it"],
            Measure::ALL.map(|m| [m.name().to_owned(), m.how_to_measure().to_owned()]),
        )),
        "presets" => presets(),
        "processes" => processes(),
        "agents" => Some(agents()),
        "classes" => Some(classes()),
        "shades" => shades(),
        "air" => Some(air()),
        "calibration" => Some(calibration()),
        _ => None,
    }
}

/// Markdown of a table.
fn of<const N: usize>(head: [&str; N], rows: impl IntoIterator<Item = [String; N]>) -> String {
    let line = |cells: &[String]| format!("| {} |\n", cells.join(" | "));
    let mut table = line(&head.map(str::to_owned)) + &format!("|{}\n", "---|".repeat(N));
    rows.into_iter().for_each(|row| table.push_str(&line(&row)));
    table
}

fn kinds() -> String {
    let sizes = |kind: GarmentKind| {
        let sizes: Vec<String> = kind.sizes().into_iter().map(|size| size.name.to_string()).collect();
        match &sizes[..] {
            [] => "as drawn".to_owned(),
            [first, .., last] if sizes.len() > MOST_LISTED => format!("{first} to {last}"),
            all => all.join(", "),
        }
    };
    of(["kind", "sizes"], GarmentKind::every().map(|kind| [kind.name().to_owned(), sizes(kind)]))
}

/// Most sizes that are listed one by one.
const MOST_LISTED: usize = 6;

fn presets() -> Option<String> {
    let presets = EXAMPLE_PRESETS.iter().map(|example| parse_preset(example.text).ok());
    let rows: Option<Vec<[String; 2]>> = presets.map(|preset| preset.map(|preset| [preset.name, preset.note])).collect();
    rows.map(|rows| of(["preset", "its gaps"], rows))
}

fn processes() -> Option<String> {
    let processes = EXAMPLE_PROCESSES.iter().map(|example| parse_process(example.text).ok());
    let rows: Option<Vec<[String; 2]>> = processes.map(|process| process.map(|process| [process.name, process.note])).collect();
    rows.map(|rows| of(["process", "what it does"], rows))
}

fn agents() -> String {
    let row = |agent: DischargeAgent| {
        let usual = agent.usual();
        let works = format!("{} to {} °C", neat(usual.works.from_c), neat(usual.works.to_c));
        [
            agent.name().to_owned(),
            works,
            format!("{} to {} min", usual.least_min, usual.most_min),
            usual.status.words().to_owned(),
        ]
    };
    of(["agent", "works at", "in the bath", "source"], DischargeAgent::ALL.map(row))
}

fn classes() -> String {
    let row = |class: DyeClass| {
        let fixes = class.fixes_at();
        [class.name().to_owned(), format!("{} to {} °C", neat(fixes.from_c), neat(fixes.to_c)), capitalised(class.how_to_warm())]
    };
    of(["class", "fixes at", "where the room is too cool"], DyeClass::ALL.map(row))
}

fn shades() -> Option<String> {
    let recipe = parse_recipe(EXAMPLE_RECIPES[0].text).ok()?;
    let percent = &recipe.dye.percent;
    let shades =
        [("pale", &percent.pale), ("medium", &percent.medium), ("full", &percent.full), ("very deep", &percent.very_deep)];
    let row = |(name, figure): (&str, &crate::plan::Sourced)| {
        [name.to_owned(), format!("{} % of the cloth's weight", neat(figure.value)), figure.status.words().to_owned()]
    };
    Some(of(["shade", "dye", "source"], shades.map(row)))
}

fn air() -> String {
    let gases = [(Gas::SulfurDioxide, "sulfur dioxide"), (Gas::Ammonia, "ammonia")];
    let row = |(gas, name): (Gas, &str), region: Region| {
        let limits = air_limits(gas, region);
        let day = format!("{} ppm over {} h", neat(limits.day_ppm), limits.day_h);
        [format!("{name}, {region}"), day, format!("{} ppm", neat(limits.short_ppm)), limits.source.to_owned()]
    };
    let rows = gases.into_iter().flat_map(|gas| Region::ALL.map(|region| row(gas, region)));
    of(["gas and region", "over a day", "for 15 minutes", "source"], rows)
}

fn calibration() -> String {
    const WITHIN: &str = "process.calibration.";
    let numbers = Process::default().numbers().into_iter();
    let own = numbers.filter_map(|(path, value, least, most)| Some((path.strip_prefix(WITHIN)?, value, least, most)));
    let row = |(name, value, least, most): (&str, f64, f64, f64)| {
        [format!("`{name}`"), neat(value), format!("{} to {}", neat(least), neat(most))]
    };
    of(["name in the file", "usual", "can be"], own.map(row))
}
