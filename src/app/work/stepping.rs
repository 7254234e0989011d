//! A value that is stepped many times by keys or wheel is one step to undo.

use crate::edit::Document;
use egui::{Context, Id, Key};
use std::time::Duration;

/// How long the hand has to rest until the next step counts by itself, seconds.
const REST_S: f64 = 0.5;

/// What is being stepped.
#[derive(Debug, Default)]
pub(super) struct Stepping {
    /// The field.
    field: Option<Id>,
    /// When it was stepped last, by the window's clock, seconds.
    last_s: f64,
}

impl Stepping {
    /// Before a change, which a field was stepped for or not: steps of one field go on as one.
    pub(super) fn before(&mut self, document: &mut Document, field: Option<Id>, label: &str, ctx: &Context) {
        if self.field != field {
            self.end(document);
        }
        if field.is_some() {
            document.begin_gesture(label);
            self.last_s = ctx.input(|input| input.time);
        }
        self.field = field;
    }

    /// After a frame: the hand may have come to rest.
    pub(super) fn after(&mut self, document: &mut Document, ctx: &Context) {
        if self.field.is_none() {
            return;
        }
        let (now_s, held) = ctx.input(|input| (input.time, input.key_down(Key::ArrowUp) || input.key_down(Key::ArrowDown)));
        if !held && now_s - self.last_s >= REST_S {
            self.end(document);
        } else {
            ctx.request_repaint_after(Duration::from_secs_f64(REST_S));
        }
    }

    /// What comes now is no step of this.
    pub(super) fn end(&mut self, document: &mut Document) {
        if self.field.take().is_some() {
            document.end_gesture();
        }
    }
}
