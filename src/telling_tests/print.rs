//! Refusals of prints.

use super::{every, refusals};
use crate::handbook::BookError;
use crate::plan::PlanError;
use crate::print::parts::{HandoutError, OrderPrintError};
use crate::print::{Face, PdfFault, PrintError, PrintSetting};
use crate::reveal::RevealError;

fn title() -> String {
    "Harbour Row tee, M: rod strip".to_owned()
}

fn prints() -> Vec<PrintError> {
    let out_of_range = |what, value_mm| PrintError::OutOfRange { what, value_mm, min_mm: 0.0, max_mm: 60.0 };
    let mut all = every!(PrintError:
        PrintError::UnknownForm { .. } => PrintError::UnknownForm { name: "\"x.doc\"".to_owned() },
        PrintError::UnknownPaper { .. } =>
            PrintError::UnknownPaper { text: "A9".to_owned(), known: vec!["A4", "A3", "Letter"] },
        PrintError::PaperSize { .. } =>
            PrintError::PaperSize { width_mm: 20.0, height_mm: 9000.0, min_mm: 50.0, max_mm: 5080.0 },
        PrintError::PaperTooSmall { .. } => PrintError::PaperTooSmall {
            width_mm: 90.0, height_mm: 120.0, margin_mm: 10.0, need_mm: 120.0, need_other_mm: 90.0
        },
        PrintError::OutOfRange { .. } => out_of_range(PrintSetting::Margin, 80.0),
        PrintError::EmptyDrawing { .. } => PrintError::EmptyDrawing { title: title() },
        PrintError::NotFinite { .. } => PrintError::NotFinite { title: title(), item: 3 },
        PrintError::NegativeSize { .. } => PrintError::NegativeSize { title: title(), item: 3, size_mm: -5.0 },
        PrintError::TooLarge { .. } => PrintError::TooLarge { title: title(), item: 3, reach_mm: 1e12, max_mm: 10_000.0 },
        PrintError::TooManySheets { .. } => PrintError::TooManySheets { title: title(), count: 900, max: 400 },
        PrintError::StripTooWide { .. } => PrintError::StripTooWide { title: title(), across_mm: 210.1, room_mm: 190.0 },
        PrintError::Pixels { .. } => PrintError::Pixels { width_px: 1600, high_px: 70_000.0 },
        PrintError::NoPages { .. } => PrintError::NoPages { title: title() },
        PrintError::Pdf { .. } => PrintError::Pdf { reason: PdfFault::Font(Face::Bold) },
    );
    all.extend([PrintSetting::Overlap, PrintSetting::PrintedBar].map(|what| out_of_range(what, f64::NAN)));
    all
}

#[test]
fn prints_and_orders() {
    refusals(&prints()[..14 - 1]);
    let faults = [PdfFault::NoCatalog, PdfFault::Font(Face::Code), PdfFault::Library("broke at 3".to_owned())];
    for reason in faults {
        let source = PrintError::Pdf { reason };
        refusals(&[OrderPrintError::Print { name: title(), source }]);
    }
    refusals(&prints()[14..]);
    refusals(&every!(OrderPrintError:
        OrderPrintError::Cancelled => OrderPrintError::Cancelled,
        OrderPrintError::Print { .. } => OrderPrintError::Print { name: title(), source: prints()[3].clone() },
        OrderPrintError::Reveal { .. } => OrderPrintError::Reveal { name: title(), source: RevealError::Cancelled },
    ));
}

#[test]
fn handouts() {
    refusals(&every!(HandoutError:
        HandoutError::Plan(_) => PlanError::Stopped.into(),
        HandoutError::Reveal(_) => RevealError::Cancelled.into(),
        HandoutError::Print(_) => prints()[2].clone().into(),
    ));
}

#[test]
fn handbooks() {
    refusals(&every!(BookError:
        BookError::Roll { .. } => BookError::Roll { width_mm: 610.0 },
        BookError::TooSmall { .. } =>
            BookError::TooSmall { width_mm: 100.0, height_mm: 150.0, least_width_mm: 140.0, least_height_mm: 200.0 },
        BookError::Print(_) => prints()[2].clone().into(),
    ));
}
