//! Where the things are that the tour points at: they tell it themselves when they are drawn.

use crate::app::step::Step;
use egui::{Context, Id, Rect};

/// Something that the tour points at.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(crate) enum Spot {
    /// The garments to start with.
    Garments,
    /// A step's name in the bar.
    Tab(Step),
    /// What a step lets the maker say.
    Options,
    /// The button to print with.
    Print,
}

impl Spot {
    fn id(self) -> Id {
        Id::unique(("the tour's spot", self))
    }

    /// Tells that it was drawn there, in this frame.
    pub(crate) fn is_at(self, rect: Rect, ctx: &Context) {
        let frame = ctx.cumulative_frame_nr();
        ctx.data_mut(|data| data.insert_temp(self.id(), (rect, frame)));
    }
}

/// Where it was drawn in this frame; nowhere if it was not.
pub(crate) fn seen(spot: Spot, ctx: &Context) -> Option<Rect> {
    let now = ctx.cumulative_frame_nr();
    let (rect, frame) = ctx.data(|data| data.get_temp::<(Rect, u64)>(spot.id()))?;
    (frame == now && rect.is_positive()).then_some(rect)
}
