//! Printed files: names and bytes, made whole before anything is written.

use super::{CardOptions, PartKind, PrintOptions, drawings_with, print_parts_with};
use crate::layout::{Figures, Layout};
use crate::print::{Drawing, PrintError, to_print_true, with_bars, write_dxf, write_pdf, write_svg};
use std::ffi::OsStr;
use std::path::{Path, PathBuf};

/// A file that is to be written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PrintedFile {
    /// Where.
    pub path: PathBuf,
    /// What.
    pub bytes: Vec<u8>,
    /// What it is, in a few words: `template 9 pages, job card 1 page`.
    pub words: String,
}

impl PrintedFile {
    /// Where, and what: as [`save_each`](crate::store::save_each) asks for it.
    #[must_use]
    pub fn content(&self) -> (&Path, &[u8]) {
        (&self.path, &self.bytes)
    }
}

/// The form of a printed file, told by its ending.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PrintForm {
    /// Cut into sheets.
    Pdf,
    /// Whole.
    Svg,
    /// Whole.
    Dxf,
}

impl PrintForm {
    /// The form that a path's ending says.
    ///
    /// # Errors
    /// [`PrintError::UnknownForm`].
    pub fn of(path: &Path) -> Result<Self, PrintError> {
        match path.extension().and_then(OsStr::to_str).map(str::to_lowercase).as_deref() {
            Some("pdf") => Ok(Self::Pdf),
            Some("svg") => Ok(Self::Svg),
            Some("dxf") => Ok(Self::Dxf),
            _ => Err(PrintError::UnknownForm { name: path.display().to_string() }),
        }
    }
}

/// The files that printing these parts to `path` makes: one PDF, or one SVG or DXF a part (`tee-template.svg`, `tee-job-card.svg`);
/// a single drawing takes the name itself.
///
/// # Errors
/// [`PrintError`] for an unknown ending, paper too small, a setting out of range.
pub fn printed_files(
    layout: &Layout,
    figures: &Figures,
    kinds: &[PartKind],
    options: &PrintOptions,
    path: &Path,
) -> Result<Vec<PrintedFile>, PrintError> {
    printed_files_with(layout, figures, kinds, options, &CardOptions::default(), path)
}

/// As [`printed_files`], the job card with more on it.
///
/// # Errors
/// As for [`printed_files`].
pub fn printed_files_with(
    layout: &Layout,
    figures: &Figures,
    kinds: &[PartKind],
    options: &PrintOptions,
    card: &CardOptions<'_>,
    path: &Path,
) -> Result<Vec<PrintedFile>, PrintError> {
    let print = Print { layout, figures, kinds, options, card, path };
    match PrintForm::of(path)? {
        PrintForm::Pdf => Ok(vec![print.pdf()?]),
        PrintForm::Svg => print.whole(write_svg),
        PrintForm::Dxf => print.whole(write_dxf),
    }
}

/// One sheet of those parts by itself, counted from 0 over all of them, as a PDF: to replace one that was spoiled.
///
/// # Errors
/// [`PrintError::NoPages`] where there are not so many sheets; as for [`printed_files`].
pub fn printed_sheet(
    layout: &Layout,
    figures: &Figures,
    kinds: &[PartKind],
    options: &PrintOptions,
    card: &CardOptions<'_>,
    sheet: usize,
    path: &Path,
) -> Result<PrintedFile, PrintError> {
    let mut document = print_parts_with(layout, figures, kinds, options, card)?;
    let mut at = 0..;
    for part in &mut document.parts {
        part.pages.retain(|_| at.next() == Some(sheet));
    }
    document.parts.retain(|part| !part.pages.is_empty());
    let words = document.parts.iter().flat_map(|part| &part.pages).map(|page| format!("sheet {}", page.name)).collect();
    Ok(PrintedFile { path: path.to_owned(), bytes: write_pdf(&document)?, words })
}

/// What is printed, and where to.
struct Print<'a> {
    layout: &'a Layout,
    figures: &'a Figures,
    kinds: &'a [PartKind],
    options: &'a PrintOptions,
    card: &'a CardOptions<'a>,
    path: &'a Path,
}

impl Print<'_> {
    fn pdf(&self) -> Result<PrintedFile, PrintError> {
        let document = print_parts_with(self.layout, self.figures, self.kinds, self.options, self.card)?;
        let count = |part: &crate::print::Part| {
            let plural = if part.pages.len() == 1 { "page" } else { "pages" };
            let of = part.title.strip_prefix(self.layout.name()).unwrap_or(&part.title);
            let title = of.trim_start_matches([':', ',', ' ']).replace(": ", " ");
            format!("{title} {} {plural}", part.pages.len())
        };
        let words = document.parts.iter().map(count).collect::<Vec<_>>().join(", ");
        Ok(PrintedFile { path: self.path.to_owned(), bytes: write_pdf(&document)?, words })
    }

    fn whole(&self, write: fn(&Drawing) -> Result<String, PrintError>) -> Result<Vec<PrintedFile>, PrintError> {
        let mut all = Vec::new();
        for &kind in self.kinds {
            let drawings = drawings_with(self.layout, self.figures, kind, &self.options.template, self.card);
            for (turn, drawing) in drawings.iter().enumerate() {
                let words = kind.name().replace('-', " ");
                let finished = to_print_true(&with_bars(drawing), self.options.tiling.correction);
                all.push(PrintedFile { path: part_path(self.path, kind, turn), bytes: write(&finished)?.into_bytes(), words });
            }
        }
        if let [only] = &mut all[..] {
            only.path = self.path.to_owned();
        }
        Ok(all)
    }
}

/// `tee.svg` as `tee-template.svg`, or `tee-job-card-2.svg` for a second page.
fn part_path(path: &Path, kind: PartKind, turn: usize) -> PathBuf {
    let stem = path.file_stem().unwrap_or_default().to_string_lossy();
    let ending = path.extension().unwrap_or_default().to_string_lossy();
    let page = if turn == 0 { String::new() } else { format!("-{}", turn + 1) };
    path.with_file_name(format!("{stem}-{}{page}.{ending}", kind.name()))
}

/// A layout's name as a file name: small letters, digits and hyphens.
#[must_use]
pub fn file_name(name: &str) -> String {
    let plain: String = name.to_lowercase().chars().map(|c| if c.is_alphanumeric() { c } else { ' ' }).collect();
    let joined = plain.split_whitespace().collect::<Vec<_>>().join("-");
    if joined.is_empty() { "layout".to_owned() } else { joined }
}
