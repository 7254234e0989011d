//! Lines to chalk besides the binds.

use crate::app::context::{Ask, Context};
use crate::app::field;
use crate::edit::EditCommand;
use egui::Ui;

/// Further lines to chalk: each with its distance, an emptied one is gone.
pub(super) fn further(ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let words = ctx.layout.words();
    let what = crate::telling::capitalised(words.further);
    let lines = ctx.layout.references_mm();
    for (index, &along_mm) in lines.iter().enumerate() {
        let from_zero_mm = ctx.layout.from_zero_mm(along_mm);
        let changed = field::optional_length(ctx, ui, &format!("{what} {}", index + 1), Some(from_zero_mm));
        if let Some(value) = changed {
            let mut lines = lines.clone();
            match value {
                Some(from_zero_mm) => lines[index] = from_zero_mm + ctx.layout.zero_mm(),
                None => drop(lines.remove(index)),
            }
            asks.push(Ask::Edit(EditCommand::SetReferences(lines)));
        }
    }
    let is_burst = ctx.layout.burst().is_some();
    let (label, hint) = if is_burst {
        ("Add an arc", "A reference arc to chalk; clear its field to remove it")
    } else {
        ("Add a line", "A parallel to chalk, for orientation; clear its field to remove it")
    };
    if ui.button(label).on_hover_text(hint).clicked() {
        let room_mm = ctx.figures.fold.length_mm - ctx.layout.guide_mm();
        let next_mm =
            if is_burst { (ctx.layout.guide_mm() * 0.5).round() } else { ctx.layout.guide_mm() + (0.5 * room_mm).round() };
        asks.push(Ask::Edit(EditCommand::SetReferences(lines.into_iter().chain([next_mm]).collect())));
    }
}
