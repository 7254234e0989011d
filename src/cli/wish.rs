//! `wish`: the layout that comes nearest to rings wished on the opened garment.

use super::CliError;
use super::arguments::WishArguments;
use super::progress::watched;
use super::terminal;
use pleatwright::layout::{Layout, Srgb, layout_text};
use pleatwright::learn::change_words;
use pleatwright::measure::LengthStyle;
use pleatwright::store::{FileKind, read_learned, read_wish};
use pleatwright::telling::{Names, Refused as _, Voice};
use pleatwright::wish::{FulfilError, Fulfilled, NotReached, PartReached, REACHED_WITHIN, Wish, WishOptions, fulfil};
use serde::Serialize;
use std::io::Write;

pub(crate) fn run(arguments: &WishArguments, output: &mut dyn Write) -> Result<(), CliError> {
    let (mut wish, mut layout) = read_wish(&arguments.wish)?;
    let style = arguments.units.style(layout.marks())?;
    let mut changes = Vec::new();
    if let Some(learned) = &arguments.calibration {
        // Mixtures among the wish's own dyes go as far as those of the layout.
        let mut with_dyes = layout.raw().clone();
        with_dyes.colours.rotation.extend(wish.dyes.iter().cloned());
        let tuning = read_learned(learned)?.tuning(&with_dyes);
        changes = change_words(&tuning, &with_dyes);
        changes.dedup();
        wish.dyes.iter_mut().for_each(|dye| tuning.tune(dye));
        layout = layout.tuned(&tuning);
    }
    let refused = |error: FulfilError| CliError::because(arguments.wish.display().to_string(), &error);
    let fulfilled = watched("wishing", |cancel| fulfil(&wish, &layout, &WishOptions::default(), cancel)).map_err(refused)?;
    let path = &arguments.output;
    terminal::deliver_kind(path, &layout_text(fulfilled.layout.raw()), FileKind::Layout)?;
    let output = &mut *terminal::beside(path, output);
    if arguments.json {
        serde_json::to_writer_pretty(&mut *output, &Json::of(&fulfilled)).map_err(std::io::Error::from)?;
        return Ok(writeln!(output)?);
    }
    writeln!(output, "{}: \"{}\", {}", terminal::called(path), fulfilled.layout.name(), fulfilled.layout.bound_with())?;
    for change in changes {
        writeln!(output, "By what was learned, {change}.")?;
    }
    tell(&wish, &fulfilled, style, output)
}

/// What was wished and what comes of it, the sections, and what can't be reached.
fn tell(wish: &Wish, fulfilled: &Fulfilled, style: LengthStyle, output: &mut dyn Write) -> Result<(), CliError> {
    let voice = Voice { lengths: style, names: Names::Keys };
    writeln!(
        output,
        "An estimate: {:.1} off the wish in the mean (CIEDE2000; up to {REACHED_WITHIN:.0} is what a hand-dyed section varies within itself).",
        fulfilled.difference
    )?;
    writeln!(output, "\n{:>4}  {:<24}{:<10}{:<10}{:>6}   edges come out at", "part", "wished", "colour", "reached", "off")?;
    for (number, (part, reached)) in (1..).zip(wish.parts.iter().zip(&fulfilled.parts)) {
        let wished = format!("{} to {}", voice.about(part.from_mm), voice.about(part.to_mm));
        match reached {
            None => writeln!(output, "{number:>4}  {wished:<24}there is no cloth")?,
            Some(PartReached { wished: colour, reached, difference, edges_mm, .. }) => {
                let edges: Vec<String> = edges_mm.iter().flatten().map(|edge_mm| voice.about(*edge_mm)).collect();
                let (colour, reached) = (colour.to_string(), reached.to_string());
                writeln!(output, "{number:>4}  {wished:<24}{colour:<10}{reached:<10}{difference:>6.1}   {}", edges.join(", "))?;
            }
        }
    }
    writeln!(output, "\n{:>7}  {:<14}{:<14}dye", "section", "from", "to")?;
    for (number, Section { from_mm, to_mm, dye }) in (1..).zip(sections(&fulfilled.layout)) {
        let to = to_mm.map_or_else(|| "the edge".to_owned(), |to_mm| voice.about(to_mm));
        writeln!(
            output,
            "{number:>7}  {:<14}{to:<14}{dye}",
            from_mm.map_or_else(|| "the tip".to_owned(), |from_mm| voice.about(from_mm))
        )?;
    }
    if fulfilled.line_mm > 0.0 {
        writeln!(output, "\nEach bind costs a line of {}.", voice.about(fulfilled.line_mm))?;
    }
    for not_reached in &fulfilled.not_reached {
        writeln!(output, "{}.", not_reached.say(voice))?;
    }
    Ok(())
}

/// Cloth between two binds, by distances from the centre or the line.
struct Section {
    from_mm: Option<f64>,
    to_mm: Option<f64>,
    dye: String,
}

fn sections(layout: &Layout) -> Vec<Section> {
    let zero_mm = layout.zero_mm();
    let at_mm: Vec<f64> = layout.binds().binds.iter().map(|bind| bind.radius_mm - zero_mm).collect();
    let rotation = &layout.raw().colours.rotation;
    let of = |(section, dye): (usize, Option<usize>)| Section {
        from_mm: section.checked_sub(1).and_then(|before| at_mm.get(before).copied()),
        to_mm: at_mm.get(section).copied(),
        dye: dye.and_then(|dye| rotation.get(dye)).map_or_else(|| "none".to_owned(), |swatch| swatch.name.clone()),
    };
    layout.section_colours().into_iter().enumerate().map(of).collect()
}

/// What is reached, with names that stay.
#[derive(Debug, Serialize)]
struct Json {
    name: String,
    difference: f64,
    rounds: Vec<f64>,
    line_mm: f64,
    binds_mm: Vec<f64>,
    dyes: Vec<String>,
    parts: Vec<Option<PartJson>>,
    not_reached: Vec<NotReachedJson>,
}

#[derive(Debug, Serialize)]
struct PartJson {
    wished_mm: [f64; 2],
    wished: String,
    reached: String,
    difference: f64,
    colour_difference: f64,
    edges_mm: [Option<f64>; 2],
}

#[derive(Debug, Serialize)]
struct NotReachedJson {
    part: usize,
    cause: &'static str,
    nearest: String,
    dye: Option<String>,
    difference: f64,
    words: String,
}

impl Json {
    fn of(fulfilled: &Fulfilled) -> Self {
        let colour = |colour: Srgb| colour.to_string();
        let part = |part: &PartReached| PartJson {
            wished_mm: part.wished_mm,
            wished: colour(part.wished),
            reached: colour(part.reached),
            difference: part.difference,
            colour_difference: part.colour_difference,
            edges_mm: part.edges_mm,
        };
        let not_reached = |part: &NotReached| NotReachedJson {
            part: part.part,
            cause: part.cause.key(),
            nearest: colour(part.nearest),
            dye: part.with.dye().map(str::to_owned),
            difference: part.difference,
            words: part.say(Voice::FILE),
        };
        let sections = sections(&fulfilled.layout);
        Self {
            name: fulfilled.layout.name().to_owned(),
            difference: fulfilled.difference,
            rounds: fulfilled.rounds.clone(),
            line_mm: fulfilled.line_mm,
            binds_mm: sections.iter().filter_map(|section| section.to_mm).collect(),
            dyes: sections.into_iter().map(|section| section.dye).collect(),
            parts: fulfilled.parts.iter().map(|reached| reached.as_ref().map(part)).collect(),
            not_reached: fulfilled.not_reached.iter().map(not_reached).collect(),
        }
    }
}
