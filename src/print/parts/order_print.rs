//! A whole order on paper in one go: a file for each size and kind, and the plan.

use super::{CardOptions, PartKind, PlanOptions, PrintOptions, PrintedFile, file_name, plan_part, printed_files_with};
use crate::plan::{Order, OrderLine, Plan};
use crate::print::{PdfDocument, PrintError, write_pdf};
use crate::reveal::colour::DyeSet;
use crate::reveal::{Cancel, Picture, RevealError, RevealOptions, picture, reveal_doses};
use crate::telling::{Refused, Told, Voice, displayed_as_in_files};
use rayon::prelude::*;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicUsize, Ordering};

/// Edge of a pixel of a card's picture on the cloth, mm: as fine as the card shows it.
const PIXEL_MM: f64 = 1.5;

/// What is printed of an order, and how.
#[derive(Debug, Clone, PartialEq)]
pub struct OrderPrintOptions {
    /// Paper, tiling, template.
    pub print: PrintOptions,
    /// The parts of each garment.
    pub kinds: Vec<PartKind>,
    /// The formula of every amount, in the plan.
    pub formulas: bool,
    /// A picture of how it may come out, on each card: the longest part of the work.
    pub pictures: bool,
}

/// An order to print.
#[derive(Debug, Clone, Copy)]
pub struct OrderPrint<'a> {
    /// The order.
    pub order: &'a Order,
    /// Its plan.
    pub plan: &'a Plan,
    /// The folder that the files are for.
    pub folder: &'a Path,
    /// What is printed, and how.
    pub options: &'a OrderPrintOptions,
}

/// How far a print is.
#[derive(Debug, Clone, Copy)]
pub struct OrderProgress<'a> {
    /// Files made, this one counted.
    pub done: usize,
    /// Files in all.
    pub of: usize,
    /// The file just made.
    pub file: &'a PrintedFile,
}

/// Why an order was not printed.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum OrderPrintError {
    /// It was asked to stop.
    Cancelled,
    /// A garment's sheets can't be made.
    Print {
        /// The layout, or the order for its plan.
        name: String,
        /// Why.
        source: PrintError,
    },
    /// A garment's picture can't be made.
    Reveal {
        /// The layout.
        name: String,
        /// Why.
        source: RevealError,
    },
}

displayed_as_in_files!(OrderPrintError);

impl Refused for OrderPrintError {
    fn told(&self, voice: Voice) -> Told {
        let of = |name: &str| format!("\"{name}\"");
        match self {
            Self::Cancelled => Told::new("printing was stopped; nothing was saved", "print again to get the sheets"),
            Self::Print { name, source } => source.told(voice).within(&of(name)),
            Self::Reveal { name, source } => source.told(voice).within(&of(name)),
        }
    }
}

impl OrderPrint<'_> {
    /// Makes the files: one PDF a line of the order, named by its layout, in the order of the lines, and last the plan. Nothing is
    /// written; give them to [`save_all`](crate::store::save_all), which writes all or none. Lines are made side by side on all
    /// cores, and at any time each core holds one garment's drawings; `progress` is called from them, once a file.
    ///
    /// # Errors
    /// [`OrderPrintError`]; [`OrderPrintError::Cancelled`] soon after `cancel` was asked to stop.
    pub fn files(
        &self,
        cancel: &Cancel,
        progress: &(dyn Fn(OrderProgress<'_>) + Sync),
    ) -> Result<Vec<PrintedFile>, OrderPrintError> {
        let paths = self.paths();
        let done = AtomicUsize::new(0);
        let made = |file: PrintedFile| {
            let done = done.fetch_add(1, Ordering::Relaxed) + 1;
            progress(OrderProgress { done, of: paths.len(), file: &file });
            file
        };
        let lines = self.order.lines();
        let sheets = (0..paths.len()).into_par_iter().map(|index| {
            if cancel.is_cancelled() {
                return Err(OrderPrintError::Cancelled);
            }
            let file = match lines.get(index) {
                Some(line) => self.garment(index, line, &paths[index], cancel)?,
                None => self.plan_file(&paths[index])?,
            };
            Ok(made(file))
        });
        let files = sheets.collect::<Result<Vec<_>, _>>();
        // Told even where the last file was just made: who stopped it wants nothing.
        if cancel.is_cancelled() { Err(OrderPrintError::Cancelled) } else { files }
    }

    /// A path a line, and one for the plan; equal names get numbers.
    fn paths(&self) -> Vec<PathBuf> {
        let plan = format!("{}-plan", file_name(&self.plan.name));
        let names = self.order.lines().iter().map(|line| file_name(line.layout.name())).chain([plan]);
        let mut given: Vec<String> = Vec::new();
        for wanted in names {
            let numbered = (2..).map(|turn: u32| format!("{wanted}-{turn}"));
            let free = std::iter::once(wanted.clone()).chain(numbered).find(|name| !given.contains(name));
            given.extend(free);
        }
        given.iter().map(|name| self.folder.join(name).with_added_extension("pdf")).collect()
    }

    fn garment(&self, index: usize, line: &OrderLine, path: &Path, cancel: &Cancel) -> Result<PrintedFile, OrderPrintError> {
        let picture = if self.options.pictures { Some(reveal_picture(line, cancel)?) } else { None };
        let card = CardOptions { plan: Some(self.plan), line: index, reveal: picture.as_ref(), date: None };
        let (layout, figures) = (&line.layout, &line.figures);
        let wrong = |source| OrderPrintError::Print { name: layout.name().to_owned(), source };
        let files = printed_files_with(layout, figures, &self.options.kinds, &self.options.print, &card, path).map_err(wrong)?;
        let none = || wrong(PrintError::NoPages { title: layout.name().to_owned() });
        files.into_iter().next().ok_or_else(none)
    }

    fn plan_file(&self, path: &Path) -> Result<PrintedFile, OrderPrintError> {
        let (print, plan) = (&self.options.print, PlanOptions { formulas: self.options.formulas });
        let wrong = |source| OrderPrintError::Print { name: self.plan.name.clone(), source };
        let part = plan_part(self.plan, plan, &print.paper, &print.tiling).map_err(wrong)?;
        let words = format!("plan {} pages", part.pages.len());
        let bytes = write_pdf(&PdfDocument { title: part.title.clone(), parts: vec![part] }).map_err(wrong)?;
        Ok(PrintedFile { path: path.to_owned(), bytes, words })
    }
}

/// How a line's garment may come out, in the layout's own colours.
fn reveal_picture(line: &OrderLine, cancel: &Cancel) -> Result<Picture, OrderPrintError> {
    let options = RevealOptions { pixel_mm: PIXEL_MM, ..RevealOptions::default() };
    match reveal_doses(&line.layout, &options, cancel) {
        Ok(reveal) => Ok(picture(&reveal, &DyeSet::of_layout(&line.layout, None))),
        Err(RevealError::Cancelled) => Err(OrderPrintError::Cancelled),
        Err(source) => Err(OrderPrintError::Reveal { name: line.layout.name().to_owned(), source }),
    }
}
