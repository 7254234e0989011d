//! What the rod is bound with.

use crate::app::context::{Ask, Context};
use crate::app::field::{self, choice};
use crate::app::heading::heading;
use crate::edit::EditCommand;
use crate::geometry::{Thread, ThreadKind};
use egui::{RichText, Ui};

pub(crate) fn thread(ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
    super::ties::which(ctx, asks, ui);
    let now = *ctx.layout.thread();
    let mut ask = |thread: Thread| asks.push(Ask::Edit(EditCommand::SetThread(thread)));
    heading(ui, "Thread");
    let kinds = [ThreadKind::Waxed, ThreadKind::PlainString, ThreadKind::RubberBand];
    if let Some(kind) = choice(ui, "Thread", now.kind, &kinds, |kind| kind.name().to_owned()) {
        ask(Thread { kind, ..now });
    }
    let bars = match now.kind {
        ThreadKind::Waxed => "Grips itself and blocks discharge: cloth under it keeps its colour.",
        ThreadKind::PlainString => "Holds, but lets discharge through: cloth under it loses most of its colour.",
        ThreadKind::RubberBand => "Holds by its own pull; discharge creeps under it.",
    };
    ui.label(RichText::new(bars).weak());
    if let Some(diameter_mm) = field::thickness(ctx, ui, "Thickness", now.diameter_mm) {
        ask(Thread { diameter_mm, ..now });
    }
    if let Some(wraps) = field::count(ui, "Wraps", now.wraps) {
        ask(Thread { wraps, ..now });
    }
    if let Some(thin_extra_wraps) = field::count(ui, "Extra where thin", now.thin_extra_wraps) {
        ask(Thread { thin_extra_wraps, ..now });
    }
    if let Some(thin_below) = field::number(ui, "Thin below", now.thin_below) {
        ask(Thread { thin_below, ..now });
    }
    if let Some(tail_mm) = field::length(ctx, ui, "Tail length", now.tail_mm) {
        ask(Thread { tail_mm, ..now });
    }
    ui.label(format!("Thread to cut, total: {}", ctx.lengths.format_long(ctx.figures.thread_mm)));
}
