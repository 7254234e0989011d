//! An undyed smock of known measures beside a sheet, drawn as a camera sees it: askew, in uneven light.

use super::squares::{PAPER, TABLE, to_byte};
use image::{Rgb, RgbImage};
use kurbo::{Affine, BezPath, Point, Shape as _, Vec2};

/// Right half of the smock, mm from the middle and from its highest point.
pub(crate) const HALF: [(f64, f64); 8] =
    [(0.0, 60.0), (45.0, 50.0), (90.0, 0.0), (350.0, 130.0), (310.0, 270.0), (225.0, 235.0), (240.0, 700.0), (0.0, 715.0)];
pub(crate) const SIZE: [u32; 2] = [1600, 1200];

pub(crate) fn half() -> BezPath {
    let mut half = BezPath::new();
    half.move_to(HALF[0]);
    HALF[1..].iter().for_each(|at| half.line_to(*at));
    half
}

/// The whole, its left sleeve `longer` mm longer than the right one.
pub(crate) fn smock(longer: f64) -> BezPath {
    let mut whole = half();
    for (x, y) in HALF.into_iter().rev().skip(1) {
        whole.line_to((-x - if x > 300.0 { longer } else { 0.0 }, y));
    }
    whole.close_path();
    whole
}

/// A camera above a table: where a point of it, mm, is seen, px. Homogeneous coordinates, so that it may look askew.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Camera {
    onto: Affine,
    tilt: Vec2,
}

impl Camera {
    pub(crate) fn seen(&self, at: Point) -> Point {
        ((self.onto * at).to_vec2() / (1.0 + self.tilt.dot(at.to_vec2()))).to_point()
    }

    /// The way back by Newton's method: the map is smooth.
    pub(crate) fn back(&self, seen: Point) -> Point {
        let mut at = self.onto.inverse() * seen;
        for _ in 0..12 {
            let off = self.seen(at) - seen;
            let [dx, dy] = [Vec2::new(0.1, 0.0), Vec2::new(0.0, 0.1)].map(|step| (self.seen(at + step) - self.seen(at)) / 0.1);
            let turn = dx.cross(dy);
            at -= Vec2::new(off.cross(dy) / turn, dx.cross(off) / turn);
        }
        at
    }
}

/// 1.5 px a mm, turned by 4 degrees, a little askew.
pub(crate) fn camera(scale: f64) -> Camera {
    let onto = Affine::translate((640.0, 80.0)) * Affine::rotate(4.0_f64.to_radians()) * Affine::scale(scale);
    Camera { onto, tilt: Vec2::new(3e-5, -4e-5) }
}

/// The sheet on the table, mm: A4, to the right of the smock, turned by 9 degrees.
pub(crate) fn sheet() -> kurbo::Rect {
    kurbo::Rect::from_origin_size((390.0, 330.0), (210.0, 297.0))
}

pub(crate) fn sheet_from_table() -> Affine {
    Affine::rotate_about(-9.0_f64.to_radians(), sheet().center())
}

pub(crate) fn picture(garment: &BezPath, camera: Camera) -> RgbImage {
    RgbImage::from_fn(SIZE[0], SIZE[1], |x, y| {
        let mut sum = [0.0; 3];
        for (dx, dy) in [(0.25, 0.25), (0.75, 0.25), (0.25, 0.75), (0.75, 0.75)] {
            let at = camera.back(Point::new(f64::from(x) + dx, f64::from(y) + dy));
            let light = if garment.contains(at) {
                [0.62, 0.60, 0.52]
            } else if sheet().contains(sheet_from_table() * at) {
                [PAPER; 3]
            } else {
                TABLE
            };
            sum.iter_mut().zip(light).for_each(|(sum, channel)| *sum += 0.25 * channel);
        }
        let lamp = 0.9 * (-0.25 * f64::from(x) / f64::from(SIZE[0])).exp();
        let scatter = 1.0 + 0.03 * (f64::from((x * 7919 + y * 104_729) % 1009) / 1009.0 - 0.5);
        Rgb(sum.map(|channel| to_byte(channel * lamp * scatter)))
    })
}
