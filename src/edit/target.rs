//! What lies under the pointer on the garment's plane, and what dragging it there would do.

use super::naming::{bind_name, bind_number};
use super::{EditCommand, HandleSide, LinePoints};
use crate::geometry::{
    BindId, CreaseGrip, CreaseMove, CreaseRules, DrawnLine, FlatFoldSpec, FlatPattern, Neighbours, ON_THE_FOLD_MM, Spiral,
    WedgesFirst, middle_mm,
};
use crate::layout::{Figures, Layout};
use kurbo::{Line, Point};

/// Something on the garment that can be taken hold of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Target {
    /// The burst centre.
    Centre,
    /// The guide arc, and the bind on it.
    GuideArc,
    /// Another bind.
    Bind(BindId),
    /// A extra arc, by its place in the list.
    Reference(usize),
    /// A point of a line of the maker's own, by its place among all.
    Point(usize),
    /// A handle of such a point.
    Handle(usize, HandleSide),
    /// A crease of a flat bundle, by its number in the order of folding, and whether by an end, to turn it.
    Crease(u32, bool),
}

/// How a drag behaves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DragRules {
    /// How near something attracts, mm; 0 lets the centre go anywhere.
    pub snap_mm: f64,
    /// Radii are put on multiples of this, mm; 0 for none.
    pub step_mm: f64,
    /// What the binds beside a dragged one do.
    pub neighbours: Neighbours,
    /// From where a ring was taken hold of to the ring, mm: what is held keeps its place under the hand.
    pub held_off_mm: f64,
}

impl DragRules {
    /// The same for a crease.
    #[must_use]
    pub fn of_creases(self) -> CreaseRules {
        CreaseRules { step_mm: if self.snap_mm > 0.0 { self.step_mm } else { 0.0 }, attracts: self.snap_mm > 0.0 }
    }
}

/// How near a point of a crease lies to it, mm: rounding.
const ON_CREASE_MM: f64 = 0.1;
/// Where along a crease keys take hold of its end, as a share.
const NEAR_END: f64 = 0.92;

impl Target {
    /// A bind as what is taken hold of.
    #[must_use]
    pub fn of_bind(id: BindId) -> Self {
        if id == BindId::GUIDE { Self::GuideArc } else { Self::Bind(id) }
    }

    /// What is nearest to a point of the laid garment's plane (mm), within `reach_mm` of it; the centre before all else. Rings are taken
    /// hold of on the cloth, not on the bare table beside it.
    #[must_use]
    pub fn at(layout: &Layout, point: Point, reach_mm: f64) -> Option<Self> {
        if layout.middle_as_laid().is_some_and(|middle| point.distance(middle) <= reach_mm) {
            return Some(Self::Centre);
        }
        if !layout.lay().is_cloth(point) {
            return None;
        }
        let along_mm = layout.fold().along_as_laid_mm(point);
        let binds = layout.binds().binds.iter().map(|bind| (Self::of_bind(bind.id), bind.radius_mm));
        let arcs = layout.references_mm().into_iter().enumerate().map(|(index, radius_mm)| (Self::Reference(index), radius_mm));
        // A line lies where it is drawn; what lies on it is moved with all of it.
        let is_drawn = layout.line().is_some_and(|line| !line.kind().has_no_inside());
        let binds = binds.filter(|(target, _)| !(is_drawn && *target == Self::GuideArc));
        let spiral = layout.spiral();
        // Along the rim of a puck as much as it is on the cloth, and over its zero.
        let per_mm = spiral.map_or(1.0, |spiral| spiral.rim_per_mm(point));
        let away = |radius_mm: f64| {
            let away_mm = (radius_mm - along_mm).abs();
            spiral.map_or(away_mm, |spiral| away_mm.min(spiral.rim_mm() - away_mm)) / per_mm
        };
        let near = binds.chain(arcs).map(|(target, radius_mm)| (target, away(radius_mm))).filter(|&(_, away)| away <= reach_mm);
        let ring = near.min_by(|a, b| a.1.total_cmp(&b.1));
        // Where a bind lies on a crease the bind is meant, which has its tag on top.
        let crease = layout.flat().and_then(|flat| flat.crease_near(point, reach_mm));
        let crease = crease.map(|near| (Self::Crease(near.number, near.is_end), near.away_mm));
        ring.into_iter().chain(crease).min_by(|a, b| a.1.total_cmp(&b.1)).map(|(target, _)| target)
    }

    /// Takes hold of a crease at a point of the laid cloth (mm), the nearest one within `reach_mm`; with all others where they `slide`. None
    /// for all else.
    #[must_use]
    pub fn grip(self, layout: &Layout, at: Point, reach_mm: f64, slides: bool) -> Option<CreaseGrip> {
        let Self::Crease(_, is_end) = self else { return None };
        let by = match (slides, is_end) {
            (true, _) => CreaseMove::Slide,
            (false, true) => CreaseMove::Turn,
            (false, false) => CreaseMove::Size,
        };
        layout.flat()?.grip(at, reach_mm, by)
    }

    /// Where a crease is taken hold of by keys, on the laid cloth, mm: in the middle of the longest piece of it, or near that one's end.
    #[must_use]
    pub fn crease_at(self, layout: &Layout) -> Option<Point> {
        Self::creases(layout).into_iter().find(|(target, _)| *target == self).map(|(_, at)| at)
    }

    /// The creases of a flat bundle, each by its middle and by an end, and where keys take hold of it, on the laid cloth, mm.
    #[must_use]
    pub fn creases(layout: &Layout) -> Vec<(Self, Point)> {
        let Some(flat) = layout.flat() else { return Vec::new() };
        let length_mm = |line: &Line| (line.p1 - line.p0).hypot();
        let all = layout.marked_creases();
        let longest = |number: u32| {
            let own = all.iter().filter(|crease| crease.number == number).map(|crease| crease.line);
            own.max_by(|a, b| length_mm(a).total_cmp(&length_mm(b)))
        };
        let of = |number: u32| {
            let line = longest(number)?;
            let middle = line.p0.midpoint(line.p1);
            let whole = flat.crease_near(middle, ON_CREASE_MM)?.line;
            let end = whole.p0.lerp(whole.p1, NEAR_END);
            Some([(Self::Crease(number, false), middle), (Self::Crease(number, true), end)])
        };
        (1..=flat.folds()).filter_map(of).flatten().collect()
    }

    /// The point of the maker's own line that is nearest to a point of the laid garment's plane (mm), within `reach_mm` of it; of the
    /// selected one its handles too.
    #[must_use]
    pub fn point_at(layout: &Layout, at: Point, reach_mm: f64, selected: Option<Self>) -> Option<Self> {
        let points = layout.line_points()?;
        let of_points = points.iter().enumerate().map(|(index, point)| (Self::Point(index), point.at));
        let handles = selected.and_then(Self::point).into_iter().flat_map(|index| {
            let handle = |side| {
                let point = points.get(index)?;
                Some((Self::Handle(index, side), point.at + point.handle(side)?))
            };
            [HandleSide::Before, HandleSide::After].into_iter().filter_map(handle).collect::<Vec<_>>()
        });
        let away = |place: &(Self, Point)| place.1.distance(at);
        let near = handles.chain(of_points).filter(|place| away(place) <= reach_mm);
        near.min_by(|a, b| away(a).total_cmp(&away(b))).map(|(target, _)| target)
    }

    /// The point that it is, or whose handle it is.
    #[must_use]
    pub const fn point(self) -> Option<usize> {
        match self {
            Self::Point(index) | Self::Handle(index, _) => Some(index),
            _ => None,
        }
    }

    /// Where it lies on the laid garment, mm, if it is a place and no line.
    #[must_use]
    pub fn place(self, layout: &Layout) -> Option<Point> {
        match self {
            Self::Centre => layout.middle_as_laid(),
            Self::Point(index) => Some(layout.line_points()?.get(index)?.at),
            Self::Handle(index, side) => {
                let points = layout.line_points()?;
                let point = points.get(index)?;
                Some(point.at + point.handle(side)?)
            }
            Self::GuideArc | Self::Bind(_) | Self::Reference(_) | Self::Crease(..) => None,
        }
    }

    /// Its radius, mm; 0 for what is a place. `None` when it is not there any more.
    #[must_use]
    pub fn radius_mm(self, layout: &Layout) -> Option<f64> {
        match self {
            Self::Centre => Some(0.0),
            Self::Point(_) | Self::Handle(..) => self.place(layout).map(|_| 0.0),
            Self::GuideArc => layout.binds().binds.iter().find(|bind| bind.is_guide()).map(|bind| bind.radius_mm),
            Self::Bind(id) => layout.binds().binds.iter().find(|bind| bind.id == id).map(|bind| bind.radius_mm),
            Self::Reference(index) => layout.references_mm().get(index).copied(),
            Self::Crease(number, _) => layout.flat().filter(|flat| (1..=flat.folds()).contains(&number)).map(|_| 0.0),
        }
    }

    /// The bind that it is.
    fn bind(self) -> Option<BindId> {
        match self {
            Self::Centre | Self::Reference(_) | Self::Point(_) | Self::Handle(..) | Self::Crease(..) => None,
            Self::GuideArc => Some(BindId::GUIDE),
            Self::Bind(id) => Some(id),
        }
    }

    /// Its number among the binds, counted from the centre.
    #[must_use]
    pub fn bind_number(self, layout: &Layout) -> Option<usize> {
        bind_number(self.bind()?, layout)
    }

    /// A few words for it, with its number if it is a bind.
    #[must_use]
    pub fn name(self, layout: &Layout) -> String {
        match self {
            Self::Centre => layout.words().middle.to_owned(),
            Self::Reference(_) => layout.words().further.to_owned(),
            Self::Point(index) => format!("point {} of the line", index + 1),
            Self::Handle(index, _) => format!("handle of point {}", index + 1),
            Self::GuideArc => bind_name(BindId::GUIDE, layout),
            Self::Bind(id) => bind_name(id, layout),
            Self::Crease(number, false) => format!("fold {number}"),
            Self::Crease(number, true) => format!("end of fold {number}"),
        }
    }

    /// What a hand does that drags it, for "Undo ...".
    #[must_use]
    pub fn gesture(self, layout: &Layout) -> String {
        match self {
            Self::Crease(_, true) => "turn the creases".to_owned(),
            _ => format!("move {}", self.name(layout)),
        }
    }

    /// The change that puts it where the pointer is, in the laid garment's plane (mm); none for a point of a line that has none, and for a
    /// crease, which is taken hold of by its [`grip`](Self::grip).
    #[must_use]
    pub fn dragged_to(self, layout: &Layout, to: Point, rules: DragRules) -> Option<EditCommand> {
        // Steps count from where the maker's rule has its zero.
        let zero_mm = layout.zero_mm();
        let from_zero_mm = layout.fold().along_as_laid_mm(to) + rules.held_off_mm - zero_mm;
        let radius_mm = (zero_mm + on_step(from_zero_mm, rules.step_mm)).max(1.0);
        Some(match self {
            Self::Centre => EditCommand::MoveCentre(on_its_fold(layout, snapped(layout, to, rules))),
            Self::GuideArc => EditCommand::SetGuideRadius(radius_mm),
            Self::Bind(id) => EditCommand::PutBind(id, radius_mm, rules.neighbours),
            Self::Reference(index) => with_arc(layout, index, radius_mm),
            Self::Point(_) | Self::Handle(..) => self.put(layout, snapped(layout, to, rules))?,
            Self::Crease(..) => return None,
        })
    }

    /// The change that puts a point of the line, or a handle, somewhere; none for all else.
    #[must_use]
    pub fn put(self, layout: &Layout, to: Point) -> Option<EditCommand> {
        match self {
            Self::Point(index) => with_points(layout, |points| points.put(index, on_this_side(layout, points, index, to))),
            Self::Handle(index, side) => with_points(layout, |points| points.put_handle(index, side, to)),
            Self::Centre | Self::GuideArc | Self::Bind(_) | Self::Reference(_) | Self::Crease(..) => None,
        }
    }

    /// The change that moves it by a little: the centre and a crease by a vector, a ring outward by its `x` and inward by its `-x`, mm.
    #[must_use]
    pub fn nudged(self, layout: &Layout, by: kurbo::Vec2, neighbours: Neighbours) -> Option<EditCommand> {
        let radius_mm = self.radius_mm(layout)? + by.x - by.y;
        Some(match self {
            Self::Centre => EditCommand::MoveCentre(on_its_fold(layout, layout.middle()? + by)),
            Self::GuideArc => EditCommand::SetGuideRadius(radius_mm),
            Self::Bind(id) => EditCommand::PutBind(id, radius_mm, neighbours),
            Self::Reference(index) => with_arc(layout, index, radius_mm),
            Self::Point(_) | Self::Handle(..) => self.put(layout, self.place(layout)? + by)?,
            Self::Crease(..) => {
                let at = self.crease_at(layout)?;
                let free = CreaseRules { step_mm: 0.0, attracts: false };
                folded(layout, self.grip(layout, at, ON_CREASE_MM, false)?.moved(at + by, free))?
            }
        })
    }

    /// The change that takes it away, for a bind and an extra arc that are there.
    #[must_use]
    pub fn removal(self, layout: &Layout) -> Option<EditCommand> {
        match self {
            Self::Centre | Self::GuideArc | Self::Crease(..) => None,
            // A puck's bands are told in its fold.
            Self::Bind(_) if layout.spiral().is_some() => None,
            Self::Bind(id) => Some(EditCommand::RemoveBind(id)),
            Self::Reference(index) => without_arc(layout, index),
            Self::Point(index) => with_points(layout, |points| points.remove(index)),
            Self::Handle(..) => None,
        }
    }
}

/// A point on a folded garment: what ends on the fold line stays on it, nothing goes beyond.
fn on_this_side(layout: &Layout, points: &LinePoints, index: usize, to: Point) -> Point {
    if !layout.lay().is_folded() {
        return to;
    }
    let stays = points.is_end(index) && points.get(index).is_some_and(|point| point.at.x.abs() < ON_THE_FOLD_MM);
    Point::new(if stays { 0.0 } else { to.x.max(0.0) }, to.y)
}

/// The change of a line of the maker's own by its points; none for another fold.
#[must_use]
pub fn with_points(layout: &Layout, change: impl FnOnce(&mut LinePoints)) -> Option<EditCommand> {
    let (spec, mut points) = (layout.raw().fold.line()?, layout.line_points()?);
    change(&mut points);
    Some(EditCommand::SetLine(DrawnLine::Path { kind: spec.line.kind(), path: points.path() }))
}

/// The change of the creases of a flat bundle; none where nothing changes.
#[must_use]
pub fn folded(layout: &Layout, spec: FlatFoldSpec) -> Option<EditCommand> {
    (layout.raw().fold.flat() != Some(&spec)).then(|| EditCommand::SetFlat(Box::new(spec)))
}

/// A centre that can't leave the garment's own fold stays on it: that of wedges which are laid from there.
fn on_its_fold(layout: &Layout, at: Point) -> Point {
    let pattern = layout.raw().fold.flat().map(|flat| &flat.pattern);
    let is_on_fold = matches!(pattern, Some(FlatPattern::Wedges { first: WedgesFirst::OnTheFold, .. }));
    if is_on_fold { Point::new(0.0, at.y) } else { at }
}

fn without_arc(layout: &Layout, index: usize) -> Option<EditCommand> {
    let mut arcs = layout.references_mm();
    (index < arcs.len()).then(|| arcs.remove(index))?;
    Some(EditCommand::SetReferences(arcs))
}

fn with_arc(layout: &Layout, index: usize, radius_mm: f64) -> EditCommand {
    let mut arcs = layout.references_mm();
    if let Some(arc) = arcs.get_mut(index) {
        *arc = radius_mm;
    }
    EditCommand::SetReferences(arcs)
}

/// The centre line and the middle of the garment attract its burst centre.
fn snapped(layout: &Layout, to: Point, rules: DragRules) -> Point {
    let middle_mm = middle_mm(layout.panels());
    let x = if to.x.abs() <= rules.snap_mm { 0.0 } else { on_step(to.x, rules.step_mm) };
    let y = if (to.y - middle_mm).abs() <= rules.snap_mm { middle_mm } else { on_step(to.y, rules.step_mm) };
    Point::new(x, y)
}

fn on_step(value: f64, step: f64) -> f64 {
    if step > 0.0 { (value / step).round() * step } else { value }
}

/// What a pointer on the garment reads: a sentence about the place, for the foot of the window.
#[must_use]
pub fn section_at(layout: &Layout, figures: &Figures, point: Point) -> Option<u32> {
    let radius_mm = layout.fold().along_as_laid_mm(point);
    let on_cloth = layout.panels().iter().any(|(_, panel)| panel.contains(point));
    // A puck's first wedge may begin before its zero.
    let rim_mm = layout.spiral().map(Spiral::rim_mm);
    let within = |section: &&crate::layout::SectionFigures| {
        let holds = |along_mm: f64| section.inner_mm <= along_mm && along_mm < section.outer_mm;
        holds(radius_mm) || rim_mm.is_some_and(|rim_mm| holds(radius_mm - rim_mm))
    };
    on_cloth.then(|| figures.sections.iter().find(within).map(|section| section.number)).flatten()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::Document;
    use crate::store::{EXAMPLE_LAYOUTS, parse_layout};

    const FREE: DragRules = DragRules { snap_mm: 0.0, step_mm: 0.0, neighbours: Neighbours::Stay, held_off_mm: 0.0 };

    fn document() -> Document {
        Document::new(parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap())
    }

    #[test]
    fn rings_are_found_by_their_radius_and_the_centre_first() {
        let document = document();
        let layout = document.layout();
        let centre = layout.burst().unwrap().centre();
        let at = |radius: f64| Target::at(layout, centre + radius * kurbo::Vec2::from_angle(0.4), 3.0);
        assert_eq!(at(2.0), Some(Target::Centre));
        assert_eq!(at(231.0), Some(Target::GuideArc));
        assert_eq!(at(99.5), Some(Target::Reference(0)));
        assert_eq!(at(195.0).and_then(|target| target.bind_number(layout)), Some(11));
        assert_eq!(at(212.0), None);
    }

    /// A ring ends where the cloth does: beside the hem, the sleeve and the fold lies bare table.
    #[test]
    fn the_table_beside_the_cloth_holds_nothing() {
        let document = document();
        let layout = document.layout();
        let (mut on_cloth, mut on_table) = (0, 0);
        let centre = layout.middle_as_laid().unwrap();
        for bind in &layout.binds().binds {
            for degrees in 0..360 {
                let at = centre + bind.radius_mm * kurbo::Vec2::from_angle(f64::from(degrees).to_radians());
                let is_cloth = at.x >= 0.0 && layout.panels().iter().any(|(_, panel)| panel.contains(at));
                let found = Target::at(layout, at, 3.0);
                assert_eq!(found.is_some(), is_cloth, "{at:?}");
                if is_cloth { on_cloth += 1 } else { on_table += 1 }
            }
        }
        assert!(on_cloth > 1000 && on_table > 1000, "{on_cloth} {on_table}");
    }

    #[test]
    fn a_ring_that_is_taken_beside_its_line_does_not_jump() {
        let document = document();
        let layout = document.layout();
        let taken = layout.burst().unwrap().centre() + kurbo::Vec2::new(193.0, 0.0);
        let target = Target::at(layout, taken, 5.0).unwrap();
        let held_off_mm = target.radius_mm(layout).unwrap() - 193.0;
        assert_eq!(held_off_mm, 3.0);
        let Some(EditCommand::PutBind(_, at_mm, _)) = target.dragged_to(layout, taken, DragRules { held_off_mm, ..FREE }) else {
            panic!("a bind is put")
        };
        assert!((at_mm - 196.0).abs() < 1e-9, "{at_mm}");
    }

    #[test]
    fn a_dragged_bind_stays_where_it_was_put() {
        let mut document = document();
        let layout = document.layout().clone();
        let target = Target::at(&layout, layout.burst().unwrap().centre() + kurbo::Vec2::new(196.0, 0.0), 2.0).unwrap();
        let to = layout.burst().unwrap().centre() + kurbo::Vec2::new(0.0, 200.3);
        document.perform(&target.dragged_to(&layout, to, DragRules { step_mm: 1.0, ..FREE }).unwrap()).unwrap();
        assert_eq!(target.radius_mm(document.layout()), Some(200.0));
        assert_eq!(document.history().undo_label(), Some("move bind 11"));
    }

    #[test]
    fn the_centre_snaps_to_line_and_middle() {
        let document = document();
        let layout = document.layout();
        let rules = DragRules { snap_mm: 5.0, step_mm: 1.0, ..FREE };
        let to = Target::Centre.dragged_to(layout, Point::new(3.2, 369.0), rules);
        assert_eq!(to, Some(EditCommand::MoveCentre(Point::new(0.0, 367.5))));
        let free = Target::Centre.dragged_to(layout, Point::new(3.2, 369.0), FREE);
        assert_eq!(free, Some(EditCommand::MoveCentre(Point::new(3.2, 369.0))));
    }
}
