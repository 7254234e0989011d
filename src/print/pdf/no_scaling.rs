//! Asks viewers not to scale: `/ViewerPreferences << /PrintScaling /None /PickTrayByPDFSize true >>` in the catalog
//! (ISO 32000-1:2008, 12.2, table 150).
//!
//! The PDF library has no call for it, so the catalog is written once more, with the entry, as an incremental update (ISO 32000-1, 7.5.6):
//! the file stays as it is and grows by a new catalog, a table with its place, and a trailer that points back to the old one.

use crate::print::error::{PdfFault, PrintError};

const PREFERENCES: &str = "\n  /ViewerPreferences << /PrintScaling /None /PickTrayByPDFSize true >>";

/// Adds the wish to a PDF with classic cross-reference tables, as the PDF library writes them.
///
/// # Errors
/// [`PrintError::Pdf`] when the file is not built as expected.
pub(super) fn ask_for_actual_size(mut pdf: Vec<u8>) -> Result<Vec<u8>, PrintError> {
    let update = update_for(&pdf).ok_or(PrintError::Pdf { reason: PdfFault::NoCatalog })?;
    pdf.extend_from_slice(update.as_bytes());
    Ok(pdf)
}

/// The bytes to append.
fn update_for(pdf: &[u8]) -> Option<String> {
    let trailer_at = find_last(pdf, b"trailer")?;
    let trailer = std::str::from_utf8(&pdf[trailer_at..]).ok()?;
    let dictionary = &trailer[trailer.find("<<")?..trailer.find("startxref")?];
    let old_table: usize = trailer.split("startxref").nth(1)?.split_whitespace().next()?.parse().ok()?;
    let root: usize = dictionary.split("/Root").nth(1)?.split_whitespace().next()?.parse().ok()?;

    let catalog_at = entry(pdf, old_table, root)?;
    let catalog = &pdf[catalog_at..];
    let catalog = std::str::from_utf8(&catalog[..find_first(catalog, b"endobj")?]).ok()?;
    if catalog.contains("/ViewerPreferences") {
        return None;
    }
    let (head, tail) = catalog.split_at(catalog.rfind(">>")?);
    let object = format!("{}{PREFERENCES}\n{tail}endobj\n", head.trim_end());

    let object_at = pdf.len() + 1;
    let table_at = object_at + object.len();
    let table = format!("xref\n0 1\n0000000000 65535 f\r\n{root} 1\n{object_at:010} 00000 n\r\n");
    let closing = dictionary.rfind(">>")?;
    let dictionary = format!("{}\n  /Prev {old_table}\n>>", dictionary[..closing].trim_end());
    Some(format!("\n{object}{table}trailer\n{dictionary}\nstartxref\n{table_at}\n%%EOF"))
}

/// Where the object `number` starts, from a table of one section that begins at object 0.
fn entry(pdf: &[u8], table_at: usize, number: usize) -> Option<usize> {
    let table = pdf.get(table_at..)?;
    let entries = &table[find_first(table, b"0000000000 65535 f")?..];
    let line = entries.get(20 * number..20 * number + 10)?;
    std::str::from_utf8(line).ok()?.parse().ok()
}

fn find_first(haystack: &[u8], needle: &[u8]) -> Option<usize> {
    haystack.windows(needle.len()).position(|w| w == needle)
}

fn find_last(haystack: &[u8], needle: &[u8]) -> Option<usize> {
    haystack.windows(needle.len()).rposition(|w| w == needle)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_no_pdf_is_refused() {
        for bytes in [&b""[..], b"trailer", b"%PDF-1.7\ntrailer\n<< /Root 1 0 R >>\nstartxref\n999\n%%EOF"] {
            assert!(matches!(ask_for_actual_size(bytes.to_vec()), Err(PrintError::Pdf { .. })));
        }
    }
}
