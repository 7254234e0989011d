//! The thread that is wound round a flat bundle.

use crate::app::context::{Ask, Context};
use crate::app::field;
use crate::app::heading::heading;
use crate::edit::EditCommand;
use crate::geometry::WrapSpec;
use crate::telling::Voice;
use egui::{Label, RichText, Ui};

pub(super) fn wrap(ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let Some(figures) = &ctx.figures.flat else { return };
    heading(ui, "Wound thread");
    let now = ctx.layout.raw().wrap;
    let mut wound = now.is_some();
    let words = ui.checkbox(&mut wound, "Wind thread round the bundle");
    if words.on_hover_text("One thread from one place to another, turn after turn aslant: it leaves slanting stripes").changed() {
        let spec = wound.then(|| WrapSpec::begun(figures.bundle_length_mm));
        asks.push(Ask::Edit(EditCommand::SetWrap(spec)));
    }
    let (Some(now), Some(wrap)) = (now, figures.wrap) else { return };
    let mut spec = now;
    spec.from_mm = field::length(ctx, ui, "Wound from", now.from_mm).unwrap_or(now.from_mm);
    spec.to_mm = field::length(ctx, ui, "Wound to", now.to_mm).unwrap_or(now.to_mm);
    spec.gap_mm = field::length(ctx, ui, "Gap between turns", now.gap_mm).unwrap_or(now.gap_mm);
    ui.checkbox(&mut spec.crossed, "Crossed").on_hover_text("Wound back again with the opposite slant, crossing on both faces");
    if spec != now {
        asks.push(Ask::Edit(EditCommand::SetWrap(Some(spec))));
    }
    let ways = if wrap.crossed { " each way" } else { "" };
    let [turns, slant] = [wrap.turns, wrap.angle_deg].map(|value| Voice::FILE.number((10.0 * value).round() / 10.0));
    let thread = ctx.lengths.format_long(wrap.thread_mm);
    let words = format!("{turns} turns{ways}, {slant}° from straight across; {thread} of thread.");
    ui.add(Label::new(RichText::new(words).weak()).wrap());
}
