//! Points found without a maker, beside where the scenes have them: turned every way, in uneven light, dark cloth and light.

use crate::drawn::scene::{Scene, SceneOptions, jpeg};
use crate::rings::{ring_errors, rms};
use crate::shirt::{LAYOUT, PLAN, SHIRTS, TAKEN, TRUE, example, held};
use kurbo::Point;
use pleatwright::geometry::Panel;
use pleatwright::photo::{
    FoundPoints, KeptPixels, PhotoError, Photograph, Plan, RegistrationOptions, SheetPaper, difference, difference_colour,
    find_points, guessed_sheet, named_points, planned, register,
};
use pleatwright::reveal::{Cancel, RevealError};
use pleatwright::store::photograph_of;

/// Pixels of these scenes across and down: fewer than cameras have, and enough.
const SIZE: [u32; 2] = [1200, 900];
/// mm of a pixel of theirs on the cloth, about: the scene maker lets 1010 mm fill 0.86 of the breadth.
const PIXEL_MM: f64 = 1010.0 / (0.86 * 1200.0);

/// The shirt in other colours.
fn recoloured(colour: impl Fn(u8) -> f64) -> Plan {
    let shirt = &SHIRTS[0].textured;
    let mut picture = planned(shirt);
    for pixel in picture.rgba.as_chunks_mut::<4>().0 {
        for channel in &mut pixel[..3] {
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a byte")]
            let byte = colour(*channel).clamp(0.0, 255.0) as u8;
            *channel = byte;
        }
    }
    Plan::from_picture(shirt.layout().clone(), shirt.side(), &[(shirt.side(), shirt.frame())], &picture)
}

fn found(scene: &Scene<'_>) -> FoundPoints {
    let photograph = photograph_of(&jpeg(&scene.render(), None, None)).unwrap();
    find_points(&photograph, &LAYOUT, Panel::Front, &Cancel::new()).unwrap()
}

/// How far sure points lie from their places in a scene, mm, and how far the sheet's corners do, px.
fn off(scene: &Scene<'_>) -> (Vec<(String, f64)>, Option<f64>) {
    let found = found(scene);
    let named = named_points(&LAYOUT, Panel::Front);
    let points = found.points.iter().zip(named).filter(|(point, _)| point.is_sure);
    let off = points.map(|(point, named)| (named.name, PIXEL_MM * point.mark.at.distance(scene.seen(named.at))));
    let truth = scene.sheet_corners();
    let nearest = |at: &Point| truth.iter().map(|corner| corner.distance(*at)).fold(f64::INFINITY, f64::min);
    let corners = found.sheet.map(|sheet| {
        assert_eq!(sheet.paper, SheetPaper::A4);
        sheet.corners.iter().map(nearest).fold(0.0, f64::max)
    });
    (off.collect(), corners)
}

/// Sure points within 4 mm, their root mean square within 2: at least the neck, the hem and half of the others are sure; the shoulders, where the
/// edge runs on, are not. The sheet's corners
/// within 1.5 px. A hand clicks to 1.5 px of pictures with twice as many pixels.
fn is_found(name: &str, scene: &Scene<'_>) {
    let (points, corners) = off(scene);
    for best in ["neck left", "neck right", "hem left", "hem right"] {
        assert!(points.iter().any(|(name, _)| name == best), "{name}: {best} is not sure in {points:?}");
    }
    assert!(points.len() >= 8 && points.iter().all(|(name, _)| !name.starts_with("shoulder")), "{name}: {points:?}");
    let worst = points.iter().map(|(_, off)| *off).fold(0.0, f64::max);
    let mean = (points.iter().map(|(_, off)| off * off).sum::<f64>() / points.len() as f64).sqrt();
    assert!(worst < 4.0 && mean < 2.0, "{name}: worst {worst:.1}, rms {mean:.2} mm in {points:.1?}");
    assert!(corners.is_some_and(|off| off < 1.5), "{name}: the sheet is off by {corners:?} px");
}

#[test]
fn points_and_sheet_are_found_as_the_shirt_lies() {
    let options = SceneOptions { size: SIZE, ..SceneOptions::default() };
    is_found("as makers take it", &Scene::new(300, &SHIRTS[0].textured, options.clone()));
    is_found("in light twice as uneven", &Scene::new(301, &SHIRTS[1].textured, SceneOptions { light: 0.6, ..options }));
}

#[test]
fn points_are_found_on_a_shirt_upside_down() {
    let options = SceneOptions { size: SIZE, turn_deg: 180.0, ..SceneOptions::default() };
    is_found("upside down", &Scene::new(302, &SHIRTS[0].textured, options));
}

#[test]
fn points_are_found_on_dark_cloth_and_on_light() {
    let options = SceneOptions { size: SIZE, ..SceneOptions::default() };
    let dark = recoloured(|channel| 0.35 * f64::from(channel));
    let light_table = SceneOptions { table: [0.42, 0.36, 0.28], ..options.clone() };
    is_found("dark cloth on light wood", &Scene::new(303, &dark, light_table));
    let pale = recoloured(|channel| 170.0 + 0.3 * f64::from(channel));
    is_found("pale cloth", &Scene::new(304, &pale, options));
}

/// What runs out of the picture is a guess, the rest is found.
#[test]
fn a_corner_outside_the_picture_is_a_guess() {
    let options = SceneOptions { size: SIZE, turn_deg: 37.0, ..SceneOptions::default() };
    let scene = Scene::new(300, &SHIRTS[0].textured, options);
    let cut = scene.seen(named_points(&LAYOUT, Panel::Front)[3].at);
    assert!(cut.y > f64::from(SIZE[1]) || cut.x > f64::from(SIZE[0]), "{cut:?}");
    let found = found(&scene);
    let sure: Vec<bool> = found.points.iter().map(|point| point.is_sure).collect();
    assert_eq!(sure[..4], [true, true, true, false]);
    let marks = found.marks(Panel::Front);
    marks.check_within(SIZE).unwrap();
    assert!(marks.points.iter().all(|point| point.name != "hem right"), "a guess is left out");
}

/// Rings measured with points that nobody looked at are as true as with points that were clicked.
#[test]
fn rings_are_as_true_with_points_that_were_found() {
    let photograph = TAKEN[0].photograph();
    let marks = find_points(&photograph, &LAYOUT, Panel::Front, &Cancel::new()).unwrap().marks(Panel::Front);
    let measured = held(&photograph, &PLAN, &marks, &RegistrationOptions::default()).unwrap();
    let errors = ring_errors(&measured, &TRUE[TAKEN[0].shirt]);
    assert!(rms(&errors) < 1.2, "{errors:.2?}");
}

/// Where there is no garment its points lie in the middle, as guesses, within the picture.
#[test]
fn without_a_garment_every_point_is_a_guess() {
    let plain = |width: usize, height: usize| {
        let light = (0..width * height).map(|at| [0.2 + 1e-3 * (at % 7) as f32; 3]).collect();
        let whole = [width, height].map(|side| u32::try_from(side).unwrap());
        Photograph::new(whole, KeptPixels { width, light, step: 1, first: Point::ORIGIN }).unwrap()
    };
    for [width, height] in [[400, 300], [2, 2], [2, 900], [31, 17]] {
        let photograph = plain(width, height);
        let found = find_points(&photograph, &LAYOUT, Panel::Front, &Cancel::new()).unwrap();
        assert!(found.points.len() == 12 && found.points.iter().all(|point| !point.is_sure) && found.sheet.is_none());
        let mut marks = found.marks(Panel::Front);
        for paper in SheetPaper::ALL {
            marks.sheet = Some(guessed_sheet(&photograph, paper));
            marks.check_within(photograph.whole()).unwrap();
        }
    }
}

#[test]
fn a_side_that_is_not_there_is_refused_and_long_work_stops() {
    let (photograph, cancel) = (TAKEN[0].photograph(), Cancel::new());
    let refused = find_points(&photograph, &example("harbour-row-bandana"), Panel::Back, &cancel).unwrap_err();
    assert_eq!(refused.to_string(), "side: the garment has only one side, not a back; write Front");
    cancel.cancel();
    let stopped = PhotoError::Reveal(RevealError::Cancelled);
    assert_eq!(find_points(&photograph, &LAYOUT, Panel::Front, &cancel).unwrap_err(), stopped);
    let marks = &TAKEN[0].marks;
    let refused = register(&photograph, &LAYOUT, marks, &RegistrationOptions::default(), &cancel);
    assert_eq!(refused.unwrap_err(), stopped);
}

/// The plan's own picture does not differ from it; where a square of it is of another colour, that square does.
#[test]
fn the_difference_shows_what_differs_and_nothing_else() {
    let mut picture = planned(&PLAN);
    let same = difference(&picture, &PLAN);
    let grey = difference_colour(0.0);
    let is_grey = |pixel: &[u8]| pixel[3] == 0 || pixel[..3] == [grey.red, grey.green, grey.blue];
    assert!(same.rgba.chunks_exact(4).all(is_grey));
    assert!(same.rgba.chunks_exact(4).filter(|pixel| pixel[3] > 0).count() > 300_000);
    let (column, row) = (picture.width / 2, picture.height / 2);
    for at in (row..row + 20).flat_map(|row| (column..column + 20).map(move |column| (row, column))) {
        picture.rgba[4 * (at.0 * picture.width + at.1)..][..3].copy_from_slice(&[255, 0, 255]);
    }
    let other = difference(&picture, &PLAN);
    assert_eq!(other.rgba.chunks_exact(4).filter(|pixel| !is_grey(pixel)).count(), 400);
}
