//! What can't be measured is refused in a sentence.

use crate::drawn::scene::SceneOptions;
use crate::shirt::{LAYOUT, PLAN, TAKEN, Taken, example, held, held_perfectly};
use pleatwright::geometry::Panel;
use pleatwright::photo::{MarksError, MarksProblem, PhotoError, Plan, RegistrationOptions, named_points, register};
use pleatwright::reveal::Cancel;
use pleatwright::store::{EXAMPLE_LAYOUTS, PhotographProblem, parse_layout, photograph_of};

fn refused(taken: &Taken, change: impl Fn(&mut pleatwright::photo::Marks)) -> PhotoError {
    let mut marks = taken.marks.clone();
    change(&mut marks);
    register(&taken.photograph(), &LAYOUT, &marks, &RegistrationOptions::default(), &Cancel::new()).unwrap_err()
}

#[test]
fn marks_that_fit_no_garment_are_refused_by_name() {
    let taken = &TAKEN[0];
    let unknown = refused(taken, |marks| marks.points[1].name = "elbow left".to_owned());
    let said = unknown.to_string();
    assert!(
        said.starts_with("points.2.name: \"elbow left\" is not a point of this garment; its points are \"neck left\", "),
        "{said}"
    );
    let few = refused(taken, |marks| marks.points.truncate(3)).to_string();
    assert_eq!(
        few,
        "points: 3 points are too few; mark at least 4, best \"neck left\", \"neck right\", \"hem left\" and \"hem right\""
    );
    let twice = refused(taken, |marks| marks.points[1].name = "neck left".to_owned()).to_string();
    assert_eq!(twice, "points.2.name: \"neck left\" appears twice; keep one or rename it");
    let far = refused(taken, |marks| marks.points[0].at.x = 2001.0).to_string();
    assert_eq!(far.split("; ").last().unwrap(), "give 0 to 2000 and 0 to 1500 px");
    let nan = refused(taken, |marks| marks.points[3].at.y = f64::NAN);
    assert!(matches!(nan, PhotoError::Marks(MarksError { problem: MarksProblem::Outside { .. }, .. })), "{nan:?}");
    let crossed = refused(taken, |marks| marks.sheet.as_mut().unwrap().corners.swap(0, 1));
    assert!(matches!(crossed, PhotoError::Marks(MarksError { problem: MarksProblem::Crossed { .. }, .. })), "{crossed:?}");
}

#[test]
fn left_for_right_is_refused() {
    let swapped = refused(&TAKEN[0], |marks| {
        for at in [0, 2] {
            let [left, right] = [marks.points[at].at, marks.points[at + 1].at];
            (marks.points[at].at, marks.points[at + 1].at) = (right, left);
        }
    });
    assert_eq!(swapped, PhotoError::Mirrored { points: 4 });
}

/// A sheet of which one corner is curled up looks too narrow there.
#[test]
fn a_sheet_that_does_not_lie_flat_is_refused() {
    let bent = refused(&TAKEN[0], |marks| {
        let corners = &mut marks.sheet.as_mut().unwrap().corners;
        corners[2] = corners[2].lerp(corners[3], 0.2);
    });
    assert!(matches!(bent, PhotoError::SheetBent { .. }), "{bent:?}");
    let small = refused(&TAKEN[0], |marks| {
        let corners = &mut marks.sheet.as_mut().unwrap().corners;
        let middle = corners[0].midpoint(corners[2]);
        corners.iter_mut().for_each(|corner| *corner = middle.lerp(*corner, 0.7));
    });
    assert!(matches!(small, PhotoError::SheetSize { .. }), "{small:?}");
}

#[test]
fn a_picture_too_small_is_refused() {
    let taken = Taken::new(55, 0, 4, SceneOptions { size: [700, 525], ..SceneOptions::default() });
    let refused =
        register(&taken.photograph(), &LAYOUT, &taken.marks, &RegistrationOptions::default(), &Cancel::new()).unwrap_err();
    let PhotoError::Small { pixel_mm, .. } = refused else { panic!("{refused:?}") };
    assert!((1.5..1.9).contains(&pixel_mm), "{pixel_mm}");
}

/// The layout of another garment with the same points: its outline is not there.
#[test]
fn the_layout_of_another_garment_is_refused() {
    let taken = &TAKEN[0];
    let other = example("harbour-row-long-sleeve-l");
    let refused =
        register(&taken.photograph(), &other, &taken.marks, &RegistrationOptions::default(), &Cancel::new()).unwrap_err();
    assert!(matches!(refused, PhotoError::Outline { .. } | PhotoError::SheetSize { .. }), "{refused:?}");
}

/// A layout of the same garment with other binds: its rings are not there.
#[test]
fn another_layout_of_the_same_garment_is_refused() {
    let taken = &TAKEN[0];
    let mut spec = LAYOUT.raw().clone();
    spec.binds = example("harbour-row-tee-s").raw().binds.clone();
    spec.fold = example("harbour-row-tee-s").raw().fold.clone();
    let Ok(other) = pleatwright::layout::Layout::try_from(spec) else { panic!("the binds of a smaller tee fit a larger one") };
    let frame = PLAN.frame();
    let reveal =
        pleatwright::reveal::reveal_doses(&other, &pleatwright::reveal::RevealOptions::default(), &Cancel::new()).unwrap();
    let dyes = pleatwright::reveal::colour::DyeSet::of_layout(&other, None);
    let picture = pleatwright::reveal::picture(&reveal, &dyes);
    let plan = Plan::from_picture(other, Panel::Front, reveal.panels(), &picture);
    assert_eq!(plan.frame(), frame);
    let found = held(&taken.photograph(), &plan, &taken.marks, &RegistrationOptions::default());
    assert!(matches!(found, Err(PhotoError::NoRings { .. })), "{:?}", found.map(|measured| measured.tie().rings.found));
}

/// A front named as the back: the table shows where the back has its neck.
#[test]
fn a_front_named_as_the_back_is_refused() {
    let taken = &TAKEN[0];
    let mut marks = taken.marks.clone();
    marks.side = Panel::Back;
    let refused = register(&taken.photograph(), &LAYOUT, &marks, &RegistrationOptions::default(), &Cancel::new()).unwrap_err();
    assert_eq!(refused, PhotoError::OtherSide { marked: Panel::Back, seen: Panel::Front });
    let bandana = example("harbour-row-bandana");
    let refused =
        register(&taken.photograph(), &bandana, &marks, &RegistrationOptions::default(), &Cancel::new()).unwrap_err().to_string();
    assert_eq!(refused, "side: the garment has only one side, not a back; write Front");
}

/// A line across a garment that lies doubled runs the other way on the back: its lines are the front's, seen through.
#[test]
fn the_back_named_as_the_front_is_refused_where_its_lines_run_otherwise() {
    let tote = EXAMPLE_LAYOUTS.iter().find(|example| example.short_name() == "harbour-row-initial-tote").unwrap();
    let layout = parse_layout(&tote.text.replace("letter: \"V\"", "letter: \"L\"")).unwrap();
    let plan = Plan::of(&layout, Panel::Front, &Cancel::new()).unwrap();
    let other = plan.other_side().unwrap();
    assert_eq!(other.side(), Panel::Back);
    let refused = held_perfectly(other, &plan).map(|measured| measured.tie().rings.found);
    assert_eq!(refused, Err(PhotoError::OtherSideRings { marked: Panel::Front, seen: Panel::Back }));
}

/// Every kind of garment has four points at least, on its outline or within a millimetre of it, alike left and right.
#[test]
fn every_garment_has_points_on_its_outline() {
    use kurbo::{ParamCurveNearest as _, Shape as _};
    for name in EXAMPLE_LAYOUTS.iter().map(|example| example.short_name()) {
        let layout = example(name);
        for (side, panel) in layout.panels().iter() {
            let points = named_points(&layout, side);
            assert!(points.len() >= 4, "{name}: {points:?}");
            for point in &points {
                let away =
                    panel.whole().path().path_segments(0.1).map(|segment| segment.nearest(point.at, 1e-3).distance_sq.sqrt());
                let away = away.fold(f64::INFINITY, f64::min);
                assert!(away < 1.0, "{name}, {side}: {} lies {away:.1} mm off the outline", point.name);
                let twin = points.iter().find(|twin| twin.name != point.name && (twin.at.x + point.at.x).abs() < 1e-9);
                assert!(twin.is_some(), "{name}: {point:?}");
            }
        }
    }
}

#[test]
fn what_is_no_photograph_is_refused_with_a_way_out() {
    let heic = photograph_of(b"\0\0\0\x18ftypheic\0\0\0\0mif1heic").unwrap_err();
    assert!(matches!(heic, PhotographProblem::Heic) && heic.to_string().contains("export it as JPEG"), "{heic}");
    for bytes in [&b"GIF89a\x01\0\x01\0"[..], b"%PDF-1.7", b""] {
        assert_eq!(
            photograph_of(bytes).unwrap_err().to_string(),
            "not a photograph that can be measured; choose a JPEG, PNG, WebP or TIFF file"
        );
    }
    let mut profiled = image::RgbImage::from_pixel(40, 30, image::Rgb([90, 40, 90]));
    profiled.put_pixel(3, 3, image::Rgb([0; 3]));
    let bytes = crate::drawn::scene::jpeg(&profiled, None, Some(b"no profile".to_vec()));
    assert_eq!(
        photograph_of(&bytes).unwrap_err().to_string(),
        "its colour profile of 10 bytes can't be read; export it again in the colours of sRGB"
    );
}
