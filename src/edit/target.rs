//! What lies under the pointer on the garment's plane, and what dragging it there would do.

use super::EditCommand;
use crate::geometry::{BindId, Neighbours, middle_mm};
use crate::layout::{Figures, Layout};
use kurbo::Point;

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
    FurtherArc(usize),
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

impl Target {
    /// What is nearest to a point of the laid garment's plane (mm), within `reach_mm` of it; the centre before all else. Rings are taken
    /// hold of on the cloth, not on the bare table beside it.
    #[must_use]
    pub fn at(layout: &Layout, point: Point, reach_mm: f64) -> Option<Self> {
        if layout.burst().is_some_and(|burst| point.distance(burst.centre_as_laid()) <= reach_mm) {
            return Some(Self::Centre);
        }
        if !layout.lay().is_cloth(point) {
            return None;
        }
        let along_mm = layout.fold().along_as_laid_mm(point);
        let binds = layout.binds().binds.iter().map(|bind| {
            let target = if bind.is_guide() { Self::GuideArc } else { Self::Bind(bind.id) };
            (target, bind.radius_mm)
        });
        let arcs = layout.references_mm().iter().enumerate().map(|(index, &radius_mm)| (Self::FurtherArc(index), radius_mm));
        let away = |radius_mm: f64| (radius_mm - along_mm).abs();
        let near = binds.chain(arcs).filter(|&(_, radius_mm)| away(radius_mm) <= reach_mm);
        near.min_by(|a, b| away(a.1).total_cmp(&away(b.1))).map(|(target, _)| target)
    }

    /// Its radius, mm; 0 for the centre. `None` when it is not there any more.
    #[must_use]
    pub fn radius_mm(self, layout: &Layout) -> Option<f64> {
        match self {
            Self::Centre => Some(0.0),
            Self::GuideArc => layout.binds().binds.iter().find(|bind| bind.is_guide()).map(|bind| bind.radius_mm),
            Self::Bind(id) => layout.binds().binds.iter().find(|bind| bind.id == id).map(|bind| bind.radius_mm),
            Self::FurtherArc(index) => layout.references_mm().get(index).copied(),
        }
    }

    /// Its number among the binds, counted from the centre.
    #[must_use]
    pub fn bind_number(self, layout: &Layout) -> Option<usize> {
        let binds = &layout.binds().binds;
        match self {
            Self::Centre | Self::FurtherArc(_) => None,
            Self::GuideArc => binds.iter().position(crate::geometry::Bind::is_guide).map(|index| index + 1),
            Self::Bind(id) => binds.iter().position(|bind| bind.id == id).map(|index| index + 1),
        }
    }

    /// A few words for it, with its number if it is a bind.
    #[must_use]
    pub fn name(self, layout: &Layout) -> String {
        match (self, self.bind_number(layout)) {
            (Self::Centre, _) => "burst centre".to_owned(),
            (Self::GuideArc, Some(number)) => format!("guide arc, bind {number}"),
            (Self::FurtherArc(_), _) => "extra arc".to_owned(),
            (_, Some(number)) => format!("bind {number}"),
            (_, None) => "bind".to_owned(),
        }
    }

    /// The change that puts it where the pointer is, in the laid garment's plane (mm).
    #[must_use]
    pub fn dragged_to(self, layout: &Layout, to: Point, rules: DragRules) -> EditCommand {
        let radius_mm = on_step(layout.fold().along_as_laid_mm(to) + rules.held_off_mm, rules.step_mm).max(1.0);
        match self {
            Self::Centre => EditCommand::MoveCentre(snapped(layout, to, rules)),
            Self::GuideArc => EditCommand::SetGuideRadius(radius_mm),
            Self::Bind(id) => EditCommand::PutBind(id, radius_mm, rules.neighbours),
            Self::FurtherArc(index) => with_arc(layout, index, radius_mm),
        }
    }

    /// The change that moves it by a little: the centre by a vector, a ring outward by its `x` and inward by its `-x`, mm.
    #[must_use]
    pub fn nudged(self, layout: &Layout, by: kurbo::Vec2, neighbours: Neighbours) -> Option<EditCommand> {
        let radius_mm = self.radius_mm(layout)? + by.x - by.y;
        Some(match self {
            Self::Centre => EditCommand::MoveCentre(layout.burst()?.centre() + by),
            Self::GuideArc => EditCommand::SetGuideRadius(radius_mm),
            Self::Bind(id) => EditCommand::PutBind(id, radius_mm, neighbours),
            Self::FurtherArc(index) => with_arc(layout, index, radius_mm),
        })
    }
}

fn with_arc(layout: &Layout, index: usize, radius_mm: f64) -> EditCommand {
    let mut arcs = layout.references_mm().to_vec();
    if let Some(arc) = arcs.get_mut(index) {
        *arc = radius_mm;
    }
    EditCommand::SetFurtherArcs(arcs)
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
    let within = |section: &&crate::layout::SectionFigures| section.inner_mm <= radius_mm && radius_mm < section.outer_mm;
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
        assert_eq!(at(99.5), Some(Target::FurtherArc(0)));
        assert_eq!(at(195.0).and_then(|target| target.bind_number(layout)), Some(11));
        assert_eq!(at(212.0), None);
    }

    /// A ring ends where the cloth does: beside the hem, the sleeve and the fold lies bare table.
    #[test]
    fn the_table_beside_the_cloth_holds_nothing() {
        let document = document();
        let layout = document.layout();
        let (mut on_cloth, mut on_table) = (0, 0);
        let centre = layout.burst().unwrap().centre_as_laid();
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
        let EditCommand::PutBind(_, at_mm, _) = target.dragged_to(layout, taken, DragRules { held_off_mm, ..FREE }) else {
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
        document.perform(&target.dragged_to(&layout, to, DragRules { step_mm: 1.0, ..FREE })).unwrap();
        assert_eq!(target.radius_mm(document.layout()), Some(200.0));
        assert_eq!(document.history().undo_label(), Some("move bind 1 inside the guide arc"));
    }

    #[test]
    fn the_centre_snaps_to_line_and_middle() {
        let document = document();
        let layout = document.layout();
        let rules = DragRules { snap_mm: 5.0, step_mm: 1.0, ..FREE };
        let to = Target::Centre.dragged_to(layout, Point::new(3.2, 369.0), rules);
        assert_eq!(to, EditCommand::MoveCentre(Point::new(0.0, 367.5)));
        let free = Target::Centre.dragged_to(layout, Point::new(3.2, 369.0), FREE);
        assert_eq!(free, EditCommand::MoveCentre(Point::new(3.2, 369.0)));
    }
}
