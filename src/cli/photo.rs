//! `photo`: a photograph of the opened garment held against its plan.

use super::CliError;
use super::arguments::{PhotoArguments, Units};
use super::marked::{MarkedFiles, MarkedPhotograph};
use super::progress::watched;
use super::terminal::{self, Content};
use pleatwright::measure::LengthStyle;
use pleatwright::photo::{
    Finding, PhotoError, PhotoMeasure, Plan, RegistrationOptions, findings, measure, measured_length, nothing_differs, register,
    straightened,
};
use pleatwright::store::{picture_png, read_layout};
use pleatwright::telling::Voice;
use serde::Serialize;
use std::io::Write;
use std::path::Path;

pub(crate) fn run(arguments: &PhotoArguments, output: &mut dyn Write) -> Result<(), CliError> {
    check_arguments(arguments)?;
    let layout = read_layout(&arguments.layout)?;
    let style = arguments.units.style(layout.marks())?;
    let files = MarkedFiles {
        photograph: &arguments.photograph,
        layout: &arguments.layout,
        marks: arguments.marks.as_deref(),
        side: arguments.side,
        keep_marks: arguments.keep_marks,
    };
    let MarkedPhotograph { photograph, marks, marks_file, found_words } = files.read(&layout)?;
    let refused = |error: PhotoError| files.refused(&error, &marks_file);
    // What is wrong with marks or picture is told before the plan is computed.
    let options = RegistrationOptions::default();
    let registration = watched("finding the outline", |cancel| register(&photograph, &layout, &marks, &options, cancel));
    let registration = registration.map_err(refused)?;
    let plan = watched("computing the plan", |cancel| Plan::of(&layout, marks.side, cancel)).map_err(refused)?;
    let measured = watched("measuring", |cancel| measure(&photograph, &plan, &marks, registration, cancel)).map_err(refused)?;
    let found = findings(&measured, &layout);
    let straight = arguments.output.as_deref();
    if let Some(path) = straight {
        let picture = straightened(&photograph, &plan, &measured.registration, measured.light.as_ref());
        terminal::deliver(path, &picture_png(&picture, plan.frame().pixel_mm)?, Content::Binary)?;
    }
    let output: &mut dyn Write = &mut *match straight {
        Some(path) => terminal::beside(path, output),
        None => Box::new(output),
    };
    if arguments.json {
        serde_json::to_writer_pretty(&mut *output, &Json::of(&measured, &found)).map_err(std::io::Error::from)?;
        writeln!(output)?;
        return Ok(());
    }
    if let Some(words) = found_words {
        writeln!(output, "{words}")?;
    }
    tell(arguments, &measured, style, output)?;
    for finding in &found {
        writeln!(output, "{}", finding.say(Voice::window(style)))?;
    }
    if let Some(words) = measured.rings.unfound_words() {
        writeln!(output, "{words}")?;
    }
    if let Some(words) = nothing_differs(&found, &measured.rings) {
        writeln!(output, "{words}")?;
    }
    if let Some(path) = straight {
        writeln!(output, "{}: the photograph straightened onto the plan", terminal::called(path))?;
    }
    Ok(())
}

fn check_arguments(arguments: &PhotoArguments) -> Result<(), CliError> {
    let other = [(Units::Cm, "--units cm"), (Units::In, "--units in")];
    if let Some((_, argument)) = other.into_iter().find(|(units, _)| arguments.json && arguments.units.units == Some(*units)) {
        return Err(CliError::argument(argument, "--json gives every length in mm", "leave it out"));
    }
    let is_png = |path: &Path| path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("png"));
    match arguments.output.as_deref().filter(|path| !terminal::is_output(path) && !is_png(path)) {
        Some(path) => Err(CliError::argument(path.display().to_string(), "not the name of a picture", "end it in .png")),
        None => Ok(()),
    }
}

fn tell(arguments: &PhotoArguments, measured: &PhotoMeasure, style: LengthStyle, output: &mut dyn Write) -> Result<(), CliError> {
    let outline = 100.0 * measured.registration.outline_found();
    writeln!(
        output,
        "{}: the {}, {:.2} mm a pixel; {outline:.0} % of the outline found{}",
        arguments.photograph.display(),
        measured.side,
        measured.pixel_mm,
        measured.rings.found_words()
    )?;
    if !measured.rings.rings.is_empty() {
        writeln!(output, "\n{:>4}{:>12}{:>12}{:>12}{:>14}{:>12}", "bind", "planned", "found", "shift", "give or take", "line")?;
    }
    for ring in &measured.rings.rings {
        writeln!(
            output,
            "{:>4}{:>12}{:>12}{:>12}{:>14}{:>12}",
            ring.bind,
            style.format(ring.planned_mm),
            measured_length(ring.radius_mm(), style),
            measured_length(ring.shift_mm, style),
            measured_length(ring.sd_mm, style),
            ring.width_mm.map_or_else(String::new, |mm| measured_length(mm, style))
        )?;
    }
    let Some(colours) = &measured.colours else { return Ok(writeln!(output)?) };
    writeln!(output, "\n{:>7}{:>10}{:>12}", "section", "colour", "difference")?;
    for section in &colours.sections {
        writeln!(output, "{:>7}{:>10}{:>12.1}", section.section, section.srgb.to_string(), section.delta_e)?;
    }
    if let Some(evenness) = colours.evenness {
        writeln!(output, "unevenness round the middle: {evenness:.1}")?;
    }
    if let Some(scale) = measured.scale {
        let [share, sd] = [scale.share, scale.sd].map(|share| 100.0 * share);
        writeln!(
            output,
            "by the sheet, the garment has {share:.1} % of its planned size, give or take {sd:.1} %; a tape tells more"
        )?;
    }
    Ok(writeln!(output)?)
}

/// What is measured, with names that stay.
#[derive(Debug, Serialize)]
struct Json {
    side: String,
    pixel_mm: f64,
    outline_found: f64,
    rings: Vec<RingJson>,
    rings_found: f64,
    centre: Option<CentreJson>,
    sections: Vec<SectionJson>,
    evenness: Option<f64>,
    evenness_sd: Option<f64>,
    scale: Option<f64>,
    scale_sd: Option<f64>,
    findings: Vec<String>,
}

#[derive(Debug, Serialize)]
struct RingJson {
    bind: usize,
    planned_mm: f64,
    radius_mm: f64,
    shift_mm: f64,
    sd_mm: f64,
    width_mm: Option<f64>,
    found: f64,
}

#[derive(Debug, Serialize)]
struct CentreJson {
    dx_mm: f64,
    dy_mm: f64,
    sd_mm: f64,
}

#[derive(Debug, Serialize)]
struct SectionJson {
    section: usize,
    delta_e: f64,
    delta_e_sd: f64,
    srgb: String,
}

impl Json {
    fn of(measured: &PhotoMeasure, found: &[Finding]) -> Self {
        let rings = &measured.rings;
        let ring = |ring: &pleatwright::photo::Ring| RingJson {
            bind: ring.bind,
            planned_mm: ring.planned_mm,
            radius_mm: ring.radius_mm(),
            shift_mm: ring.shift_mm,
            sd_mm: ring.sd_mm,
            width_mm: ring.width_mm,
            found: ring.found,
        };
        let sections = measured.colours.iter().flat_map(|colours| &colours.sections);
        let sections = sections.map(|section| SectionJson {
            section: section.section,
            delta_e: section.delta_e,
            delta_e_sd: section.delta_e_sd,
            srgb: section.srgb.to_string(),
        });
        let evenness = measured.colours.as_ref().and_then(|colours| Some((colours.evenness?, colours.evenness_sd())));
        Self {
            side: measured.side.to_string(),
            pixel_mm: measured.pixel_mm,
            outline_found: measured.registration.outline_found(),
            rings: rings.rings.iter().map(ring).collect(),
            rings_found: rings.found,
            // Of lines and bundles it is not measured.
            centre: (rings.displacement_sd_mm > 0.0).then_some(CentreJson {
                dx_mm: rings.displacement.x,
                dy_mm: rings.displacement.y,
                sd_mm: rings.displacement_sd_mm,
            }),
            sections: sections.collect(),
            evenness: evenness.map(|(evenness, _)| evenness),
            evenness_sd: evenness.map(|(_, sd)| sd),
            scale: measured.scale.map(|scale| scale.share),
            scale_sd: measured.scale.map(|scale| scale.sd),
            findings: found.iter().map(|finding| finding.say(Voice::FILE)).collect(),
        }
    }
}
