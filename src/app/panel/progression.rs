//! One side's progression: its kind, and whatever the maker knows of it.

use crate::app::context::{Ask, Context};
use crate::app::field::{self, choice};
use crate::edit::EditCommand;
use crate::geometry::{Progression, Side, Span};
use crate::layout::SideFigures;
use egui::{RichText, Ui};

/// The kinds of progression.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kind {
    Even,
    Step,
    Ratio,
    Power,
    EqualCloth,
    List,
}

impl Kind {
    const ALL: [Self; 6] = [Self::Even, Self::Step, Self::Ratio, Self::Power, Self::EqualCloth, Self::List];

    fn of(progression: &Progression) -> Self {
        match progression {
            Progression::Even { .. } => Self::Even,
            Progression::Step { .. } => Self::Step,
            Progression::Ratio { .. } => Self::Ratio,
            Progression::Power { .. } => Self::Power,
            Progression::EqualCloth { .. } => Self::EqualCloth,
            Progression::List { .. } => Self::List,
        }
    }

    fn name(self) -> &'static str {
        match self {
            Self::Even => "even",
            Self::Step => "steady step",
            Self::Ratio => "ratio",
            Self::Power => "power",
            Self::EqualCloth => "equal cloth",
            Self::List => "by hand",
        }
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

    fn into_progression(self, kind: Kind) -> Progression {
        let Self { count, first_gap_mm, last_gap_mm, factor, span, gaps_mm } = self;
        match kind {
            Kind::Even => Progression::Even { count, gap_mm: first_gap_mm, span },
            Kind::Step => Progression::Step { count, first_gap_mm, last_gap_mm, step_mm: factor, span },
            Kind::Ratio => Progression::Ratio { count, first_gap_mm, last_gap_mm, ratio: factor, span },
            Kind::Power => Progression::Power { count, first_gap_mm, last_gap_mm, exponent: factor, span },
            Kind::EqualCloth => Progression::EqualCloth { count, first_gap_mm, last_gap_mm, span },
            Kind::List => Progression::List { gaps_mm },
        }
    }
}

/// Another kind with as many binds over the same span: always solvable, and near to what was there.
fn other_kind(kind: Kind, side: Side, figures: &SideFigures, radii_mm: &[f64], guide_mm: f64) -> Progression {
    let span = Some(Span::Length { length_mm: figures.span_mm });
    let tightening = if side == Side::Inward { 0.9 } else { 1.06 };
    let factor = match kind {
        Kind::Ratio => Some(tightening),
        Kind::Power => Some(1.4),
        _ => None,
    };
    let first_gap_mm = (kind == Kind::Step)
        .then(|| if side == Side::Inward { 1.3 } else { 0.8 } * figures.span_mm / f64::from(figures.count.max(1)));
    let mut last_mm = guide_mm;
    let gap = |&radius_mm: &f64| {
        let gap_mm = (radius_mm - last_mm).abs();
        last_mm = radius_mm;
        gap_mm
    };
    let gaps_mm = radii_mm.iter().map(gap).collect();
    Knowns { count: Some(figures.count.max(1)), factor, first_gap_mm, span, gaps_mm, ..Knowns::default() }.into_progression(kind)
}

pub(super) fn progression(ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui, side: Side) {
    let (now, figures, solved) = match side {
        Side::Inward => (&ctx.layout.raw().binds.inward, &ctx.figures.burst.inward, &ctx.layout.binds().inward),
        Side::Outward => (&ctx.layout.raw().binds.outward, &ctx.figures.burst.outward, &ctx.layout.binds().outward),
    };
    ui.push_id(side.to_string(), |ui| {
        let kind = Kind::of(now);
        if let Some(kind) = choice(ui, "Gaps", kind, &Kind::ALL, |kind| kind.name().to_owned()) {
            let guide_mm = ctx.layout.burst().guide_radius_mm();
            let progression = other_kind(kind, side, figures, &solved.radii_mm, guide_mm);
            asks.push(Ask::Edit(EditCommand::SetProgression(side, progression)));
        }
        let mut knowns = Knowns::of(now);
        let changed = if kind == Kind::List { list(ctx, ui, &mut knowns) } else { fields(ctx, ui, kind, side, &mut knowns) };
        if changed {
            asks.push(Ask::Edit(EditCommand::SetProgression(side, knowns.into_progression(kind))));
        }
        ui.label(RichText::new(comes_out(ctx, figures)).weak());
    });
}

fn comes_out(ctx: &Context<'_>, figures: &SideFigures) -> String {
    if figures.count == 0 {
        return "no binds on this side".to_owned();
    }
    format!(
        "{} gaps, the first {}, the last {}, {} in all",
        figures.count,
        ctx.lengths.format(figures.first_gap_mm),
        ctx.lengths.format(figures.last_gap_mm),
        ctx.lengths.format(figures.span_mm)
    )
}

fn fields(ctx: &Context<'_>, ui: &mut Ui, kind: Kind, side: Side, knowns: &mut Knowns) -> bool {
    let (now, mut changed) = (knowns.clone(), false);
    let mut set = |target: &mut Option<f64>, value: Option<Option<f64>>| {
        if let Some(value) = value {
            *target = value;
            changed = true;
        }
    };
    set(
        &mut knowns.first_gap_mm,
        field::optional_length(ctx, ui, if kind == Kind::Even { "Gap" } else { "First gap" }, now.first_gap_mm),
    );
    if kind != Kind::Even {
        set(&mut knowns.last_gap_mm, field::optional_length(ctx, ui, "Last gap", now.last_gap_mm));
    }
    match kind {
        Kind::Step => set(&mut knowns.factor, field::optional_length(ctx, ui, "Step", now.factor)),
        Kind::Ratio => set(&mut knowns.factor, field::optional_number(ui, "Ratio", now.factor)),
        Kind::Power => set(&mut knowns.factor, field::optional_number(ui, "Exponent", now.factor)),
        _ => {}
    }
    if let Some(count) = field::optional_count(ui, "Number of gaps", now.count) {
        knowns.count = count;
        changed = true;
    }
    span(ctx, ui, side, knowns) || changed
}

fn span(ctx: &Context<'_>, ui: &mut Ui, side: Side, knowns: &mut Knowns) -> bool {
    let end = if side == Side::Inward { "Leave at the centre" } else { "Leave at the edge" };
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
    if let Some(length) = field::optional_length(ctx, ui, "Or all gaps together", length_mm) {
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
        parts.map(|part| crate::measure::parse_length(part, ctx.unit()).map_err(|error| error.to_string())).collect()
    };
    let Some(gaps_mm) = field::read(ui, "Gaps; from the guide", &written, read) else { return false };
    knowns.gaps_mm = gaps_mm;
    true
}
