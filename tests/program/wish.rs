//! `wish` from end to end: the layout that it writes is one that the other commands take.

use crate::cli::said;
use serde_json::Value;
use std::fs;

/// A small square with one ring wished for: quick enough to be run as a maker would.
const WISH: &str = r##"(
    format: 1,
    name: "Buoy",
    layout: "square.ron",
    dyes: [(name: "teal", srgb: "#0f7c8a"), (name: "amber", srgb: "#d99a1e")],
    wished: [
        (from_mm: 30.0, to_mm: 60.0, colour: Dye(name: "teal")),
        (from_mm: 75.0, to_mm: 95.0, colour: Srgb(srgb: "#4b0082")),
    ],
)"##;

#[test]
fn a_wish_becomes_a_layout_that_prints_and_plans() {
    let folder = tempfile::tempdir().unwrap();
    let size = ["--garment", "flat-cloth", "--measure", "cloth_width=260mm", "--measure", "cloth_height=260mm"];
    let new = said(&folder, &[&["new", "-o", "square.ron"], &size[..]].concat());
    assert_eq!(new.status, 0, "{}", new.err);
    fs::write(folder.path().join("buoy-wish.ron"), WISH).unwrap();
    let checked = said(&folder, &["check", "buoy-wish.ron"]);
    assert!(checked.out.contains("wish \"Buoy\": no problems, 2 parts of "), "{}{}", checked.out, checked.err);
    let wished = said(&folder, &["wish", "buoy-wish.ron", "-o", "buoy.ron"]);
    assert_eq!(wished.status, 0, "{}", wished.err);
    for words in [
        "buoy.ron: \"Buoy\", ",
        "An estimate: ",
        "   1  30 mm to 60 mm",
        "teal",
        "part 2, 75 mm to 95 mm: #4b0082 can't be reached: no dye on the shelf has this colour",
    ] {
        assert!(wished.out.contains(words), "{words} is not in\n{}", wished.out);
    }
    for then in [
        &["check", "buoy.ron"][..],
        &["reveal", "buoy.ron", "-o", "buoy.png", "--pixel", "2mm"],
        &["print", "buoy.ron", "-o", "buoy.pdf"],
        &["figures", "buoy.ron"],
    ] {
        let then = said(&folder, then);
        assert_eq!(then.status, 0, "{}{}", then.out, then.err);
    }
    // A layout is not written over the wish.
    let over = said(&folder, &["wish", "buoy-wish.ron", "-o", "buoy-wish.ron"]);
    assert!(over.status == 2 && over.err.contains("it holds a wish, not a layout"), "{}", over.err);
    let json = said(&folder, &["wish", "buoy-wish.ron", "-o", "again.ron", "--json"]);
    let json: Value = serde_json::from_str(&json.out).unwrap();
    for pointer in [
        "/difference",
        "/line_mm",
        "/binds_mm/1",
        "/dyes/1",
        "/parts/0/edges_mm/1",
        "/parts/0/colour_difference",
        "/not_reached/0/words",
    ] {
        assert!(json.pointer(pointer).is_some(), "{pointer} is not in {json}");
    }
    let of_second = json["not_reached"].as_array().unwrap().iter().find(|part| part["part"] == 2).unwrap();
    assert_eq!(of_second["cause"], "outside-dyes");
    assert_eq!(fs::read(folder.path().join("buoy.ron")).unwrap(), fs::read(folder.path().join("again.ron")).unwrap());
}
