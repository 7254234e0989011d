//! Files of marks: read, written, refused.

use crate::shirt::TAKEN;
use pleatwright::store::{marks_text, parse_marks};

const GIVEN: &str =
    "(format: 1, side: Front, points: [(name: \"neck left\", x: 812.0, y: 310.5), (name: \"neck right\", x: 1200, y: 305)],
    sheet: Some((paper: \"A4\", corners: [(10, 20), (410, 22), (408, 590), (12, 588)])))";

#[test]
fn marks_come_back_as_they_were_written() {
    let marks = &TAKEN[0].marks;
    let kept = parse_marks(&marks_text(marks)).unwrap();
    assert!(kept.points.len() == marks.points.len() && kept.sheet.is_some() == marks.sheet.is_some());
    for (kept, marked) in kept.points.iter().zip(&marks.points) {
        let off = kept.at - marked.at;
        assert!(kept.name == marked.name && off.x.abs().max(off.y.abs()) <= 0.005 + 1e-9, "{kept:?} {marked:?}");
    }
    assert_eq!(parse_marks(&marks_text(&kept)).unwrap(), kept, "once rounded, nothing changes");
    let given = parse_marks(GIVEN).unwrap();
    assert_eq!((given.points[0].name.as_str(), given.points[0].at.y), ("neck left", 310.5));
    assert_eq!(parse_marks(&marks_text(&given)).unwrap(), given);
    let implicit = GIVEN.replace("Some(", "").replace("])))", "]))");
    assert_eq!(parse_marks(&implicit).unwrap(), given, "what may be left out is given without Some");
}

#[test]
fn a_wrong_value_is_refused_with_its_place() {
    let said = |text: &str| {
        let (place, problem) = parse_marks(text).unwrap_err();
        (place.map(|place| place.line), problem.to_string())
    };
    let three = GIVEN.replace(", (12, 588)", "");
    assert_eq!(
        said(&three),
        (Some(2), "sheet.corners: 3 corners are not a sheet's; give its 4 corners, one after the other round it".to_owned())
    );
    let paper = GIVEN.replace("A4", "foolscap");
    assert_eq!(
        said(&paper),
        (Some(2), "sheet.paper: \"foolscap\" is not a paper known here; lay down A4, A3 or Letter".to_owned())
    );
    let crossed = GIVEN.replace("(408, 590), (12, 588)", "(12, 588), (408, 590)");
    assert!(said(&crossed).1.contains("the sheet turns back at corner"), "{:?}", said(&crossed));
    let newer = GIVEN.replace("format: 1", "format: 9");
    assert!(said(&newer).1.starts_with("format: unknown file format 9; "), "{:?}", said(&newer));
    let unknown = GIVEN.replace("x: 812.0", "z: 812.0");
    assert!(said(&unknown).1.contains("\"z\""), "{:?}", said(&unknown));
}
