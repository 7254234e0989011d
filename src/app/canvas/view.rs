//! Transform from garment mm to screen points: pan, zoom, side shown.

use crate::app::screen::screen;
use egui::{Pos2, Rect, Vec2};
use kurbo::Point;

/// Takes the garment's frame (mm, `y` down) to the screen (points) and back.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct View {
    /// The place in the garment's frame that stands in the middle of the screen, mm.
    pub(crate) middle: Point,
    /// Screen points for one mm.
    pub(crate) points_per_mm: f64,
    /// Whether the garment is seen from behind, left and right changed.
    pub(crate) flipped: bool,
}

/// Closest and farthest look, screen points for one mm.
const ZOOM: std::ops::RangeInclusive<f64> = 0.05..=40.0;
/// Share of the screen that a fitted garment takes.
const FITTED: f64 = 0.88;

impl View {
    /// The look at which `bounds` (mm) fills the screen.
    pub(crate) fn fitting(bounds: kurbo::Rect, screen: Rect, flipped: bool) -> Self {
        let fit = |room: f32, need: f64| FITTED * f64::from(room) / need.max(1.0);
        let points_per_mm = fit(screen.width(), bounds.width()).min(fit(screen.height(), bounds.height()));
        let center = bounds.center();
        let middle = if flipped { Point::new(-center.x, center.y) } else { center };
        Self { middle, points_per_mm: points_per_mm.clamp(*ZOOM.start(), *ZOOM.end()), flipped }
    }

    /// The look at which `bounds` (mm) fills `room`, a part of the screen.
    pub(crate) fn fitting_within(bounds: kurbo::Rect, screen: Rect, room: Rect, flipped: bool) -> Self {
        let mut view = Self::fitting(bounds, room, flipped);
        view.pan(room.center() - screen.center());
        view
    }

    fn side(&self) -> f64 {
        if self.flipped { -1.0 } else { 1.0 }
    }

    /// Where a place of the garment shows.
    pub(crate) fn screen_from_mm(&self, area: Rect, p: Point) -> Pos2 {
        let x = (self.side() * p.x - self.middle.x) * self.points_per_mm;
        let y = (p.y - self.middle.y) * self.points_per_mm;
        area.center() + Vec2::new(screen(x), screen(y))
    }

    /// Which place of the garment shows there.
    pub(crate) fn mm_from_screen(&self, area: Rect, p: Pos2) -> Point {
        let from_middle = p - area.center();
        let x = self.middle.x + f64::from(from_middle.x) / self.points_per_mm;
        Point::new(self.side() * x, self.middle.y + f64::from(from_middle.y) / self.points_per_mm)
    }

    /// Length of so many screen points, mm.
    pub(crate) fn mm(&self, points: f32) -> f64 {
        f64::from(points) / self.points_per_mm
    }

    /// Moves the table under the eye.
    pub(crate) fn pan(&mut self, by: Vec2) {
        self.middle -= kurbo::Vec2::new(self.mm(by.x), self.mm(by.y));
    }

    /// Looks closer or from farther; what is under the pointer stays there.
    pub(crate) fn zoom_at(&mut self, area: Rect, pointer: Pos2, factor: f64) {
        let before = self.unflipped(area, pointer);
        self.points_per_mm = (self.points_per_mm * factor).clamp(*ZOOM.start(), *ZOOM.end());
        let after = self.unflipped(area, pointer);
        self.middle += before - after;
    }

    fn unflipped(&self, area: Rect, p: Pos2) -> Point {
        let mm = self.mm_from_screen(area, p);
        Point::new(self.side() * mm.x, mm.y)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use egui::pos2;

    const AREA: Rect = Rect { min: pos2(100.0, 50.0), max: pos2(900.0, 650.0) };

    #[test]
    fn there_and_back() {
        for flipped in [false, true] {
            let view = View { middle: Point::new(30.0, 310.0), points_per_mm: 1.7, flipped };
            let p = Point::new(123.4, 456.7);
            assert!((view.mm_from_screen(AREA, view.screen_from_mm(AREA, p)) - p).hypot() < 1e-3);
        }
    }

    #[test]
    fn zooming_keeps_what_is_under_the_pointer() {
        for flipped in [false, true] {
            let mut view = View { middle: Point::new(30.0, 310.0), points_per_mm: 1.7, flipped };
            let pointer = pos2(222.0, 333.0);
            let before = view.mm_from_screen(AREA, pointer);
            view.zoom_at(AREA, pointer, 1.9);
            assert!((view.mm_from_screen(AREA, pointer) - before).hypot() < 1e-3);
        }
    }

    #[test]
    fn what_is_fitted_into_a_part_shows_in_that_part() {
        let bounds = kurbo::Rect::new(0.0, -20.0, 420.0, 735.0);
        let room = Rect { min: pos2(180.0, 90.0), max: AREA.max };
        for flipped in [false, true] {
            let view = View::fitting_within(bounds, AREA, room, flipped);
            for corner in [(0.0, -20.0), (420.0, 735.0), (0.0, 735.0), (420.0, -20.0)] {
                assert!(room.contains(view.screen_from_mm(AREA, corner.into())));
            }
        }
    }

    #[test]
    fn what_is_fitted_shows() {
        let bounds = kurbo::Rect::new(0.0, -20.0, 420.0, 735.0);
        for flipped in [false, true] {
            let view = View::fitting(bounds, AREA, flipped);
            for corner in [(0.0, -20.0), (420.0, 735.0), (0.0, 735.0), (420.0, -20.0)] {
                assert!(AREA.contains(view.screen_from_mm(AREA, corner.into())));
            }
        }
    }
}
