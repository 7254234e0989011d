//! The PDF writer: pages true to size, real text, bookmarks, page labels, and the wish not to be scaled.

mod links;
mod no_scaling;
mod page;
mod text;
mod unit;

use krilla::Document;
use krilla::SerializeSettings;
use krilla::destination::XyzDestination;
use krilla::geom::Point;
use krilla::metadata::Metadata;
use krilla::outline::{Outline, OutlineNode};
use krilla::page::{PageLabel, PageSettings};

use super::error::{PdfFault, PrintError};
use super::page::{Page, Part};
use super::paper::{MAX_SIDE_MM, MIN_SIDE_MM};
use text::Fonts;
use unit::f32_pt;

/// The program that the file names as its maker.
const CREATOR: &str = "Pleatwright";
/// Language of the words on the sheets.
const LANGUAGE: &str = "en";

/// A PDF: parts, each with its pages.
#[derive(Debug, Clone, PartialEq)]
pub struct PdfDocument {
    /// Title in the file's metadata and in the viewer's window.
    pub title: String,
    /// The parts, each an entry of the bookmarks.
    pub parts: Vec<Part>,
}

/// Writes a PDF. No clock and no chance enter it: the same document gives the same bytes.
///
/// # Errors
/// [`PrintError::NoPages`], [`PrintError::PaperSize`] for a page out of range, [`PrintError::Pdf`] when the library fails.
pub fn write_pdf(document: &PdfDocument) -> Result<Vec<u8>, PrintError> {
    let pages: Vec<&Page> = document.parts.iter().flat_map(|p| &p.pages).collect();
    if pages.is_empty() {
        return Err(PrintError::NoPages { title: document.title.clone() });
    }
    let mut fonts = Fonts::load()?;
    let mut pdf = Document::new_with(SerializeSettings { enable_tagging: false, ..SerializeSettings::default() });
    pdf.set_metadata(Metadata::new().title(document.title.clone()).creator(CREATOR.to_owned()).language(LANGUAGE.to_owned()));
    let count = pages.len();
    for page in pages {
        let mut pdf_page = pdf.start_page_with(settings(page)?);
        let mut surface = pdf_page.surface();
        for placed in &page.placed {
            page::draw(&mut surface, placed, &mut fonts);
        }
        surface.finish();
        page.links.iter().filter_map(|link| links::annotation(link, count)).for_each(|link| pdf_page.add_annotation(link));
        pdf_page.finish();
    }
    pdf.set_outline(outline(&document.parts));
    let bytes = pdf.finish().map_err(|e| PrintError::Pdf { reason: PdfFault::Library(format!("{e:?}")) })?;
    no_scaling::ask_for_actual_size(bytes)
}

fn settings(page: &Page) -> Result<PageSettings, PrintError> {
    let (width_mm, height_mm) = (page.size_mm.width, page.size_mm.height);
    let in_range = |side: f64| (MIN_SIDE_MM..=MAX_SIDE_MM + 1e-6).contains(&side);
    let out_of_range = || PrintError::PaperSize { width_mm, height_mm, min_mm: MIN_SIDE_MM, max_mm: MAX_SIDE_MM };
    if !in_range(width_mm) || !in_range(height_mm) {
        return Err(out_of_range());
    }
    let settings = PageSettings::from_wh(f32_pt(width_mm), f32_pt(height_mm)).ok_or_else(out_of_range)?;
    Ok(settings.with_page_label(PageLabel::new(None, Some(page.name.clone()), None)))
}

/// One entry per part; below it one per page, unless it has only one.
fn outline(parts: &[Part]) -> Outline {
    let mut outline = Outline::new();
    let mut first = 0;
    let top_of = |index: usize| XyzDestination::new(index, Point::from_xy(0.0, 0.0));
    for part in parts.iter().filter(|p| !p.pages.is_empty()) {
        let mut node = OutlineNode::new(part.title.clone(), top_of(first)).with_open(true);
        if part.pages.len() > 1 {
            for (offset, page) in part.pages.iter().enumerate() {
                node.push_child(OutlineNode::new(page.name.clone(), top_of(first + offset)));
            }
        }
        outline.push_child(node);
        first += part.pages.len();
    }
    outline
}
