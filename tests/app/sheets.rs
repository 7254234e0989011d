//! The sheets as they are looked at before they are printed.

use crate::harness::{TEE, click, layout, name_file, wait, window, window_and_textures, write};
use egui::accesskit::Role;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use pleatwright::layout::{Figures, Layout};
use pleatwright::print::parts::{CardOptions, PartKind, PrintOptions, TemplateOptions, printed_sheet};
use pleatwright::print::{Paper, Pixels, STANDARD_PAPERS, TilingOptions};
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
    // What is laid out already must not keep the frame waiting until the picture is there.
    wait(&mut window, "the card alone", |window| window.query_by_label_contains("1 sheet on ").is_some());
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

    click(&mut window, "View Fold");
    write(&mut window, "Guide arc", "250");
    click(&mut window, "View Sheets");
    assert!(window.query_by_label_contains("making its picture").is_some());
    window.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::Z);
    window.step();
    window.step();
    assert!(window.query_by_label_contains("making its picture").is_none(), "kept by the layout's fingerprint");
}

/// A sheet that was spoiled is printed again without the others; the PDF is the library's, of one page (ISO 32000-1, table 29: `Count`).
#[test]
fn a_right_click_prints_one_sheet() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, "View Sheets");
    let sheets = |window: &crate::harness::Window| -> Vec<String> {
        let nodes = window.query_all_by_label_contains("Sheet ").filter(|node| node.accesskit_node().role() == Role::Button);
        nodes.filter_map(|node| node.accesskit_node().label()).collect()
    };
    wait(&mut window, "the sheets", |window| sheets(window).len() > 3);
    let third = sheets(&window)[2].clone();
    window.get_by_label(&third).click_secondary();
    window.run_ok();
    assert!(window.query_by_label("Show all sheets").is_none(), "they are shown");
    click(&mut window, "Print this sheet…");
    let path = home.path().join("third.pdf");
    name_file(&mut window, &path);
    wait(&mut window, "the file", |_| path.exists());
    let layout = layout(&window);
    let options = PrintOptions {
        paper: Paper::standard(STANDARD_PAPERS[0]),
        tiling: TilingOptions::default(),
        template: TemplateOptions { lengths: None, pounce_mm: None, creases: true },
    };
    let figures = Figures::of(&layout);
    let one = |sheet| printed_sheet(&layout, &figures, &PartKind::ALL, &options, &CardOptions::default(), sheet, &path);
    let printed = one(2).unwrap();
    assert!(third.ends_with(&printed.words["sheet ".len()..]), "{third}: {}", printed.words);
    let bytes = std::fs::read(&path).unwrap();
    assert!(bytes == printed.bytes);
    let text = String::from_utf8_lossy(&bytes);
    assert!(text.contains("/Count 1") || !text.contains("/Count"), "one page");
    assert!(one(10_000).is_err());
    click(&mut window, &third);
    window.get_by_label(&third).click_secondary();
    window.run_ok();
    click(&mut window, "Show all sheets");
    assert!(sheets(&window).len() > 3);
}

/// The ring on the step told of warnings that the view did not show.
#[test]
fn warnings_stand_beside_the_sheets() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, "View Fold");
    write(&mut window, "Pleat depth", "95");
    click(&mut window, "View Sheets");
    assert!(window.query_by_label("Warnings").is_some());
    window.get_all_by_label_contains(" deep").next().unwrap().click();
    window.run_ok();
    assert!(window.query_by_label("Pleat depth").is_some(), "it leads to where it can be mended");
}

/// The handout is saved from the menu, in the unit that the window shows: a PDF or a picture.
#[test]
fn a_handout_is_saved_from_the_menu() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, "Harbour Row tote");
    for (name, begins) in [("handout.pdf", &b"%PDF"[..]), ("handout.png", &b"\x89PNG"[..])] {
        click(&mut window, "File");
        click(&mut window, "Save handout…");
        let path = home.path().join(name);
        name_file(&mut window, &path);
        wait(&mut window, "the handout", |_| path.exists());
        assert!(std::fs::read(&path).unwrap().starts_with(begins), "{name}");
        wait(&mut window, "what was saved", |window| window.query_by_label_contains("handout").is_some());
    }
}
