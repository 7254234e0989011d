//! The sheets as they are looked at before they are printed.

use crate::harness::{SIZE, TEE, Window, click, layout, write};
use egui::{ColorImage, ImageData, TexturesDelta};
use egui_kittest::kittest::Queryable as _;
use egui_kittest::{Harness, TestRenderer};
use pleatwright::app::App;
use pleatwright::layout::Layout;
use pleatwright::print::Pixels;
use pleatwright::reveal::colour::DyeSet;
use pleatwright::reveal::{Cancel, RevealOptions, bare_picture, picture, reveal_doses};
use std::cell::RefCell;
use std::rc::Rc;
use std::sync::Arc;

/// Edge of a pixel of the card's picture, mm, and most pixels along a side.
const PIXEL_MM: f64 = 2.0;
const MOST_PIXELS: usize = 720;

/// Keeps every picture that would be given to the screen.
#[derive(Default, Clone)]
struct Textures(Rc<RefCell<Vec<Arc<ColorImage>>>>);

impl TestRenderer for Textures {
    fn handle_delta(&mut self, delta: &mut TexturesDelta) {
        let images = delta.set.values().flatten().map(|delta| {
            let ImageData::Color(image) = &delta.image;
            image.clone()
        });
        self.0.borrow_mut().extend(images);
        delta.clear();
    }
}

impl Textures {
    /// Lets frames pass until a picture of as many pixels as the job card's comes, for at most half a minute: its bytes.
    fn next(&self, window: &mut Window, card: &Pixels) -> Vec<u8> {
        for _ in 0..1500 {
            let images = std::mem::take(&mut *self.0.borrow_mut());
            if let Some(image) = images.iter().find(|image| image.size == [card.width(), card.height()]) {
                return image.pixels.iter().flat_map(|pixel| pixel.to_array()).collect();
            }
            std::thread::sleep(std::time::Duration::from_millis(20));
            window.step();
        }
        panic!("no picture comes");
    }
}

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
    let (textures, place) = (Textures::default(), home.path().to_owned());
    let mut window: Window = Harness::builder()
        .with_size(SIZE)
        .with_max_steps(60)
        .renderer(textures.clone())
        .build_eframe(move |creation| App::new(&creation.egui_ctx, Some(place), None));
    window.run_ok();
    click(&mut window, TEE);
    click(&mut window, "Step Sheets");
    for part in ["template", "swing strip", "rod strip"] {
        click(&mut window, part);
    }
    window.get_by_label("the reveal on the job card").click();
    let first = layout(&window);
    let bare = on_paper(&bare_picture(&first, &options()).unwrap());
    // Half a million numbers help nobody: what is compared is not printed.
    assert!(textures.next(&mut window, &bare) == bare.rgba(), "the frame comes first");
    assert!(window.query_by_label_contains("its picture is being made").is_some());
    let shown = revealed(&first);
    assert!(textures.next(&mut window, &bare) == shown.rgba(), "then the picture");
    window.run_ok();
    assert!(window.query_by_label_contains("its picture is being made").is_none());

    click(&mut window, "Step Burst");
    write(&mut window, "Guide arc", "250");
    click(&mut window, "Step Sheets");
    assert!(window.query_by_label_contains("its picture is being made").is_some());
    window.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::Z);
    window.step();
    window.step();
    assert!(window.query_by_label_contains("its picture is being made").is_none(), "kept by the layout's fingerprint");
}
