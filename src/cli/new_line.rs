//! The line that `new` begins with: a shape, from a drawing, or beside the garment's own edge.

use super::CliError;
use super::arguments::LineArguments;
use super::given::given_mm;
use super::new_drawing::Drawing;
use pleatwright::geometry::{FreeLine, GarmentEdge, LineShape};
use pleatwright::layout::FoldStart;
use pleatwright::measure::LengthUnit;
use std::path::Path;

/// The first argument about a line that is given.
pub(super) fn first_given(line: &LineArguments) -> Option<&'static str> {
    let Given { of_shape, of_drawing, sources } = Given::of(line);
    first(&of_shape).or(first(&of_drawing)).or(first(&sources)).or(first(&[("--stitched", line.stitched)]))
}

fn first(of: &[(&'static str, bool)]) -> Option<&'static str> {
    of.iter().find(|(_, is_given)| *is_given).map(|(name, _)| *name)
}

/// Which arguments are given.
struct Given {
    of_shape: [(&'static str, bool); 3],
    of_drawing: [(&'static str, bool); 4],
    sources: [(&'static str, bool); 3],
}

impl Given {
    fn of(line: &LineArguments) -> Self {
        Self {
            of_shape: [("--line", line.line.is_some()), ("--points", line.points.is_some()), ("--letter", line.letter.is_some())],
            of_drawing: [
                ("--line-unit", line.line_unit.is_some()),
                ("--line-which", line.line_which.is_some()),
                ("--line-width", line.line_width.is_some()),
                ("--line-kind", line.line_kind.is_some()),
            ],
            sources: [
                ("--line-from", line.line_from.is_some()),
                ("--line-along", line.line_along.is_some()),
                ("--line-inset", line.line_inset.is_some()),
            ],
        }
    }
}

/// The line that is asked for; lengths without a unit are in this one.
pub(super) fn start(line: &LineArguments, unit: LengthUnit) -> Result<FoldStart, CliError> {
    let Given { of_shape, of_drawing, sources } = Given::of(line);
    // What belongs to a line of another kind.
    let needless = if line.line_from.is_some() {
        first(&of_shape).or(first(&sources[1..])).map(|name| (name, "the line comes from a drawing"))
    } else if line.line_along.is_some() {
        first(&of_shape).or(first(&of_drawing)).map(|name| (name, "the line runs along the garment's edge"))
    } else {
        let of_edge = first(&sources[2..]).map(|name| (name, "it belongs to --line-along"));
        first(&of_drawing).map(|name| (name, "it belongs to --line-from")).or(of_edge)
    };
    if let Some((name, why)) = needless {
        return Err(CliError::argument(name, why, "leave it out"));
    }
    let length_mm = |name: &str, text: &Option<String>| given_mm(name, text.as_deref(), unit);
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
