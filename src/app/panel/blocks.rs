//! The blocks that hold a flat bundle.

use super::flat::degrees;
use crate::app::context::{Ask, Context};
use crate::app::field::{self, pick};
use crate::app::heading::heading;
use crate::edit::EditCommand;
use crate::geometry::{BlockShape, BlocksSpec};
use crate::telling::capitalised;
use egui::{RichText, Ui};

pub(super) fn blocks(ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let Some(figures) = &ctx.figures.flat else { return };
    heading(ui, "Blocks");
    let now = ctx.layout.raw().blocks.as_ref();
    let name = now.map_or("none", |blocks| blocks.shape.name());
    let mut chosen = None;
    pick(ui, "Held between", capitalised(name), |ui| {
        if ui.selectable_label(now.is_none(), "None").clicked() && now.is_some() {
            chosen = Some(None);
        }
        for shape in BlockShape::BEGUN {
            let is_it = name == shape.name();
            if ui.selectable_label(is_it, capitalised(shape.name())).clicked() && !is_it {
                let spec = now.map_or_else(
                    || BlocksSpec::in_the_middle(shape.clone()),
                    |blocks| BlocksSpec { shape: shape.clone(), ..blocks.clone() },
                );
                chosen = Some(Some(spec));
            }
        }
    });
    if let Some(chosen) = chosen {
        asks.push(Ask::Edit(EditCommand::SetBlocks(chosen)));
    }
    let (Some(now), Some(held)) = (now, figures.blocks) else { return };
    if let Some(spec) = numbers(ctx, now, ui) {
        asks.push(Ask::Edit(EditCommand::SetBlocks(Some(spec))));
    }
    let under = ctx.lengths.format_area(held.cloth_mm2.front + held.cloth_mm2.back);
    let words = format!(
        "{under} of cloth lie under them, up to {} layers; the clamp opens over {} of cloth.",
        held.most_layers,
        ctx.lengths.format(held.opening_mm)
    );
    ui.add(egui::Label::new(RichText::new(words).weak()).wrap());
}

/// Size, place and turn; what a change makes.
fn numbers(ctx: &Context<'_>, now: &BlocksSpec, ui: &mut Ui) -> Option<BlocksSpec> {
    let mut spec = now.clone();
    let (dimensions, count) = now.shape.dimensions();
    let mut sizes_mm = dimensions.map(|(_, mm)| mm);
    for ((key, _), size_mm) in dimensions[..count].iter().zip(&mut sizes_mm) {
        let label = format!("Block {}", key.trim_end_matches("_mm"));
        *size_mm = field::length(ctx, ui, &label, *size_mm).unwrap_or(*size_mm);
    }
    spec.shape = now.shape.sized(sizes_mm);
    spec.along_mm = field::length(ctx, ui, "Moved along", now.along_mm).unwrap_or(now.along_mm);
    spec.across_mm = field::length(ctx, ui, "Moved across", now.across_mm).unwrap_or(now.across_mm);
    spec.turn_deg = degrees(ui, "Blocks turned by", now.turn_deg).unwrap_or(now.turn_deg);
    (spec != *now).then_some(spec)
}
