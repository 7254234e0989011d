//! `like`: a wish for rings like those of a photograph.

use super::CliError;
use super::arguments::LikeArguments;
use super::marked::MarkedFiles;
use super::progress::watched;
use super::terminal;
use pleatwright::layout::Srgb;
use pleatwright::measure::counted;
use pleatwright::photo::{PhotoError, RegistrationOptions, profile, register};
use pleatwright::store::{FileKind, path_from, read_layout, wish_text};
use pleatwright::telling::{Refused as _, Voice};
use pleatwright::wish::{Sketch, Wish, WishError};
use std::io::Write;
use std::path::Path;

pub(crate) fn run(arguments: &LikeArguments, output: &mut dyn Write) -> Result<(), CliError> {
    let layout = read_layout(&arguments.layout)?;
    let style = arguments.units.style(layout.marks())?;
    // What can't be wished of the layout is told before the photograph is looked at.
    let in_file = |error: WishError| CliError::Argument(error.told(Voice::FILE).within(&arguments.layout.display().to_string()));
    Wish::check_layout(&layout).map_err(in_file)?;
    let LikeArguments { photograph, layout: layout_file, marks, side, .. } = arguments;
    let files = MarkedFiles { photograph, layout: layout_file, marks: marks.as_deref(), side: *side, keep_marks: false };
    let marked = files.read(&layout)?;
    let seen = watched("looking at the photograph", |cancel| {
        let map = register(&marked.photograph, &layout, &marked.marks, &RegistrationOptions::default(), cancel)?;
        profile(&marked.photograph, &layout, &marked.marks, &map, cancel)
    });
    let seen = seen.map_err(|error: PhotoError| files.refused(&error, &marked.marks_file))?;
    let name = arguments.name.clone().unwrap_or_else(|| named_after(photograph));
    let refused = |error: WishError| CliError::Argument(error.told(Voice::FILE).within(&photograph.display().to_string()));
    let wish = Wish::like(&seen, name, beside(&arguments.output, layout_file)?, &layout).map_err(refused)?;
    let sketch = Sketch::of(&wish, &layout).map_err(refused)?;
    terminal::deliver_kind(&arguments.output, &wish_text(&wish), FileKind::Wish)?;

    let output = &mut *terminal::beside(&arguments.output, output);
    if let Some(words) = &marked.found_words {
        writeln!(output, "{words}")?;
    }
    let voice = Voice::window(style);
    let count = counted(wish.parts.len(), "part");
    writeln!(output, "{}: \"{}\", {count} as {} shows", terminal::called(&arguments.output), wish.name, photograph.display())?;
    writeln!(output, "\n{:>4}  {:<12}{:<12}colour", "part", "from", "to")?;
    for (number, part) in (1..).zip(&wish.parts) {
        let [from, to] = [part.from_mm, part.to_mm].map(|mm| voice.about(mm));
        let colour = sketch.at(f64::midpoint(part.from_mm, part.to_mm)).as_ref().map_or_else(String::new, Srgb::to_string);
        writeln!(output, "{number:>4}  {from:<12}{to:<12}{colour}")?;
    }
    if let Some(words) = seen.shift_words(voice) {
        writeln!(output, "\n{words}")?;
    }
    if !seen.is_lit {
        writeln!(output, "\nWithout a white sheet beside the garment these colours are as the camera shows them.")?;
    }
    Ok(())
}

/// What a photograph's file is called, without its ending.
fn named_after(photograph: &Path) -> String {
    photograph.file_stem().map_or_else(|| "Like a photograph".to_owned(), |stem| format!("Like {}", stem.to_string_lossy()))
}

/// The layout's file as the wish names it, beside its own.
fn beside(wish: &Path, layout: &Path) -> Result<String, CliError> {
    let absolute = |path: &Path| std::path::absolute(path);
    if terminal::is_output(wish) {
        return Ok(path_from(&absolute(Path::new("."))?, &absolute(layout)?));
    }
    let folder = absolute(wish)?.parent().map(Path::to_owned).unwrap_or_default();
    Ok(path_from(&folder, &absolute(layout)?))
}
