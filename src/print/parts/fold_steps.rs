//! The way to a flat bundle or a puck as small pictures in order: what lies there, where it is folded next, which way.

use super::layers::part;
use crate::geometry::{FoldStep, Lay, Panel, Spiral, Twist};
use crate::layout::{Figures, Layout};
use crate::measure::LengthStyle;
use crate::print::{Anchor, Drawing, Layer, Text};
use kurbo::{Affine, Line, Point, Rect, Size, Vec2};
use std::f64::consts::{FRAC_PI_2, TAU};

/// Height of a caption, mm, and room that it takes below its picture.
const WORDS_MM: f64 = 2.5;
const CAPTION_MM: f64 = 4.6;
/// Free room round a picture, mm.
const ROUND_MM: f64 = 2.5;
/// Pictures that are drawn at most; beyond that some before the last ones, which are like those before them, are left out.
const MOST: usize = 24;
/// Of them so many at most are the last ones.
const LAST: usize = 3;
/// Least breadth of a picture, mm: narrower ones have no room for their captions; and least height with its caption.
const LEAST_WIDTH_MM: f64 = 36.0;
const LEAST_HEIGHT_MM: f64 = 22.0;
/// Length of an arrow as a share of the picture's smaller side, its barbs, mm, and half the opening of its tip, rad.
const ARROW_SHARE: f64 = 0.3;
const BARB_MM: f64 = 2.2;
const BARB_RAD: f64 = 0.45;

/// A picture and what stands below it.
struct Picture {
    drawn: Drawn,
    caption: String,
}

enum Drawn {
    Step(Box<FoldStep>),
    Pinch,
    Twisted,
    Puck,
    Banded,
}

/// The way to a bundle or a puck, to be drawn in any room.
pub struct FoldPictures {
    layout: Layout,
    pictures: Vec<Picture>,
}

impl std::fmt::Debug for FoldPictures {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("FoldPictures").field("pictures", &self.pictures.len()).finish_non_exhaustive()
    }
}

impl FoldPictures {
    /// The way of a layout; nothing of a fold that is pleated.
    #[must_use]
    pub fn of(layout: &Layout, figures: &Figures, lengths: LengthStyle) -> Option<Self> {
        Some(Self { layout: layout.clone(), pictures: pictures(layout, figures, lengths)? })
    }

    /// Pictures in rows that fill a room as large as they go, mm, from its upper left corner on; in a small one fewer of them, so that each
    /// can be made out.
    #[must_use]
    pub fn drawing(&self, room: Size) -> Drawing {
        let mut drawing = part(&self.layout, "folding card");
        let shown = thinned(&self.pictures, most_in(room));
        let (columns, rows) = grid(shown.len(), room);
        let cell = Size::new(room.width / columns as f64, room.height / rows as f64);
        for (index, shown) in shown.iter().enumerate() {
            let corner = Point::new((index % columns) as f64 * cell.width, (index / columns) as f64 * cell.height);
            let rect = Rect::from_origin_size(corner, cell);
            let within = Rect::new(rect.x0 + ROUND_MM, rect.y0 + ROUND_MM, rect.x1 - ROUND_MM, rect.y1 - CAPTION_MM - ROUND_MM);
            let caption = match shown {
                Shown::Picture(picture) => {
                    draw(&mut drawing, &self.layout, &picture.drawn, within);
                    picture.caption.clone()
                }
                Shown::LeftOut(count) => {
                    left_out(&mut drawing, within);
                    format!("{count} folds the same way")
                }
            };
            let foot = Point::new(rect.center().x, rect.y1 - ROUND_MM);
            let words = Text::new(caption, foot, WORDS_MM);
            let share = ((cell.width - 2.0) / words.width_mm()).min(1.0);
            drawing.text(Text { cap_height_mm: WORDS_MM * share, ..words }.anchored(Anchor::Middle));
        }
        drawing.bounds = Rect::from_origin_size(Point::ORIGIN, room);
        drawing
    }
}

/// How many stand beside each other and below each other so that each is as large as can be.
fn grid(count: usize, room: Size) -> (usize, usize) {
    let most = ((room.width / LEAST_WIDTH_MM).floor().max(1.0)).min(count as f64);
    let side = |columns: usize| {
        let rows = count.div_ceil(columns);
        (room.width / columns as f64).min(room.height / rows as f64 - CAPTION_MM)
    };
    let columns = (1..=count.max(1))
        .take_while(|&columns| columns as f64 <= most)
        .max_by(|&a, &b| side(a).total_cmp(&side(b)))
        .unwrap_or(1);
    (columns, count.div_ceil(columns).max(1))
}

fn pictures(layout: &Layout, figures: &Figures, lengths: LengthStyle) -> Option<Vec<Picture>> {
    let format = |mm| lengths.format(mm);
    if let Some(puck) = &figures.spiral {
        let of = |drawn, caption| Picture { drawn, caption };
        let across = format(puck.puck_diameter_mm);
        let turns = (100.0 * puck.turns).round() / 100.0;
        let bands = if puck.bands == 1 { "1. band".to_owned() } else { format!("4. {} bands, evenly", puck.bands) };
        return Some(vec![
            of(Drawn::Pinch, format!("1. pinch, {} round it", format(puck.pinch_radius_mm))),
            of(Drawn::Twisted, format!("2. {turns} turns {}", puck.twist)),
            of(Drawn::Puck, format!("3. puck {across}, {} high", format(puck.puck_height_mm))),
            of(Drawn::Banded, bands),
        ]);
    }
    // Beyond the last cloth there is nothing to fold, and no number on the template.
    let has_cloth = |step: &FoldStep| step.number.is_none() || step.crease.is_some();
    let steps: Vec<FoldStep> = layout.flat()?.steps().into_iter().filter(has_cloth).collect();
    // Cloth is no more exact than that.
    let whole = |mm: f64| if lengths.is_metric() { mm.round() } else { mm };
    let sides = |size: Size| format!("{} x {}", lengths.number(whole(size.width)), format(whole(size.height)));
    let size = |step: &FoldStep| step.size_mm.map_or_else(String::new, sides);
    let after: Vec<String> = steps.iter().skip(1).map(size).collect();
    let caption = |step: &FoldStep, after: Option<&String>| match (step.number, after) {
        (Some(number), Some(after)) if !after.is_empty() => format!("fold {number}: {after}"),
        (Some(number), _) => format!("fold {number}"),
        (None, _) => format!("folded: {}", size(step)),
    };
    let all = steps.iter().enumerate().map(|(index, step)| {
        let turn = if step.is_turned_over { "turn over, " } else { "" };
        let caption = format!("{turn}{}", caption(step, after.get(index)));
        Picture { drawn: Drawn::Step(Box::new(step.clone())), caption }
    });
    Some(all.collect())
}

/// What stands at a place among the pictures.
enum Shown<'a> {
    Picture(&'a Picture),
    /// So many folds that are not drawn.
    LeftOut(usize),
}

/// How many pictures a room has space for.
fn most_in(room: Size) -> usize {
    let many = |have: f64, need: f64| (have / need).floor().max(1.0);
    let most = many(room.width, LEAST_WIDTH_MM) * many(room.height, LEAST_HEIGHT_MM);
    // The first, those left out, the last.
    (3..=MOST).rev().find(|&count| count as f64 <= most).unwrap_or(3)
}

/// Pictures without the middle of what is more than `most`, of which there are at least three.
fn thinned(all: &[Picture], most: usize) -> Vec<Shown<'_>> {
    if all.len() <= most {
        return all.iter().map(Shown::Picture).collect();
    }
    let last = LAST.min((most - 1) / 2);
    let (first, rest) = all.split_at(most - 1 - last);
    let (between, last) = rest.split_at(rest.len() - last);
    let between = [Shown::LeftOut(between.len())];
    first.iter().map(Shown::Picture).chain(between).chain(last.iter().map(Shown::Picture)).collect()
}

/// Three dots in place of pictures.
fn left_out(drawing: &mut Drawing, room: Rect) {
    for share in [0.35, 0.5, 0.65] {
        drawing.circle(Layer::Outline, Point::new(room.x0 + share * room.width(), room.center().y), 0.6);
    }
}

fn draw(drawing: &mut Drawing, layout: &Layout, drawn: &Drawn, room: Rect) {
    match drawn {
        Drawn::Step(step) => {
            let fits = fitting(step.bounds, room);
            for &line in &step.edges {
                let line = fits * line;
                drawing.line(Layer::Scale, line.p0, line.p1);
            }
            if let Some(crease) = step.crease.map(|crease| fits * crease) {
                drawing.line(Layer::Reference, crease.p0, crease.p1);
                arrow_over(drawing, crease, step.toward, room);
            }
        }
        Drawn::Pinch | Drawn::Twisted => {
            let Some(spiral) = layout.spiral() else { return };
            laid(drawing, layout.lay(), spiral, room, matches!(drawn, Drawn::Twisted));
        }
        Drawn::Puck | Drawn::Banded => {
            let Some(spiral) = layout.spiral() else { return };
            let radius_mm = 0.42 * room.width().min(room.height());
            puck(drawing, layout, spiral, room.center(), radius_mm, matches!(drawn, Drawn::Banded));
        }
    }
}

/// From a box to a room, as large as it goes and in its middle.
fn fitting(bounds: Rect, room: Rect) -> Affine {
    let scale = (room.width() / bounds.width().max(1.0)).min(room.height() / bounds.height().max(1.0));
    Affine::translate(room.center().to_vec2()) * Affine::scale(scale) * Affine::translate(-bounds.center().to_vec2())
}

/// An arrow over the middle of a crease, moved along itself where it would leave the picture's room.
fn arrow_over(drawing: &mut Drawing, crease: Line, toward: Vec2, room: Rect) {
    let middle = crease.p0.midpoint(crease.p1);
    let half = 0.5 * ARROW_SHARE * room.width().min(room.height()) * toward;
    let reach = Rect::from_points(middle - half, middle + half);
    // At most one end lies beyond the room: the crease's middle is in it.
    let aside = Vec2::new(
        (room.x0 - reach.x0).max(0.0) - (reach.x1 - room.x1).max(0.0),
        (room.y0 - reach.y0).max(0.0) - (reach.y1 - room.y1).max(0.0),
    );
    let back_mm = if half.dot(aside) == 0.0 { 0.0 } else { aside.hypot2() / toward.dot(aside) };
    let (from, tip) = (middle - half + back_mm * toward, middle + half + back_mm * toward);
    drawing.line(Layer::Arrow, from, tip);
    barbs(drawing, tip, toward);
}

fn barbs(drawing: &mut Drawing, tip: Point, toward: Vec2) {
    for turn in [BARB_RAD, -BARB_RAD] {
        drawing.line(Layer::Arrow, tip, tip - BARB_MM * Vec2::from_angle(toward.atan2() + turn));
    }
}

/// The laid garment with its pinch and tick, and which way it is turned.
fn laid(drawing: &mut Drawing, lay: &Lay, spiral: &Spiral, room: Rect, turns: bool) {
    let boxes = lay.outlines(&Panel::BOTH).map(|outline| outline.bounds());
    let fits = fitting(boxes.reduce(|a, b| a.union(b)).unwrap_or_default(), room);
    for outline in lay.outlines(&Panel::BOTH) {
        drawing.path(Layer::Scale, fits * outline.path().clone());
    }
    let tick = fits * spiral.tick();
    let middle = fits * spiral.centre_as_laid();
    drawing.circle(Layer::Guide, middle, tick.p0.distance(middle));
    drawing.line(Layer::Guide, tick.p0, tick.p1);
    if turns {
        let radius_mm = 2.6 * tick.p0.distance(middle);
        let sense = if spiral.spec().twist == Twist::Clockwise { 1.0 } else { -1.0 };
        let sweep = sense * 0.75 * TAU;
        drawing.arc(Layer::Arrow, middle, radius_mm, -FRAC_PI_2, sweep);
        let end = sweep - FRAC_PI_2;
        barbs(drawing, middle + radius_mm * Vec2::from_angle(end), sense * Vec2::from_angle(end + FRAC_PI_2));
    }
}

/// The puck from above, its tick up.
fn puck(drawing: &mut Drawing, layout: &Layout, spiral: &Spiral, middle: Point, radius_mm: f64, banded: bool) {
    drawing.circle(Layer::Scale, middle, radius_mm);
    drawing.line(Layer::Guide, middle - Vec2::new(0.0, radius_mm), middle - Vec2::new(0.0, radius_mm + 2.0));
    // Pleats wind by half a turn at most here: more would be no picture of them.
    let winds = -spiral.spec().turns.min(0.5) * if spiral.spec().twist == Twist::Clockwise { 1.0 } else { -1.0 };
    let out = |turns: f64, share: f64| middle + share * radius_mm * Vec2::from_angle(TAU * turns - FRAC_PI_2);
    for arm in 0..12_u8 {
        let from = f64::from(arm) / 12.0;
        let at = |step: u8| out(from + winds * f64::from(step) / 8.0, f64::from(step) / 8.0);
        for step in 1..8 {
            drawing.line(Layer::Map, at(step), at(step + 1));
        }
    }
    for bind in layout.binds().binds.iter().filter(|_| banded) {
        drawing.line(Layer::Guide, middle, out(bind.radius_mm / spiral.rim_mm(), 1.04));
    }
}
