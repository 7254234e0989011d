//! What dyes are mixed of, in layouts, swatches and wishes.

use crate::text;
use pleatwright::layout::form::LayoutV1;
use pleatwright::layout::{Component, Layout, layout_text};
use pleatwright::store::{Place, TextError, parse_layout, parse_swatches, parse_wish, swatches_text, wish_text};

const DYE: &str = r##"(name: "teal", srgb: "#0f7c8a""##;
const MIXED: &str = r##"(name: "teal", srgb: "#0f7c8a", components: [
    (name: "sky", srgb: "#1b86c2", percent: 70.0, reach_factor: 1.5),
    (name: "leaf", srgb: "#3f8f3a", percent: 30.0),
]"##;

/// A file in which teal is mixed, and something of that is written otherwise.
fn with(name: &str, from: &str, to: &str) -> String {
    let text = text(name).replacen(
        "(\n            name: \"teal\",\n            srgb: \"#0f7c8a\",\n        )",
        "(name: \"teal\", srgb: \"#0f7c8a\")",
        1,
    );
    assert!(text.contains(DYE) && MIXED.contains(from), "{name}: {from}");
    text.replacen(DYE, &MIXED.replacen(from, to, 1), 1)
}

fn components() -> Vec<Component> {
    let one = |name: &str, colour: &str, percent, reach_factor| Component {
        name: name.to_owned(),
        srgb: colour.parse().unwrap(),
        percent,
        reach_factor,
    };
    vec![one("sky", "#1b86c2", 70.0, 1.5), one("leaf", "#3f8f3a", 30.0, 1.0)]
}

fn said<T>(result: Result<T, (Option<Place>, TextError)>) -> String {
    match result {
        Ok(_) => "right".to_owned(),
        Err((Some(place), problem)) => format!("{}:{}: {problem}", place.line, place.column),
        Err((None, problem)) => problem.to_string(),
    }
}

#[test]
fn a_mixture_is_read_and_written_again() {
    let layout = parse_layout(&with("layout-2-by-hand.ron", "", "")).unwrap();
    assert_eq!(layout.raw().colours.rotation[0].components, components());
    assert_eq!(layout.raw().colours.rotation[1].components, []);
    let again = parse_layout(&layout_text(layout.raw())).unwrap();
    assert_eq!(again.raw(), layout.raw());
    let book = parse_swatches(&with("swatches-2.ron", "", "")).unwrap();
    assert_eq!(book.swatches()[0].colour.components, components());
    assert_eq!(parse_swatches(&swatches_text(&book)).unwrap(), book);
    let wish = parse_wish(&with("wish-1.ron", "", "")).unwrap();
    assert_eq!(wish.dyes[0].components, components());
    assert_eq!(parse_wish(&wish_text(&wish)).unwrap(), wish);
}

/// Format 1 knows of no mixtures: it can't say such a layout, and refuses the key.
#[test]
fn older_formats_say_none() {
    let layout: Layout = parse_layout(&with("layout-2-by-hand.ron", "", "")).unwrap();
    assert_eq!(LayoutV1::of(layout.raw()), None);
    let unmixed = parse_layout(&text("layout-2-by-hand.ron")).unwrap();
    assert!(LayoutV1::of(unmixed.raw()).is_some());
    for (name, refused) in [
        ("layout-1-by-hand.ron", said(parse_layout(&with("layout-1-by-hand.ron", "", "")))),
        ("swatches-1.ron", said(parse_swatches(&with("swatches-1.ron", "", "")))),
    ] {
        assert!(refused.contains("unknown field \"components\""), "{name}: {refused}");
    }
    let cloth = text("layout-2-steps.ron").replacen("colour: (", "colour: (components: [],", 1);
    assert!(said(parse_layout(&cloth)).contains("unknown field \"components\""), "cloth is not mixed");
}

/// Each refusal names file, place, field, value and what would be right.
#[test]
fn what_makes_no_mixture_is_refused_at_its_place() {
    let cases = [
        ("percent: 30.0", "percent: 40.0", "components: the components make 110 % together; give shares by weight, 100 % in all"),
        ("percent: 30.0", "percent: 0.0", "components.2.percent: 0 % is out of range; give 0.5 to 100 %"),
        ("reach_factor: 1.5", "reach_factor: 15.0", "components.1.reach_factor: 15 is out of range; give 0.4 to 2.5"),
        ("\"leaf\"", "\"sky\"", "components.2.name: \"sky\" appears twice; keep one or rename it"),
        ("\"leaf\"", "\"\"", "components.2.name: not a usable name (0 characters)"),
        (
            "    (name: \"leaf\", srgb: \"#3f8f3a\", percent: 30.0),\n",
            "",
            "components: 1 component makes no mixture; give 2 or 3, or none",
        ),
    ];
    for (from, to, told) in cases {
        for (path, refused) in [
            ("colours.rotation.1.", said(parse_layout(&with("layout-2-by-hand.ron", from, to)))),
            ("swatches.1.colour.", said(parse_swatches(&with("swatches-2.ron", from, to)))),
            ("dyes.1.", said(parse_wish(&with("wish-1.ron", from, to)))),
        ] {
            assert!(refused.contains(&format!("{path}{told}")), "{refused}");
            assert!(refused.starts_with(|first: char| first.is_ascii_digit()), "no place: {refused}");
        }
    }
}
