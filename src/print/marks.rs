//! Marks that join sheets: trim lines, numbered half marks that meet, and the sheet's name within its core.
//!
//! In sheet mm. Every joint between two sheets has two marks, a short one one; the same mark stands on both sheets at the same place of the drawing,
//! with its number on either side of the trim line, so that one half and one number remain on each sheet after trimming. Where sheets
//! overlap little or not at all, each has its own half only.

use std::f64::consts::FRAC_PI_2;

use kurbo::{BezPath, Point, Rect, Vec2};

use super::drawing::Drawing;
use super::ink::Ink;
use super::shape::{Anchor, Shape, Text};
use super::style::Layer;

/// Half the diagonal of a join mark in mm.
const MARK_MM: f64 = 3.6;
/// The part of a mark that is solid.
const SOLID_SHARE: f64 = 0.45;
/// Least room beyond a trim line, in mm, for the other half of a mark and its number.
const LEAST_BEYOND_MM: f64 = 2.0;
/// Height of the number of a mark, in mm.
const NUMBER_CAP_MM: f64 = 2.0;
/// Length in mm along the trim line that a mark's number takes.
const NUMBER_ROOM_MM: f64 = 5.0;
/// Places tried for a mark on either side of the middle one.
const PLACES: u32 = 16;
/// A joint shorter than this, in mm, has one mark.
const NARROW_MM: f64 = 80.0;
/// Height of the words along a trim line, in mm.
const WORDS_CAP_MM: f64 = 1.9;
/// Height of the sheet's name in its core, in mm.
const NAME_CAP_MM: f64 = 4.0;

/// A line on which two pieces meet, in drawing coordinates.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Joint {
    /// The piece left of or above the trim line, trimmed and laid on top.
    pub(super) upper: usize,
    /// The piece right of or below it.
    pub(super) lower: usize,
    /// One end of the trim line: left or upper.
    pub(super) start: Point,
    /// The other end.
    pub(super) end: Point,
    /// Its two marks.
    pub(super) marks: Vec<JoinMark>,
}

/// A mark on a trim line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct JoinMark {
    /// Number, unique within the drawing.
    pub(super) number: usize,
    /// Where it stands on the trim line, in drawing coordinates.
    pub(super) at: Point,
}

impl Joint {
    /// A joint with marks where the drawing leaves most room.
    pub(super) fn new(upper: usize, lower: usize, start: Point, end: Point, ink: &Ink, first_number: usize) -> Self {
        let along = (end - start).normalize();
        // A mark and the number behind it, with some air.
        let size = Vec2::new(2.0 * MARK_MM, 2.0 * MARK_MM) + NUMBER_ROOM_MM * Vec2::new(along.x.abs(), along.y.abs());
        let mark = |number: usize, middle: f64, play: f64| {
            let shifts = (0..=PLACES).flat_map(|k| [-f64::from(k), f64::from(k)]).map(|k| k / f64::from(PLACES));
            let places = shifts.map(|shift| start.lerp(end, middle + shift * play));
            JoinMark { number, at: least_crowded(ink, places, size, NUMBER_ROOM_MM / 2.0 * along) }
        };
        let marks = if start.distance(end) < NARROW_MM {
            vec![mark(first_number, 0.45, 0.3)]
        } else {
            vec![mark(first_number, 0.25, 0.12), mark(first_number + 1, 0.75, 0.12)]
        };
        Self { upper, lower, start, end, marks }
    }

    /// What its marks and their numbers take, in drawing coordinates.
    pub(super) fn mark_boxes(&self) -> impl Iterator<Item = Rect> + '_ {
        let (along, across) = (self.along(), self.across());
        let around = move |mark: &JoinMark| {
            let from = mark.at - MARK_MM * along - MARK_MM * across;
            Rect::from_points(from, mark.at + (MARK_MM + NUMBER_ROOM_MM) * along + MARK_MM * across)
        };
        self.marks.iter().map(around)
    }

    fn along(&self) -> Vec2 {
        (self.end - self.start).normalize()
    }

    /// From the trim line to the lower piece.
    fn across(&self) -> Vec2 {
        let along = self.along();
        // Right of a line that runs down, below a line that runs right.
        if along.x.abs() > along.y.abs() { Vec2::new(0.0, 1.0) } else { Vec2::new(1.0, 0.0) }
    }
}

/// The candidate that keeps off words and holes and has the least ink around it (around the point `off` from it); the first among
/// equals.
fn least_crowded(ink: &Ink, places: impl Iterator<Item = Point>, size: Vec2, off: Vec2) -> Point {
    let crowding = |p: &Point| {
        let around = Rect::from_center_size(*p + off, size.to_size());
        (ink.holds_whole(around), ink.crowding(around))
    };
    let weighed = places.map(|place| (crowding(&place), place));
    let best = weighed.min_by(|((a_covers, a), _), ((b_covers, b), _)| a_covers.cmp(b_covers).then(a.total_cmp(b)));
    best.map(|(_, place)| place).unwrap_or_default()
}

/// Draws a joint as it appears on one of its two sheets. `to_sheet` moves drawing coordinates to the sheet.
pub(super) fn add_joint(
    sheet: &mut Drawing,
    joint: &Joint,
    on_upper: bool,
    other: &str,
    half_overlap_mm: f64,
    ink: &Ink,
    to_sheet: Vec2,
) {
    add_trim_line(sheet, joint, to_sheet);
    let (along, across) = (joint.along(), joint.across());
    let beyond = if on_upper { across } else { -across };
    // What shows beyond the trim line is cut off or covered; it helps to lay the sheets, where there is room.
    let beyond_mm = if half_overlap_mm >= LEAST_BEYOND_MM { MARK_MM.min(half_overlap_mm - 0.4) } else { 0.0 };
    for mark in &joint.marks {
        let at = mark.at + to_sheet;
        let diamond = |share: f64| {
            let (tip, own) = (share * MARK_MM * along, share * MARK_MM * beyond);
            let mut path = BezPath::new();
            path.move_to(at - tip);
            path.line_to(at + share * beyond_mm * beyond);
            path.line_to(at + tip);
            path.line_to(at - own);
            path.close_path();
            path
        };
        sheet.path(Layer::Marks, diamond(1.0));
        sheet.add(Layer::Marks, Shape::Solid(diamond(SOLID_SHARE)));
        let off_mm = (0.5 * half_overlap_mm).min(2.4);
        for off in [Some(-2.4), (half_overlap_mm >= LEAST_BEYOND_MM).then_some(off_mm)].into_iter().flatten() {
            let beside = at + (MARK_MM + 2.2) * along + off * beyond;
            let baseline = beside + Vec2::new(0.0, NUMBER_CAP_MM / 2.0);
            sheet.text(Text::new(mark.number.to_string(), baseline, NUMBER_CAP_MM).anchored(Anchor::Middle));
        }
    }
    add_words(sheet, joint, on_upper, other, half_overlap_mm, ink, to_sheet);
}

/// The trim line, with gaps at its marks.
fn add_trim_line(sheet: &mut Drawing, joint: &Joint, to_sheet: Vec2) {
    let along = joint.along();
    let mut from = joint.start;
    for mark in &joint.marks {
        sheet.line(Layer::Marks, from + to_sheet, mark.at - MARK_MM * along + to_sheet);
        from = mark.at + MARK_MM * along;
    }
    sheet.line(Layer::Marks, from + to_sheet, joint.end + to_sheet);
}

/// Tells what to do at this edge, in the strip that is cut off or covered; nothing where the drawing leaves no room: the marks
/// suffice, and the map says how to use them.
fn add_words(sheet: &mut Drawing, joint: &Joint, on_upper: bool, other: &str, half_overlap_mm: f64, ink: &Ink, to_sheet: Vec2) {
    if half_overlap_mm < WORDS_CAP_MM + 1.5 {
        return;
    }
    let wordings = if on_upper {
        [format!("cut on this line, then lay on {other}"), format!("lay on {other}")]
    } else {
        [format!("{other} is laid over this edge"), format!("under {other}")]
    };
    let side = if on_upper { 1.0 } else { -1.0 };
    let off = side * half_overlap_mm / 2.0 * joint.across();
    for text in wordings {
        let text = Text::new(text, Point::ZERO, WORDS_CAP_MM).anchored(Anchor::Middle);
        if let Some(at) = free_place(joint, text.width_mm(), off, ink) {
            let (rotation_rad, down) =
                if joint.along().x > 0.5 { (0.0, Vec2::new(0.0, 1.0)) } else { (-FRAC_PI_2, Vec2::new(1.0, 0.0)) };
            sheet.text(Text { position: at + to_sheet + WORDS_CAP_MM / 2.0 * down, rotation_rad, ..text });
            return;
        }
    }
}

/// A place beside a trim line for words of some length, clear of the drawing and of the marks; nearest to the middle.
fn free_place(joint: &Joint, length_mm: f64, off: Vec2, ink: &Ink) -> Option<Point> {
    let (along, span_mm) = (joint.along(), joint.start.distance(joint.end));
    let depth_mm = WORDS_CAP_MM + 1.0;
    let size = if along.x > 0.5 { Vec2::new(length_mm + 3.0, depth_mm) } else { Vec2::new(depth_mm, length_mm + 3.0) };
    let is_free = |at: Point| {
        let from_start_mm = (at - off - joint.start).dot(along);
        let inside = from_start_mm > length_mm / 2.0 + 3.0 && from_start_mm < span_mm - length_mm / 2.0 - 3.0;
        let reach_mm = MARK_MM + NUMBER_ROOM_MM + length_mm / 2.0;
        let clear = joint.marks.iter().all(|m| (at - off - m.at).dot(along).abs() > reach_mm);
        inside && clear && !ink.touches(Rect::from_center_size(at, size.to_size()))
    };
    let middle = joint.start.midpoint(joint.end) + off;
    let steps = (0..=60).flat_map(|k| [-f64::from(k), f64::from(k)]);
    steps.map(|k| middle + k / 120.0 * span_mm * along).find(|at| is_free(*at))
}

/// The sheet's name, where its core has room, so that it survives trimming. Nothing where there is none.
pub(super) fn add_name(sheet: &mut Drawing, name: &str, core: Rect, ink: &Ink, to_sheet: Vec2) {
    let text = Text::new(name, Point::ZERO, NAME_CAP_MM).bold().anchored(Anchor::Middle);
    let (width, height) = (text.width_mm() + 4.0, NAME_CAP_MM + 4.0);
    let room = core.inflate(-10.0 - width / 2.0, -10.0 - height / 2.0);
    if room.width() <= 0.0 || room.height() <= 0.0 {
        return;
    }
    let places = (0..=8).flat_map(|row| (0..=8).map(move |column| (column, row))).map(|(column, row)| {
        let at = |low: f64, length: f64, n: u8| low + length * f64::from(n) / 8.0;
        Point::new(at(room.x0, room.width(), column), at(room.y0, room.height(), row))
    });
    let free = places.into_iter().find(|p| !ink.touches(Rect::from_center_size(*p, (width, height))));
    if let Some(at) = free {
        let at = at + to_sheet;
        sheet.text(Text { position: at + Vec2::new(0.0, NAME_CAP_MM / 2.0), ..text });
        sheet.add(Layer::Marks, Shape::Path(kurbo::Shape::to_path(&Rect::from_center_size(at, (width, height)), 0.1)));
    }
}
