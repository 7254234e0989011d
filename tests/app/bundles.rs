//! Flat bundles in the window: chosen by their pictures, folded by numbers, held between blocks, and every view of them opened.

use crate::harness::{TEE, click, layout, press, window, write};
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable as _;
use pleatwright::geometry::{BlockShape, FlatKind, FlatPattern, Pack};

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
