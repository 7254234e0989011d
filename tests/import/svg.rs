//! SVG files: units, transforms, view boxes, shapes.

use crate::{assert_close, bounds, sides, svg};
use pleatwright::import::{DrawingFormat, FileUnit, ImportError, choose_line, read_lines};
use std::f64::consts::PI;

fn drawing(size: &str, inside: &str) -> String {
    format!(r#"<svg xmlns="http://www.w3.org/2000/svg" {size}><g fill="none" stroke="black">{inside}</g></svg>"#)
}

/// Source: CSS Values and Units 3, section 6.2 (SVG 2, section 8.9): 1in = 2.54cm = 25.4mm = 72pt = 6pc = 96px.
#[test]
fn an_inch_is_an_inch_in_every_unit() {
    for inch in ["1in", "2.54cm", "25.4mm", "72pt", "6pc", "96px"] {
        let text = drawing(&format!(r#"width="{inch}" height="{inch}" viewBox="0 0 10 10""#), r#"<path d="M0 0H10"/>"#);
        assert_close!(svg(&text).unwrap()[0].length_mm, 25.4, 1e-4, "{inch}");
        // In the drawing a length with a unit is one of the view box's px (SVG 1.1, section 7.10).
        let text = drawing(r#"width="96px" height="96px""#, &format!(r#"<line x2="{inch}"/>"#));
        assert_close!(svg(&text).unwrap()[0].length_mm, 25.4, 1e-4, "{inch}");
    }
}

/// Perimeters: `2 pi r`; of an ellipse by the arithmetic-geometric mean (textbook; DLMF 19.8.6), and nearly by Ramanujan's formula.
#[test]
fn shapes_are_as_long_as_the_textbook_says() {
    let (a, b) = (80.0_f64, 30.0_f64);
    let ellipse_mm = {
        let (mut x, mut y, mut c2, mut power) = (a, b, a * a - b * b, 0.5);
        let mut sum = power * c2;
        for _ in 0..20 {
            let mean = 0.5 * (x + y);
            c2 = (0.5 * (x - y)).powi(2);
            y = (x * y).sqrt();
            x = mean;
            power *= 2.0;
            sum += power * c2;
        }
        2.0 * PI * (a * a - sum) / x
    };
    assert_close!(ellipse_mm, PI * (3.0 * (a + b) - ((3.0 * a + b) * (a + 3.0 * b)).sqrt()), 0.02);
    for (inside, length_mm, closed, corners) in [
        (r#"<circle cx="100" cy="100" r="60"/>"#, 2.0 * PI * 60.0, true, None),
        (r#"<ellipse cx="100" cy="100" rx="80" ry="30"/>"#, ellipse_mm, true, None),
        (r#"<rect x="10" y="20" width="120" height="70"/>"#, 380.0, true, Some(4)),
        (r#"<rect x="10" y="20" width="120" height="70" rx="10"/>"#, 300.0 + 2.0 * PI * 10.0, true, None),
        (r#"<line x1="10" y1="10" x2="40" y2="50"/>"#, 50.0, false, Some(1)),
        (r#"<polyline points="0,0 30,40 60,0"/>"#, 100.0, false, Some(2)),
        (r#"<polygon points="0,0 30,40 60,0"/>"#, 160.0, true, Some(3)),
        (r#"<path d="M100 100a50 50 0 0 1 100 0"/>"#, 50.0 * PI, false, None),
        (r#"<path d="m10 10h30v40h-30z"/>"#, 140.0, true, Some(4)),
    ] {
        let text = drawing(r#"width="300mm" height="300mm" viewBox="0 0 300 300""#, inside);
        let lines = svg(&text).unwrap();
        assert_eq!(lines.len(), 1, "{inside}");
        assert_close!(lines[0].length_mm, length_mm, 3e-4 * length_mm, "{inside}");
        assert_eq!(lines[0].is_closed, closed, "{inside}");
        assert!(corners.is_none_or(|corners| sides(&lines[0]) == corners), "{inside}: {:?}", lines[0].path);
    }
}

/// Nested groups, a turned one in a scaled one, a symbol used twice, a drawing in the drawing, a style, and what does not show.
#[test]
fn groups_transforms_and_copies_are_followed() {
    let text = drawing(
        r#"width="200mm" height="100mm" viewBox="-50 -25 100 50" xmlns:x="urn:any" id="all""#,
        r##"<style>.gone { display: none }</style>
        <defs><path id="bar" d="M0 0H10"/></defs>
        <g id="layer1" x:label="cut" transform="translate(5 5)"><g transform="scale(2) rotate(90)"><path id="rim" d="M0 0H10"/></g></g>
        <use href="#bar" x="20"/><use href="#bar" y="20" transform="scale(3)"/>
        <svg x="10" y="10" width="20" height="20" viewBox="0 0 1 1"><path d="M0 0V1"/></svg>
        <path class="gone" d="M0 0H1"/><path visibility="hidden" d="M0 0H1"/><path fill="none" stroke="none" d="M0 0H1"/>"##,
    );
    let lines = svg(&text).unwrap();
    let found: Vec<(f64, f64, f64)> = lines.iter().map(|line| (bounds(line).x0, bounds(line).y0, line.length_mm)).collect();
    let right = [(110.0, 60.0, 40.0), (140.0, 50.0, 20.0), (100.0, 170.0, 60.0), (120.0, 70.0, 40.0)];
    assert_eq!(found.len(), right.len(), "{found:?}");
    for (found, right) in found.iter().zip(right) {
        assert_close!(found.0, right.0, 1e-3, "{found:?}");
        assert_close!(found.1, right.1, 1e-3, "{found:?}");
        assert_close!(found.2, right.2, 1e-3, "{found:?}");
    }
    assert_eq!((lines[0].name.as_deref(), lines[0].layer.as_deref()), (Some("rim"), Some("cut")));
    assert_eq!(choose_line(lines.clone(), Some("cut")).unwrap().number, 1);
    assert_eq!(choose_line(lines.clone(), Some("rim")).unwrap().number, 1);
    assert_eq!(choose_line(lines.clone(), Some("3")).unwrap().number, 3);
    for which in ["9", "0", "hem"] {
        assert!(matches!(choose_line(lines.clone(), Some(which)), Err(ImportError::NoSuchLine { .. })), "{which}");
    }
    let several = choose_line(lines, None).unwrap_err();
    assert!(several.to_string().starts_with("it has 4 lines: 1 \"rim\" on \"cut\" (open, "), "{several}");
}

/// A number without a unit is not guessed: it is asked what it measures.
#[test]
fn a_drawing_without_a_unit_asks_for_it() {
    for size in
        [r#"viewBox="0 0 50 20""#, r#"width="100" height="40" viewBox="0 0 50 20""#, r#"width="100%" viewBox="0 0 50 20""#]
    {
        let text = drawing(size, r#"<path d="M0 0H50"/>"#);
        let refused = svg(&text).unwrap_err();
        let ImportError::UnknownUnit { size: [width, _] } = refused else { panic!("{size}: {refused}") };
        for unit in FileUnit::ALL {
            let lines = read_lines(text.as_bytes(), DrawingFormat::Svg, Some(unit)).unwrap();
            assert_close!(lines[0].length_mm, width * unit.in_mm(), 1e-2, "{size} in {}", unit.name());
        }
    }
    // A file that says it is not asked.
    let text = drawing(r#"width="50mm" viewBox="0 0 50 20""#, r#"<path d="M0 0H50"/>"#);
    let lines = read_lines(text.as_bytes(), DrawingFormat::Svg, Some(FileUnit::Inch)).unwrap();
    assert_close!(lines[0].length_mm, 50.0, 1e-4);
}

/// What was drawn piece by piece is one line; where three meet nobody knows which goes on.
#[test]
fn pieces_that_meet_are_one_line() {
    let size = r#"width="100mm" height="100mm" viewBox="0 0 100 100""#;
    let whole = svg(&drawing(size, r#"<path d="M0 0H40"/><path d="M40 30L40.01 0.01"/><path d="M0 0V30"/><path d="M40 30H0"/>"#))
        .unwrap();
    assert_eq!((whole.len(), whole[0].is_closed, sides(&whole[0])), (1, true, 4));
    assert_close!(whole[0].length_mm, 140.0, 0.05);
    let open = svg(&drawing(size, r#"<path d="M10 0H40"/><path d="M40 30V0"/><path d="M10 0V30"/>"#)).unwrap();
    assert_eq!((open.len(), open[0].is_closed, sides(&open[0])), (1, false, 3));
    let fork = svg(&drawing(size, r#"<path d="M10 0H40"/><path d="M40 30V0"/><path d="M40 0V-20"/>"#)).unwrap();
    assert_eq!(fork.len(), 3);
    let layers = svg(&drawing(size, r#"<g id="a"><path d="M10 0H40"/></g><g id="b"><path d="M40 30V0"/></g>"#)).unwrap();
    assert_eq!(layers.len(), 2);
}
