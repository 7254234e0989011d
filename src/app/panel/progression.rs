//! One side's progression: its kind, and whatever the maker knows of it.

use crate::app::context::{Ask, Context};
use crate::app::field::{self, choice};
use crate::edit::{EditCommand, GivenOrder};
use crate::geometry::{Known, KnownValues, Progression, ProgressionKind, Side, Solved, Span};
use crate::layout::SideFigures;
use crate::telling::Refused as _;
use egui::{RichText, Ui};

/// What a kind is called in the list of kinds.
fn name(kind: ProgressionKind) -> &'static str {
    match kind {
        ProgressionKind::Even => "even",
        ProgressionKind::Step => "steady change",
        ProgressionKind::Ratio => "ratio",
        ProgressionKind::Power => "power",
        ProgressionKind::EqualCloth => "equal cloth",
        ProgressionKind::List => "by hand",
    }
}

pub(super) fn progression(ctx: &Context<'_>, order: &mut GivenOrder, asks: &mut Vec<Ask>, ui: &mut Ui, side: Side) {
    let (now, figures, solved) = match side {
        Side::Inward => (&ctx.layout.raw().binds.inward, &ctx.figures.fold.inward, &ctx.layout.binds().inward),
        Side::Outward => (&ctx.layout.raw().binds.outward, &ctx.figures.fold.outward, &ctx.layout.binds().outward),
    };
    ui.push_id(side.to_string(), |ui| {
        let kind = ProgressionKind::of(now);
        if let Some(kind) = choice(ui, "Gaps", kind, &ProgressionKind::ALL, |kind| name(kind).to_owned()) {
            let progression = kind.like(solved, side, ctx.layout.guide_mm());
            asks.push(Ask::Edit(EditCommand::SetProgression(side, progression)));
        }
        if let Progression::List { gaps_mm } = now {
            if let Some(gaps_mm) = list(ctx, ui, gaps_mm) {
                asks.push(Ask::Edit(EditCommand::SetProgression(side, Progression::List { gaps_mm })));
            }
        } else if let Some((known, values)) = fields(ctx, ui, kind, side, KnownValues::of(now), solved) {
            order.give(known);
            asks.push(Ask::Edit(EditCommand::GiveSpacing(side, known, values, *order)));
        }
        ui.label(RichText::new(comes_out(ctx, figures)).weak());
    });
}

fn comes_out(ctx: &Context<'_>, figures: &SideFigures) -> String {
    if figures.count == 0 {
        return "No binds on this side".to_owned();
    }
    format!(
        "{} gaps: first {}, last {}, total {}",
        figures.count,
        ctx.lengths.format(figures.first_gap_mm),
        ctx.lengths.format(figures.last_gap_mm),
        ctx.lengths.format(figures.span_mm)
    )
}

/// The value that was given or taken back, and all as they stand then. What is not given shows what came out.
fn fields(
    ctx: &Context<'_>,
    ui: &mut Ui,
    kind: ProgressionKind,
    side: Side,
    now: KnownValues,
    solved: &Solved,
) -> Option<(Known, KnownValues)> {
    let length = |ui: &mut Ui, label: &str, value_mm: Option<f64>, came_out_mm: f64| {
        field::solved_length(ctx, ui, label, value_mm, came_out_mm)
    };
    let mut changed = None;
    let first = if kind == ProgressionKind::Even { "Gap" } else { "First gap" };
    if let Some(first_gap_mm) = length(ui, first, now.first_gap_mm, solved.first_gap_mm) {
        changed = Some((Known::FirstGap, KnownValues { first_gap_mm, ..now }));
    }
    if kind != ProgressionKind::Even
        && let Some(last_gap_mm) = length(ui, "Last gap", now.last_gap_mm, solved.last_gap_mm)
    {
        changed = Some((Known::LastGap, KnownValues { last_gap_mm, ..now }));
    }
    let factor = solved.factor.and_then(|came_out| match kind {
        ProgressionKind::Step => length(ui, "Change per gap", now.factor, came_out),
        ProgressionKind::Ratio => field::solved_number(ui, "Ratio", now.factor, came_out),
        ProgressionKind::Power => field::solved_number(ui, "Exponent", now.factor, came_out),
        _ => None,
    });
    if let Some(factor) = factor {
        changed = Some((Known::Factor, KnownValues { factor, ..now }));
    }
    if let Some(count) = field::solved_count(ui, "Number of gaps", now.count, solved.count) {
        changed = Some((Known::Count, KnownValues { count, ..now }));
    }
    if let Some(span) = span(ctx, ui, side, now.span, solved) {
        changed = Some((Known::Span, KnownValues { span, ..now }));
    }
    changed
}

/// All gaps together, by what they leave or by their length: the one that is given, or taken back.
fn span(ctx: &Context<'_>, ui: &mut Ui, side: Side, now: Option<Span>, solved: &Solved) -> Option<Option<Span>> {
    let (end, room_mm) = match side {
        Side::Inward if ctx.layout.burst().is_some() => ("Margin at centre", ctx.layout.guide_mm()),
        Side::Inward if ctx.layout.flat().is_some() => ("Margin at first end", ctx.layout.guide_mm()),
        Side::Outward if ctx.layout.flat().is_some() => {
            ("Margin at other end", ctx.figures.fold.length_mm - ctx.layout.guide_mm())
        }
        Side::Inward => ("Margin at tip", ctx.layout.guide_mm()),
        Side::Outward => ("Margin at edge", ctx.figures.fold.length_mm - ctx.layout.guide_mm()),
    };
    let (leave_mm, length_mm) = match now {
        Some(Span::ToEnd { leave_mm }) => (Some(leave_mm), None),
        Some(Span::Length { length_mm }) => (None, Some(length_mm)),
        None => (None, None),
    };
    let leave = field::solved_length(ctx, ui, end, leave_mm, room_mm - solved.span_mm);
    let length = field::solved_length(ctx, ui, "Or total length", length_mm, solved.span_mm);
    match (leave, length) {
        (_, Some(length)) => Some(length.map(|length_mm| Span::Length { length_mm })),
        (Some(leave), None) => Some(leave.map(|leave_mm| Span::ToEnd { leave_mm })),
        (None, None) => None,
    }
}

/// A list of gaps, separated by semicolons. A gap that is written as before stays to the last digit.
fn list(ctx: &Context<'_>, ui: &mut Ui, gaps_mm: &[f64]) -> Option<Vec<f64>> {
    let written: Vec<String> = gaps_mm.iter().map(|&gap| ctx.lengths.format(gap)).collect();
    let read = |text: &str| -> Result<Vec<f64>, String> {
        let parts = text.split(';').map(str::trim).filter(|part| !part.is_empty());
        let as_before = |at: usize, part: &str| written.get(at).is_some_and(|written| written == part);
        let gap = |(at, part): (usize, &str)| match gaps_mm.get(at) {
            Some(gap_mm) if as_before(at, part) => Ok(*gap_mm),
            _ => crate::measure::parse_length(part, ctx.unit()).map_err(|error| error.say(ctx.voice())),
        };
        parts.enumerate().map(gap).collect()
    };
    field::read(ui, "Gaps from guide", &written.join("; "), read)
}
