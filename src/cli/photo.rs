//! `photo`: a photograph of the opened garment held against its plan.

use super::CliError;
use super::arguments::{PhotoArguments, Units};
use super::marked::{MarkedFiles, MarkedPhotograph};
use super::progress::watched;
use super::terminal::{self, Content};
use pleatwright::measure::LengthStyle;
use pleatwright::photo::{
    Finding, Findings, PhotoError, PhotoMeasure, Plan, RegistrationOptions, TieMeasure, findings, measure, measured_length,
    nothing_differs, register, straightened,
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
    // What is wrong with the layout is told before points are looked for.
    Plan::check(&layout).map_err(|error| files.refused(&error, &arguments.layout))?;
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
        let written = if measured.is_of_several() {
            serde_json::to_writer_pretty(&mut *output, &SeveralJson::of(&measured, &found))
        } else {
            serde_json::to_writer_pretty(&mut *output, &Json::of(&measured, &found))
        };
        written.map_err(std::io::Error::from)?;
        return Ok(writeln!(output)?);
    }
    if let Some(words) = found_words {
        writeln!(output, "{words}")?;
    }
    tell(arguments, &measured, style, output)?;
    told(&measured, &found, Voice::window(style), output)?;
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
        measured.found_words()
    )?;
    for tie in measured.ties() {
        if let Some(name) = &tie.name {
            writeln!(output, "\n{name}")?;
        }
        tell_tie(tie, style, output)?;
    }
    if let Some(loose) = &measured.loose {
        writeln!(output, "\n{:<17}{}{:>12.1}", "loose cloth", loose.srgb, loose.delta_e)?;
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

/// What is found, tie by tie, and last what is of the whole picture.
fn told(measured: &PhotoMeasure, found: &Findings, voice: Voice, output: &mut dyn Write) -> Result<(), CliError> {
    for (tie, of_tie) in measured.ties().iter().zip(&found.ties) {
        let mut lines: Vec<String> = of_tie.iter().map(|finding| finding.say(voice)).collect();
        lines.extend(tie.rings.unfound_words());
        lines.extend(nothing_differs(of_tie, &tie.rings).map(str::to_owned));
        for line in lines {
            match &tie.name {
                Some(name) => writeln!(output, "{name}: {line}")?,
                None => writeln!(output, "{line}")?,
            }
        }
    }
    for finding in &found.whole {
        writeln!(output, "{}", finding.say(voice))?;
    }
    Ok(())
}

/// A tie's rings and sections.
fn tell_tie(tie: &TieMeasure, style: LengthStyle, output: &mut dyn Write) -> Result<(), CliError> {
    if !tie.rings.rings.is_empty() {
        writeln!(output, "\n{:>4}{:>12}{:>12}{:>12}{:>14}{:>12}", "bind", "planned", "found", "shift", "give or take", "line")?;
    }
    for ring in &tie.rings.rings {
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
    let Some(colours) = &tie.colours else { return Ok(()) };
    writeln!(output, "\n{:>7}{:>10}{:>12}", "section", "colour", "difference")?;
    for section in &colours.sections {
        writeln!(output, "{:>7}{:>10}{:>12.1}", section.section, section.srgb.to_string(), section.delta_e)?;
    }
    if let Some(evenness) = colours.evenness {
        writeln!(output, "unevenness round the middle: {evenness:.1}")?;
    }
    Ok(())
}

/// What is measured of a layout of one tie, with names that stay.
#[derive(Debug, Serialize)]
struct Json {
    side: String,
    pixel_mm: f64,
    outline_found: f64,
    #[serde(flatten)]
    tie: TieJson,
    scale: Option<f64>,
    scale_sd: Option<f64>,
}

/// What is measured of several ties: of each under the names that it has alone, and beside them what is of the whole picture.
#[derive(Debug, Serialize)]
struct SeveralJson {
    side: String,
    pixel_mm: f64,
    outline_found: f64,
    rings_found: f64,
    ties: Vec<TieJson>,
    loose: Option<LooseJson>,
    scale: Option<f64>,
    scale_sd: Option<f64>,
    findings: Vec<String>,
}

#[derive(Debug, Serialize)]
struct TieJson {
    #[serde(skip_serializing_if = "Option::is_none")]
    name: Option<String>,
    rings: Vec<RingJson>,
    rings_found: f64,
    centre: Option<CentreJson>,
    sections: Vec<SectionJson>,
    evenness: Option<f64>,
    evenness_sd: Option<f64>,
    findings: Vec<String>,
}

#[derive(Debug, Serialize)]
struct LooseJson {
    delta_e: f64,
    delta_e_sd: f64,
    srgb: String,
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

fn said(findings: &[Finding]) -> Vec<String> {
    findings.iter().map(|finding| finding.say(Voice::FILE)).collect()
}

impl TieJson {
    fn of(tie: &TieMeasure, found: &[Finding]) -> Self {
        let rings = &tie.rings;
        let ring = |ring: &pleatwright::photo::Ring| RingJson {
            bind: ring.bind,
            planned_mm: ring.planned_mm,
            radius_mm: ring.radius_mm(),
            shift_mm: ring.shift_mm,
            sd_mm: ring.sd_mm,
            width_mm: ring.width_mm,
            found: ring.found,
        };
        let sections = tie.colours.iter().flat_map(|colours| &colours.sections);
        let sections = sections.map(|section| SectionJson {
            section: section.section,
            delta_e: section.delta_e,
            delta_e_sd: section.delta_e_sd,
            srgb: section.srgb.to_string(),
        });
        let evenness = tie.colours.as_ref().and_then(|colours| Some((colours.evenness?, colours.evenness_sd())));
        Self {
            name: tie.name.clone(),
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
            findings: said(found),
        }
    }
}

impl SeveralJson {
    fn of(measured: &PhotoMeasure, found: &Findings) -> Self {
        let ties = measured.ties().iter().zip(&found.ties);
        let loose = measured.loose.map(|loose| LooseJson {
            delta_e: loose.delta_e,
            delta_e_sd: loose.delta_e_sd,
            srgb: loose.srgb.to_string(),
        });
        Self {
            side: measured.side.to_string(),
            pixel_mm: measured.pixel_mm,
            outline_found: measured.registration.outline_found(),
            rings_found: measured.rings_found(),
            ties: ties.map(|(tie, found)| TieJson::of(tie, found)).collect(),
            loose,
            scale: measured.scale.map(|scale| scale.share),
            scale_sd: measured.scale.map(|scale| scale.sd),
            findings: said(&found.whole),
        }
    }
}

impl Json {
    fn of(measured: &PhotoMeasure, found: &Findings) -> Self {
        Self {
            side: measured.side.to_string(),
            pixel_mm: measured.pixel_mm,
            outline_found: measured.registration.outline_found(),
            tie: TieJson::of(measured.tie(), found.ties.first().map_or(&[], Vec::as_slice)),
            scale: measured.scale.map(|scale| scale.share),
            scale_sd: measured.scale.map(|scale| scale.sd),
        }
    }
}
