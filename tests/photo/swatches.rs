//! Swatches out of drawn photographs: squares of known colours in uneven, tinted light, beside white paper and on it.

use crate::drawn::scene::jpeg;
use crate::drawn::squares::{COLOURS, PAPER, SHEET, SIZE, TABLE, beside, cloth, picture, squares, to_byte, to_light};
use image::{Rgb, RgbImage};
use kurbo::{Point, Rect};
use pleatwright::layout::Srgb;
use pleatwright::photo::{Photograph, Sheet, SheetPaper, SquaresProblem, White, find_squares, square_colours};
use pleatwright::reveal::colour::{Lab, ciede2000};
use pleatwright::store::{photograph_of, read_swatches};
use std::fs;
use std::path::Path;
use std::process::{Command, Output};

fn photograph(picture: &RgbImage) -> Photograph {
    let mut bytes = std::io::Cursor::new(Vec::new());
    picture.write_to(&mut bytes, image::ImageFormat::Png).unwrap();
    photograph_of(bytes.get_ref()).unwrap()
}

fn sheet(rect: Rect) -> White {
    let Rect { x0, y0, x1, y1 } = rect;
    White::Sheet(Sheet { paper: SheetPaper::A4, corners: [(x0, y0), (x1, y0), (x1, y1), (x0, y1)].map(Point::from) })
}

/// Each square within its cloth and no smaller than half of it, read line by line; each colour within 1 of the one it was drawn in.
fn check(photograph: &Photograph, drawn: &[Rect; 6]) {
    let found = find_squares(photograph);
    assert_eq!(found.squares.len(), 6, "{found:?}");
    for (square, drawn) in found.squares.iter().zip(drawn) {
        assert!(drawn.contains_rect(*square) && square.width() > 60.0, "{square} in {drawn}");
    }
    let colours = square_colours(photograph, &found.white.unwrap(), &found.squares).unwrap();
    for (colour, (name, [red, green, blue])) in colours.iter().zip(COLOURS) {
        let off = ciede2000(colour.lab, Lab::from(Srgb { red, green, blue }));
        assert!(off < 1.0 && colour.spread < 1.0, "{name} is off by {off}, spread {}", colour.spread);
    }
}

#[test]
fn squares_beside_a_sheet_are_found_and_their_colours_told() {
    let drawn = squares(120.0, 180.0, 200.0);
    check(&photograph(&beside(&drawn)), &drawn);
}

/// Squares on the sheet itself, which lies on a table, and on paper that fills the picture.
#[test]
fn squares_on_white_paper_are_found_and_their_colours_told() {
    let drawn = squares(290.0, 230.0, 200.0);
    let sheet = Rect::new(200.0, 140.0, 900.0, 640.0);
    let on_sheet = picture(|at| cloth(&drawn, at).unwrap_or(if sheet.contains(at) { [PAPER; 3] } else { TABLE }));
    check(&photograph(&on_sheet), &drawn);
    let on_ground = photograph(&picture(|at| cloth(&drawn, at).unwrap_or([PAPER; 3])));
    assert_eq!(find_squares(&on_ground).white, Some(White::Ground));
    check(&on_ground, &drawn);
}

/// Cloth cut round and cloth laid askew: the square lies within. A thread and a ruler are no swatches.
#[test]
fn cloth_of_any_shape_is_found() {
    let (disc, askew) = (Point::new(250.0, 300.0), Point::new(560.0, 300.0));
    let is_askew = |at: Point| {
        let turned = kurbo::Affine::rotate(-0.4) * (at - askew).to_point();
        turned.x.abs() < 90.0 && turned.y.abs() < 60.0
    };
    let is_thin = |at: Point| (at.y - 700.0).abs() < 2.0 || ((at.y - 800.0).abs() < 20.0 && (100.0..700.0).contains(&at.x));
    let drawn = picture(|at| match at {
        at if at.distance(disc) < 90.0 => COLOURS[0].1.map(to_light),
        at if is_askew(at) => COLOURS[2].1.map(to_light),
        at if is_thin(at) => [0.6, 0.1, 0.1],
        at if SHEET.contains(at) => [PAPER; 3],
        _ => TABLE,
    });
    let found = find_squares(&photograph(&drawn));
    assert_eq!(found.squares.len(), 2, "{found:?}");
    let corners = |square: Rect| [(square.x0, square.y0), (square.x1, square.y0), (square.x1, square.y1), (square.x0, square.y1)];
    assert!(corners(found.squares[0]).into_iter().all(|at| Point::from(at).distance(disc) < 90.0), "{found:?}");
    assert!(corners(found.squares[1]).into_iter().all(|at| is_askew(at.into())), "{found:?}");
}

/// A square dyed unevenly tells so by its spread: half and half of two colours, each as far from their mean.
#[test]
fn a_spread_tells_uneven_cloth() {
    let drawn = squares(120.0, 180.0, 200.0);
    let picture = picture(|at| match cloth(&drawn, at) {
        Some(light) if drawn[0].contains(at) && at.x > drawn[0].center().x => light.map(|channel| 0.5 * channel),
        Some(light) => light,
        None => {
            if SHEET.contains(at) {
                [PAPER; 3]
            } else {
                TABLE
            }
        }
    });
    let spreads: Vec<f64> =
        square_colours(&photograph(&picture), &sheet(SHEET), &drawn).unwrap().iter().map(|one| one.spread).collect();
    assert!(spreads[0] > 4.0 && spreads[1..].iter().all(|spread| *spread < 1.0), "{spreads:?}");
}

#[test]
fn what_tells_no_colour_is_refused_by_its_number() {
    let drawn = squares(120.0, 180.0, 200.0);
    let picture = beside(&drawn);
    let photo = photograph(&picture);
    let refused = |white: &White, squares: &[Rect]| square_colours(&photo, white, squares).unwrap_err();
    let second = |square: Rect| [drawn[0], square];
    let white = sheet(SHEET);
    let outside = refused(&white, &second(Rect::new(-4.0, 20.0, 100.0, 100.0)));
    assert!(outside.to_string().starts_with("squares.2: -4, 20, 100, 100 px make no square within the picture"), "{outside}");
    let turned = refused(&white, &second(Rect::new(100.0, 20.0, 90.0, 100.0)));
    assert!(matches!(turned.problem, SquaresProblem::Outside { .. }), "{turned}");
    assert!(matches!(refused(&white, &second(Rect::new(f64::NAN, 20.0, 90.0, 100.0))).problem, SquaresProblem::Outside { .. }));
    let small = refused(&white, &second(Rect::new(400.0, 300.0, 410.0, 400.0)));
    assert!(matches!(small.problem, SquaresProblem::Small { side: 10.0, least: 16.0 }), "{small}");
    let over = refused(&white, &second(drawn[0] + kurbo::Vec2::new(60.0, 0.0)));
    assert!(matches!(over.problem, SquaresProblem::Over { other: 1 }), "{over}");
    let half = refused(&white, &second(Rect::new(780.0, 200.0, 900.0, 300.0)));
    assert!(matches!(half.problem, SquaresProblem::HalfOnSheet), "{half}");
    let many: Vec<Rect> = (0..61_u32).map(|number| Rect::new(0.0, 0.0, f64::from(number), 1.0)).collect();
    assert!(matches!(refused(&white, &many).problem, SquaresProblem::TooMany { count: 61, most: 60 }));
    let covered = refused(&White::Ground, &[Rect::new(0.0, 0.0, 1200.0, 900.0)]);
    assert!(covered.to_string().contains("what the squares lie on shows in 0 places"), "{covered}");
    // Twice as much light burns out paper and pale cloth.
    let bright =
        RgbImage::from_fn(SIZE[0], SIZE[1], |x, y| Rgb(picture.get_pixel(x, y).0.map(|byte| to_byte(2.5 * to_light(byte)))));
    let burnt = square_colours(&photograph(&bright), &white, &drawn).unwrap_err();
    assert!(burnt.to_string().contains("of the white sheet is burnt out"), "{burnt}");
    let burnt = square_colours(&photograph(&bright), &White::Ground, &drawn[1..2]).unwrap_err();
    assert!(burnt.to_string().starts_with("squares.1: 100 % of it is burnt out"), "{burnt}");
    // By a table that is taken for white paper, cloth shines.
    let table = square_colours(&photograph(&bright), &White::Ground, &drawn).unwrap_err();
    assert!(matches!(table.problem, SquaresProblem::BrighterThanPaper { .. }), "{table}");
}

fn run(folder: &Path, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_pleatwright")).arg("swatches").args(arguments).current_dir(folder).output().unwrap()
}

fn said(output: &Output) -> String {
    format!("{}{}", String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr))
}

/// The command: squares seen first, then named and put into a book; what the book has stays, another colour of a name gets a number.
#[test]
fn the_command_puts_them_into_a_book() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("dyed.jpg"), jpeg(&beside(&squares(120.0, 180.0, 200.0)), None, None)).unwrap();
    let seen = run(folder.path(), &["dyed.jpg"]);
    assert!(seen.status.success() && said(&seen).starts_with("dyed.jpg: 6 squares by a white sheet\n"), "{}", said(&seen));
    let few = run(folder.path(), &["dyed.jpg", "--square", "teal=4"]);
    assert_eq!(few.status.code(), Some(2));
    assert!(said(&few).contains("6 squares found and 1 named; see them without --square"), "{}", said(&few));
    let named: Vec<String> = COLOURS.iter().flat_map(|(name, _)| ["--square".to_owned(), format!("{name}=2.5%")]).collect();
    let mut all = vec!["dyed.jpg", "-o", "book.ron", "--over", "ivory"];
    all.extend(named.iter().map(String::as_str));
    let put = run(folder.path(), &all);
    assert!(put.status.success() && said(&put).ends_with("book.ron: 6 swatches put in\n"), "{}", said(&put));
    let book = read_swatches(&folder.path().join("book.ron")).unwrap();
    assert_eq!(book.swatches().len(), 6);
    let teal = book.swatch("teal").unwrap();
    assert_eq!((teal.depth_percent, teal.over.map(|over| over.to_string())), (2.5, Some("#fffff0".to_owned())));
    assert!(ciede2000(Lab::from(teal.colour.srgb), Lab::from(Srgb { red: 0, green: 128, blue: 128 })) < 1.5, "{teal:?}");
    // The place of navy, named teal: the book keeps its own.
    let again = run(folder.path(), &["dyed.jpg", "-o", "book.ron", "--square", "teal=2.5@125,385,235,495"]);
    assert!(said(&again).contains("teal is put in as \"teal 2\": the book has another colour of that name"), "{}", said(&again));
    let json = run(folder.path(), &["dyed.jpg", "--json", "--square", "teal=2.5@125,385,235,495"]);
    let json: serde_json::Value = serde_json::from_slice(&json.stdout).unwrap();
    assert_eq!((&json[0]["name"], &json[0]["place"][3]), (&"teal".into(), &495.0.into()));
    assert!(json[0]["lab"][0].as_f64().unwrap() < 20.0, "{json}");
}

#[test]
fn the_command_refuses_at_the_argument() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("dyed.jpg"), jpeg(&beside(&squares(120.0, 180.0, 200.0)), None, None)).unwrap();
    let refused = |arguments: &[&str]| {
        let output = run(folder.path(), arguments);
        assert_eq!(output.status.code(), Some(2), "{}", said(&output));
        said(&output)
    };
    let outside = refused(&["dyed.jpg", "--square", "teal=4@1,2,3000,40"]);
    assert!(outside.starts_with("pleatwright: --square teal: 1, 2, 3000, 40 px make no square within the picture"), "{outside}");
    let shade = refused(&["dyed.jpg", "--square", "teal=400@125,185,235,295", "-o", "book.ron"]);
    assert!(shade.contains("--square: \"teal\" at 400 % of the dry cloth is out of range"), "{shade}");
    assert!(!folder.path().join("book.ron").exists());
    let corners = refused(&["dyed.jpg", "--sheet", "1,2,3"]);
    assert!(corners.contains("not four corners"), "{corners}");
    let crossed = refused(&["dyed.jpg", "--sheet", "0,0,100,100,100,0,0,100"]);
    assert!(crossed.contains("--sheet: the sheet turns back"), "{crossed}");
    fs::write(folder.path().join("book.ron"), "(format: 2, name: 3)").unwrap();
    let broken = refused(&["dyed.jpg", "--square", "teal=4@125,185,235,295", "-o", "book.ron"]);
    assert!(broken.contains("book.ron"), "{broken}");
    RgbImage::from_pixel(400, 300, Rgb([120, 90, 60])).save(folder.path().join("bare.png")).unwrap();
    let bare = refused(&["bare.png"]);
    assert!(bare.starts_with("pleatwright: bare.png: no white paper can be made out in it"), "{bare}");
}
