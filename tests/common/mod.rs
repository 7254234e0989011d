//! Shared by the integration tests: close comparison, reference tables, simple outlines.

#![allow(
    dead_code,
    unreachable_pub,
    clippy::unwrap_used,
    reason = "each test binary uses a part of it, and a failed unwrap is a failed test"
)]

pub mod fold_laws;
pub mod mangle;
pub(crate) mod reference;
pub(crate) mod seeded;

use kurbo::BezPath;
use pleatwright::geometry::PanelOutline;
use std::path::{Path, PathBuf};

/// Asserts that two numbers differ by at most `tol`, on either side; a NaN fails.
#[macro_export]
macro_rules! assert_close {
    ($left:expr, $right:expr, $tol:expr $(, $($note:tt)+)?) => {{
        let (left, right, tol): (f64, f64, f64) = ($left, $right, $tol);
        let near = (left - right).abs() <= tol;
        assert!(near, "{left} is not within {tol} of {right}{}", String::new() $(+ ": " + &format!($($note)+))?);
    }};
}

/// The folder with figures from outside the project.
pub fn reference(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/reference").join(name)
}

/// The rows of a reference table without quoted commas, its header left out.
pub fn rows(name: &str) -> Vec<Vec<String>> {
    let text = std::fs::read_to_string(reference(name)).unwrap();
    text.lines().skip(1).map(|line| line.split(',').map(str::to_owned).collect()).collect()
}

/// A polygon as a closed path.
pub fn polygon(vertices: &[(f64, f64)]) -> BezPath {
    let mut path = BezPath::new();
    path.move_to(vertices[0]);
    for &vertex in &vertices[1..] {
        path.line_to(vertex);
    }
    path.close_path();
    path
}

/// A half profile with a curved neck, shoulder and sleeve: every kind of segment that an outline may have.
pub fn curved_panel(neck_drop: f64) -> PanelOutline {
    let mut path = BezPath::new();
    path.move_to((0.0, neck_drop));
    path.curve_to((50.0, neck_drop), (85.0, 0.6 * neck_drop), (90.0, 0.0));
    path.line_to((220.0, 42.0));
    path.curve_to((300.0, 70.0), (370.0, 130.0), (400.0, 185.0));
    path.line_to((330.0, 265.0));
    path.quad_to((262.0, 215.0), (255.0, 230.0));
    path.curve_to((240.0, 400.0), (240.0, 500.0), (258.0, 710.0));
    path.line_to((0.0, 715.0));
    PanelOutline::from_half_profile(&path).unwrap()
}
