//! `new`: begin a layout for a garment.

use super::CliError;
use super::arguments::{NewArguments, length_mm};
use pleatwright::geometry::{GarmentKind, Measure, RawMeasures};
use pleatwright::layout::{Layout, starter};
use pleatwright::store::{layout_text, save};
use std::io::Write;

pub(crate) fn run(arguments: &NewArguments, output: &mut dyn Write) -> Result<(), CliError> {
    let kind = kind(&arguments.garment)?;
    let mut measures = RawMeasures::default();
    for text in &arguments.measure {
        let (measure, value_mm) = measure(text)?;
        measures.set(measure, Some(value_mm));
    }
    let size = arguments.size.clone().or_else(|| arguments.measure.is_empty().then(|| usual_size(kind)));
    let refused = |error: pleatwright::layout::LayoutError| CliError::Argument(error.to_string());
    let mut raw = starter(kind, size.as_deref(), &measures).map_err(refused)?;
    if let Some(name) = &arguments.name {
        raw.name.clone_from(name);
    }
    let layout = Layout::try_from(raw).map_err(refused)?;
    save(&arguments.output, layout_text(layout.raw()).as_bytes())?;
    writeln!(output, "{}: \"{}\", {} binds", arguments.output.display(), layout.name(), layout.binds().binds.len())?;
    Ok(())
}

/// The kind's size M, or its first.
fn usual_size(kind: GarmentKind) -> String {
    let sizes = kind.sizes();
    let names = || sizes.iter().map(|size| size.name.to_string());
    names().find(|name| name == "M").or_else(|| names().next()).unwrap_or_default()
}

fn kind(text: &str) -> Result<GarmentKind, CliError> {
    let plain = |name: &str| name.to_lowercase().replace([' ', '-', '_'], "");
    GarmentKind::ALL.into_iter().find(|kind| plain(kind.key()) == plain(text)).ok_or_else(|| {
        let known: Vec<_> = GarmentKind::ALL.iter().map(|kind| kind.key()).collect();
        CliError::Argument(format!("--garment {text}: there is no such kind; there are {}", known.join(", ")))
    })
}

fn measure(text: &str) -> Result<(Measure, f64), CliError> {
    let wrong = |why: String| CliError::Argument(format!("--measure {text}: {why}"));
    let (name, value) = text.split_once('=').ok_or_else(|| wrong("write NAME=LENGTH, such as neck_width=172mm".to_owned()))?;
    let key = format!("{}_mm", name.trim().trim_end_matches("_mm").replace(['-', ' '], "_"));
    let measure = Measure::ALL.into_iter().find(|measure| measure.key() == key).ok_or_else(|| {
        let known: Vec<_> = Measure::ALL.iter().map(|measure| measure.key().trim_end_matches("_mm")).collect();
        wrong(format!("there is no such measurement; there are {}", known.join(", ")))
    })?;
    Ok((measure, length_mm(value).map_err(wrong)?))
}
