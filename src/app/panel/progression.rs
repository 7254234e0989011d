//! One side's progression: its kind, and whatever the maker knows of it.

use crate::app::context::{Ask, Context};
use crate::app::field::{self, choice};
use crate::edit::EditCommand;
use crate::geometry::{Progression, ProgressionKind, Side, Span};
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

/// What is known of a progression, whatever its kind.
#[derive(Debug, Clone, Default)]
struct Knowns {
    count: Option<u32>,
    first_gap_mm: Option<f64>,
    last_gap_mm: Option<f64>,
    factor: Option<f64>,
    span: Option<Span>,
    gaps_mm: Vec<f64>,
}

impl Knowns {
    fn of(progression: &Progression) -> Self {
        let known = |count, first_gap_mm, last_gap_mm, factor, span| Self {
            count,
            first_gap_mm,
            last_gap_mm,
            factor,
            span,
            gaps_mm: vec![],
        };
        match progression.clone() {
            Progression::Even { count, gap_mm, span } => known(count, gap_mm, None, None, span),
            Progression::Step { count, first_gap_mm, last_gap_mm, step_mm, span } => {
                known(count, first_gap_mm, last_gap_mm, step_mm, span)
            }
            Progression::Ratio { count, first_gap_mm, last_gap_mm, ratio, span } => {
                known(count, first_gap_mm, last_gap_mm, ratio, span)
            }
            Progression::Power { count, first_gap_mm, last_gap_mm, exponent, span } => {
                known(count, first_gap_mm, last_gap_mm, exponent, span)
            }
            Progression::EqualCloth { count, first_gap_mm, last_gap_mm, span } => {
                known(count, first_gap_mm, last_gap_mm, None, span)
            }
            Progression::List { gaps_mm } => Self { gaps_mm, ..Self::default() },
        }
    }

    fn into_progression(self, kind: ProgressionKind) -> Progression {
        let Self { count, first_gap_mm, last_gap_mm, factor, span, gaps_mm } = self;
        match kind {
            ProgressionKind::Even => Progression::Even { count, gap_mm: first_gap_mm, span },
            ProgressionKind::Step => Progression::Step { count, first_gap_mm, last_gap_mm, step_mm: factor, span },
            ProgressionKind::Ratio => Progression::Ratio { count, first_gap_mm, last_gap_mm, ratio: factor, span },
            ProgressionKind::Power => Progression::Power { count, first_gap_mm, last_gap_mm, exponent: factor, span },
            ProgressionKind::EqualCloth => Progression::EqualCloth { count, first_gap_mm, last_gap_mm, span },
            ProgressionKind::List => Progression::List { gaps_mm },
        }
    }
}

pub(super) fn progression(ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui, side: Side) {
    let (now, figures, solved) = match side {
        Side::Inward => (&ctx.layout.raw().binds.inward, &ctx.figures.fold.inward, &ctx.layout.binds().inward),
        Side::Outward => (&ctx.layout.raw().binds.outward, &ctx.figures.fold.outward, &ctx.layout.binds().outward),
    };
    ui.push_id(side.to_string(), |ui| {
        let kind = ProgressionKind::of(now);
        if let Some(kind) = choice(ui, "Gaps", kind, &ProgressionKind::ALL, |kind| name(kind).to_owned()) {
            let guide_mm = ctx.layout.guide_mm();
            let progression = kind.like(solved, side, guide_mm);
            asks.push(Ask::Edit(EditCommand::SetProgression(side, progression)));
        }
        let mut knowns = Knowns::of(now);
        let changed =
            if kind == ProgressionKind::List { list(ctx, ui, &mut knowns) } else { fields(ctx, ui, kind, side, &mut knowns) };
        if changed {
            asks.push(Ask::Edit(EditCommand::SetProgression(side, knowns.into_progression(kind))));
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

fn fields(ctx: &Context<'_>, ui: &mut Ui, kind: ProgressionKind, side: Side, knowns: &mut Knowns) -> bool {
    let (now, mut changed) = (knowns.clone(), false);
    let mut set = |target: &mut Option<f64>, value: Option<Option<f64>>| {
        if let Some(value) = value {
            *target = value;
            changed = true;
        }
    };
    set(
        &mut knowns.first_gap_mm,
        field::optional_length(ctx, ui, if kind == ProgressionKind::Even { "Gap" } else { "First gap" }, now.first_gap_mm),
    );
    if kind != ProgressionKind::Even {
        set(&mut knowns.last_gap_mm, field::optional_length(ctx, ui, "Last gap", now.last_gap_mm));
    }
    match kind {
        ProgressionKind::Step => set(&mut knowns.factor, field::optional_length(ctx, ui, "Change per gap", now.factor)),
        ProgressionKind::Ratio => set(&mut knowns.factor, field::optional_number(ui, "Ratio", now.factor)),
        ProgressionKind::Power => set(&mut knowns.factor, field::optional_number(ui, "Exponent", now.factor)),
        _ => {}
    }
    if let Some(count) = field::optional_count(ui, "Number of gaps", now.count) {
        knowns.count = count;
        changed = true;
    }
    span(ctx, ui, side, knowns) || changed
}

fn span(ctx: &Context<'_>, ui: &mut Ui, side: Side, knowns: &mut Knowns) -> bool {
    let end = if side == Side::Inward { "Margin at centre" } else { "Margin at edge" };
    let (leave_mm, length_mm) = match knowns.span {
        Some(Span::ToEnd { leave_mm }) => (Some(leave_mm), None),
        Some(Span::Length { length_mm }) => (None, Some(length_mm)),
        None => (None, None),
    };
    let mut changed = false;
    if let Some(leave) = field::optional_length(ctx, ui, end, leave_mm) {
        knowns.span = leave.map(|leave_mm| Span::ToEnd { leave_mm });
        changed = true;
    }
    if let Some(length) = field::optional_length(ctx, ui, "Or total length", length_mm) {
        knowns.span = length.map(|length_mm| Span::Length { length_mm });
        changed = true;
    }
    changed
}

/// A list of gaps, separated by semicolons.
fn list(ctx: &Context<'_>, ui: &mut Ui, knowns: &mut Knowns) -> bool {
    let written = knowns.gaps_mm.iter().map(|&gap| ctx.lengths.format(gap)).collect::<Vec<_>>().join("; ");
    let read = |text: &str| -> Result<Vec<f64>, String> {
        let parts = text.split(';').map(str::trim).filter(|part| !part.is_empty());
        parts.map(|part| crate::measure::parse_length(part, ctx.unit()).map_err(|error| error.say(ctx.voice()))).collect()
    };
    let Some(gaps_mm) = field::read(ui, "Gaps from guide", &written, read) else { return false };
    knowns.gaps_mm = gaps_mm;
    true
}
