//! A PDF as text to read and compare: what its pages hold, uncompressed, an operator a line, words in letters.

use lopdf::content::{Content, Operation};
use lopdf::{Document, Encoding, Object, ObjectId};
use std::collections::BTreeMap;
use std::fmt::Write as _;

/// The pages of a PDF, in order.
pub(crate) fn pdf_text(bytes: &[u8]) -> String {
    let file = Document::load_mem(bytes).expect("lopdf reads the file");
    let mut text = String::new();
    for (number, page) in file.get_pages() {
        let media_box = file.get_dictionary(page).and_then(|page| page.get(b"MediaBox")).expect("a media box");
        writeln!(text, "page {number}, {}", operand(media_box)).expect("a text takes more");
        page_text(&file, page, &mut text);
    }
    text
}

fn page_text(file: &Document, page: ObjectId, text: &mut String) {
    let fonts = file.get_page_fonts(page).expect("fonts");
    let encodings: BTreeMap<&[u8], Encoding<'_>> =
        fonts.iter().map(|(name, font)| (name.as_slice(), font.get_font_encoding(file).expect("an encoding"))).collect();
    let content = Content::decode(&file.get_page_content(page)).expect("operators");
    let mut encoding = None;
    for Operation { operator, operands } in &content.operations {
        if let ("Tf", Some(Object::Name(font))) = (operator.as_str(), operands.first()) {
            encoding = encodings.get(font.as_slice());
        }
        let words = match operator.as_str() {
            "Tj" | "TJ" => words(operands, encoding.expect("a font is chosen before words are set")),
            _ => operands.iter().map(operand).collect::<Vec<_>>().join(" "),
        };
        writeln!(text, "{words} {operator}").expect("a text takes more");
    }
}

/// The letters of what is set, whatever stands between them.
fn words(operands: &[Object], encoding: &Encoding<'_>) -> String {
    fn letters(object: &Object, encoding: &Encoding<'_>, words: &mut String) {
        match object {
            Object::String(bytes, _) => *words += &Document::decode_text(encoding, bytes).expect("letters"),
            Object::Array(parts) => parts.iter().for_each(|part| letters(part, encoding, words)),
            _ => {}
        }
    }
    let mut words = String::new();
    operands.iter().for_each(|operand| letters(operand, encoding, &mut words));
    format!("\"{words}\"")
}

/// An operand; numbers to a hundredth of a point, 0.004 mm.
fn operand(object: &Object) -> String {
    match object {
        Object::Integer(number) => number.to_string(),
        Object::Real(number) => {
            let text = format!("{number:.2}");
            let text = text.trim_end_matches('0').trim_end_matches('.');
            if text == "-0" { "0".to_owned() } else { text.to_owned() }
        }
        Object::Name(name) => format!("/{}", String::from_utf8_lossy(name)),
        Object::Array(parts) => format!("[{}]", parts.iter().map(operand).collect::<Vec<_>>().join(" ")),
        other => format!("{other:?}"),
    }
}
