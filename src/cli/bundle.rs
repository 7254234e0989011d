//! `bundle`: one file to hand on, with a layout, its spacing presets, its swatches and its reveal's picture.

use super::CliError;
use super::arguments::BundleArguments;
use super::terminal::{self, Content};
use pleatwright::geometry::SpacingPreset;
use pleatwright::layout::Layout;
use pleatwright::measure::counted;
use pleatwright::reveal::colour::{DyeSet, SwatchBook};
use pleatwright::reveal::{Cancel, PictureMap, RevealOptions, Texture, picture_of, reveal_doses};
use pleatwright::store::{
    BUNDLE_ENDING, Bundle, FileKind, PresetShelf, SwatchShelf, data_folder, picture_png, presets_in, read_layout, read_swatches,
    refuse_other_kind,
};
use std::io::Write;
use std::path::Path;

pub(crate) fn run(arguments: &BundleArguments, output: &mut dyn Write) -> Result<(), CliError> {
    let path = &arguments.output;
    if !terminal::is_output(path) && path.extension().is_none_or(|ending| !ending.eq_ignore_ascii_case(BUNDLE_ENDING)) {
        let cure = format!("end it in .{BUNDLE_ENDING}");
        return Err(CliError::argument(path.display().to_string(), "not the name of a bundle", cure));
    }
    if !terminal::is_output(path) {
        refuse_other_kind(path, FileKind::Bundle, None)
            .map_err(|refused| CliError::because(path.display().to_string(), &refused))?;
    }
    let layout = read_layout(&arguments.layout)?;
    let book = book(arguments.swatches.as_deref())?;
    let presets = presets(&arguments.presets)?;
    let refused =
        |refused: &dyn pleatwright::telling::Refused| CliError::because(arguments.layout.display().to_string(), refused);
    let mut bundle = Bundle::of(layout, &presets, &book).map_err(|error| refused(&error))?;
    if !arguments.without_picture {
        bundle.picture = Some(picture(&bundle.layout, &arguments.layout)?);
    }
    let bytes = bundle.bytes().map_err(|problem| refused(&problem.of(&arguments.layout)))?;
    terminal::deliver(path, &bytes, Content::Binary)?;
    let said = terminal::called(path);
    let held = [
        Some(counted(bundle.presets.len(), "spacing preset")),
        bundle.swatches.as_ref().map(|book| format!("swatches of {}", counted(book.swatches().len(), "colour"))),
        bundle.picture.as_ref().map(|_| "the reveal's picture, an estimate".to_owned()),
    ];
    let held: Vec<String> = held.into_iter().flatten().collect();
    writeln!(terminal::beside(path, output), "{said}: \"{}\" with {}", bundle.layout.name(), held.join(", "))?;
    Ok(())
}

/// The swatches to choose from: those of a file, or the maker's own.
fn book(file: Option<&Path>) -> Result<SwatchBook, CliError> {
    if let Some(file) = file {
        return Ok(read_swatches(file)?);
    }
    let path = data_folder().map(|home| home.join("swatches.ron")).filter(|path| path.is_file());
    match path {
        Some(path) => {
            SwatchShelf::new(path.clone()).book().map_err(|error| CliError::because(path.display().to_string(), &error))
        }
        None => Ok(SwatchBook::new("None".to_owned(), String::new(), Vec::new())
            .map_err(|error| CliError::because("--swatches", &error))?),
    }
}

/// The presets to choose from: those of files and folders, or the maker's own, as far as they can be read.
fn presets(places: &[std::path::PathBuf]) -> Result<Vec<SpacingPreset>, CliError> {
    let mut presets = Vec::new();
    for place in places {
        presets.extend(presets_in(place)?.into_iter().map(|(_, preset)| preset));
    }
    if places.is_empty() {
        let shelf = data_folder().map(|home| PresetShelf::new(home.join("presets")));
        presets.extend(shelf.iter().flat_map(|shelf| shelf.presets().0).map(|shelved| shelved.preset));
    }
    Ok(presets)
}

/// The reveal's picture, front and back.
fn picture(layout: &Layout, path: &Path) -> Result<Vec<u8>, CliError> {
    let options = RevealOptions::default();
    let reveal = reveal_doses(layout, &options, &Cancel::new());
    let reveal = reveal.map_err(|error| CliError::because(path.display().to_string(), &error))?;
    let picture = picture_of(&reveal, &DyeSet::of_layout(layout, None), PictureMap::Cloth, Texture::Faint);
    Ok(picture_png(&picture, options.pixel_mm)?)
}
