//! What can't be read is refused with what is wrong and what would be right, and nothing makes it panic.

use crate::common::mangle::mangled;
use crate::common::seeded::seeded;
use crate::{dxf, svg};
use pleatwright::import::*;
use proptest::prelude::*;
use std::path::Path;

#[test]
fn every_refusal_says_what_is_wrong() {
    let said = |text: &str| svg(text).unwrap_err().to_string();
    let empty_svg = r#"<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm">"#;
    assert_eq!(said(" \n"), "the file is empty; choose a drawing");
    assert_eq!(said("<svg"), "line 1 is not well-formed XML; save it anew as a plain SVG file");
    assert_eq!(said("{\"a\": 1}"), "line 1 is not well-formed XML; save it anew as a plain SVG file");
    assert_eq!(said("<html/>"), "it holds \"html\", not \"svg\"; choose an SVG drawing");
    assert!(said(&format!("{empty_svg}</svg>")).starts_with("there is not a single line in it; draw one"));
    assert_eq!(
        said(&format!("{empty_svg}<text y=\"5\">A</text></svg>")),
        "it holds text, and not a single line; convert the text to paths"
    );
    assert_eq!(
        said(r#"<svg xmlns="http://www.w3.org/2000/svg" width="0" height="0"/>"#),
        "its width, height or view box is 0; give the drawing a size above 0"
    );
    let bytes = |bytes: &[u8], format| read_lines(bytes, format, None).unwrap_err();
    assert_eq!(bytes(&[0x1f, 0x8b, 8, 0], DrawingFormat::Svg), ImportError::Compressed);
    assert_eq!(bytes(&[b'<', 0xff], DrawingFormat::Svg), ImportError::NotText);
    assert_eq!(bytes(b"DXF\r\n\x1a\0", DrawingFormat::Dxf), ImportError::Binary);
    assert_eq!(bytes(b"0\nSECTION\nhallo\n", DrawingFormat::Dxf), ImportError::NotDxf { line: 3, found: "hallo".to_owned() });
    let wrong = "0\nSECTION\n2\nENTITIES\n0\nCIRCLE\n40\nwide\n0\nENDSEC\n0\nEOF\n";
    assert_eq!(dxf(wrong).unwrap_err(), ImportError::NotDxf { line: 8, found: "wide".to_owned() });
    let endless = "0\nSECTION\n2\nENTITIES\n0\nLINE\n8\nrim\n11\ninf\n0\nENDSEC\n0\nEOF\n";
    assert_eq!(dxf(endless).unwrap_err().to_string(), "\"rim\" has a point at no finite place; draw it with finite coordinates");
    let large = vec![b' '; usize::try_from(MOST_DRAWING_BYTES).unwrap() + 1];
    assert!(matches!(bytes(&large, DrawingFormat::Svg), ImportError::TooLarge { .. }));
    let many = format!("{empty_svg}<path stroke=\"red\" d=\"M0 0{}\"/></svg>", "h1v1".repeat(MOST_SEGMENTS / 2 + 1));
    assert_eq!(svg(&many).unwrap_err(), ImportError::TooManySegments);
    let lines = format!("{empty_svg}{}</svg>", "<path stroke=\"red\" d=\"M0 0h4\"/>".repeat(MOST_LINES + 1));
    assert_eq!(svg(&lines).unwrap_err(), ImportError::TooManyLines);
    assert_eq!(
        DrawingFormat::of(Path::new("heart.PDF")).unwrap_err().to_string(),
        "\"pdf\" is not a drawing's ending; choose a .svg or .dxf file"
    );
    assert_eq!(DrawingFormat::of(Path::new("heart.SVG")).unwrap(), DrawingFormat::Svg);
}

/// Groups in groups a thousandfold, entities that grow into billions, styles that name themselves.
#[test]
fn bombs_do_not_go_off() {
    let head = r#"xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm""#;
    // On the smallest stack that work is given.
    let deep = format!("<svg {head}>{}<path d=\"M0 0h5v5\"/>{}</svg>", "<g>".repeat(5000), "</g>".repeat(5000));
    let read = std::thread::Builder::new().stack_size(2 << 20).spawn(move || drop(svg(&deep)));
    read.unwrap().join().unwrap();
    let laughs = format!(
        "<!DOCTYPE svg [<!ENTITY a \"<g/>\">{}]><svg {head}>&j;</svg>",
        ('b'..='j')
            .map(|to| format!("<!ENTITY {to} \"{}\">", format!("&{};", char::from(to as u8 - 1)).repeat(10)))
            .collect::<String>()
    );
    assert!(svg(&laughs).is_err());
    let uses: String = (1..=20).map(|k| format!(r##"<g id="g{k}"><use href="#g{0}"/><use href="#g{0}"/></g>"##, k - 1)).collect();
    assert!(svg(&format!(r##"<svg {head}><defs><path id="g0" d="M0 0h5"/>{uses}</defs><use href="#g20"/></svg>"##)).is_err());
    let itself = format!(r##"<svg {head}><g id="a"><use href="#a"/><path d="M0 0h5v5"/></g></svg>"##);
    drop(svg(&itself));
}

const SVG: &str = r##"<svg xmlns="http://www.w3.org/2000/svg" width="10cm" height="5cm" viewBox="0 0 200 100">
<style>.a{fill:none;stroke:#000}</style><defs><g id="g0"><rect id="r0" x="1" y="2" width="10" height="5" rx="1"/></g></defs>
<g id="layer1" transform="translate(5 5) rotate(10) skewX(3)"><path class="a" d="M0 0C10 20 30-10 50 5S80 80 90 10Q5 5 9 9T10 10A5 6 20 0 1 30 30z"/></g>
<circle cx="50" cy="50" r="20"/><polyline points="0,0 5,5 10,0 10.1,0.1 10.2,0.15 10.3,0.2" fill="none" stroke="red"/>
<use href="#g0" x="3" y="4"/><svg x="10" width="20" height="20" viewBox="0 0 1 1"><path d="M0 0L1 1" stroke="red"/></svg></svg>"##;

proptest! {
    #![proptest_config(seeded(1401, 400))]

    #[test]
    fn mangled_drawings_never_panic(text in mangled(vec![SVG, include_str!("../reference/drawings.dxf")])) {
        for format in [DrawingFormat::Svg, DrawingFormat::Dxf] {
            if let Ok(lines) = read_lines(text.as_bytes(), format, Some(FileUnit::Centimetre)) {
                for line in lines {
                    prop_assert!(line.path.is_finite() && line.length_mm.is_finite() && line.length_mm > 0.0, "{:?}", line.brief());
                }
            }
        }
    }

    #[test]
    fn any_bytes_never_panic(bytes in prop::collection::vec(any::<u8>(), 0..300)) {
        for format in [DrawingFormat::Svg, DrawingFormat::Dxf] {
            drop(read_lines(&bytes, format, None));
        }
    }
}
