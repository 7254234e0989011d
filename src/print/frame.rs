//! The frame of a sheet: how paper, margins and the band for measuring bars share a page.
//!
//! Two scales meet here. *Page* mm are what the file says; *sheet* mm are what the ruler says once the printer has had its way.
//! They differ by the printer correction. Everything in a frame is in sheet mm unless named otherwise.

use kurbo::{Rect, Size};

use super::bar::{BAR_MM, MeasuringBar};
use super::paper::{MAX_SIDE_MM, Paper, PaperForm};
use super::{PrintError, PrintSetting};

/// Depth in mm of the band at the edge of every sheet that carries bars and names, outside the drawing's window. Own choice.
pub(super) const BAND_MM: f64 = 13.0;
/// Least length of the band in mm: a bar of 4 in (101.6 mm) with its labels, and room for the sheet's name and the printing note.
pub(super) const BAND_LENGTH_MM: f64 = 160.0;
/// Least depth of a window in mm. Own choice.
const MIN_WINDOW_MM: f64 = 40.0;

/// How a printer's scale is put right.
///
/// The user prints a sheet, measures the 100 mm bar, and gives what the ruler said.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PrinterCorrection {
    printed_mm_per_100: f64,
}

impl Default for PrinterCorrection {
    /// A printer that prints true.
    fn default() -> Self {
        Self { printed_mm_per_100: 100.0 }
    }
}

impl PrinterCorrection {
    /// From the length in mm that the 100 mm bar came out at.
    ///
    /// # Errors
    /// As for [`PrinterCorrection::from_measured`].
    pub fn from_printed_mm_per_100(printed_mm_per_100: f64) -> Result<Self, PrintError> {
        Self::from_measured(MeasuringBar::METRIC, printed_mm_per_100)
    }

    /// From the length in mm that a bar came out at.
    ///
    /// # Errors
    /// [`PrintError::OutOfRange`] unless it lies within a tenth of the bar's own: beyond that the page was fitted, not the printer off.
    pub fn from_measured(bar: MeasuringBar, measured_mm: f64) -> Result<Self, PrintError> {
        let [min_mm, max_mm] = [0.9, 1.1].map(|share| share * bar.length_mm);
        if !(min_mm..=max_mm).contains(&measured_mm) {
            return Err(PrintError::OutOfRange { what: PrintSetting::PrintedBar, value_mm: measured_mm, min_mm, max_mm });
        }
        Ok(Self { printed_mm_per_100: measured_mm * BAR_MM / bar.length_mm })
    }

    /// The length in mm that a bar comes out at.
    #[must_use]
    pub fn measured_mm(self, bar: MeasuringBar) -> f64 {
        self.printed_mm_per_100 * bar.length_mm / BAR_MM
    }

    /// Page mm to draw for one mm on the printed sheet.
    #[must_use]
    pub fn page_per_sheet(self) -> f64 {
        100.0 / self.printed_mm_per_100
    }
}

/// Where the band lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum BandSide {
    /// Along the lower edge.
    Bottom,
    /// Along the right edge, its words turned a quarter.
    Right,
}

/// How a page is divided. Rectangles in sheet mm, origin in the page's top left corner, `y` down.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Frame {
    /// Size of the page in page mm: the media box.
    pub(super) page: Size,
    /// Page mm per sheet mm.
    pub(super) page_per_sheet: f64,
    /// Where the drawing shows.
    pub(super) window: Rect,
    /// Where bars and names go.
    pub(super) band: Rect,
    /// Which edge the band lies along.
    pub(super) band_side: BandSide,
}

impl Frame {
    fn new(page: Size, margin_mm: f64, page_per_sheet: f64, band_side: BandSide) -> Self {
        let printable = Rect::from_origin_size((margin_mm, margin_mm), page - Size::new(2.0 * margin_mm, 2.0 * margin_mm));
        let printable = printable.scale_from_origin(1.0 / page_per_sheet);
        let (mut window, mut band) = (printable, printable);
        match band_side {
            BandSide::Bottom => {
                window.y1 -= BAND_MM;
                band.y0 = window.y1;
            }
            BandSide::Right => {
                window.x1 -= BAND_MM;
                band.x0 = window.x1;
            }
        }
        Self { page, page_per_sheet, window, band, band_side }
    }

    fn is_usable(&self, overlap_mm: f64) -> bool {
        let band_length = match self.band_side {
            BandSide::Bottom => self.band.width(),
            BandSide::Right => self.band.height(),
        };
        let least = MIN_WINDOW_MM + overlap_mm;
        band_length >= BAND_LENGTH_MM && self.window.width() >= least && self.window.height() >= least
    }
}

/// The frames that a paper allows: upright and lying, the band along the short or the long edge; the band along the short edge first.
///
/// `ink` is the size of what is to be drawn: a roll is cut to it.
///
/// # Errors
/// [`PrintError::PaperTooSmall`] when none is left.
pub(super) fn frames(
    paper: &Paper,
    margin_mm: f64,
    correction: PrinterCorrection,
    overlap_mm: f64,
    ink: Size,
) -> Result<Vec<Frame>, PrintError> {
    let scale = correction.page_per_sheet();
    let sides = [BandSide::Bottom, BandSide::Right];
    let all: Vec<Frame> = match paper.form() {
        PaperForm::Sheet { width_mm, height_mm } => {
            let (upright, lying) = (Size::new(width_mm, height_mm), Size::new(height_mm, width_mm));
            let pages = [(upright, sides[0]), (lying, sides[1]), (upright, sides[1]), (lying, sides[0])];
            pages.map(|(page, side)| Frame::new(page, margin_mm, scale, side)).to_vec()
        }
        PaperForm::Roll { width_mm } => {
            let length = |ink_mm: f64, side: BandSide, end: BandSide| {
                let band_mm = if side == end { BAND_MM } else { 0.0 };
                let need_mm = (ink_mm + band_mm) * scale + 2.0 * margin_mm;
                need_mm.max(BAND_LENGTH_MM * scale + 2.0 * margin_mm).ceil().min(MAX_SIDE_MM)
            };
            let upright = sides.map(|s| (Size::new(width_mm, length(ink.height, s, BandSide::Bottom)), s));
            let lying = sides.map(|s| (Size::new(length(ink.width, s, BandSide::Right), width_mm), s));
            let pages = upright.into_iter().chain(lying);
            pages.map(|(page, side)| Frame::new(page, margin_mm, scale, side)).collect()
        }
    };
    let usable: Vec<Frame> = all.iter().copied().filter(|f| f.is_usable(overlap_mm)).collect();
    if usable.is_empty() {
        let page = all.first().map_or(Size::ZERO, |f| f.page);
        return Err(PrintError::PaperTooSmall {
            width_mm: page.width,
            height_mm: page.height,
            margin_mm,
            need_mm: BAND_LENGTH_MM,
            need_other_mm: MIN_WINDOW_MM + overlap_mm + BAND_MM,
        });
    }
    Ok(usable)
}
