//! What goes on paper: drawings true to size, sheets, tiling, strips; PDF, SVG and DXF.
//!
//! A [`Drawing`] is made once. [`write_svg`] and [`write_dxf`] write it whole; [`template_part`] and [`strip_part`] cut it into pages
//! for a [`Paper`], and [`write_pdf`] writes the pages. Line styles come from one table, by [`Layer`].
//!
//! Knows nothing of garments, bursts or binds: who draws them builds on this.
//!
//! ```
//! use pleatwright::print::{Drawing, Layer, Paper, PdfDocument, TilingOptions, template_part, write_pdf};
//!
//! let mut drawing = Drawing::new("Half tee, medium");
//! drawing.line(Layer::Axis, (0.0, 0.0), (0.0, 720.0));
//! drawing.arc(Layer::Guide, (0.0, 300.0), 210.0, -1.5707963, 3.1415926);
//! let paper: Paper = "A4".parse()?;
//! let part = template_part(&drawing, &paper, &TilingOptions::default())?;
//! let pdf = write_pdf(&PdfDocument { title: drawing.title.clone(), parts: vec![part] })?;
//! assert!(pdf.starts_with(b"%PDF"));
//! # Ok::<(), pleatwright::print::PrintError>(())
//! ```

mod assembly;
mod band;
mod bar;
mod drawing;
mod dxf;
mod error;
mod flatten;
mod font;
mod frame;
mod grid;
mod image;
mod ink;
mod line_work;
mod marks;
mod page;
mod paint;
mod paper;
pub mod parts;
mod pattern;
mod pdf;
mod scale;
mod seams;
mod shape;
mod sheet;
mod strip;
mod strip_cut;
mod style;
mod svg;
mod tiling;
mod together;

pub use band::PRINT_NOTE;
pub use bar::{BAR_4_IN_MM, BAR_MM, MeasuringBar};
pub use drawing::{Drawing, Item, MAX_REACH_MM};
pub use dxf::write_dxf;
pub use error::{PdfFault, PrintError, PrintSetting};
pub use flatten::FLATTEN_MM;
pub use font::{Face, unprintable, width_mm};
pub use frame::PrinterCorrection;
pub use image::{Image, Pixels};
pub use page::{LinkTarget, Page, PageLink, Painted, Part, Placed};
pub use paint::{PaintedPage, paint};
pub use paper::{
    DEFAULT_MARGIN_MM, MAX_SIDE_MM, MIN_SIDE_MM, MM_PER_PT, Paper, PaperForm, STANDARD_PAPERS, StandardPaper, pt_from_mm,
};
pub use pattern::Pattern;
pub use pdf::{PdfDocument, write_pdf};
pub use scale::{to_print_true, with_bars};
pub use shape::{Anchor, Arc, Dots, Shape, Text};
pub use sheet::{Sheets, card_part, named_part, template_part};
pub use strip::{STRIP_GAP_MM, Segment, StripTiling, shared_strips_part, strip_part, tile_strip};
pub use style::{Layer, LayerNames, Style};
pub use svg::write_svg;
pub use tiling::{DEFAULT_OVERLAP_MM, MAX_SHEETS, Neighbours, Sheet, Tiling, TilingOptions, tile};
pub use together::together_part;
