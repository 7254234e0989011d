//! `spacing`: list, save and apply presets.

use super::CliError;
use super::arguments::{FitArgument, SpacingArguments, SpacingCommand};
use pleatwright::geometry::{Fit, SpacingPreset};
use pleatwright::layout::Layout;
use pleatwright::store::{EXAMPLE_PRESETS, layout_text, parse_preset, preset_text, presets_in, read_layout, read_preset, save};
use std::io::Write;
use std::path::{Path, PathBuf};

pub(crate) fn run(arguments: &SpacingArguments, output: &mut dyn Write) -> Result<(), CliError> {
    match &arguments.command {
        SpacingCommand::List { places } => list(places, output),
        SpacingCommand::Save { layout, name, note, output: file } => save_preset(layout, name, note, file, output),
        SpacingCommand::Apply { preset, layout, output: file, fit } => apply(preset, layout, file, *fit, output),
    }
}

fn list(places: &[PathBuf], output: &mut dyn Write) -> Result<(), CliError> {
    for preset in shipped() {
        list_one(&preset, None, output)?;
    }
    for place in places {
        for (path, preset) in presets_in(place)? {
            list_one(&preset, Some(&path), output)?;
        }
    }
    Ok(())
}

fn list_one(preset: &SpacingPreset, path: Option<&Path>, output: &mut dyn Write) -> Result<(), CliError> {
    let place = path.map_or_else(|| "comes with the program".to_owned(), |path| path.display().to_string());
    writeln!(output, "{} ({place})", preset.name)?;
    if !preset.note.is_empty() {
        writeln!(output, "    {}", preset.note)?;
    }
    Ok(())
}

/// The presets that come with the program. A test reads every one of them.
fn shipped() -> impl Iterator<Item = SpacingPreset> {
    EXAMPLE_PRESETS.iter().filter_map(|example| parse_preset(example.text).ok())
}

fn save_preset(layout: &Path, name: &str, note: &str, file: &Path, output: &mut dyn Write) -> Result<(), CliError> {
    let layout = read_layout(layout)?;
    let spacing = &layout.raw().binds;
    let preset = SpacingPreset::of(name.to_owned(), note.to_owned(), layout.burst().guide_radius_mm(), spacing);
    save(file, preset_text(&preset).as_bytes())?;
    writeln!(output, "{}: spacing preset \"{name}\"", file.display())?;
    Ok(())
}

fn apply(preset: &str, layout: &Path, file: &Path, fit: FitArgument, output: &mut dyn Write) -> Result<(), CliError> {
    let by_name = shipped().find(|shipped| shipped.name.eq_ignore_ascii_case(preset));
    let preset = by_name.map_or_else(|| read_preset(Path::new(preset)), Ok)?;
    let layout = read_layout(layout)?;
    let fit = match fit {
        FitArgument::Scaled => Fit::Scaled,
        FitArgument::Kept => Fit::Kept,
    };
    let mut raw = layout.raw().clone();
    let refused = |error: &dyn std::fmt::Display| CliError::Argument(format!("\"{}\" does not fit: {error}", preset.name));
    raw.binds = preset.apply(layout.burst().guide_radius_mm(), fit).map_err(|error| refused(&error))?;
    let changed = Layout::try_from(raw).map_err(|error| refused(&error))?;
    save(file, layout_text(changed.raw()).as_bytes())?;
    writeln!(output, "{}: \"{}\" with spacing \"{}\"", file.display(), changed.name(), preset.name)?;
    Ok(())
}
