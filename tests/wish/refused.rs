//! Wishes that can't be meant, each refused with its place; and stopping.

use crate::radial::{dyes, options, square, swatch};
use crate::rings::{dye, ring, wish};
use pleatwright::layout::Layout;
use pleatwright::reveal::Cancel;
use pleatwright::store::{EXAMPLE_LAYOUTS, EXAMPLE_WISHES, layout_text, parse_layout, parse_wish, read_wish};
use pleatwright::wish::{FulfilError, Wish, fulfil};
use std::fs;

fn given() -> Layout {
    Layout::try_from(square([&[20.0], &[20.0]], false)).unwrap()
}

#[test]
fn work_that_was_stopped_ends_without_a_layout() {
    let cancel = Cancel::new();
    cancel.cancel();
    let stopped = fulfil(&wish(vec![ring(20.0, 45.0, dye("amber"))]), &given(), &options(), &cancel).unwrap_err();
    assert!(stopped.is_cancelled(), "{stopped:?}");
}

/// Stopped on its way it ends as well, long before it would be done.
#[test]
fn work_stops_when_it_is_asked_to() {
    let (cancel, layout) = (Cancel::new(), given());
    let stopped = std::thread::scope(|scope| {
        scope.spawn(|| {
            while cancel.done() < 0.2 {
                std::thread::yield_now();
            }
            cancel.cancel();
        });
        fulfil(&wish(vec![ring(20.0, 45.0, dye("amber"))]), &layout, &options(), &cancel)
    });
    assert!(stopped.unwrap_err().is_cancelled());
    assert!(cancel.done() < 0.9, "{}", cancel.done());
}

#[test]
fn what_a_layout_has_no_room_for_is_refused() {
    let refused = |wish: Wish| match fulfil(&wish, &given(), &options(), &Cancel::new()) {
        Err(FulfilError::Wish(error)) => error.to_string(),
        other => panic!("{other:?}"),
    };
    let far = refused(wish(vec![ring(20.0, 45.0, dye("amber")), ring(300.0, 320.0, dye("amber"))]));
    assert!(
        far.starts_with("wished.2.from_mm: there is no cloth from 300 mm to 320 mm; wish for something between 0 mm and 155"),
        "{far}"
    );
    let before = refused(wish(vec![ring(-50.0, 45.0, dye("amber"))]));
    assert!(before.starts_with("wished.1.from_mm: there is no cloth from -50 mm to 45 mm"), "{before}");
    let unknown = refused(wish(vec![ring(20.0, 45.0, dye("leaf"))]));
    assert_eq!(
        unknown,
        "wished.1.colour: \"leaf\" is not a dye on the shelf; write one of \"teal\", \"amber\", \"plum\" or \"navy\""
    );
    let many = (0..16).map(|number| swatch(&format!("dye {number}"), "#7b2f63")).collect();
    let many = refused(Wish { dyes: many, ..wish(vec![ring(20.0, 45.0, dye("dye 3"))]) });
    assert_eq!(many, "dyes: 16 dyes are too many; keep the 15 that are nearest to the wish");
    // A spiral has no rings.
    let spiral = EXAMPLE_LAYOUTS.iter().find(|example| example.name.contains("spiral")).unwrap();
    let spiral = parse_layout(spiral.text).unwrap();
    let error = fulfil(&wish(vec![ring(20.0, 45.0, dye("teal"))]), &spiral, &options(), &Cancel::new()).unwrap_err();
    assert!(error.to_string().starts_with("layout: \"spiral\" opens to no rings"), "{error}");
}

/// A value that reads well but is wrong is told with its place in the file.
#[test]
fn a_file_is_refused_with_line_and_column() {
    let text = EXAMPLE_WISHES[0].text;
    parse_wish(text).unwrap();
    let told = |old: &str, new: &str| {
        assert!(text.contains(old), "{old}");
        let (place, problem) = parse_wish(&text.replacen(old, new, 1)).unwrap_err();
        let place = place.unwrap();
        format!("{}:{}: {problem}", place.line, place.column)
    };
    assert_eq!(
        told("from_mm: 40.0", "from_mm: 30.0"),
        "14:10: wished.2.from_mm: 30 mm lies within part 1; begin at 40 mm, where that one ends, or beyond"
    );
    assert_eq!(told("to_mm: 40.0", "to_mm: -3.0"), "13:24: wished.1.to_mm: -3 mm is not beyond 0 mm; give at least 1 mm");
    assert_eq!(told("weight: 2.0", "weight: 0.0"), "18:67: wished.5.weight: 0 is out of range; give 0.01 to 10");
    assert_eq!(told("format: 1", "format: 7").split(": ").nth(1), Some("format"));
    assert!(told("weight: 2.0", "wait: 2.0").contains("wait"));
    assert_eq!(
        told("name: \"amber\", srgb", "name: \"teal\", srgb"),
        "8:10: dyes.2.name: \"teal\" appears twice; keep one or rename it"
    );
}

/// What is wrong only beside its layout is told in the wish, what is wrong with the layout in that.
#[test]
fn a_wish_and_its_layout_are_read_together() {
    let home = tempfile::tempdir().unwrap();
    let path = home.path().join("wish.ron");
    let text = "(format: 1, name: \"Rings\", layout: \"square.ron\",\n  wished: [(from_mm: 500.0, to_mm: 520.0, colour: Dye(name: \"teal\"))])";
    fs::write(&path, text).unwrap();
    let missing = read_wish(&path).unwrap_err().to_string();
    assert!(missing.contains("square.ron") && missing.contains("there is no such file"), "{missing}");
    fs::write(home.path().join("square.ron"), layout_text(given().raw())).unwrap();
    let far = read_wish(&path).unwrap_err().to_string();
    assert!(far.contains("wish.ron:2:13: wished.1.from_mm: there is no cloth"), "{far}");
    fs::write(&path, text.replace("500.0", "30.0")).unwrap();
    let (wish, layout) = read_wish(&path).unwrap();
    assert_eq!((wish.parts.len(), layout.raw().colours.rotation.clone()), (1, dyes()));
}
