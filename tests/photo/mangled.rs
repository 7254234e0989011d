//! Mangled pictures and marks: refused or measured, never a panic, never numbers that are none.

use crate::common::mangle::mangled;
use crate::common::seeded::seeded;
use crate::drawn::scene::{SceneOptions, jpeg};
use crate::shirt::{LAYOUT, TAKEN, Taken};
use image::{ImageFormat, imageops};
use kurbo::Point;
use pleatwright::photo::{Marks, Photograph, RegistrationOptions, register};
use pleatwright::reveal::Cancel;
use pleatwright::store::{marks_text, parse_marks, photograph_of};
use proptest::prelude::*;
use std::io::Cursor;
use std::sync::LazyLock;

/// Small photographs of every kind, with orientation and profile.
static FILES: LazyLock<Vec<Vec<u8>>> = LazyLock::new(|| {
    let small = imageops::thumbnail(&TAKEN[0].picture, 160, 120);
    let profile = moxcms::ColorProfile::new_display_p3().encode().unwrap();
    let mut files = vec![jpeg(&small, None, Some(profile))];
    for format in [ImageFormat::Png, ImageFormat::WebP, ImageFormat::Tiff] {
        let mut bytes = Cursor::new(Vec::new());
        small.write_to(&mut bytes, format).unwrap();
        files.push(bytes.into_inner());
    }
    files
});

static TEXT: LazyLock<&'static str> = LazyLock::new(|| Box::leak(marks_text(&TAKEN[0].marks).into_boxed_str()));

/// A photograph at a quarter of its size: quick to look at.
static SMALL: LazyLock<(Taken, Photograph)> = LazyLock::new(|| {
    let taken = Taken::new(9, 0, 4, SceneOptions { size: [900, 675], ..SceneOptions::default() });
    let photograph = taken.photograph();
    (taken, photograph)
});

proptest! {
    #![proptest_config(seeded(16_101, 300))]
    #[test]
    fn mangled_photographs_are_read_or_refused(
        which in 0_usize..4, changes in prop::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..12), cut in any::<prop::sample::Index>(), is_cut in any::<bool>(),
    ) {
        let mut bytes = FILES[which].clone();
        for (at, byte) in changes {
            let at = at.index(bytes.len());
            bytes[at] = byte;
        }
        if is_cut {
            bytes.truncate(cut.index(bytes.len()));
        }
        match photograph_of(&bytes) {
            Ok(photograph) => {
                prop_assert!(photograph.light().iter().flatten().all(|channel| (0.0..=1.0).contains(channel)));
                prop_assert!(photograph.at(Point::new(1e9, f64::NAN)).is_none());
            }
            Err(problem) => prop_assert!(problem.to_string().contains("; ")),
        }
    }
}

proptest! {
    #![proptest_config(seeded(16_102, 300))]
    #[test]
    fn mangled_marks_are_read_or_refused(text in mangled(vec![*TEXT])) {
        if let Err((_, problem)) = parse_marks(&text) {
            prop_assert!(!problem.to_string().is_empty());
        }
    }
}

/// Marks anywhere, exactly on each other or nearly, in a line, at the picture's corners.
fn wild() -> impl Strategy<Value = Point> {
    let number = |most: f64| prop_oneof![Just(0.0), Just(most), 0.0..most, (0.0..most).prop_map(f64::round), Just(0.5 * most)];
    (number(900.0), number(675.0)).prop_map(Point::from)
}

proptest! {
    #![proptest_config(seeded(16_103, 24))]
    #[test]
    fn wild_marks_are_refused_or_mapped(
        points in prop::collection::vec(wild(), 4), sheet in prop::array::uniform4(wild()), keep in 0_usize..4,
    ) {
        let mut marks: Marks = SMALL.0.marks.clone();
        for (at, point) in points.into_iter().enumerate().filter(|(at, _)| *at >= keep) {
            marks.points[at].at = point;
        }
        if keep == 0 {
            marks.sheet.as_mut().unwrap().corners = sheet;
        }
        match register(&SMALL.1, &LAYOUT, &marks, &RegistrationOptions::default(), &Cancel::new()) {
            Ok(map) => prop_assert!(map.apply(Point::new(0.0, 370.0)).is_some_and(Point::is_finite)),
            Err(error) => prop_assert!(error.to_string().contains("; ")),
        }
    }
}
