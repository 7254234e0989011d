//! The creases of a flat bundle by numbers, and what they make.

use super::place::place;
use crate::app::context::{Ask, Context};
use crate::app::field::{self, choice};
use crate::app::heading::heading;
use crate::edit::EditCommand;
use crate::geometry::{Centre, Centring, FlatFoldSpec, FlatPattern, HalfFold, Pack, WedgesFirst, centre_at};
use crate::layout::FlatFigures;
use crate::telling::Voice;
use egui::{RichText, Ui};
use kurbo::Point;

pub(super) fn flat(ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let (Some(spec), Some(figures)) = (ctx.layout.raw().fold.flat(), &ctx.figures.flat) else { return };
    heading(ui, "Creases");
    if let Some(pattern) = pattern(ctx, spec, ui) {
        ask(asks, FlatFoldSpec { pattern, ..spec.clone() });
    }
    if let Some(spec) = start(ctx, spec, ui) {
        ask(asks, spec);
    }
    if let FlatPattern::Wedges { centre, .. } = spec.pattern {
        place(ctx, matches!(centre, Centre::AboveMiddle { .. }), asks, ui);
    }
    if !matches!(spec.pattern, FlatPattern::Halves { .. })
        && let Some(pack) = choice(ui, "Pieces laid", spec.pack, &[Pack::Zigzag, Pack::Rolled], |pack| pack.name().to_owned())
    {
        ask(asks, FlatFoldSpec { pack, ..spec.clone() });
    }
    if let Some(along_turn_deg) = degrees(ui, "Binds turned by", spec.along_turn_deg) {
        ask(asks, FlatFoldSpec { along_turn_deg, first_bind_mm: None, ..spec.clone() });
    }
    words(ctx, figures, ui);
}

fn ask(asks: &mut Vec<Ask>, spec: FlatFoldSpec) {
    asks.push(Ask::Edit(EditCommand::SetFlat(Box::new(spec))));
}

/// A field for an angle.
pub(super) fn degrees(ui: &mut Ui, label: &str, value_deg: f64) -> Option<f64> {
    let read = |text: &str| match text.trim().trim_end_matches('°').trim_end().parse::<f64>() {
        Ok(degrees) if degrees.abs() <= 360.0 => Ok(degrees),
        _ => Err(format!("\"{text}\" is no angle from -360 to 360 degrees")),
    };
    field::read(ui, label, &format!("{}°", Voice::FILE.number(value_deg)), read)
}

/// The fields of a pattern; the pattern that a change makes.
fn pattern(ctx: &Context<'_>, spec: &FlatFoldSpec, ui: &mut Ui) -> Option<FlatPattern> {
    let mut now = spec.pattern.clone();
    match &mut now {
        FlatPattern::Halves { half_folds } => halves(ctx, half_folds, ui),
        FlatPattern::Stripes { width_mm, angle_deg, .. } => {
            *width_mm = field::length(ctx, ui, "Width of a stripe", *width_mm).unwrap_or(*width_mm);
            *angle_deg = degrees(ui, "Creases run at", *angle_deg).unwrap_or(*angle_deg);
        }
        FlatPattern::Squares { width_mm, height_mm, angle_deg, .. } => {
            *width_mm = field::length(ctx, ui, "Width of the strip", *width_mm).unwrap_or(*width_mm);
            *height_mm = field::length(ctx, ui, "Along the strip", *height_mm).unwrap_or(*height_mm);
            *angle_deg = degrees(ui, "Strip runs at", *angle_deg).unwrap_or(*angle_deg);
        }
        FlatPattern::Triangles { width_mm, angle_deg, .. } => {
            *width_mm = field::length(ctx, ui, "Width of the strip", *width_mm).unwrap_or(*width_mm);
            *angle_deg = degrees(ui, "Strip runs at", *angle_deg).unwrap_or(*angle_deg);
        }
        FlatPattern::Wedges { wedges, first, .. } => {
            *wedges = field::count(ui, "Wedges in all", *wedges).unwrap_or(*wedges);
            wedges_first(ctx, first, ui);
        }
    }
    (now != spec.pattern).then_some(now)
}

/// What a pattern is laid from: a point that its creases run through, or the edge of the cloth; what a change makes.
fn start(ctx: &Context<'_>, spec: &FlatFoldSpec, ui: &mut Ui) -> Option<FlatFoldSpec> {
    if !spec.pattern.has_start() {
        return None;
    }
    let panels = ctx.layout.panels();
    let Some(start) = spec.pattern.start() else {
        let hint = "Lay the creases from a point that you give; Ctrl-drag a crease on the cloth does the same";
        let corner = ctx.layout.flat()?.corner_on_cloth()?;
        let like = Centre::BelowShoulder { from_centre_line_mm: 0.0, below_shoulder_mm: 0.0 };
        let begins = ui.button("Begin at a point").on_hover_text(hint).clicked();
        return begins.then(|| spec.starting(Some(like.put(corner, panels))));
    };
    let at = centre_at(start, panels);
    let x = field::length(ctx, ui, "Begins aside", at.x);
    let y = field::length(ctx, ui, "Begins down", at.y);
    if ui.button("Begin at the cloth's edge").clicked() {
        return Some(spec.starting(None));
    }
    let to = Point::new(x.unwrap_or(at.x), y.unwrap_or(at.y));
    (x.is_some() || y.is_some()).then(|| spec.starting(Some(start.put(to, panels))))
}

/// What the cloth is folded on before wedges are.
fn wedges_first(ctx: &Context<'_>, first: &mut WedgesFirst, ui: &mut Ui) {
    let on_fold = matches!(first, WedgesFirst::OnTheFold);
    let all: &[bool] = if ctx.layout.lay().centring() == Centring::Open { &[false] } else { &[true, false] };
    let name = |on_fold| if on_fold { "centre fold" } else { "own half fold" };
    if let Some(on_fold) = choice(ui, "Folded first on", on_fold, all, |on_fold| name(on_fold).to_owned()) {
        *first = if on_fold { WedgesFirst::OnTheFold } else { WedgesFirst::HalfFold { angle_deg: 0.0 } };
    }
    if let WedgesFirst::HalfFold { angle_deg } = first {
        *angle_deg = degrees(ui, "Half fold runs at", *angle_deg).unwrap_or(*angle_deg);
    }
}

/// Half folds, one after the other.
fn halves(ctx: &Context<'_>, half_folds: &mut Vec<HalfFold>, ui: &mut Ui) {
    let (panels, mut removed) = (ctx.layout.panels(), None);
    let is_only = half_folds.len() == 1;
    for (index, fold) in half_folds.iter_mut().enumerate() {
        let number = index + 1;
        let at = centre_at(fold.through, panels);
        let put = |x: f64, y: f64| Centre::BelowShoulder { from_centre_line_mm: x, below_shoulder_mm: y };
        if let Some(x) = field::length(ctx, ui, &format!("Fold {number} aside"), at.x) {
            fold.through = put(x, at.y);
        }
        if let Some(y) = field::length(ctx, ui, &format!("Fold {number} down"), at.y) {
            fold.through = put(at.x, y);
        }
        if let Some(angle_deg) = degrees(ui, &format!("Fold {number} runs at"), fold.angle_deg) {
            fold.angle_deg = angle_deg;
        }
        if !is_only && ui.button(format!("Remove fold {number}")).clicked() {
            removed = Some(index);
        }
    }
    if let Some(index) = removed {
        half_folds.remove(index);
    }
    let hint = "One more fold through all that lies there, where the last one is and square to it";
    if ui.button("Add a fold").on_hover_text(hint).clicked()
        && let Some(&last) = half_folds.last()
    {
        half_folds.push(HalfFold { angle_deg: last.angle_deg - 90.0, ..last });
    }
}

/// What comes of it.
fn words(ctx: &Context<'_>, figures: &FlatFigures, ui: &mut Ui) {
    let format = |mm| ctx.lengths.format(mm);
    let [length, width, height] = [figures.bundle_length_mm, figures.bundle_width_mm, figures.bundle_height_mm].map(format);
    let layers = figures.pieces * figures.layers;
    let size = format!("{} pieces of {} layers: {layers} in all.", figures.pieces, figures.layers);
    ui.label(RichText::new(size).weak());
    let size = format!("The bundle is {length} by {width}, about {height} high.");
    ui.add(egui::Label::new(RichText::new(size).weak()).wrap());
}
