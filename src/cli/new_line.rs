//! The fold that `new` begins with: a burst, a flat bundle, or a line that is a shape, comes from a drawing, or runs beside the garment's own edge.

use super::CliError;
use super::arguments::{FlatArguments, LineArguments};
use super::new_drawing::Drawing;
use super::new_flat;
use pleatwright::geometry::{FreeLine, GarmentEdge, LineShape};
use pleatwright::layout::{FoldKind, FoldStart};
use pleatwright::measure::{LengthUnit, parse_length};
use std::path::Path;

/// The fold that is asked for; lengths without a unit are in this one.
pub(super) fn start(fold: FoldKind, line: &LineArguments, flat: &FlatArguments, unit: LengthUnit) -> Result<FoldStart, CliError> {
    if let Some(name) = new_flat::first_given(flat).filter(|_| !matches!(fold, FoldKind::Flat(_))) {
        let why = format!("a fold of the kind {} is no flat bundle", fold.name());
        return Err(CliError::argument(name, why, "add --fold stripes or another flat one, or leave it out"));
    }
    let of_shape = [("--line", line.line.is_some()), ("--points", line.points.is_some()), ("--letter", line.letter.is_some())];
    let of_drawing = [
        ("--line-unit", line.line_unit.is_some()),
        ("--line-which", line.line_which.is_some()),
        ("--line-width", line.line_width.is_some()),
        ("--line-kind", line.line_kind.is_some()),
    ];
    let (from, along, inset) = (line.line_from.is_some(), line.line_along.is_some(), line.line_inset.is_some());
    let sources = [("--line-from", from), ("--line-along", along), ("--line-inset", inset)];
    let of_any = [("--stitched", line.stitched)];
    let first = |of: &[(&'static str, bool)]| of.iter().find(|(_, is_given)| *is_given).map(|(name, _)| *name);
    if fold != FoldKind::Line {
        let about_line = [&of_shape[..], &of_drawing, &sources, &of_any].concat();
        return match first(&about_line) {
            Some(name) => {
                let why = if fold == FoldKind::Burst { "a burst has no line" } else { "a flat bundle has no line" };
                Err(CliError::argument(name, why, "add --fold line, or leave it out"))
            }
            None => match fold {
                FoldKind::Flat(kind) => new_flat::start(kind, flat, unit).map(FoldStart::Flat),
                FoldKind::Burst | FoldKind::Line => Ok(FoldStart::Burst),
            },
        };
    }
    // What belongs to a line of another kind.
    let needless = if from {
        first(&of_shape).or(first(&sources[1..])).map(|name| (name, "the line comes from a drawing"))
    } else if along {
        first(&of_shape).or(first(&of_drawing)).map(|name| (name, "the line runs along the garment's edge"))
    } else {
        let of_edge = first(&sources[2..]).map(|name| (name, "it belongs to --line-along"));
        first(&of_drawing).map(|name| (name, "it belongs to --line-from")).or(of_edge)
    };
    if let Some((name, why)) = needless {
        return Err(CliError::argument(name, why, "leave it out"));
    }
    let length_mm = |name: &str, text: &Option<String>| {
        let parsed = text
            .as_ref()
            .map(|text| parse_length(text, unit).map_err(|error| CliError::because(format!("{name} {text}"), &error)));
        parsed.transpose()
    };
    match (&line.line_from, line.line_along) {
        (Some(path), _) => drawn(path, line, length_mm("--line-width", &line.line_width)?).map(FoldStart::Drawn),
        (None, Some(edge)) => {
            let inset_mm = length_mm("--line-inset", &line.line_inset)?;
            Ok(FoldStart::Beside(edge, inset_mm.unwrap_or(GarmentEdge::USUAL_INSET_MM)))
        }
        (None, None) => shaped(line),
    }
}

/// The line of a drawing.
fn drawn(path: &Path, line: &LineArguments, width_mm: Option<f64>) -> Result<FreeLine, CliError> {
    let drawing = Drawing {
        path,
        argument: "--line-from",
        unit: ("--line-unit", line.line_unit),
        which: ("--line-which", line.line_which.as_deref()),
    };
    let found = drawing.line()?;
    let name = found.name.unwrap_or_else(|| path.file_stem().unwrap_or_default().to_string_lossy().into_owned());
    Ok(FreeLine { name, path: found.path, width_mm, kind: line.line_kind })
}

/// One of the shapes.
fn shaped(line: &LineArguments) -> Result<FoldStart, CliError> {
    let shape = line.line.unwrap_or(if line.letter.is_some() { LineShape::Letter { letter: 'A' } } else { LineShape::Heart });
    let shape = match line.points {
        Some(count) => {
            let [least, most] = shape.counts().ok_or_else(|| {
                CliError::argument(
                    format!("--points {count}"),
                    format!("a {} has no number of points", shape.name()),
                    "leave it out",
                )
            })?;
            if !(least..=most).contains(&count) {
                return Err(CliError::argument(format!("--points {count}"), "out of range", format!("give {least} to {most}")));
            }
            shape.with_count(count)
        }
        None => shape,
    };
    match (shape, line.letter) {
        (LineShape::Letter { .. }, Some(letter)) if letter.is_ascii_alphabetic() => {
            Ok(FoldStart::Line(LineShape::Letter { letter: letter.to_ascii_uppercase() }))
        }
        (LineShape::Letter { .. }, Some(letter)) => {
            Err(CliError::argument(format!("--letter {letter}"), "no strokes for it", "choose A to Z"))
        }
        (_, Some(letter)) => Err(CliError::argument(
            format!("--letter {letter}"),
            format!("a {} has no letter", shape.name()),
            "add --line letter, or leave it out",
        )),
        (shape, None) => Ok(FoldStart::Line(shape)),
    }
}
