//! Reading the lines of a drawing, and choosing one.

use super::error::ImportError;
use super::limits::{JOIN_MM, MOST_DRAWING_BYTES, MOST_LINES, SIMPLIFIED_MM, SPECK_MM};
use super::line::FoundLine;
use super::raw::RawLine;
use super::unit::FileUnit;
use super::{chain, dxf, simplify, svg};
use kurbo::{PathEl, Rect, Shape as _};
use std::path::Path;

/// A format of drawings.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum DrawingFormat {
    /// Scalable Vector Graphics.
    Svg,
    /// Drawing exchange format, ASCII.
    Dxf,
}

impl DrawingFormat {
    /// Endings of the files that are read.
    pub const ENDINGS: [&str; 2] = ["svg", "dxf"];

    /// The format that a file's name tells.
    ///
    /// # Errors
    /// [`ImportError::Ending`].
    pub fn of(path: &Path) -> Result<Self, ImportError> {
        let ending = path.extension().map(|ending| ending.to_string_lossy().to_lowercase()).unwrap_or_default();
        match ending.as_str() {
            "svg" => Ok(Self::Svg),
            "dxf" => Ok(Self::Dxf),
            _ => Err(ImportError::Ending { ending }),
        }
    }
}

/// The lines of a drawing, in the order of the file: pieces whose ends meet on one layer joined, and simplified to within
/// [`SIMPLIFIED_MM`]. Circles and arcs of an SVG file come as `usvg` draws them, within 3e-4 of their radius. What is not visible, text and
/// pictures are left out.
///
/// `unit` is what its numbers measure where the file doesn't say it; it is not asked where it does.
///
/// # Errors
/// [`ImportError`]: [`ImportError::UnknownUnit`] where a unit is needed and none is given.
pub fn read_lines(bytes: &[u8], format: DrawingFormat, unit: Option<FileUnit>) -> Result<Vec<FoundLine>, ImportError> {
    let size = bytes.len() as u64;
    if size > MOST_DRAWING_BYTES {
        return Err(ImportError::TooLarge { bytes: size, most: MOST_DRAWING_BYTES });
    }
    if bytes.iter().all(u8::is_ascii_whitespace) {
        return Err(ImportError::Empty);
    }
    let drawing = match format {
        DrawingFormat::Svg => svg::read(bytes)?,
        DrawingFormat::Dxf => dxf::read(bytes, unit)?,
    };
    check_finite(&drawing.lines)?;
    let no_line = ImportError::NoLine { has_text: drawing.has_text };
    let Some(bounds) = drawing.lines.iter().map(|line| line.path.bounding_box()).reduce(|a, b| a.union(b)) else {
        return Err(no_line);
    };
    let unit_mm = drawing.unit_mm.or(unit.map(FileUnit::in_mm)).ok_or_else(|| unknown_unit(bounds))?;
    let lines = drawing.lines.into_iter().map(|line| scaled(line, unit_mm)).collect();
    let lines: Vec<FoundLine> = chain::joined(lines, JOIN_MM)
        .into_iter()
        .filter(|line| line.path.perimeter(SPECK_MM) > SPECK_MM)
        .enumerate()
        .map(|(index, line)| found(index + 1, line))
        .collect();
    match lines.len() {
        0 => Err(no_line),
        MOST_LINES.. => Err(ImportError::TooManyLines),
        _ => Ok(lines),
    }
}

fn check_finite(lines: &[RawLine]) -> Result<(), ImportError> {
    // What is larger than this overflows once areas are taken of it.
    let is_usable = |line: &RawLine| line.path.is_finite() && line.path.control_box().size().max_side() < 1e9;
    match lines.iter().find(|line| !is_usable(line)) {
        None => Ok(()),
        Some(line) => {
            let what = line.name.clone().or_else(|| line.layer.clone()).unwrap_or_else(|| "path".to_owned());
            Err(ImportError::Infinite { what })
        }
    }
}

fn unknown_unit(bounds: Rect) -> ImportError {
    ImportError::UnknownUnit { size: [bounds.width(), bounds.height()] }
}

fn scaled(line: RawLine, unit_mm: f64) -> RawLine {
    RawLine { path: kurbo::Affine::scale(unit_mm) * line.path, ..line }
}

fn found(number: usize, line: RawLine) -> FoundLine {
    let path = simplify::simplified(&line.path, SIMPLIFIED_MM);
    FoundLine {
        number,
        name: line.name,
        layer: line.layer,
        is_closed: path.elements().last() == Some(&PathEl::ClosePath),
        length_mm: path.perimeter(1e-3),
        path,
    }
}

/// Those that may go round a piece of cloth: the closed ones, or all where none is closed, for a half may be open along its fold.
#[must_use]
pub fn outlines(lines: Vec<FoundLine>) -> Vec<FoundLine> {
    let is_any_closed = lines.iter().any(|line| line.is_closed);
    lines.into_iter().filter(|line| line.is_closed || !is_any_closed).collect()
}

/// The one line of a drawing, or the one of several that is asked for: by its number, else by its name or layer.
///
/// # Errors
/// [`ImportError::Several`] where none is asked for, [`ImportError::NoSuchLine`] where that is none or several.
pub fn choose_line(mut lines: Vec<FoundLine>, which: Option<&str>) -> Result<FoundLine, ImportError> {
    let Some(which) = which else {
        return match <[FoundLine; 1]>::try_from(lines) {
            Ok([only]) => Ok(only),
            Err(lines) => Err(ImportError::Several { lines: lines.iter().map(FoundLine::brief).collect() }),
        };
    };
    let number: Option<usize> = which.trim().parse().ok();
    let called = || lines.iter().enumerate().filter(|(_, line)| line.brief().is_called(which)).map(|(index, _)| index);
    let by_number = || lines.iter().position(|line| Some(line.number) == number);
    let index = match called().count() {
        0 => by_number(),
        1 => called().next(),
        _ => None,
    };
    match index {
        Some(index) => Ok(lines.swap_remove(index)),
        None => {
            let lines = lines.iter().map(FoundLine::brief).collect();
            Err(ImportError::NoSuchLine { which: which.to_owned(), lines })
        }
    }
}
