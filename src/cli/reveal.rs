//! `reveal`: the opened garment as it may come out, as a picture, and what to know about it.

use super::CliError;
use super::arguments::RevealArguments;
use super::terminal::{self, Content};
use super::unsure::Sureness;
use pleatwright::layout::{Component, Layout, Srgb};
use pleatwright::learn::change_words;
use pleatwright::reveal::colour::{DyeSet, Ground, TOLD_APART, Together, colour_warnings_by_tie};
use pleatwright::reveal::{
    Cancel, MOST_PIXELS, PictureMap, Reveal, RevealError, RevealOptions, Texture, comparison, picture_of, reveal_doses,
};
use pleatwright::store::{picture_png, read_layout, read_learned};
use pleatwright::telling::{Voice, Warned as _};
use std::io::{self, Write};
use std::path::Path;

/// Pixels between two pictures that stand one above the other.
const GAP_PX: usize = 8;

pub(crate) fn run(arguments: &RevealArguments, output: &mut dyn Write) -> Result<(), CliError> {
    let path = &arguments.output;
    if !terminal::is_output(path) && path.extension().is_none_or(|ending| !ending.eq_ignore_ascii_case("png")) {
        return Err(CliError::argument(path.display().to_string(), "not the name of a picture", "end it in .png"));
    }
    let first = Revealed::of(&arguments.layout, arguments)?;
    let second = arguments.beside.as_deref().map(|path| Revealed::of(path, arguments)).transpose()?;
    let map = arguments.map.map();
    let texture = if arguments.flat { Texture::Off } else { Texture::Faint };
    let mut picture = picture_of(&first.reveal, &first.dyes, map, texture);
    let sureness = arguments.unsure.then(|| first.sureness(arguments)).transpose()?;
    if let Some(sureness) = &sureness {
        picture = sureness.picture(&picture, &first.reveal, texture, GAP_PX);
    }
    if let Some(second) = &second {
        picture = picture.above(&picture_of(&second.reveal, &second.dyes, map, texture), GAP_PX);
    }
    let png = picture_png(&picture, arguments.pixel)?;
    terminal::deliver(path, &png, Content::Binary)?;
    let output = &mut *terminal::beside(path, output);
    let panels = if first.reveal.has_back() { "front and back" } else { "one panel" };
    writeln!(output, "{}: {} x {} pixels, {panels}", terminal::called(path), picture.width, picture.height)?;
    tell_map(map, output)?;
    writeln!(output, "{}", estimate(&first.layout, arguments))?;
    if let Some(sureness) = &sureness {
        sureness.tell(output)?;
    }
    for revealed in std::iter::once(&first).chain(&second) {
        if second.is_some() {
            writeln!(output, "{}:", revealed.layout.name())?;
        }
        revealed.tell(arguments.discharged, output)?;
    }
    if let Some(second) = &second {
        match comparison(&first.reveal, &first.dyes, &second.reveal, &second.dyes) {
            Some(comparison) => writeln!(output, "{}", comparison.sentence(Voice::FILE))?,
            None => writeln!(output, "These garments differ in cut, so they can't be compared point by point.")?,
        }
    }
    Ok(())
}

/// What the picture is.
fn estimate(layout: &Layout, arguments: &RevealArguments) -> String {
    match &arguments.calibration {
        Some(path) => {
            format!("An estimate, with what was learned in {}; the rest of its calibration is our own guess.", path.display())
        }
        None => match layout.process().calibration.learned {
            Some(from) => format!("An estimate, with calibration {}; the rest of it is our own guess.", from.words()),
            None => {
                "An estimate: how far dye and discharge reach is our own guess; correct it under process.calibration.".to_owned()
            }
        },
    }
}

/// How finely it is computed. Several pictures are one in the end.
fn options(arguments: &RevealArguments) -> RevealOptions {
    let pictures = match (arguments.unsure, &arguments.beside) {
        (true, _) => 3,
        (false, Some(_)) => 2,
        (false, None) => 1,
    };
    RevealOptions { pixel_mm: arguments.pixel, most_pixels: MOST_PIXELS / pictures, ..RevealOptions::default() }
}

/// A layout, computed.
struct Revealed {
    layout: Layout,
    reveal: Reveal,
    dyes: DyeSet,
    /// How its mixtures differ from the layout's own by what was learned.
    changes: Vec<String>,
}

impl Revealed {
    fn of(path: &Path, arguments: &RevealArguments) -> Result<Self, CliError> {
        let (mut layout, mut changes) = (read_layout(path)?, Vec::new());
        if let Some(learned) = &arguments.calibration {
            let tuning = read_learned(learned)?.tuning(layout.raw());
            changes = change_words(&tuning, layout.raw());
            layout = layout.tuned(&tuning);
        }
        let options = options(arguments);
        let refused = |error: RevealError| CliError::because(path.display().to_string(), &error);
        let reveal = reveal_doses(&layout, &options, &Cancel::new()).map_err(refused)?;
        let dyes = DyeSet::of_layout(&layout, arguments.discharged);
        Ok(Self { layout, reveal, dyes, changes })
    }

    /// How sure it is, by what was learned where that is given.
    fn sureness(&self, arguments: &RevealArguments) -> Result<Sureness, CliError> {
        let learned = arguments.calibration.as_deref().map(read_learned).transpose()?;
        Sureness::of(&self.layout, learned.as_ref(), &options(arguments), &arguments.layout.display().to_string())
    }

    /// What the ground is taken to be, what to try, and which colours may disappoint.
    fn tell(&self, given: Option<Srgb>, output: &mut dyn Write) -> io::Result<()> {
        let process = self.layout.process();
        if process.discharge.is_some() {
            let said = &self.layout.raw().garment.discharged;
            let (colour, whose) = match (given, said) {
                (Some(colour), _) => (colour, "as given".to_owned()),
                (None, Some(swatch)) => (swatch.srgb, format!("{}, as the layout says", swatch.name)),
                (None, None) => (
                    Ground::of_layout(&self.layout).discharged,
                    "a guess; set garment.discharged in the layout, or --discharged".to_owned(),
                ),
            };
            writeln!(output, "Discharged colour: {colour} ({whose}).")?;
        }
        let whose = if self.changes.is_empty() { "as the layout says" } else { "as the layout says but for what was learned" };
        for dye in self.layout.swatches() {
            let Some(together) = Together::of(dye) else { continue };
            let components: Vec<String> = dye.components.iter().map(Component::words).collect();
            writeln!(
                output,
                "{} is mixed of {}, {whose}; together they look like {}, {:.1} from its own {} (CIEDE2000).",
                dye.name,
                components.join("; "),
                together.srgb,
                together.difference,
                dye.srgb
            )?;
        }
        for change in &self.changes {
            writeln!(output, "By what was learned, {change}.")?;
        }
        for advice in self.reveal.advice() {
            writeln!(output, "{}", advice.say(Voice::FILE))?;
        }
        // As at a fully bathed surface.
        for (tie, warning) in colour_warnings_by_tie(&self.layout, &self.dyes, process.discharged_share(1.0), TOLD_APART) {
            let tie = tie.map_or_else(String::new, |tie| format!("{tie}: "));
            writeln!(output, "{tie}{}", warning.say(Voice::FILE))?;
        }
        Ok(())
    }
}

/// What the colours of a map mean.
fn tell_map(map: PictureMap, output: &mut dyn Write) -> io::Result<()> {
    let (legend, Some(words)) = (map.legend(), map.words()) else { return Ok(()) };
    let stops: Vec<String> = legend
        .iter()
        .step_by(2)
        .map(|&(value, [red, green, blue])| format!("{value:.2} {}", Srgb { red, green, blue }))
        .collect();
    writeln!(output, "Map: {}; {}.", words, stops.join(", "))?;
    if map == PictureMap::DoseReached {
        writeln!(output, "({}.)", PictureMap::HATCH_MEANS)?;
    }
    Ok(())
}
