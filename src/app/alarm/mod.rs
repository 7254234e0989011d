//! The alarm: the run calls the maker by sound, notification and a banner when a wait ends or its limit runs out.
//!
//! What calls follows from the run alone ([`Run::alarms`](crate::plan::Run::alarms)). A thread of its own keeps the time, so that a
//! hidden window calls too. That nothing can be shown or heard is never an error to the maker: the banner stays.

mod banner;
mod bell;
mod chime;
mod system;

pub use self::bell::Ring;
pub use self::system::SystemRing;

pub(super) use self::banner::banner;

use self::bell::{Bell, Call};
use crate::plan::Alarm;
use egui::{Context, UserAttentionType, ViewportCommand};

/// The alarms of the run as the window keeps them.
#[derive(Debug, Default)]
pub(super) struct Alarms {
    bell: Option<Bell>,
    /// Alarms that the window has asked for attention for.
    attended: Vec<Call>,
}

impl Alarms {
    /// Alarms that are rung by this.
    pub(super) fn rung_by(ring: impl Ring + 'static, ctx: &Context) -> Self {
        Self { bell: Bell::begin(Box::new(ring), ctx), attended: Vec::new() }
    }

    /// Keeps up with the run: all alarms of its waits go to the bell; for those that stand the window asks for attention, once each.
    pub(super) fn keep_up(&mut self, all: &[Alarm], standing: &[Alarm], ctx: &Context) {
        let Some(bell) = &mut self.bell else { return };
        bell.set(all);
        let standing: Vec<Call> = standing.iter().map(Call::of).collect();
        if standing.iter().any(|call| !self.attended.contains(call)) {
            ctx.send_viewport_cmd(ViewportCommand::RequestUserAttention(UserAttentionType::Critical));
        }
        self.attended = standing;
    }
}
