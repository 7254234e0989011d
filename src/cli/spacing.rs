//! `spacing`: list, save and apply presets.

use super::CliError;
use super::arguments::{FitArgument, SpacingArguments, SpacingCommand};
use super::terminal;
use pleatwright::edit::{PresetChange, PresetEdits, PresetMarks, PresetUse};
use pleatwright::geometry::{Fit, SpacingPreset};
use pleatwright::layout::Layout;
use pleatwright::store::{
    EXAMPLE_PRESETS, FileKind, check_preset, layout_text, parse_preset, preset_text, presets_in, read_layout, read_preset,
};
use pleatwright::telling::{Refused, Voice};
use std::io::Write;
use std::path::{Path, PathBuf};

pub(crate) fn run(arguments: &SpacingArguments, output: &mut dyn Write) -> Result<(), CliError> {
    match &arguments.command {
        SpacingCommand::List { places } => list(places, output),
        SpacingCommand::Save { layout, name, note, output: file } => save_preset(layout, name, note, file, output),
        SpacingCommand::Apply { preset, layout, output: file, fit, keep_edits, preset_marks } => {
            let how = PresetUse {
                fit: match fit {
                    FitArgument::Scaled => Fit::Scaled,
                    FitArgument::Kept => Fit::Kept,
                },
                marks: if *preset_marks { PresetMarks::Taken } else { PresetMarks::Kept },
                edits: if *keep_edits { PresetEdits::Kept } else { PresetEdits::LeftOut },
            };
            let (changed, said) = apply(preset, layout, how)?;
            terminal::deliver_kind(file, &layout_text(changed.raw()), FileKind::Layout)?;
            writeln!(terminal::beside(file, output), "{}: {said}", terminal::called(file))?;
            Ok(())
        }
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
    let place = path.map_or_else(|| "built in".to_owned(), |path| path.display().to_string());
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
    let preset = SpacingPreset::of(name.to_owned(), note.to_owned(), layout.guide_mm(), spacing);
    check_preset(&preset).map_err(|error| CliError::Argument(error.told(Voice::FILE).within("--name or --note")))?;
    terminal::deliver_kind(file, &preset_text(&preset), FileKind::SpacingPreset)?;
    writeln!(terminal::beside(file, output), "{}: spacing preset \"{name}\"", terminal::called(file))?;
    Ok(())
}

/// A layout with a preset's spacing, and what to say of it.
fn apply(preset: &str, layout: &Path, how: PresetUse) -> Result<(Layout, String), CliError> {
    let preset = find(preset)?;
    let layout = read_layout(layout)?;
    let refused = |error: &dyn Refused| {
        let kept = if how.edits == PresetEdits::Kept { " with the layout's edits kept" } else { "" };
        CliError::Argument(error.told(Voice::FILE).within(&format!("\"{}\" does not fit{kept}", preset.name)))
    };
    let raw = how.lay(&preset, &layout).map_err(|error| refused(&error))?;
    let changed = Layout::try_from(raw).map_err(|error| refused(&error))?;
    let change = PresetChange::of(&preset, &layout, &changed);
    let mut said = format!("\"{}\" with spacing \"{}\": ", changed.name(), preset.name);
    said += &change.words(changed.marks().lengths());
    if change.edits[1] < change.edits[0] {
        said += " (--keep-edits keeps them)";
    }
    if change.marks[1] != preset.marks {
        said += ". Add --preset-marks to take its marks too.";
    }
    Ok((changed, said))
}

/// The preset that comes with the program under this name, or the one in this file.
fn find(preset: &str) -> Result<SpacingPreset, CliError> {
    if let Some(shipped) = shipped().find(|shipped| shipped.name.eq_ignore_ascii_case(preset)) {
        return Ok(shipped);
    }
    let path = Path::new(preset);
    if path.exists() || path.extension().is_some() {
        return Ok(read_preset(path)?);
    }
    let names: Vec<_> = shipped().map(|shipped| shipped.name).collect();
    Err(CliError::argument(format!("\"{preset}\""), "neither a preset nor a file", format!("choose {}", names.join(", "))))
}
