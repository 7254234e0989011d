//! A photograph with its marks: those given, those kept beside it, or points found by their looks.

use super::CliError;
use super::progress::watched;
use super::terminal;
use pleatwright::geometry::Panel;
use pleatwright::layout::Layout;
use pleatwright::photo::{Marks, MarksError, PhotoError, Photograph, find_points};
use pleatwright::store::{FileKind, marks_path, marks_text, read_marks, read_photograph};
use pleatwright::telling::{Refused as _, Voice};
use std::path::{Path, PathBuf};

/// The files that a photograph is to be read with, and the side that it shows where no marks say it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct MarkedFiles<'a> {
    pub(crate) photograph: &'a Path,
    pub(crate) layout: &'a Path,
    pub(crate) marks: Option<&'a Path>,
    pub(crate) side: Panel,
    /// Whether points that are found are kept beside the photograph.
    pub(crate) keep_marks: bool,
}

/// A photograph and where its points are.
#[derive(Debug)]
pub(crate) struct MarkedPhotograph {
    pub(crate) photograph: Photograph,
    pub(crate) marks: Marks,
    /// The file of the marks; the photograph's own where points were found.
    pub(crate) marks_file: PathBuf,
    /// What is said of points that were found.
    pub(crate) found_words: Option<String>,
}

impl MarkedFiles<'_> {
    /// Reads the photograph and its marks, or finds them.
    pub(crate) fn read(&self, layout: &Layout) -> Result<MarkedPhotograph, CliError> {
        let beside = marks_path(self.photograph);
        let given = self.marks.or_else(|| Some(&*beside).filter(|path| path.exists()));
        let given = given.map(|path| read_marks(path).map(|marks| (marks, path.to_owned()))).transpose()?;
        let photograph = read_photograph(self.photograph).map_err(|error| CliError::Argument(error.told(Voice::FILE)))?;
        let (marks, marks_file, found_words) = match given {
            Some((marks, file)) => (marks, file, None),
            None => {
                let (marks, words) = self.found(&photograph, layout, &beside)?;
                (marks, self.photograph.to_owned(), Some(words))
            }
        };
        Ok(MarkedPhotograph { photograph, marks, marks_file, found_words })
    }

    /// The points that the photograph shows by itself, and what is said of them.
    fn found(&self, photograph: &Photograph, layout: &Layout, beside: &Path) -> Result<(Marks, String), CliError> {
        let found = watched("finding the garment", |cancel| find_points(photograph, layout, self.side, cancel));
        let found = found.map_err(|error| self.refused(&error, self.photograph))?;
        let (marks, sure, all) = (found.marks(self.side), found.sure(), found.points.len());
        if self.keep_marks {
            terminal::deliver_kind(beside, &marks_text(&marks), FileKind::Marks)?;
        }
        if !found.is_enough() {
            let what = format!("{sure} of the garment's {all} points can be made out, too few to measure by");
            let cure = "mark them in the window, or in a file given by --marks";
            return Err(CliError::argument(self.photograph.display().to_string(), what, cure));
        }
        let sheet = found.sheet.as_ref().map_or("no white sheet", |sheet| sheet.paper.name());
        let kept = if self.keep_marks { format!("; kept in {}", beside.display()) } else { String::new() };
        Ok((marks, format!("no marks are given: {sure} of {all} points are found by their looks, and {sheet}{kept}")))
    }

    /// A refusal at the file that it is about.
    pub(crate) fn refused(&self, error: &PhotoError, marks: &Path) -> CliError {
        let file: &Path = match error {
            PhotoError::Marks(MarksError { .. }) | PhotoError::Unsettled { .. } | PhotoError::Mirrored { .. } => marks,
            PhotoError::Reveal(_) | PhotoError::Puck { .. } => self.layout,
            _ => self.photograph,
        };
        CliError::Argument(error.told(Voice::FILE).within(&file.display().to_string()))
    }
}
