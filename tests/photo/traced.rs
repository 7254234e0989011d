//! A garment's own outline out of drawn photographs: a smock of known measures beside a sheet, seen askew in uneven light.

use crate::drawn::smock::{Camera, camera, half, picture, smock};
use kurbo::{Affine, BezPath, ParamCurveNearest as _, Point, Shape as _};
use pleatwright::geometry::{Measure, TakenAs, half_outline};
use pleatwright::photo::{FoundOutline, Halves, Photograph, Sheet, SheetPaper, TraceError, find_outline, half_of};
use pleatwright::store::{photograph_of, read_layout};
use std::path::Path;
use std::process::Command;
use std::sync::LazyLock;

fn photograph(garment: &BezPath, camera: Camera) -> Photograph {
    let mut bytes = std::io::Cursor::new(Vec::new());
    picture(garment, camera).write_to(&mut bytes, image::ImageFormat::Png).unwrap();
    photograph_of(bytes.get_ref()).unwrap()
}

/// The smock alike on both sides, and what was found of it.
static ALIKE: LazyLock<FoundOutline> = LazyLock::new(|| find_outline(&photograph(&smock(0.0), camera(1.05))));

/// How far the points of a path lie from another, mm: mean and most.
fn off(path: &BezPath, truth: &BezPath) -> (f64, f64) {
    let mut points = Vec::new();
    kurbo::flatten(path, 0.1, |element| points.extend(element.end_point()));
    let places: Vec<Point> =
        points.windows(2).flat_map(|side| (0..10).map(|step| side[0].lerp(side[1], f64::from(step) / 10.0))).collect();
    let away =
        |at: Point| truth.segments().map(|segment| segment.nearest(at, 1e-6).distance_sq.sqrt()).fold(f64::INFINITY, f64::min);
    let all: Vec<f64> = places.iter().map(|at| away(*at)).collect();
    #[expect(clippy::cast_precision_loss, reason = "some places")]
    let mean = all.iter().sum::<f64>() / all.len() as f64;
    (mean, all.into_iter().fold(0.0, f64::max))
}

/// As `half_outline` lays it, its highest point where the truth's is.
fn laid(half: &BezPath) -> BezPath {
    let (drawn, taken) = half_outline(half).unwrap();
    assert_eq!(taken, TakenAs::LeftFold);
    Affine::translate((0.0, -drawn.bounding_box().y0)) * drawn
}

#[test]
fn a_smock_beside_a_sheet_is_traced() {
    let found = &*ALIKE;
    let sheet = found.sheet.clone().unwrap();
    assert_eq!((sheet.paper, found.is_cut), (SheetPaper::A4, false));
    assert!(found.nodes.len() < 60, "{} nodes", found.nodes.len());
    let traced = half_of(&found.nodes, &sheet, Halves::Mean).unwrap();
    // What a sheet tells of sizes is known to 1.6 %; drawn without noise in its corners it does better.
    for (found_mm, true_mm) in traced.size_mm.into_iter().zip([700.0, 715.0]) {
        assert!((found_mm / true_mm - 1.0).abs() < 0.01, "{:?}", traced.size_mm);
    }
    let (mean_mm, most_mm) = off(&laid(&traced.half), &half());
    assert!(mean_mm < 1.5 && most_mm < 5.0, "{mean_mm} mm, at most {most_mm} mm");
    let down = camera(1.05).seen(Point::new(0.0, 715.0)) - camera(1.05).seen(Point::ORIGIN);
    let leaning_deg = (-down.x).atan2(down.y).to_degrees();
    assert!(traced.apart_mm < 5.0 && (traced.leaning_deg - leaning_deg).abs() < 0.5, "{traced:?}, not {leaning_deg}");
    // Few curves: a corner each, and what is rounded by the picture's own blur.
    assert!(traced.half.elements().len() < 40, "{} pieces", traced.half.elements().len());
    // What was taken lies where it is seen.
    let seen = traced.seen.iter().map(|at| camera(1.05).back(*at));
    let whole = smock(0.0);
    let away = |at: Point| whole.segments().map(|side| side.nearest(at, 1e-6).distance_sq.sqrt()).fold(f64::INFINITY, f64::min);
    let worst = seen.map(away).fold(0.0, f64::max);
    assert!(worst < 5.0, "{worst} mm");
}

/// A sleeve longer by 24 mm on the left of the picture: each half is itself, the mean lies between, and how far they are apart is told.
#[test]
fn halves_are_taken_apart_or_together() {
    let found = find_outline(&photograph(&smock(24.0), camera(1.05)));
    let sheet = found.sheet.unwrap();
    let [mean, left, right] = Halves::ALL.map(|halves| half_of(&found.nodes, &sheet, halves).unwrap());
    let widths = [&left, &mean, &right].map(|traced| traced.size_mm[0]);
    assert!(widths[0] - widths[1] > 8.0 && widths[1] - widths[2] > 8.0, "{widths:?}");
    assert!((widths[0] - widths[2] - 48.0).abs() < 8.0, "{widths:?}");
    assert!((mean.apart_mm - 24.0).abs() < 5.0, "{}", mean.apart_mm);
}

#[test]
fn what_gives_no_outline_is_refused() {
    let (nodes, sheet) = (&ALIKE.nodes, ALIKE.sheet.clone().unwrap());
    let refused = |nodes: &[Point], sheet: &Sheet| half_of(nodes, sheet, Halves::Mean).unwrap_err();
    assert_eq!(refused(&nodes[..3], &sheet), TraceError::TooFew { count: 3, least: 4 });
    let crossed = Sheet { corners: [0, 2, 1, 3].map(|corner| sheet.corners[corner]), ..sheet.clone() };
    assert_eq!(refused(nodes, &crossed), TraceError::Sheet);
    let turned: Vec<Point> = nodes.iter().map(|at| Affine::rotate_about(0.7, (640.0, 500.0)) * *at).collect();
    assert!(matches!(refused(&turned, &sheet), TraceError::Leaning { .. }));
    // A garment beyond the picture's edge, and a bare table.
    assert!(find_outline(&photograph(&smock(0.0), camera(1.9))).is_cut);
    let bare = find_outline(&photograph(&BezPath::new(), camera(1.05)));
    assert!(bare.nodes.is_empty() && bare.sheet.is_some());
}

fn new(folder: &Path, arguments: &[&str]) -> (Option<i32>, String) {
    let output = Command::new(env!("CARGO_BIN_EXE_pleatwright")).arg("new").args(arguments).current_dir(folder).output().unwrap();
    let said = [output.stdout, output.stderr].map(|said| String::from_utf8(said).unwrap()).concat();
    (output.status.code(), said)
}

/// From the command line: the layout has the smock's size, a taped one where that is given; the ways that lead nowhere are refused.
#[test]
fn a_layout_begins_with_a_photograph() {
    let folder = tempfile::tempdir().unwrap();
    picture(&smock(0.0), camera(1.05)).save(folder.path().join("smock.png")).unwrap();
    let (status, said) = new(folder.path(), &["-o", "smock.ron", "--outline", "smock.png", "--outline-paper", "A4"]);
    assert_eq!(status, Some(0), "{said}");
    assert!(
        said.contains("outline taken from a photograph by a sheet of A4, the mean of both halves; its halves lie up to "),
        "{said}"
    );
    assert!(said.ends_with("give them by --measure cloth_width=.. --measure cloth_height=..\n"), "{said}");
    let layout = read_layout(&folder.path().join("smock.ron")).unwrap();
    let width_mm = layout.garment().value_mm(Measure::ClothWidth).unwrap();
    assert!((width_mm / 700.0 - 1.0).abs() < 0.01, "{width_mm}");
    let taped = ["-o", "taped.ron", "--outline", "smock.png", "--outline-half", "right", "--measure", "cloth_width=703mm"];
    assert_eq!(new(folder.path(), &taped).0, Some(0));
    let layout = read_layout(&folder.path().join("taped.ron")).unwrap();
    assert_eq!(layout.garment().value_mm(Measure::ClothWidth), Some(703.0));
    let refused = |more: &[&str]| {
        let (status, said) = new(folder.path(), &[&["-o", "no.ron"], more].concat());
        assert_eq!(status, Some(2), "{said}");
        said
    };
    let which = refused(&["--outline", "smock.png", "--outline-which", "2"]);
    assert!(which.contains("--outline-which: a photograph has no lines to choose among"), "{which}");
    let kind = refused(&["--outline-half", "left"]);
    assert!(kind.contains("--outline-half: "), "{kind}");
    image::RgbImage::from_pixel(640, 480, image::Rgb([120, 90, 60])).save(folder.path().join("bare.png")).unwrap();
    let bare = refused(&["--outline", "bare.png"]);
    assert!(bare.contains("--outline bare.png: no garment can be made out in it"), "{bare}");
    picture(&smock(0.0), camera(1.9)).save(folder.path().join("near.png")).unwrap();
    let near = refused(&["--outline", "near.png"]);
    assert!(near.contains("--outline near.png: the garment goes on beyond the picture"), "{near}");
    assert!(!folder.path().join("no.ron").exists());
}
