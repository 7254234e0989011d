//! What the pointer reads of what it is on, and of what it drags.

use crate::app::context::Context;
use crate::edit::Target;
use crate::geometry::{FlatPattern, WedgesFirst};
use crate::measure::grams_number;
use crate::telling::Voice;
use egui::{Response, Tooltip, Ui};

/// What the pointer reads of a target.
pub(super) fn of(ctx: &Context<'_>, target: Target, ui: &mut Ui) {
    ui.set_min_width(190.0);
    ui.strong(target.name(ctx.layout));
    where_it_is(ctx, target, ui);
    let number = target.bind_number(ctx.layout);
    let bind = number.and_then(|number| ctx.figures.binds.get(number - 1).zip(ctx.figures.sections.get(number - 1)));
    let Some((bind, section)) = bind else { return };
    ui.label(format!("girth {}, {} wraps", ctx.lengths.format(bind.rod.bound_girth_mm), bind.wraps));
    let colour = match section.colour_words() {
        "" => String::new(),
        words => format!(", {words}"),
    };
    if ctx.layout.spiral().is_some() {
        ui.label(format!("wedge {} before it {} g{colour}", section.number, grams_number(section.mass_g, 1)));
        return;
    }
    ui.label(format!("gap inside {}", ctx.lengths.format(bind.gap_inside_mm)));
    ui.label(format!("section inside {} g{colour}", grams_number(section.mass_g, 1)));
}

/// The lengths that change while a hand drags, beside it.
pub(super) fn beside_hand(ctx: &Context<'_>, target: Target, response: &Response) {
    Tooltip::for_widget(response).at_pointer().gap(16.0).show(|ui| {
        where_it_is(ctx, target, ui);
        let Some(number) = target.bind_number(ctx.layout) else { return };
        let gap = |index: usize| ctx.figures.binds.get(index).map(|bind| ctx.lengths.format(bind.gap_inside_mm));
        // The gap outside a bind is the one inside the next.
        if let (Some(inside), Some(outside)) = (gap(number - 1), gap(number)) {
            ui.label(format!("gaps {inside} inside, {outside} outside"));
        } else if let Some(inside) = gap(number - 1) {
            ui.label(format!("gap {inside} inside"));
        }
    });
}

/// What the creases of a flat bundle are folded by, and the bundle that comes of it.
fn creases(ctx: &Context<'_>, ui: &mut Ui) {
    let (Some(spec), Some(figures)) = (ctx.layout.raw().fold.flat(), &ctx.figures.flat) else { return };
    let format = |mm| ctx.lengths.format(mm);
    let degrees = |deg: f64| format!("{}°", Voice::FILE.number(deg));
    let words = match &spec.pattern {
        FlatPattern::Stripes { width_mm, angle_deg, .. } => format!("{} wide, at {}", format(*width_mm), degrees(*angle_deg)),
        FlatPattern::Squares { width_mm, height_mm, angle_deg, .. } => {
            format!("{} by {}, at {}", format(*width_mm), format(*height_mm), degrees(*angle_deg))
        }
        FlatPattern::Triangles { width_mm, angle_deg, .. } => {
            format!("strip {} wide, at {}", format(*width_mm), degrees(*angle_deg))
        }
        FlatPattern::Wedges { wedges, first: WedgesFirst::OnTheFold, .. } => format!("{wedges} wedges"),
        FlatPattern::Wedges { wedges, first: WedgesFirst::HalfFold { angle_deg }, .. } => {
            format!("{wedges} wedges, from {}", degrees(*angle_deg))
        }
        FlatPattern::Halves { half_folds } => {
            half_folds.iter().map(|fold| degrees(fold.angle_deg)).collect::<Vec<_>>().join(", ")
        }
    };
    ui.label(words);
    ui.label(format!(
        "{} pieces, the bundle {} by {}",
        figures.pieces,
        format(figures.bundle_length_mm),
        format(figures.bundle_width_mm)
    ));
}

fn where_it_is(ctx: &Context<'_>, target: Target, ui: &mut Ui) {
    let format = |mm| ctx.lengths.format(mm);
    if matches!(target, Target::Crease(..)) {
        return creases(ctx, ui);
    }
    if let Some(burst) = ctx.figures.burst.as_ref().filter(|_| target == Target::Centre) {
        ui.label(burst.top.height(burst.centre_below_shoulder_mm, ctx.lengths));
        ui.label(format!("{} above the middle", format(burst.centre_above_middle_mm)));
        if burst.centre_from_centre_line_mm != 0.0 {
            ui.label(format!("{} from the centre line", format(burst.centre_from_centre_line_mm)));
        }
        return;
    }
    let place = if target == Target::Centre { ctx.layout.middle() } else { target.place(ctx.layout) };
    if let Some(middle) = place {
        ui.label(ctx.figures.fold.top.height(middle.y, ctx.lengths));
        if middle.x != 0.0 {
            ui.label(format!("{} from the centre line", format(middle.x)));
        }
        return;
    }
    let along_mm = target.radius_mm(ctx.layout).unwrap_or(0.0);
    ui.label(ctx.layout.words().place(ctx.layout.from_zero_mm(along_mm), ctx.lengths));
}
