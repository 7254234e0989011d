//! The line that a garment is folded along: its shape, place and size, and where it is pleated.

use super::further::further;
use super::place::place;
use super::points;
use super::sides::sides;
use crate::app::canvas::Canvas;
use crate::app::context::{Ask, Context};
use crate::app::field;
use crate::app::heading::heading;
use crate::app::theme::Palette;
use crate::edit::EditCommand;
use crate::geometry::{Centre, DrawnLine, Gather, LineFoldSpec, LineShape};
use crate::layout::LineFigures;
use egui::{RichText, Ui};

pub(super) fn line(ctx: &Context<'_>, canvas: &mut Canvas, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let (Some(spec), Some(figures)) = (ctx.layout.raw().fold.line(), &ctx.figures.line) else { return };
    heading(ui, "Line");
    if let DrawnLine::Path { kind, path } = &spec.line {
        points::own(ctx, canvas, *kind, path, asks, ui);
    }
    if let DrawnLine::Shape { shape, middle, size } = spec.line {
        let of = |shape, size| Ask::Edit(EditCommand::SetLine(DrawnLine::Shape { shape, middle, size }));
        if let Some(shape) = of_its_own(shape, ui) {
            asks.push(of(shape, size));
        }
        if let Some(size) = sides(ctx, size, ui) {
            asks.push(of(shape, size));
        }
        place(ctx, matches!(middle, Centre::AboveMiddle { .. }), asks, ui);
        let hint = "Make it a line of your own: move its points, add some, make them corners or smooth";
        if ui.button("Edit its points").on_hover_text(hint).clicked()
            && let Ok((kind, path)) = spec.line.on(ctx.layout.panels(), spec.centring)
        {
            asks.push(Ask::Edit(EditCommand::SetLine(DrawnLine::Path { kind, path })));
        }
    }
    guide(ctx, spec, figures, asks, ui);
    further(ctx, asks, ui);
    flatness(ctx, figures, ui);
}

/// What only this shape has.
fn of_its_own(shape: LineShape, ui: &mut Ui) -> Option<LineShape> {
    let count = shape.count().and_then(|count| {
        let label = match shape {
            LineShape::Polygon { .. } => "Sides",
            LineShape::Wave { .. } => "Crests",
            LineShape::Zigzag { .. } => "Teeth",
            _ => "Points",
        };
        let [least, most] = shape.counts()?;
        let read = |text: &str| match text.trim().parse::<u32>() {
            Ok(count) if (least..=most).contains(&count) => Ok(count),
            _ => Err(format!("\"{text}\" is no number from {least} to {most}")),
        };
        field::read(ui, label, &count.to_string(), read).map(|count| shape.with_count(count))
    });
    let share = match shape {
        LineShape::Star { points, depth } => {
            percent(ui, "Depth", depth, [0.0, 95.0]).map(|depth| LineShape::Star { points, depth })
        }
        LineShape::Cross { bar } => percent(ui, "Bar", bar, [5.0, 90.0]).map(|bar| LineShape::Cross { bar }),
        LineShape::Letter { letter } => {
            let read = |text: &str| match text.trim().chars().collect::<Vec<_>>()[..] {
                [letter] if letter.is_ascii_alphabetic() => Ok(letter.to_ascii_uppercase()),
                _ => Err(format!("\"{text}\" is no letter from A to Z")),
            };
            field::read(ui, "Letter", &letter.to_string(), read).map(|letter| LineShape::Letter { letter })
        }
        _ => None,
    };
    count.or(share)
}

/// A share as percent.
fn percent(ui: &mut Ui, label: &str, share: f64, [least, most]: [f64; 2]) -> Option<f64> {
    let read = |text: &str| match text.trim().trim_end_matches('%').trim_end().parse::<f64>() {
        Ok(percent) if (least..=most).contains(&percent) => Ok(0.01 * percent),
        _ => Err(format!("\"{text}\" is no percentage from {least} to {most}")),
    };
    field::read(ui, label, &format!("{} %", (1000.0 * share).round() / 10.0), read)
}

/// The parallel that is pleated along.
fn guide(ctx: &Context<'_>, spec: &LineFoldSpec, figures: &LineFigures, asks: &mut Vec<Ask>, ui: &mut Ui) {
    if let Some(guide_mm) = field::length(ctx, ui, "Fold guide", spec.guide_mm) {
        asks.push(Ask::Edit(EditCommand::SetLineGuide(guide_mm)));
    }
    let place = ctx.layout.words().place(figures.guide_mm, ctx.lengths);
    let words = if figures.guide_mm == 0.0 {
        "You pleat along the line itself.".to_owned()
    } else {
        format!("You pleat along the parallel {place}.")
    };
    ui.label(RichText::new(words).weak());
    if let Some(gather) = field::choice(ui, "Pleats by", spec.gather, &Gather::ALL, |gather| gather.name().to_owned()) {
        asks.push(Ask::Edit(EditCommand::SetGather(gather)));
    }
    if let Some(stitches) = figures.stitches {
        let [stitch, thread] = [stitches.stitch_mm, stitches.thread_mm].map(|mm| ctx.lengths.format(mm));
        let words = format!("{} holes, about {stitch} apart; {thread} of thread, taken double.", stitches.holes);
        ui.add(egui::Label::new(RichText::new(words).weak()).wrap());
    }
}

/// What of the cloth can't lie flat.
fn flatness(ctx: &Context<'_>, figures: &LineFigures, ui: &mut Ui) {
    let palette = Palette::of(ui.ctx());
    let ends = figures.unflat.lone_ends_mm.len();
    if ends == 0 {
        ui.label(RichText::new("All of the cloth lies flat.").weak());
        return;
    }
    let area = ctx.lengths.format_area(figures.unflat.bunched_mm2);
    let creases = if ends == 1 { "1 crease ends" } else { &format!("{ends} creases end") };
    let words = format!("{creases} alone (long dashes): about {area} of cloth will bunch there.");
    ui.label(RichText::new(words).color(palette.warn));
}
