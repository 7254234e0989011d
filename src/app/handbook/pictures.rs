//! The handbook's pictures, each drawn on a thread of its own when it first comes into sight: some are solved for.

use crate::app::sheets::{PageLines, page_lines};
use crate::handbook::Figure;
use std::collections::HashMap;
use std::sync::mpsc::{Receiver, TryRecvError, channel};

/// A picture that is drawn, or being drawn.
#[derive(Debug)]
enum Slot {
    Waiting(Receiver<Option<PageLines>>),
    /// None where it can't be drawn.
    Drawn(Option<Box<PageLines>>),
}

/// The pictures that were looked at.
#[derive(Debug, Default)]
pub(super) struct Pictures {
    slots: HashMap<Figure, Slot>,
}

impl Pictures {
    /// A picture; none while it is being drawn, `Some(None)` where it can't be.
    pub(super) fn get(&mut self, figure: Figure, ctx: &egui::Context) -> Option<Option<&PageLines>> {
        let slot = self.slots.entry(figure).or_insert_with(|| begun(figure, ctx));
        if let Slot::Waiting(receiver) = slot {
            match receiver.try_recv() {
                Ok(drawn) => *slot = Slot::Drawn(drawn.map(Box::new)),
                Err(TryRecvError::Disconnected) => *slot = Slot::Drawn(None),
                Err(TryRecvError::Empty) => {}
            }
        }
        match slot {
            Slot::Waiting(_) => None,
            Slot::Drawn(lines) => Some(lines.as_deref()),
        }
    }
}

fn begun(figure: Figure, ctx: &egui::Context) -> Slot {
    let (sender, receiver) = channel();
    let ctx = ctx.clone();
    let spawned = std::thread::Builder::new().name(format!("figure {}", figure.name())).spawn(move || {
        let _gone = sender.send(figure.draw().map(|page| page_lines(&page)));
        ctx.request_repaint();
    });
    if spawned.is_ok() { Slot::Waiting(receiver) } else { Slot::Drawn(None) }
}
