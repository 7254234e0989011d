//! A wish for what a photograph shows, of drawn scenes with known truth: where its edges lie, what colours it has, what binds come of it.

use crate::drawn::scene::jpeg;
use crate::shirt::{LAYOUT, SHIRTS, TAKEN};
use kurbo::Vec2;
use pleatwright::geometry::Centre;
use pleatwright::layout::{FoldSpec, Layout, layout_text};
use pleatwright::photo::{RegistrationOptions, SeenProfile, profile, register};
use pleatwright::reveal::Cancel;
use pleatwright::reveal::colour::{Lab, ciede2000};
use pleatwright::store::{marks_text, read_wish};
use pleatwright::wish::{Tint, Wish, WishColour};
use std::fs;
use std::process::Command;

/// What a photograph shows by a layout.
fn seen(taken: usize, layout: &Layout) -> SeenProfile {
    let (photograph, marks, cancel) = (TAKEN[taken].photograph(), &TAKEN[taken].marks, Cancel::new());
    let map = register(&photograph, layout, marks, &RegistrationOptions::default(), &cancel).unwrap();
    profile(&photograph, layout, marks, &map, &cancel).unwrap()
}

/// The mean colour of the shirt itself within so many mm of the centre.
fn dyed(from_mm: f64, to_mm: f64) -> Lab {
    let shirt = &SHIRTS[TAKEN[0].shirt].flat;
    let frame = shirt.frame();
    let (mut sum, mut count) = ([0.0; 3], 0.0);
    for (column, row) in (0..frame.width).flat_map(|column| (0..frame.height).map(move |row| (column, row))) {
        let at = frame.middle(column, row);
        let (light, cloth) = shirt.at(at);
        if cloth > 0.99 && (from_mm..to_mm).contains(&shirt.along_mm(at)) {
            sum = [0, 1, 2].map(|channel| sum[channel] + f64::from(light[channel]));
            count += 1.0;
        }
    }
    pleatwright::reveal::colour::LinearRgb(sum.map(|channel| channel / count)).to_xyz().to_lab()
}

/// The hand strays by some mm, the lay by 3 more, of which the outline takes most out.
#[test]
fn edges_lie_on_the_binds_and_colours_are_the_cloths() {
    let seen = seen(0, &LAYOUT);
    assert!(seen.is_lit && seen.shift.hypot() <= 4.0, "{:?}", seen.shift);
    let wish = Wish::like(&seen, "Again".to_owned(), "shirt.ron".to_owned(), &LAYOUT).unwrap();
    let edges: Vec<f64> =
        wish.parts.windows(2).filter(|pair| pair[0].to_mm == pair[1].from_mm).map(|pair| pair[0].to_mm).collect();
    let binds = &LAYOUT.binds().binds;
    let off = |bind: f64| edges.iter().map(|edge| (edge - bind).abs()).fold(f64::INFINITY, f64::min);
    let near = binds.iter().filter(|bind| off(bind.radius_mm) <= 3.5).count();
    assert!(near + 2 >= binds.len() && edges.len() <= binds.len() + 3, "{edges:?}");
    let mut told = 0;
    for part in &wish.parts {
        let WishColour::Even(Tint::Lab(colour)) = part.colour else { continue };
        // Nearer to the centre the hand's and the lay's few mm are much of a ring.
        if part.from_mm > 60.0 && part.to_mm - part.from_mm > 14.0 {
            let own = dyed(part.from_mm + 4.0, part.to_mm - 4.0);
            assert!(ciede2000(colour, own) < 5.0, "{part:?}: {own:?}");
            told += 1;
        }
    }
    assert!(told >= 4, "{:?}", wish.parts);
}

/// A layout whose centre lies elsewhere than the shirt's: where that is, is found by what is seen alone.
#[test]
fn the_middle_of_the_rings_is_found() {
    let mut spec = LAYOUT.raw().clone();
    let FoldSpec::Burst(burst) = &mut spec.fold else { panic!("a burst") };
    let Centre::AboveMiddle { above_middle_mm, .. } = &mut burst.centre else { panic!("{:?}", burst.centre) };
    *above_middle_mm -= 11.0;
    let (here, moved) = (seen(0, &LAYOUT), seen(0, &Layout::try_from(spec).unwrap()));
    let off = here.shift - moved.shift - Vec2::new(0.0, 11.0);
    assert!(off.hypot() < 2.1, "{:?} {:?}", here.shift, moved.shift);
}

/// What is wished like a shirt is tied like it.
#[test]
fn the_wish_is_tied_as_the_shirt_was() {
    use pleatwright::wish::{WishOptions, fulfil};
    let wish = Wish::like(&seen(1, &LAYOUT), "Again".to_owned(), "shirt.ron".to_owned(), &LAYOUT).unwrap();
    let found = fulfil(&wish, &LAYOUT, &WishOptions::default(), &Cancel::new()).unwrap();
    let [tied, own] = [&found.layout, &LAYOUT].map(|layout| {
        let binds: Vec<f64> = layout.binds().binds.iter().map(|bind| bind.radius_mm).collect();
        binds
    });
    let near = own.iter().filter(|own| tied.iter().any(|tied| (tied - *own).abs() <= 4.0)).count();
    assert!(near + 2 >= own.len(), "{tied:?}\n{own:?}");
    // Within which rings' means over all that strays stay.
    assert!(found.difference < 10.0, "{}", found.difference);
}

/// From the command line, with the layout named from the wish's own folder, and refusals with their file.
#[test]
fn the_command_writes_a_wish() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    fs::create_dir(at("wishes")).unwrap();
    fs::write(at("front.jpg"), jpeg(&TAKEN[0].picture, None, None)).unwrap();
    fs::write(at("shirt.ron"), layout_text(LAYOUT.raw())).unwrap();
    fs::write(at("front.jpg.marks.ron"), marks_text(&TAKEN[0].marks)).unwrap();
    let run = |arguments: &[&str]| {
        let output = Command::new(env!("CARGO_BIN_EXE_pleatwright")).args(arguments).current_dir(folder.path()).output().unwrap();
        let [out, err] = [output.stdout, output.stderr].map(|text| String::from_utf8(text).unwrap());
        (output.status.success(), out, err)
    };
    let (done, out, err) = run(&["like", "front.jpg", "--layout", "shirt.ron", "-o", "wishes/again.ron"]);
    assert!(done && out.starts_with("wishes/again.ron: \"Like front\", ") && out.contains("   1  0 mm"), "{out}{err}");
    let (wish, layout) = read_wish(&at("wishes/again.ron")).unwrap();
    assert_eq!((wish.layout.as_str(), layout.name()), ("../shirt.ron", LAYOUT.name()));
    let (done, _, err) = run(&["like", "front.jpg", "--layout", "shirt.ron", "-o", "shirt.ron"]);
    assert!(!done && err.contains("it holds a layout, not a wish"), "{err}");
    let back = marks_text(&TAKEN[0].marks).replace("side: Front", "side: Back");
    fs::write(at("back.marks.ron"), back).unwrap();
    let (done, _, err) = run(&["like", "front.jpg", "--layout", "shirt.ron", "--marks", "back.marks.ron", "-o", "b.ron"]);
    assert!(!done && !at("b.ron").exists() && err.contains("front.jpg"), "{err}");
}
