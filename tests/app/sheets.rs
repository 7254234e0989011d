//! The sheets as they are looked at before they are printed.

use crate::harness::{TEE, click, layout, window_and_textures, write};
use egui_kittest::kittest::Queryable as _;
use pleatwright::layout::Layout;
use pleatwright::print::Pixels;
use pleatwright::reveal::colour::DyeSet;
use pleatwright::reveal::{Cancel, RevealOptions, bare_picture, picture, reveal_doses};

/// Edge of a pixel of the card's picture, mm, and most pixels along a side.
const PIXEL_MM: f64 = 2.0;
const MOST_PIXELS: usize = 720;

fn options() -> RevealOptions {
    RevealOptions { pixel_mm: PIXEL_MM, ..RevealOptions::default() }
}

fn on_paper(picture: &pleatwright::reveal::Picture) -> Pixels {
    Pixels::on_paper(picture.width, picture.height, &picture.rgba, MOST_PIXELS).unwrap()
}

fn revealed(layout: &Layout) -> Pixels {
    let reveal = reveal_doses(layout, &options(), &Cancel::new()).unwrap();
    on_paper(&picture(&reveal, &DyeSet::of_layout(layout, None)))
}

/// First the frame, bare paper, then pixel for pixel what is printed; a layout that comes back has its picture at once.
#[test]
fn the_job_cards_picture_shows_before_it_is_printed() {
    let home = tempfile::tempdir().unwrap();
    let (mut window, textures) = window_and_textures(home.path());
    click(&mut window, TEE);
    click(&mut window, "View Sheets");
    for part in ["template", "swing strip", "rod strip"] {
        click(&mut window, part);
    }
    window.get_by_label("reveal on the job card").click();
    let first = layout(&window);
    let bare = on_paper(&bare_picture(&first, &options()).unwrap());
    let size = [bare.width(), bare.height()];
    // Half a million numbers help nobody: what is compared is not printed.
    assert!(textures.next(&mut window, size) == bare.rgba(), "the frame comes first");
    assert!(window.query_by_label_contains("making its picture").is_some());
    let shown = revealed(&first);
    assert!(textures.next(&mut window, size) == shown.rgba(), "then the picture");
    window.run_ok();
    assert!(window.query_by_label_contains("making its picture").is_none());

    click(&mut window, "View Burst");
    write(&mut window, "Guide arc", "250");
    click(&mut window, "View Sheets");
    assert!(window.query_by_label_contains("making its picture").is_some());
    window.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::Z);
    window.step();
    window.step();
    assert!(window.query_by_label_contains("making its picture").is_none(), "kept by the layout's fingerprint");
}
