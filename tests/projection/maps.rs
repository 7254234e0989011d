//! Homographies against planted ones, Heckbert's closed form and numpy; corners that are badly placed; how well marks settle a map.

use crate::common::{rows, seeded::seeded};
use crate::{Planted, assert_close, projector};
use kurbo::Point;
use pleatwright::measure::{InchFraction, LengthStyle};
use pleatwright::projection::{CheckFigure, Homography, MarkSet, Pair, Projector, ProjectorProblem, Rectangle};
use pleatwright::telling::{Refused as _, Voice};
use proptest::prelude::*;

const PICTURE: [u32; 2] = [1920, 1080];

/// Entries of a matrix and of another, both made so that the last entry is 1, differ by at most a share of the largest of a row.
fn same(map: &Homography, planted: &Planted, tolerance: f64) -> Result<(), String> {
    let rows = map.rows();
    for (row, own) in rows.iter().enumerate() {
        let most = own.iter().fold(1e-3_f64, |most, entry| most.max(entry.abs()));
        for (column, entry) in own.iter().enumerate() {
            let (found, meant) = (entry / rows[2][2], planted.0[3 * row + column] / planted.0[8]);
            if (found - meant).abs() > tolerance * most {
                return Err(format!("{found} for {meant} in row {row}, column {column}"));
            }
        }
    }
    Ok(())
}

proptest! {
    #![proptest_config(seeded(311, 400))]

    /// The definition of a homography alone: what is planted comes back, and so does every point.
    #[test]
    fn a_planted_map_comes_back(
        turn in -3.2..3.2_f64,
        grown in 0.6..2.0_f64,
        tilt in prop::array::uniform2(-6e-4..6e-4_f64),
        x in 500.0..1400.0_f64,
        y in 300.0..800.0_f64,
        with_middles in any::<bool>(),
    ) {
        let planted = Planted::seen(turn, grown, tilt, Point::new(x, y));
        let set = if with_middles { MarkSet::WithMiddles } else { MarkSet::Corners };
        let marked = projector(&planted, PICTURE, set);
        let pairs: Vec<Pair> = set.places().iter().zip(&marked.marks)
            .map(|([x, y], to)| Pair { from: Point::new(210.0 * x, 148.5 * y), to: *to })
            .collect();
        let map = Homography::fit(&pairs).unwrap();
        prop_assert_eq!(same(&map, &planted, 1e-9), Ok(()));
        let back = map.inverse(Point::ZERO).unwrap();
        for at in [Point::new(-300.0, 200.0), Point::new(12.0, -7.0), Point::new(500.0, 350.0)] {
            let seen = map.apply(at).unwrap();
            prop_assert!(seen.distance(planted.apply(at)) < 1e-9 * seen.to_vec2().hypot().max(1.0));
            prop_assert!(back.apply(seen).unwrap().distance(at) < 1e-9 * 600.0);
        }
    }
}

/// The unit square to any quadrilateral, in closed form: P. Heckbert, Fundamentals of Texture Mapping and Image Warping, University of
/// California, Berkeley, 1989, section 2.2.3.
fn of_unit_square([p0, p1, p2, p3]: [Point; 4]) -> Planted {
    let (d1, d2, sum) = (p1 - p2, p3 - p2, (p0 - p1) + (p2 - p3));
    let all = d1.cross(d2);
    let (g, h) = (sum.cross(d2) / all, d1.cross(sum) / all);
    Planted([
        p1.x - p0.x + g * p1.x,
        p3.x - p0.x + h * p3.x,
        p0.x,
        p1.y - p0.y + g * p1.y,
        p3.y - p0.y + h * p3.y,
        p0.y,
        g,
        h,
        1.0,
    ])
}

#[test]
fn four_corners_give_the_closed_form_of_heckbert() {
    let square = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)].map(Point::from);
    for seen in [
        [(100.0, 80.0), (700.0, 100.0), (680.0, 520.0), (120.0, 500.0)],
        [(812.5, 77.0), (1499.0, 640.25), (903.0, 1011.0), (301.75, 488.0)],
        [(10.0, 900.0), (60.0, 40.0), (1900.0, 10.0), (1500.0, 1000.0)],
    ] {
        let seen = seen.map(Point::from);
        let pairs: Vec<Pair> = square.into_iter().zip(seen).map(|(from, to)| Pair { from, to }).collect();
        let map = Homography::fit(&pairs).unwrap();
        same(&map, &of_unit_square(seen), 1e-9).unwrap();
    }
}

/// Nine noisy marks, the least squares of which numpy found by another way (`tests/reference/homography.py`).
#[test]
fn nine_marks_give_the_least_squares_of_numpy() {
    let places: Vec<Point> = MarkSet::WithMiddles.places().iter().map(|[x, y]| Point::new(210.0 * x, 148.5 * y)).collect();
    for row in rows("homography.csv") {
        let numbers: Vec<f64> = row.iter().map(|cell| cell.parse().unwrap()).collect();
        let marks = numbers[..18].chunks_exact(2).map(|at| Point::new(at[0], at[1]));
        let pairs: Vec<Pair> = places.iter().zip(marks).map(|(from, to)| Pair { from: *from, to }).collect();
        let map = Homography::fit(&pairs).unwrap();
        let mut entries = [1.0; 9];
        entries[..8].copy_from_slice(&numbers[18..]);
        same(&map, &Planted(entries), 1e-7).unwrap();
    }
}

fn marked(marks: [(f64, f64); 4]) -> Projector {
    let mut projector = Projector::new("over the table".to_owned(), PICTURE);
    projector.marks = marks.map(Point::from).to_vec();
    projector
}

/// Each is refused as what it is, in words that name the corners.
#[test]
fn badly_placed_corners_are_refused_in_words() {
    let voice = Voice::window(LengthStyle::default());
    for (marks, words) in [
        ([(500.0, 300.0), (520.0, 310.0), (1300.0, 800.0), (600.0, 760.0)], "Corners 1 and 2 are only 22 px apart"),
        ([(300.0, 300.0), (800.0, 320.0), (1400.0, 340.0), (600.0, 900.0)], "Corners 1, 2 and 3 lie almost in a line"),
        ([(500.0, 300.0), (600.0, 760.0), (1300.0, 800.0), (1250.0, 350.0)], "none"),
        ([(500.0, 300.0), (1300.0, 800.0), (1400.0, 340.0), (600.0, 760.0)], "cross"),
        ([(500.0, 300.0), (1400.0, 340.0), (800.0, 450.0), (600.0, 900.0)], "Corner 3 lies between the other three"),
        ([(500.0, -3.0), (1400.0, 340.0), (1300.0, 800.0), (600.0, 900.0)], "Mark 1 at 500 and -3 px lies outside the picture"),
        (
            [(860.0, 300.0), (1060.0, 300.0), (1700.0, 800.0), (220.0, 800.0)],
            "run off to infinity before corner 1 of the picture",
        ),
        ([(f64::NAN, 300.0), (1040.0, 300.0), (1700.0, 800.0), (220.0, 800.0)], "Mark 1"),
    ] {
        match marked(marks).alignment() {
            Ok(alignment) => assert!(words == "none" && alignment.is_mirrored(), "{words}: {marks:?}"),
            Err(problem) => {
                let said = problem.say(voice);
                assert!(said.contains(words) && said.contains("; "), "{said}");
            }
        }
    }
    let unsettled = Homography::fit(&[Pair { from: Point::ZERO, to: Point::ZERO }; 4]);
    assert_eq!(unsettled, Err(ProjectorProblem::Unsettled { marks: 4 }));
}

/// Four corners always fit; of nine, one that is dragged wrong is named with how far it is off.
#[test]
fn the_residual_is_in_mm_on_the_table() {
    let planted = Planted::seen(0.1, 1.6, [2e-4, -1e-4], Point::new(930.0, 520.0));
    let corners = projector(&planted, PICTURE, MarkSet::Corners);
    assert!(corners.alignment().unwrap().residual_mm() < 1e-9);
    let mut nine = projector(&planted, PICTURE, MarkSet::WithMiddles);
    assert!(nine.alignment().unwrap().residual_mm() < 1e-9);
    nine.marks[6].x += 16.0;
    let alignment = nine.alignment().unwrap();
    let (mark, off_mm) = alignment.worst();
    // 16 px are 10 mm at 1.6 px a mm; the others give way by some of it.
    assert!(mark == 7 && (5.0..10.0).contains(&off_mm), "{mark}: {off_mm} mm");
    assert!(alignment.residual_mm() > 1.0 && alignment.residual_mm() < off_mm);
}

/// A sheet that fills the picture settles its corners to about a pixel; one of a quarter of its breadth far worse.
#[test]
fn a_small_sheet_makes_a_pixel_count_for_more() {
    let slip = |px_per_mm: f64| {
        let planted = Planted::seen(0.0, px_per_mm, [0.0, 0.0], Point::new(960.0, 540.0));
        projector(&planted, PICTURE, MarkSet::Corners).alignment().unwrap().slip_mm() * px_per_mm
    };
    let (large, small) = (slip(3.5), slip(1.0));
    assert!((0.5..3.0).contains(&large), "{large} px");
    assert!(small > 4.0 * large, "{small} px beside {large} px");
}

/// What was printed 2 % too large is known by the bar: everything after that is true.
#[test]
fn the_bar_corrects_the_scale() {
    let true_map = Planted::seen(0.3, 1.5, [1e-4, 2e-4], Point::new(940.0, 560.0));
    let mut projector = projector(&true_map, PICTURE, MarkSet::Corners);
    // The maker believes that the sheet of 420 by 297 has 2 % less.
    projector.rectangle = Rectangle { width_mm: 420.0 / 1.02, height_mm: 297.0 / 1.02 };
    let drawn = CheckFigure::of(&projector.alignment().unwrap(), PICTURE, LengthStyle::default()).unwrap();
    assert_close!(drawn.bar_mm(), 500.0, 1e-9);
    let map = *projector.alignment().unwrap().picture_from_table();
    let measured = |map: &Homography, figure: &CheckFigure| {
        let [from, to] = figure.bar.map(|end| {
            let seen = map.apply(end).unwrap();
            // Back by the true map: numerically, as a ruler on the table would.
            undone(&true_map, seen)
        });
        from.distance(to)
    };
    let measured_mm = measured(&map, &drawn);
    assert_close!(measured_mm, 510.0, 1e-6);
    projector.correct(drawn.bar_mm(), measured_mm).unwrap();
    let alignment = projector.alignment().unwrap();
    let anew = CheckFigure::of(&alignment, PICTURE, LengthStyle::default()).unwrap();
    assert_close!(measured(alignment.picture_from_table(), &anew), 500.0, 1e-6);
    assert!(matches!(projector.correct(500.0, 300.0), Err(ProjectorProblem::Bar { .. })), "too far off to be the sides'");
    assert!(projector.correct(500.0, f64::NAN).is_err() && projector.correct(500.0, 0.0).is_err());
}

/// Where a point of the picture lies on the table, by Newton's method on the planted map.
fn undone(planted: &Planted, seen: Point) -> Point {
    let mut at = Point::ZERO;
    for _ in 0..60 {
        let step = 1e-4;
        let here = planted.apply(at);
        let [x, y] = [kurbo::Vec2::new(step, 0.0), kurbo::Vec2::new(0.0, step)].map(|by| (planted.apply(at + by) - here) / step);
        let off = seen - here;
        let all = x.cross(y);
        at += kurbo::Vec2::new(off.cross(y) / all, x.cross(off) / all);
    }
    at
}

/// The check is as long as the picture holds, in steps of the maker's rule, and lies in the picture.
#[test]
fn bar_and_cross_are_as_long_as_the_picture_holds() {
    let inches = LengthStyle::Inches { nearest: InchFraction::Sixteenth };
    for (px_per_mm, lengths, bar_mm, cross_mm) in [
        (1.2, LengthStyle::default(), 500.0, 300.0),
        (1.2, inches, 508.0, 304.8),
        (3.0, LengthStyle::default(), 500.0, 300.0),
        (6.0, LengthStyle::default(), 300.0, 150.0),
        (6.0, inches, 304.8, 152.4),
    ] {
        let planted = Planted::seen(0.0, px_per_mm, [0.0, 0.0], Point::new(960.0, 540.0));
        let mut projector = projector(&planted, PICTURE, MarkSet::Corners);
        if px_per_mm > 2.0 {
            projector.rectangle = Rectangle { width_mm: 210.0, height_mm: 148.5 };
            projector.marks =
                MarkSet::Corners.places().iter().map(|[x, y]| planted.apply(Point::new(105.0 * x, 74.25 * y))).collect();
        }
        let figure = CheckFigure::of(&projector.alignment().unwrap(), PICTURE, lengths).unwrap();
        assert_close!(figure.bar_mm(), bar_mm, 1e-9, "{px_per_mm}");
        assert_close!(figure.cross_mm, cross_mm, 1e-9, "{px_per_mm}");
        for point in figure.lines().iter().flat_map(|line| &line.points) {
            let seen = planted.apply(*point);
            assert!((0.0..=1920.0).contains(&seen.x) && (0.0..=1080.0).contains(&seen.y), "{seen:?}");
        }
    }
}
