//! Every number at hand, and what to look out for.

use crate::app::canvas::Canvas;
use crate::app::context::{Ask, Context};
use crate::app::heading::heading;
use crate::app::heights::heights;
use crate::app::warnings::warnings;
use crate::edit::Target;
use crate::layout::{SpiralFigures, StitchFigures};
use crate::measure::{counted, total};
use crate::telling::{Voice, capitalised};
use egui::{RichText, Ui};

pub(crate) fn numbers(ctx: &Context<'_>, canvas: &mut Canvas, asks: &mut Vec<Ask>, ui: &mut Ui) {
    warnings(ctx, asks, ui);
    heading(ui, &ctx.layout.tie_name().map_or_else(|| "At a glance".to_owned(), |tie| format!("At a glance: {tie}")));
    let fold = &ctx.figures.fold;
    let format = |mm| ctx.lengths.format(mm);
    let whole_rings = |to_mm: f64| if to_mm > 0.0 { format!("up to {}", format(to_mm)) } else { "none".to_owned() };
    let has_back = ctx.layout.panels().back.is_some();
    let mut rows = match &ctx.figures.spiral {
        Some(spiral) => puck(ctx, spiral),
        None => vec![("Binds", ctx.figures.binds.len().to_string())],
    };
    let stitches = ctx.figures.line.as_ref().and_then(|line| line.stitches);
    match &ctx.figures.flat {
        None if ctx.figures.spiral.is_some() => {}
        None if stitches.is_some() => {
            let words = |stitches: StitchFigures| format!("{} dots, {} apart", stitches.holes, format(stitches.stitch_mm));
            rows.extend(stitches.map(|stitches| ("Stitches", words(stitches))));
        }
        None => rows.push(("Pleats", format!("{} of {}", fold.pleats, format(fold.pleat_depth_mm)))),
        Some(flat) => {
            rows.push(("Pieces", format!("{} of {}", flat.pieces, counted(flat.layers, "layer"))));
            rows.push(("Bundle", format!("{} by {}", format(flat.bundle_length_mm), format(flat.bundle_width_mm))));
            rows.push(("Bundle, height", format(flat.bundle_height_mm)));
            rows.push(("Short at creases", format(flat.creep_mm)));
            if let Some(wrap) = flat.wrap {
                rows.push(("Wound thread", ctx.lengths.format_long(wrap.thread_mm)));
            }
            if let Some(blocks) = flat.blocks {
                rows.push(("Cloth under blocks", ctx.lengths.format_area(blocks.cloth_mm2.front + blocks.cloth_mm2.back)));
            }
        }
    }
    if let Some(burst) = &ctx.figures.burst {
        rows.push((heights(fold.top).centre, format(burst.centre_below_shoulder_mm)));
        rows.push(("Whole rings, front", whole_rings(burst.whole_ring_to_mm.front)));
        rows.extend(has_back.then(|| ("Whole rings, back", whole_rings(burst.whole_ring_to_mm.back))));
    }
    if let Some(line) = &ctx.figures.line {
        rows.push(("Line, as laid", format(line.length_mm)));
        rows.push(("Reaches inward", format(line.inside_mm)));
    }
    if ctx.figures.spiral.is_none() {
        rows.push(("Farthest cloth", format(fold.length_mm - fold.zero_mm)));
    }
    let (of_what, cloth_g) = match ctx.layout.tie_name() {
        None => ("Dry cloth", ctx.figures.garment.cloth.mass_g),
        Some(_) => ("Cloth it takes", total(ctx.figures.sections.iter().map(|section| section.mass_g))),
    };
    rows.extend([(of_what, format!("{cloth_g:.0} g")), ("Thread, total", ctx.lengths.format_long(ctx.figures.thread_mm))]);
    egui::Grid::new("glance").num_columns(2).striped(true).show(ui, |ui| {
        for (name, value) in rows {
            ui.label(RichText::new(name).weak());
            ui.label(value);
            ui.end_row();
        }
    });
    table(ctx, canvas, ui);
}

/// What there is to know of a puck.
fn puck(ctx: &Context<'_>, spiral: &SpiralFigures) -> Vec<(&'static str, String)> {
    let format = |mm| ctx.lengths.format(mm);
    vec![
        ("Bands", spiral.bands.to_string()),
        ("Wedges", spiral.wedges.to_string()),
        ("Puck, across", format(spiral.puck_diameter_mm)),
        ("Puck, height", format(spiral.puck_height_mm)),
        ("Cloth in the puck", format!("{:.0} %", 100.0 * spiral.packing)),
        ("Turns", format!("{} of {} at most", Voice::FILE.number(spiral.turns), spiral.told_most_turns())),
        ("Band, girth", format(spiral.band_girth_mm)),
        ("Rim", format(spiral.rim_mm)),
    ]
}

/// The binds as a table; a click selects one.
fn table(ctx: &Context<'_>, canvas: &mut Canvas, ui: &mut Ui) {
    // Where a puck's bands go is told with the puck.
    if ctx.figures.binds.is_empty() || ctx.figures.spiral.is_some() {
        return;
    }
    heading(ui, "Bind numbers");
    let from = format!("From {}", ctx.layout.words().from());
    egui::Grid::new("binds").num_columns(5).striped(true).min_col_width(34.0).show(ui, |ui| {
        for head in ["No.", &from, "Gap", "Wraps", "Thread"] {
            ui.label(RichText::new(head).weak().small());
        }
        ui.end_row();
        for (bind, placed) in ctx.figures.binds.iter().zip(&ctx.layout.binds().binds) {
            let target = Target::of_bind(placed.id);
            let mark = if bind.by_hand { "*" } else { "" };
            let number = RichText::new(format!("{}{mark}", bind.number));
            let number = if bind.on_guide_arc { number.strong() } else { number };
            let name = target.name(ctx.layout);
            let response = ui.selectable_label(canvas.selected == Some(target), number);
            response.widget_info(|| egui::WidgetInfo::selected(egui::Role::Button, true, canvas.selected == Some(target), &name));
            if response.clicked() {
                canvas.selected = Some(target);
            }
            let radius = ui.label(ctx.layout.words().short_place(ctx.layout.from_zero_mm(bind.radius_mm), ctx.lengths));
            if let Some(words) = bind.rounding(ctx.layout.marks(), ctx.lengths) {
                radius.on_hover_text(format!("{} to the nearest mark that keeps the gaps in order", capitalised(&words)));
            }
            ui.label(ctx.lengths.format(bind.gap_inside_mm));
            ui.label(bind.wraps.to_string());
            ui.label(ctx.lengths.format(bind.thread_mm));
            ui.end_row();
        }
    });
    ui.label(RichText::new(format!("Bold: {}, tied first. *: moved by hand.", ctx.layout.words().guide)).weak().small());
}
