//! Projectors in their file: kept exactly, refused with the place of what is wrong.

use crate::{Planted, projector};
use kurbo::Point;
use pleatwright::projection::{MarkSet, Projectors};
use pleatwright::store::{parse_projectors, projectors_text, read_projectors, save_projectors};

fn kept() -> Projectors {
    let planted = Planted::seen(0.1, 1.6, [2e-4, -1e-4], Point::new(930.0, 520.0));
    let one = projector(&planted, [1920, 1080], MarkSet::Corners);
    let mut other = projector(&planted, [1920, 1200], MarkSet::WithMiddles);
    other.name = "screen in the table".to_owned();
    (other.scale, other.brightness, other.line_mm) = (1.0 + 1.0 / 3.0e3, 0.7, 1.1);
    Projectors::new(vec![one, other]).unwrap()
}

#[test]
fn projectors_come_back_exactly() {
    let home = tempfile::tempdir().unwrap();
    let path = home.path().join("deep/projectors.ron");
    assert_eq!(read_projectors(&path).unwrap(), Projectors::default());
    save_projectors(&path, &kept()).unwrap();
    assert_eq!(read_projectors(&path).unwrap(), kept());
}

/// Every value that can't be used is refused by its own field, with its line.
#[test]
fn what_is_wrong_is_found_in_the_file() {
    let text = projectors_text(&kept());
    for (right, wrong, words) in [
        ("format: 1", "format: 7", "format"),
        ("width_mm: 420.0", "width_mm: 20.0", "rectangle.width_mm: 20 mm is out of range; give 80 to 5000 mm"),
        ("scale: 1.0,", "scale: 3.0,", "projectors.1.scale: 3 is out of range; give 0.8 to 1.25"),
        ("brightness: 0.7", "brightness: 0.0", "projectors.2.brightness: 0 is out of range"),
        ("line_mm: 2.0", "line_mm: 90.0", "projectors.1.line_mm: 90 mm is out of range"),
        ("width_px: 1920", "width_px: 9", "projectors.1.picture.width_px: 9 is out of range"),
        ("\"screen in the table\"", "\"over the table\"", "projectors.2.name: projector 1 is named \"over the table\" too"),
        ("\"over the table\"", "\"\"", "projectors.1.name"),
        ("height_px: 1080", "height_px: 500", "projectors.1.marks: mark"),
    ] {
        assert!(text.contains(right), "{right}\n{text}");
        let (_, problem) = parse_projectors(&text.replacen(right, wrong, 1)).unwrap_err();
        assert!(problem.to_string().contains(words), "{problem}");
    }
    let unknown = parse_projectors(&text.replacen("scale:", "skale:", 1)).unwrap_err();
    assert!(unknown.1.to_string().contains("skale"), "{}", unknown.1);
}

#[test]
fn one_is_kept_in_the_place_of_its_own_name() {
    let all = kept();
    let mut brighter = all.all()[0].clone();
    brighter.brightness = 0.5;
    let changed = all.with(brighter.clone()).unwrap();
    assert_eq!((changed.all().len(), changed.named("over the table")), (2, Some(&brighter)));
    assert_eq!(changed.without("over the table").all().len(), 1);
    brighter.name = "third".to_owned();
    assert_eq!(all.with(brighter).unwrap().all().len(), 3);
}
