//! Refusals of drawings.

use super::{every, refusals};
use crate::import::{ImportError, LineBrief};
use kurbo::Size;

fn brief(number: usize) -> LineBrief {
    let (name, layer) = (Some("rim".to_owned()).filter(|_| number != 2), Some("cut_lines".to_owned()));
    LineBrief { number, name, layer, is_closed: number == 1, size: Size::new(254.0, 127.0) }
}

#[test]
fn drawings() {
    let lines = || vec![brief(1), brief(2), brief(3)];
    refusals(&every!(ImportError:
        ImportError::Ending { .. } => ImportError::Ending { ending: "pdf".to_owned() },
        ImportError::Empty => ImportError::Empty,
        ImportError::TooLarge { .. } => ImportError::TooLarge { bytes: 99_000_000, most: 16_777_216 },
        ImportError::TooManySegments => ImportError::TooManySegments,
        ImportError::TooManyLines => ImportError::TooManyLines,
        ImportError::NotText => ImportError::NotText,
        ImportError::Compressed => ImportError::Compressed,
        ImportError::Binary => ImportError::Binary,
        ImportError::NotXml { .. } => ImportError::NotXml { line: 3 },
        ImportError::NotSvg { .. } => ImportError::NotSvg { root: "html".to_owned() },
        ImportError::NoArea => ImportError::NoArea,
        ImportError::NotDxf { .. } => ImportError::NotDxf { line: 12, found: "wide".to_owned() },
        ImportError::NoLine { .. } => ImportError::NoLine { has_text: true },
        ImportError::Infinite { .. } => ImportError::Infinite { what: "rim".to_owned() },
        ImportError::UnknownUnit { .. } => ImportError::UnknownUnit { size: [210.0, 98.5] },
        ImportError::Several { .. } => ImportError::Several { lines: lines() },
        ImportError::NoSuchLine { .. } => ImportError::NoSuchLine { which: "hem".to_owned(), lines: lines() },
    ));
    let many = (1..=30).map(brief).collect();
    refusals(&[
        ImportError::NoLine { has_text: false },
        ImportError::Ending { ending: String::new() },
        ImportError::Several { lines: many },
        ImportError::NoSuchLine { which: "rim".to_owned(), lines: lines() },
    ]);
}
