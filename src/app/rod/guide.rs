//! The cloth's way to the rod, with this layout's own numbers: all steps at once, or one after the other where there is no room.

use super::Drawn;
use super::pen::Pen;
use crate::app::context::Context;
use crate::app::heading;
use crate::app::screen::screen;
use crate::app::theme::Palette;
use crate::layout::{HandPart, Handwork};
use crate::measure::{counted, held_together};
use crate::telling::capitalised;
use egui::{Label, Rect, RichText, Role, Sense, Ui, UiBuilder, WidgetInfo, vec2};

/// Steps of the way.
const STEPS: usize = 4;
/// Least breadth of a step beside others, and height from which two rows of them are better than one, points.
const LEAST_WIDTH: f32 = 205.0;
const TWO_ROWS_FROM: f32 = 470.0;
/// Least height of all steps, and of a drawing, points.
const LEAST_HEIGHT: f32 = 260.0;
const LEAST_DRAWING: f32 = 170.0;
/// Breadth at which words stand beside their drawing, and the words' share of it.
const BESIDE_FROM: f32 = 400.0;
const WORDS_SHARE: f32 = 0.42;
/// Room between steps, points.
const GAP: f32 = 18.0;

/// The way there; `step` is the one that shows where there is room for one only.
pub(super) fn show(ctx: &Context<'_>, drawn: &Drawn, step: &mut usize, ui: &mut Ui) {
    let all = steps(ctx);
    let room = ui.available_size();
    if room.x >= 4.0 * LEAST_WIDTH && room.y >= LEAST_HEIGHT {
        heading::on_table("How to fold it", ui);
        return together(ctx, drawn, &all, ui);
    }
    *step = (*step).min(STEPS - 1);
    ui.horizontal(|ui| {
        heading::on_table("How to fold it", ui);
        ui.add_space(8.0);
        if ui.add_enabled(*step > 0, egui::Button::new("Back")).clicked() {
            *step -= 1;
        }
        ui.label(format!("{} of {STEPS}", *step + 1));
        if ui.add_enabled(*step + 1 < STEPS, egui::Button::new("Next")).clicked() {
            *step += 1;
        }
    });
    one(ctx, drawn, *step, &all[*step], ui);
}

/// The way to a flat bundle, in the words of the job card.
fn bundle_steps(ctx: &Context<'_>) -> [Told; STEPS] {
    let work = Handwork::of(ctx.layout, ctx.figures);
    let say = |part| work.words(part, ctx.lengths);
    let binds = ctx.figures.binds.len();
    let order = ctx.figures.tying_order.iter().take(4).map(u32::to_string).collect::<Vec<_>>().join(", ");
    let tie = match binds {
        0 => None,
        1 => Some("Tie its one bind.".to_owned()),
        _ => {
            Some(format!("Tie the first bind, then toward the first end, then toward the other: binds {order}, {binds} in all."))
        }
    };
    let clamp = work.parts().any(|part| part == HandPart::Clamp).then(|| say(HandPart::Clamp));
    let is_clamped = clamp.is_some();
    let wind = work.parts().any(|part| part == HandPart::Wrap).then(|| say(HandPart::Wrap));
    let is_wound = wind.is_some();
    let held = [tie, wind, clamp, ctx.figures.dip_words(ctx.lengths)].into_iter().flatten().collect::<Vec<_>>().join(" ");
    let title = match (binds, is_clamped) {
        (0, _) if is_wound => "Wind",
        (0, true) => "Clamp",
        (0, false) => "Dip",
        _ => "Tie",
    };
    [
        Told { title: "Lay", words: say(HandPart::Lay) },
        Told { title: "Mark", words: say(HandPart::Mark) },
        Told { title: "Fold", words: say(HandPart::Fold) },
        Told { title, words: held },
    ]
}

/// The way to a puck, in the words of the job card.
fn puck_steps(ctx: &Context<'_>) -> [Told; STEPS] {
    let work = Handwork::of(ctx.layout, ctx.figures);
    let say = |part| work.words(part, ctx.lengths);
    let bands = work.binds.len();
    let one = if bands == 1 { "Lay one band" } else { &format!("Lay {bands} bands") };
    let wraps = work
        .binds
        .first()
        .map_or_else(String::new, |band| format!(" {}.", say(HandPart::Tie(band.number)).trim_end_matches('.')));
    [
        Told { title: "Lay", words: say(HandPart::Lay) },
        Told { title: "Mark", words: say(HandPart::Mark) },
        Told { title: "Twist", words: say(HandPart::Fold) },
        Told { title: "Band", words: format!("{one} over the puck. The first:{wraps}") },
    ]
}

/// All steps: in two rows with the words beside the drawings, or in one where the room is low.
fn together(ctx: &Context<'_>, drawn: &Drawn, all: &[Told; STEPS], ui: &mut Ui) {
    let room = ui.available_rect_before_wrap();
    let columns = if room.height() >= TWO_ROWS_FROM { 2 } else { STEPS };
    let share = |count: usize| 1.0 / screen(count as f64);
    let cell = room.size() * vec2(share(columns), share(STEPS / columns));
    for (index, told) in all.iter().enumerate() {
        let place = vec2(screen((index % columns) as f64), screen((index / columns) as f64));
        let rect = Rect::from_min_size(room.min + cell * place, cell - vec2(GAP, GAP));
        ui.scope_builder(UiBuilder::new().max_rect(rect), |ui| one(ctx, drawn, index, told, ui));
    }
}

/// One step in the room there is.
fn one(ctx: &Context<'_>, drawn: &Drawn, index: usize, told: &Told, ui: &mut Ui) {
    let width = ui.available_width();
    if width < BESIDE_FROM || ui.available_height() > width {
        words(index, told, ui);
        picture(ctx, drawn, index, ui);
        return;
    }
    ui.horizontal_top(|ui| {
        ui.allocate_ui(vec2(WORDS_SHARE * width, 0.0), |ui| ui.vertical(|ui| words(index, told, ui)));
        picture(ctx, drawn, index, ui);
    });
}

/// What a step is called, and what is done in it.
struct Told {
    title: &'static str,
    words: String,
}

fn words(index: usize, told: &Told, ui: &mut Ui) {
    ui.label(RichText::new(format!("{}  {}", index + 1, told.title)).strong().size(16.0));
    let faint = Palette::of(ui.ctx()).faint;
    let words = RichText::new(held_together(&told.words)).size(14.0).color(faint);
    let label = ui.add(Label::new(words).wrap());
    label.widget_info(|| WidgetInfo::labeled(Role::Label, true, &told.words));
}

fn picture(ctx: &Context<'_>, drawn: &Drawn, index: usize, ui: &mut Ui) {
    let room = ui.available_size();
    let (response, painter) = ui.allocate_painter(vec2(room.x, room.y.max(LEAST_DRAWING)), Sense::hover());
    let (is_flat, is_puck) = (ctx.figures.flat.is_some(), ctx.figures.spiral.is_some());
    let label = match index {
        0 => "The layers as laid",
        1 if is_puck => "The pinch and its tick, and where the bands part the cloth",
        1 if ctx.figures.burst.is_some() => "The arcs to chalk",
        1 => "The lines to chalk",
        2 if is_puck => "The puck and which way it is turned",
        2 if is_flat => "Every fold in turn",
        2 => "The creases to fold",
        _ if is_puck => "The puck with its bands",
        _ if is_flat => "The bundle with what holds it",
        _ => "The binds, in tying order",
    };
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, label));
    let rect: Rect = response.rect.shrink(6.0);
    let pen = Pen { ctx, scene: &drawn.scene, profile: &drawn.profile, painter: &painter, palette: Palette::of(ui.ctx()) };
    match index {
        0 => pen.layers(rect),
        1 => pen.arcs(rect),
        2 if is_puck => pen.bare_puck(rect),
        2 => match &drawn.way {
            Some(way) => pen.printed(way, rect),
            None => pen.creases(rect),
        },
        _ if is_puck => pen.puck(rect),
        _ if is_flat => pen.bundle(rect),
        _ => pen.binds(rect),
    }
}

fn steps(ctx: &Context<'_>) -> [Told; STEPS] {
    if ctx.layout.flat().is_some() {
        return bundle_steps(ctx);
    }
    if ctx.layout.spiral().is_some() {
        return puck_steps(ctx);
    }
    let fold = &ctx.figures.fold;
    let format = |mm| ctx.lengths.format(mm);
    let order = ctx.figures.tying_order.iter().take(4).map(u32::to_string).collect::<Vec<_>>().join(", ");
    let is_burst = ctx.figures.burst.is_some();
    let along = if is_burst {
        "the guide arc, until the arc is a straight line".to_owned()
    } else if (fold.pleated_mm - fold.guide_mm).abs() < f64::EPSILON && !ctx.layout.words().guide.contains("parallel") {
        "the line, until it is straight".to_owned()
    } else {
        let place = fold.words.place(fold.pleated_mm - fold.zero_mm, ctx.lengths);
        format!("the parallel {place}, until it is straight")
    };
    let about = if is_burst { "" } else { "about " };
    let pleats =
        format!("Fold {} pleats, {about}{} each, back and forth along {along}.", fold.pleats, format(fold.pleat_depth_mm));
    let pin = ctx.figures.burst.as_ref().map(|burst| {
        let place_mm = [burst.centre_below_shoulder_mm, burst.centre_from_centre_line_mm];
        format!("Pin the centre {}. ", fold.top.place(place_mm, ctx.lengths))
    });
    let by_string = if is_burst {
        format!("Swing a string from the pin: guide arc at {}, then each bind.", format(fold.guide_mm))
    } else {
        "Chalk the line from the template, then each bind's parallel to it.".to_owned()
    };
    let mark = pin.unwrap_or_default() + &by_string;
    let binds = ctx.figures.binds.len();
    [
        Told {
            title: "Lay",
            words: format!("{}, {}. {}", capitalised(fold.centring), counted(fold.layers, "layer"), fold.matching),
        },
        Told { title: "Mark", words: mark },
        Told { title: "Fan fold", words: pleats },
        Told {
            title: "Tie",
            words: format!(
                "Tie the {} first, then inward, then outward: binds {order} and so on, {binds} in all.",
                fold.words.guide
            ),
        },
    ]
}
