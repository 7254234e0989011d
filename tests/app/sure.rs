//! How sure the reveal is, in its view.

use crate::harness::{SIZE, click, wait, window_with, write};
use egui::accesskit::Role;
use egui_kittest::kittest::Queryable as _;

/// A small square of cloth, whose reveal is soon computed.
const SQUARE: &str = r##"(
    format: 2,
    name: "Square",
    garment: (kind: FlatCloth, measures: (cloth_width_mm: 120.0, cloth_height_mm: 120.0)),
    fold: Burst(
        half_fold: Open, centre: BelowShoulder(from_centre_line_mm: 0.0, below_shoulder_mm: 60.0),
        guide_radius_mm: 40.0, pleats: Count(count: 6),
    ),
    binds: (inward: List(gaps_mm: [20.0]), outward: List(gaps_mm: []), marks: Millimetres1),
    colours: (rotation: [(name: "teal", srgb: "#0f7c8a"), (name: "amber", srgb: "#d99a1e")]),
)"##;

#[test]
fn what_the_reveal_is_unsure_of_is_looked_at() {
    let home = tempfile::tempdir().unwrap();
    let path = home.path().join("square.ron");
    std::fs::write(&path, SQUARE).unwrap();
    let mut window = window_with(home.path(), Some(path), SIZE);
    window.run_ok();
    click(&mut window, "View Reveal");
    let choose = |window: &mut crate::harness::Window, name: &str| {
        window.get_by_role_and_label(Role::ComboBox, "How sure").click();
        window.run_ok();
        window.get_all_by_role_and_label(Role::Button, name).last().unwrap().click();
        window.run_ok();
    };
    assert!(window.query_by_label("Reveal of Square").is_some());
    click(&mut window, "How sure?");
    wait(&mut window, "how sure it is", |window| window.query_by_label_contains("the picture may be off by ").is_some());
    let says = window.get_by_label_contains("the picture may be off by ");
    assert!(says.rect().height() > 10.0 && window.query_by_label_contains("CIEDE2000").is_none(), "in words for the window");
    for (name, role) in [("hatched", "hatched where unsure"), ("least dye", "least dye"), ("most dye", "most dye")] {
        choose(&mut window, name);
        assert!(window.query_by_label(&format!("Reveal of Square, {role}")).is_some(), "{role}");
    }
    // Of a changed layout it is worked out anew; as expected nothing is.
    write(&mut window, "Layers of ice", "2");
    assert!(window.query_by_label_contains("Working out how sure it is").is_some());
    wait(&mut window, "how sure it is now", |window| window.query_by_label("Reveal of Square, most dye").is_some());
    choose(&mut window, "as expected");
    assert!(window.query_by_label("Reveal of Square").is_some() && window.query_by_label_contains("may be off by ").is_none());
}
