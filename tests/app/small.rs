//! Small windows and large letters: nothing needed is out of reach.

use crate::harness::{TEE, click, window_with};
use egui::vec2;
use egui_kittest::kittest::Queryable as _;

#[test]
fn every_step_fits_a_small_window() {
    let home = tempfile::tempdir().unwrap();
    let size = vec2(1024.0, 700.0);
    let mut window = window_with(home.path(), None, size);
    window.get_by_label(TEE).scroll_to_me();
    window.run_ok();
    click(&mut window, TEE);
    let room = egui::Rect::from_min_size(egui::Pos2::ZERO, size);
    for step in ["Garment", "Burst", "Binds", "Colours", "Rod", "Reveal", "Sheets", "Day", "Journal"] {
        let label = format!("Step {step}");
        assert!(room.contains_rect(window.get_by_label(&label).rect()), "{step} can be reached");
        click(&mut window, &label);
    }
    click(&mut window, "Step Burst");
    let table = window.get_by_label("Garment, As it lies").rect();
    assert!(table.width() > 360.0 && table.height() > 480.0, "{table:?}");
}
