//! `new`: begin a layout for a garment.

use super::arguments::{NewArguments, Units};
use super::terminal::{self, Content};
use super::{CliError, counted};
use pleatwright::geometry::{GarmentKind, Measure, RawMeasures};
use pleatwright::layout::{Layout, starter_folded};
use pleatwright::measure::{LengthUnit, RuleMarks, is_in_inches, parse_length};
use pleatwright::store::layout_text;
use std::io::Write;

pub(crate) fn run(arguments: &NewArguments, output: &mut dyn Write) -> Result<(), CliError> {
    let kind = kind(&arguments.garment)?;
    let measures = measures(arguments)?;
    if let Some(size) = &arguments.size {
        check_size(kind, size)?;
    }
    let is_complete = kind.required_measures().all(|measure| measures.value(measure).is_some());
    let size = arguments.size.clone().or_else(|| (!is_complete).then(|| usual_size(kind)));
    let refused = |error: pleatwright::layout::LayoutError| CliError::Argument(error.to_string());
    let mut raw = starter_folded(arguments.fold, kind, size.as_deref(), &measures, marks(arguments)).map_err(refused)?;
    if let Some(name) = &arguments.name {
        raw.name.clone_from(name);
    }
    let layout = Layout::try_from(raw).map_err(refused)?;
    let path = &arguments.output;
    terminal::deliver(path, layout_text(layout.raw()).as_bytes(), Content::Text)?;
    let binds = counted(layout.binds().binds.len(), "bind");
    writeln!(terminal::beside(path, output), "{}: \"{}\", {binds}", terminal::called(path), layout.name())?;
    Ok(())
}

fn measures(arguments: &NewArguments) -> Result<RawMeasures, CliError> {
    let mut measures = RawMeasures::default();
    for text in &arguments.measure {
        let (measure, value_mm) = measure(text, arguments.units.unit())?;
        if measures.value(measure).is_some() {
            let name = measure.key().trim_end_matches("_mm");
            return Err(CliError::Argument(format!("--measure {text}: {name} is given twice; give it once")));
        }
        measures.set(measure, Some(value_mm));
    }
    Ok(measures)
}

/// The marks asked for, or those of the rule that the lengths were taken with.
fn marks(arguments: &NewArguments) -> RuleMarks {
    let length = |text: &str| text.split_once('=').is_some_and(|(_, value)| is_in_inches(value));
    match arguments.marks {
        Some(marks) => marks.into(),
        None if arguments.units == Units::In || arguments.measure.iter().any(|text| length(text)) => RuleMarks::InchSixteenth,
        None => RuleMarks::Millimetres1,
    }
}

/// Refuses a size that the kind does not have, and says which it has.
fn check_size(kind: GarmentKind, size: &str) -> Result<(), CliError> {
    let names: Vec<String> = kind.sizes().iter().map(|size| size.name.to_string()).collect();
    if names.iter().any(|name| name.eq_ignore_ascii_case(size.trim())) {
        return Ok(());
    }
    let has =
        if names.is_empty() { "it has none; give its measurements".to_owned() } else { format!("it has {}", names.join(", ")) };
    Err(CliError::Argument(format!("--size {size}: there is no such size of {kind}; {has}")))
}

/// The kind's size M, or its first.
fn usual_size(kind: GarmentKind) -> String {
    let sizes = kind.sizes();
    let names = || sizes.iter().map(|size| size.name.to_string());
    names().find(|name| name == "M").or_else(|| names().next()).unwrap_or_default()
}

/// A kind's name as the command line writes it: `CrewTee` as `crew-tee`.
fn kebab(kind: GarmentKind) -> String {
    let mut name = String::new();
    for c in kind.key().chars() {
        if c.is_uppercase() && !name.is_empty() {
            name.push('-');
        }
        name.extend(c.to_lowercase());
    }
    name
}

/// The kind of that name, or the only one of whose name the text is a part, in whole words.
pub(crate) fn kind(text: &str) -> Result<GarmentKind, CliError> {
    let plain = |name: &str| name.to_lowercase().replace([' ', '-', '_'], "");
    if let Some(kind) = GarmentKind::ALL.into_iter().find(|kind| plain(kind.key()) == plain(text)) {
        return Ok(kind);
    }
    let part = format!("-{}-", text.trim().to_lowercase().replace([' ', '_'], "-"));
    let fitting: Vec<_> = GarmentKind::ALL.into_iter().filter(|kind| format!("-{}-", kebab(*kind)).contains(&part)).collect();
    let names = |kinds: &[GarmentKind]| kinds.iter().map(|kind| kebab(*kind)).collect::<Vec<_>>().join(", ");
    match fitting[..] {
        [only] => Ok(only),
        [] => Err(CliError::Argument(format!("--garment {text}: there is no such kind; there are {}", names(&GarmentKind::ALL)))),
        _ => Err(CliError::Argument(format!("--garment {text}: this could be {}; write one of them", names(&fitting)))),
    }
}

fn measure(text: &str, unit: LengthUnit) -> Result<(Measure, f64), CliError> {
    let wrong = |why: String| CliError::Argument(format!("--measure {text}: {why}"));
    let (name, value) = text.split_once('=').ok_or_else(|| wrong("write NAME=LENGTH, such as neck_width=172mm".to_owned()))?;
    let key = format!("{}_mm", name.trim().trim_end_matches("_mm").replace(['-', ' '], "_"));
    let measure = Measure::ALL.into_iter().find(|measure| measure.key() == key).ok_or_else(|| {
        let known: Vec<_> = Measure::ALL.iter().map(|measure| measure.key().trim_end_matches("_mm")).collect();
        wrong(format!("there is no such measurement; there are {}", known.join(", ")))
    })?;
    Ok((measure, parse_length(value, unit).map_err(|error| wrong(error.to_string()))?))
}
