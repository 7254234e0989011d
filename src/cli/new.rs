//! `new`: begin a layout for a garment.

use super::CliError;
use super::arguments::{NewArguments, Units};
use super::new_outline::{self, Taken};
use super::terminal;
use super::{new_dips, new_fold};
use pleatwright::geometry::{GarmentKind, Gather, Measure, RawMeasures};
use pleatwright::layout::{GarmentSpec, Layout, LayoutError, starter_on};
use pleatwright::measure::{LengthStyle, LengthUnit, RuleMarks, is_in_inches, parse_length};
use pleatwright::store::{FileKind, layout_text, read_learned, today};
use pleatwright::telling::{Refused as _, Voice};
use std::io::Write;

pub(crate) fn run(arguments: &NewArguments, output: &mut dyn Write) -> Result<(), CliError> {
    let usual = if arguments.outline.outline.is_some() { "own" } else { "crew-tee" };
    let kind = kind(arguments.garment.as_deref().unwrap_or(usual))?;
    let measures = measures(arguments, kind)?;
    if let Some(size) = &arguments.size {
        check_size(kind, size)?;
    }
    let taken = new_outline::outline(kind, &arguments.outline)?;
    let is_complete = taken.is_some() || kind.required_measures().all(|measure| measures.value(measure).is_some());
    let size =
        arguments.size.clone().or_else(|| (!is_complete).then(|| kind.usual_size()).flatten().map(|size| size.to_string()));
    let refused = |error: LayoutError| CliError::Argument(error.told(Voice::FILE));
    let start = new_fold::start(arguments, arguments.units.unit())?;
    let outline = taken.as_ref().map(|taken| taken.outline.clone());
    let garment = GarmentSpec { size, outline, measures, ..GarmentSpec::of(kind) };
    let mut raw = starter_on(start, &garment, marks(arguments)).map_err(refused)?;
    if let Some(line) = raw.fold.line_mut().filter(|_| arguments.line.stitched) {
        line.gather = Gather::Stitch;
    }
    if let Some(path) = &arguments.calibration {
        raw.tune(&read_learned(path)?.tuning_on(&raw, today()));
    }
    if let Some(name) = &arguments.name {
        raw.name.clone_from(name);
    }
    new_dips::dip(&mut raw, &arguments.flat.dip, arguments.units.unit())?;
    let layout = Layout::try_from(raw).map_err(refused)?;
    let path = &arguments.output;
    terminal::deliver_kind(path, &layout_text(layout.raw()), FileKind::Layout)?;
    let binds = layout.bound_with();
    writeln!(terminal::beside(path, output), "{}: \"{}\", {binds}", terminal::called(path), layout.name())?;
    if let Some(taken) = taken {
        writeln!(terminal::beside(path, output), "{}", outline_words(&taken, &layout, arguments.units.style()))?;
    }
    Ok(())
}

/// As what the outline was taken, and how large the garment is: `outline taken as the whole garment, 520 mm wide, 700 mm high`.
fn outline_words(taken: &Taken, layout: &Layout, lengths: LengthStyle) -> String {
    let size = [Measure::ClothWidth, Measure::ClothHeight].map(|measure| layout.garment().value_mm(measure).unwrap_or_default());
    let [width, height] = size.map(|mm| Voice::window(lengths).about(mm));
    let words = format!("{}: {width} wide, {height} high", taken.words(lengths));
    taken.advice().map_or_else(|| words.clone(), |advice| format!("{words}\n{advice}"))
}

fn measures(arguments: &NewArguments, kind: GarmentKind) -> Result<RawMeasures, CliError> {
    let mut measures = RawMeasures::default();
    for text in &arguments.measure {
        let (measure, value_mm) = measure(text, kind, arguments.units.unit())?;
        if measures.value(measure).is_some() {
            let name = measure.key().trim_end_matches("_mm");
            return Err(CliError::argument(format!("--measure {text}"), format!("{name} is given twice"), "keep one"));
        }
        measures.set(measure, Some(value_mm));
    }
    Ok(measures)
}

/// The marks asked for, or those of the rule that the lengths were taken with.
fn marks(arguments: &NewArguments) -> RuleMarks {
    let measures = arguments.measure.iter().filter_map(|text| Some(text.split_once('=')?.1));
    let own = [
        &arguments.flat.fold_width,
        &arguments.flat.block_size,
        &arguments.flat.wrap,
        &arguments.line.line_width,
        &arguments.line.line_inset,
        &arguments.spiral.puck_diameter,
    ];
    let mut lengths = measures.chain(own.into_iter().flatten().map(String::as_str));
    match arguments.marks {
        Some(marks) => marks.into(),
        None if arguments.units == Units::In || lengths.any(is_in_inches) => RuleMarks::InchSixteenth,
        None => RuleMarks::Millimetres1,
    }
}

/// Refuses a size that the kind does not have, and says which it has.
fn check_size(kind: GarmentKind, size: &str) -> Result<(), CliError> {
    kind.size_named(size).map(drop).map_err(|error| CliError::because(format!("--size {size}"), &error))
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
    if let Some(kind) = GarmentKind::every().find(|kind| plain(kind.key()) == plain(text)) {
        return Ok(kind);
    }
    let part = format!("-{}-", text.trim().to_lowercase().replace([' ', '_'], "-"));
    let fitting: Vec<_> = GarmentKind::every().filter(|kind| format!("-{}-", kebab(*kind)).contains(&part)).collect();
    let every: Vec<_> = GarmentKind::every().collect();
    let names = |kinds: &[GarmentKind]| kinds.iter().map(|kind| kebab(*kind)).collect::<Vec<_>>().join(", ");
    let wrong = |what: &str, cure: String| CliError::argument(format!("--garment {text}"), what, cure);
    match fitting[..] {
        [only] => Ok(only),
        [] => Err(wrong("not a kind of garment", format!("choose {}", names(&every)))),
        _ => Err(wrong("this could be several", format!("choose {}", names(&fitting)))),
    }
}

fn measure(text: &str, kind: GarmentKind, unit: LengthUnit) -> Result<(Measure, f64), CliError> {
    let argument = || format!("--measure {text}");
    let wrong = |what: &str, cure: String| CliError::argument(argument(), what, cure);
    let (name, value) = text
        .split_once('=')
        .ok_or_else(|| wrong("not a name and a length", "write NAME=LENGTH, such as neck_width=172mm".to_owned()))?;
    let key = format!("{}_mm", name.trim().trim_end_matches("_mm").replace(['-', ' '], "_"));
    let measure = Measure::ALL.into_iter().find(|measure| measure.key() == key).ok_or_else(|| {
        let known: Vec<_> = kind.measures().map(|measure| measure.key().trim_end_matches("_mm")).collect();
        wrong("not a measurement", format!("choose {}", known.join(", ")))
    })?;
    Ok((measure, parse_length(value, unit).map_err(|error| CliError::because(argument(), &error))?))
}
