//! Flat bundles in the window: chosen by their pictures, folded by numbers, held between blocks, and every view of them opened.

use crate::harness::{TEE, Window, click, layout, press, window, write};
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable as _;
use pleatwright::geometry::{BlockShape, Centre, DipPart, FlatKind, FlatPattern, Pack};

const VIEWS: [&str; 6] = ["View Rod", "View Binds", "View Colours", "View Sheets", "View Reveal", "View Fold"];

#[test]
fn a_bundle_is_chosen_by_its_picture_and_every_view_shows_it() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, "View Fold");
    let burst = layout(&window).raw().clone();
    for kind in FlatKind::ALL {
        click(&mut window, &format!("Fold: into {}", kind.name()));
        let now = layout(&window);
        assert_eq!(now.raw().fold.flat().map(|flat| flat.pattern.kind()), Some(kind));
        assert_eq!(now.binds().binds.is_empty(), now.blocks().is_some(), "{}: binds or blocks hold it", kind.name());
        for view in VIEWS {
            click(&mut window, view);
        }
    }
    for _ in FlatKind::ALL {
        press(&mut window, Modifiers::COMMAND, Key::Z);
    }
    assert_eq!(layout(&window).raw(), &burst, "one step for each");
}

#[test]
fn stripes_are_folded_by_numbers() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, "View Fold");
    click(&mut window, "Fold: into stripes");
    write(&mut window, "Width of a stripe", "100");
    write(&mut window, "Creases run at", "45°");
    let pattern = layout(&window).raw().fold.flat().unwrap().pattern.clone();
    assert_eq!(pattern, FlatPattern::Stripes { width_mm: 100.0, angle_deg: 45.0, start: None });
    write(&mut window, "Creases run at", "upright");
    assert!(window.query_by_label_contains("\"upright\" is no angle").is_some());
    write(&mut window, "Width of a stripe", "4");
    assert!(window.query_by_label_contains("is out of range").is_some());
    assert_eq!(layout(&window).raw().fold.flat().unwrap().pattern, pattern, "a refused value changes nothing");
    assert_eq!(layout(&window).raw().fold.flat().unwrap().pack, Pack::Zigzag);
}

/// Where a pattern begins could be told in the file alone.
#[test]
fn a_pattern_begins_where_it_is_told() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, "View Fold");
    click(&mut window, "Fold: into squares");
    let before = layout(&window).raw().clone();
    let creases = |window: &Window| -> Vec<_> {
        layout(window).marked_creases().iter().map(|crease| crease.line.p0.x.min(crease.line.p1.x)).collect()
    };
    let was = creases(&window);
    click(&mut window, "Begin at a point");
    let begun = creases(&window);
    assert!(was.len() == begun.len() && was.iter().zip(&begun).all(|(a, b)| (a - b).abs() < 0.01), "nothing moves at first");
    write(&mut window, "Begins aside", "100");
    write(&mut window, "Begins down", "250");
    let start = layout(&window).raw().fold.flat().unwrap().pattern.start();
    assert_eq!(start, Some(Centre::BelowShoulder { from_centre_line_mm: 100.0, below_shoulder_mm: 250.0 }));
    let flat = layout(&window).flat().unwrap().clone();
    assert!(flat.crease_near((100.0, 400.0).into(), 0.01).is_some() && flat.crease_near((130.0, 250.0).into(), 0.01).is_some());
    click(&mut window, "Begin at the cloth's edge");
    assert_eq!(layout(&window).raw(), &before);
}

#[test]
fn blocks_are_sized_placed_and_taken_off() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, "View Fold");
    click(&mut window, "Fold: into squares");
    write(&mut window, "Block side", "40");
    write(&mut window, "Moved along", "5");
    write(&mut window, "Blocks turned by", "45");
    let blocks = layout(&window).raw().blocks.clone().unwrap();
    assert_eq!(blocks.shape, BlockShape::Square { side_mm: 40.0 });
    assert_eq!((blocks.along_mm, blocks.across_mm, blocks.turn_deg), (5.0, 0.0, 45.0));
    write(&mut window, "Moved along", "70");
    assert!(window.query_by_label_contains("no cloth lies under the blocks").is_some());
    assert_eq!(layout(&window).raw().blocks, Some(blocks));
}

/// Corners are dipped one after the other, each in the next colour; a dip goes with its colour's new name, and is taken away again.
#[test]
fn corners_are_dipped() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, "View Fold");
    click(&mut window, "Fold: into squares");
    click(&mut window, "View Colours");
    click(&mut window, "Add a dip");
    let dips = |window: &Window| layout(window).raw().dips.clone();
    let colour = layout(&window).raw().colours.rotation[0].name.clone();
    assert_eq!((dips(&window)[0].part, dips(&window)[0].colour.as_str()), (DipPart::Corner(1), colour.as_str()));
    write(&mut window, "Dip 1, depth", "12");
    write(&mut window, "Dip 1, minutes", "0.5");
    assert_eq!((dips(&window)[0].depth_mm, dips(&window)[0].minutes), (12.0, 0.5));
    write(&mut window, "Dip 1, depth", "4000");
    assert!(window.query_by_label_contains("is out of range").is_some());
    assert!((dips(&window)[0].depth_mm - 12.0).abs() < 1e-9, "a refused value changes nothing");
    write(&mut window, "Dip 1, depth", "12");
    click(&mut window, "Add a dip");
    assert_eq!(dips(&window)[1].part, DipPart::Corner(2));
    write(&mut window, "Dye 1", "storm");
    assert!(dips(&window).iter().any(|dip| dip.colour == "storm"));
    for view in VIEWS {
        click(&mut window, view);
    }
    press(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(dips(&window)[0].colour, colour);
}
