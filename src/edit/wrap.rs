//! The ends of a thread wound round a bundle as a hand takes hold of them, and what dragging them does.

use super::EditCommand;
use crate::geometry::{BlockRules, WrapSpec};
use crate::layout::Layout;
use kurbo::{Point, Vec2};

/// An end of a wound thread.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum WrapEnd {
    /// Where it begins.
    From,
    /// Where it ends.
    To,
}

/// An end that is held.
#[derive(Debug, Clone, Copy)]
pub struct WrapGrip {
    end: WrapEnd,
    /// From where it is pressed to the end itself, mm.
    beside_mm: f64,
}

/// Steps in a millimetre that a place is rounded to.
const PER_MM: f64 = 1e3;

impl WrapEnd {
    /// Both.
    pub const BOTH: [Self; 2] = [Self::From, Self::To];

    /// Where it is in the bundle's frame, mm; none without a wound thread.
    #[must_use]
    pub fn place(self, layout: &Layout) -> Option<Point> {
        let [from, to] = layout.wrap()?.ends()?;
        Some(match self {
            Self::From => from,
            Self::To => to,
        })
    }

    /// The end within a reach of a point of the bundle's frame, mm: the nearer one.
    #[must_use]
    pub fn at(layout: &Layout, point: Point, reach_mm: f64) -> Option<Self> {
        let away = |end: Self| end.place(layout).map(|at| (end, at.distance(point)));
        let near = Self::BOTH.into_iter().filter_map(away).filter(|(_, away_mm)| *away_mm <= reach_mm);
        near.min_by(|a, b| a.1.total_cmp(&b.1)).map(|(end, _)| end)
    }

    /// A few words for it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::From => "beginning of the wound thread",
            Self::To => "end of the wound thread",
        }
    }

    /// What a hand does that drags it, for "Undo ...".
    #[must_use]
    pub const fn gesture(self) -> &'static str {
        "wind the thread elsewhere"
    }

    /// Takes hold of it at a point of the bundle's frame, mm.
    #[must_use]
    pub fn grip(self, layout: &Layout, pressed: Point) -> Option<WrapGrip> {
        Some(WrapGrip { end: self, beside_mm: self.along_mm(layout)? - pressed.x })
    }

    /// The change that moves it by a little along the bundle, mm.
    #[must_use]
    pub fn nudged(self, layout: &Layout, by: Vec2) -> Option<EditCommand> {
        self.put(layout, self.along_mm(layout)? + by.x, BlockRules { snap_mm: 0.0, step_mm: 0.0 })
    }

    /// Where it is along the bundle, mm.
    fn along_mm(self, layout: &Layout) -> Option<f64> {
        let stretch = layout.wrap()?.stretch_mm();
        Some(match self {
            Self::From => stretch.start,
            Self::To => stretch.end,
        })
    }

    /// Puts it somewhere along the bundle: onto its ends, or on steps; a turn is left at the least.
    fn put(self, layout: &Layout, wanted_mm: f64, rules: BlockRules) -> Option<EditCommand> {
        let (spec, length_mm) = (layout.raw().wrap?, layout.flat()?.size().width);
        let ends = [0.0, length_mm].into_iter().find(|end_mm| (end_mm - wanted_mm).abs() <= rules.snap_mm);
        let on_step = if rules.step_mm > 0.0 { (wanted_mm / rules.step_mm).round() * rules.step_mm } else { wanted_mm };
        let at_mm = (ends.unwrap_or(on_step).clamp(0.0, length_mm) * PER_MM).round() / PER_MM;
        let moved = match self {
            Self::From => WrapSpec { from_mm: at_mm.min(spec.to_mm.min(length_mm) - spec.gap_mm).max(0.0), ..spec },
            Self::To => WrapSpec { to_mm: at_mm.max(spec.from_mm + spec.gap_mm), ..spec },
        };
        (moved != spec).then_some(EditCommand::SetWrap(Some(moved)))
    }
}

impl WrapGrip {
    /// The change that follows the hand to a point of the bundle's frame, mm.
    #[must_use]
    pub fn dragged_to(&self, layout: &Layout, to: Point, rules: BlockRules) -> Option<EditCommand> {
        self.end.put(layout, to.x + self.beside_mm, rules)
    }
}
