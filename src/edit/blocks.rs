//! Blocks on a bundle as a hand takes hold of them, and what dragging them does.

use super::EditCommand;
use crate::geometry::{BlockRules, BlocksSpec};
use crate::layout::Layout;
use kurbo::{Point, Shape as _, Vec2};

/// How far beyond the block its turning handle stands, as a share of half the block's larger side.
const HANDLE_OUT: f64 = 1.45;

/// What of the blocks is held.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum BlockHandle {
    /// The blocks themselves.
    Blocks,
    /// The handle that turns them.
    Turn,
}

/// Blocks that are held.
#[derive(Debug, Clone)]
pub struct BlocksGrip {
    handle: BlockHandle,
    pressed: Point,
    spec: BlocksSpec,
    middle: Point,
}

impl BlockHandle {
    /// Where it is in the bundle's frame, mm; none without blocks.
    #[must_use]
    pub fn place(self, layout: &Layout) -> Option<Point> {
        let (flat, spec) = (layout.flat()?, layout.raw().blocks.as_ref()?);
        let middle = flat.middle() + Vec2::new(spec.along_mm, spec.across_mm);
        match self {
            Self::Blocks => Some(middle),
            Self::Turn => {
                let [length_mm, width_mm] = spec.shape.sizes_mm();
                let out_mm = 0.5 * length_mm.max(width_mm) * HANDLE_OUT;
                Some(middle + out_mm * Vec2::from_angle(spec.turn_deg.to_radians()))
            }
        }
    }

    /// What lies at a point of the bundle's frame, mm: the turning handle within a reach, or the blocks.
    #[must_use]
    pub fn at(layout: &Layout, point: Point, reach_mm: f64) -> Option<Self> {
        if Self::Turn.place(layout).is_some_and(|at| at.distance(point) <= reach_mm) {
            return Some(Self::Turn);
        }
        (layout.blocks()?.path().winding(point) != 0).then_some(Self::Blocks)
    }

    /// A few words for it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Blocks => "blocks",
            Self::Turn => "turn of the blocks",
        }
    }

    /// What a hand does that drags it, for "Undo ...".
    #[must_use]
    pub const fn gesture(self) -> &'static str {
        match self {
            Self::Blocks => "move the blocks",
            Self::Turn => "turn the blocks",
        }
    }

    /// Takes hold of it at a point of the bundle's frame, mm.
    #[must_use]
    pub fn grip(self, layout: &Layout, pressed: Point) -> Option<BlocksGrip> {
        let spec = layout.raw().blocks.clone()?;
        Some(BlocksGrip { handle: self, pressed, spec, middle: Self::Blocks.place(layout)? })
    }

    /// The change that moves it by a little, mm: the blocks by a vector, the turn by the vector's length in steps of a degree to the one side
    /// or the other.
    #[must_use]
    pub fn nudged(self, layout: &Layout, by: Vec2, step_mm: f64) -> Option<EditCommand> {
        let (flat, spec) = (layout.flat()?, layout.raw().blocks.as_ref()?);
        let free = BlockRules { snap_mm: 0.0, step_mm: 0.0 };
        let moved = match self {
            Self::Blocks => flat.blocks_at(spec, Self::Blocks.place(layout)? + by, free),
            Self::Turn => flat.blocks_turned(spec, spec.turn_deg + (by.x + by.y) / step_mm, false),
        };
        put(layout, moved)
    }
}

impl BlocksGrip {
    /// The change that follows the hand to a point of the bundle's frame, mm.
    #[must_use]
    pub fn dragged_to(&self, layout: &Layout, to: Point, rules: BlockRules) -> Option<EditCommand> {
        let flat = layout.flat()?;
        let moved = match self.handle {
            BlockHandle::Blocks => flat.blocks_at(&self.spec, self.middle + (to - self.pressed), rules),
            BlockHandle::Turn => {
                let [before, after] = [self.pressed, to].map(|at| at - self.middle);
                let by_deg = before.cross(after).atan2(before.dot(after)).to_degrees();
                flat.blocks_turned(&self.spec, self.spec.turn_deg + by_deg, rules.snap_mm > 0.0)
            }
        };
        put(layout, moved)
    }
}

fn put(layout: &Layout, blocks: BlocksSpec) -> Option<EditCommand> {
    (layout.raw().blocks.as_ref() != Some(&blocks)).then_some(EditCommand::SetBlocks(Some(blocks)))
}
