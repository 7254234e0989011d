//! A wish by numbers, and what is told of it.

use super::{Found, WishView, hindrance};
use super::{dyes, tints};
use crate::app::action::Action;
use crate::app::context::{Ask, Context};
use crate::app::field;
use crate::app::heading::section;
use crate::app::panel::Swatches;
use crate::app::theme::Palette;
use crate::edit::{EditCommand, Tying};
use crate::layout::Layout;
use crate::telling::Refused as _;
use crate::wish::{MOST_WISHED_BINDS, PartReached, WEIGHTS, WishColour, WishPart};
use egui::{Label, RichText, Ui};

/// Breadth of a ring that is added by its button, mm.
const ADDED_MM: f64 = 25.0;

pub(super) fn show(view: &mut WishView, ctx: &Context<'_>, swatches: &Swatches, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let word = word(ctx.layout);
    section(ui, "Wish", |ui| {
        ui.label(
            RichText::new("Say which rings you want on the opened garment; the binds and dyes that come nearest are looked for.")
                .weak(),
        );
        if let Some(words) = hindrance(ctx) {
            ui.add(Label::new(RichText::new(words).color(Palette::of(ui.ctx()).warn)).wrap());
            back(asks, ui);
            return;
        }
        sources(view, asks, ui);
        let mut removed = None;
        for index in 0..view.wished.rings.len() {
            ui.push_id(("ring", index), |ui| {
                ring(view, index, word, ctx, asks, ui);
                if ui.button(format!("Remove {} {}", word.to_lowercase(), index + 1)).clicked() {
                    removed = Some(index);
                }
                ui.separator();
            });
        }
        if let Some(index) = removed {
            view.wished.rings.remove(index);
        }
        if ui.button(format!("Add a {}", word.to_lowercase())).clicked() {
            add(view, ctx.layout);
        }
        ui.add_space(6.0);
        dyes::show(&mut view.wished, ctx, swatches, asks, ui);
        ui.add_space(6.0);
        let came_out = view.found.as_ref().map_or(0, |found| found.fulfilled.layout.binds().binds.len());
        let came_out = u32::try_from(came_out).unwrap_or(u32::MAX);
        if let Some(most) = field::solved_count(ui, "Most binds", view.wished.most_binds, came_out) {
            view.wished.most_binds = most.map(|most| most.clamp(1, MOST_WISHED_BINDS));
        }
        search(view, ctx, asks, ui);
        back(asks, ui);
    });
    if let Some(found) = &view.found {
        section(ui, "What comes of it", |ui| told(found, word, ctx, ui));
    }
}

/// Where a wish comes from and goes to: photographs and files.
fn sources(view: &mut WishView, asks: &mut Vec<Ask>, ui: &mut Ui) {
    ui.horizontal_wrapped(|ui| {
        for action in [Action::LikePhotograph, Action::OpenWish, Action::SaveWish] {
            let is_empty = action == Action::SaveWish && view.wished.rings.is_empty();
            let button = ui.add_enabled(!is_empty, egui::Button::new(action.label()));
            if button.on_hover_text(action.tooltip()).clicked() {
                asks.push(Ask::Act(action));
            }
        }
    });
    if let Some(liking) = &view.liking {
        let done = ui.horizontal_wrapped(|ui| {
            ui.label(format!("looking at the photograph, {:.0} %", 100.0 * liking.cancel.done()));
            ui.button("Stop").clicked()
        });
        if done.inner {
            view.liking = None;
        }
    }
    let Some((_, name)) = &view.before else { return };
    let back = ui.horizontal_wrapped(|ui| {
        ui.label(format!("From {name}."));
        ui.button("Back to the wish before").clicked()
    });
    if let Some((before, _)) = view.before.take_if(|_| back.inner) {
        view.wished = before;
    }
}

fn back(asks: &mut Vec<Ask>, ui: &mut Ui) {
    if ui.button("Back to the reveal").clicked() {
        asks.push(Ask::Act(Action::Wish));
    }
}

/// Begins and stops the search, and takes what it found.
fn search(view: &mut WishView, ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
    ui.horizontal_wrapped(|ui| {
        if let Some(search) = &view.search {
            ui.label(format!("looking for binds, {:.0} %", 100.0 * search.cancel.done()));
            if ui.button("Stop").clicked() {
                view.search = None;
            }
            return;
        }
        if ui.add_enabled(!view.wished.rings.is_empty(), egui::Button::new("Find binds")).clicked() {
            view.begin(ctx, ui.ctx());
        }
        let taken = ui.add_enabled(view.found.is_some(), egui::Button::new("Take"));
        if let (Some(found), true) =
            (&view.found, taken.on_hover_text("Use these binds and dyes; one step, which Undo takes back").clicked())
        {
            asks.push(Ask::Edit(EditCommand::TakeTying(Box::new(Tying::of(&found.fulfilled.layout)))));
            asks.push(Ask::Act(Action::Wish));
        }
    });
    if let Some(refused) = &view.refused {
        ui.label(RichText::new(refused).color(Palette::of(ui.ctx()).refused));
    }
}

/// What a part is called: a ring, or a band along a line.
fn word(layout: &Layout) -> &'static str {
    if layout.line().is_some() { "Band" } else { "Ring" }
}

/// Adds a ring beyond the last.
fn add(view: &mut WishView, layout: &Layout) {
    let tint = view.next_tint(layout);
    let from_mm = view.wished.rings.iter().map(|part| part.to_mm).fold(0.0, f64::max);
    view.wished.rings.push(WishPart { from_mm, to_mm: from_mm + ADDED_MM, colour: WishColour::Even(tint), weight: 1.0 });
}

/// The numbers and the colour of a ring.
fn ring(view: &mut WishView, index: usize, word: &str, ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let name = format!("{word} {}", index + 1);
    let dyes: Vec<String> = view.wished.dyes(ctx.layout).iter().map(|dye| dye.name.clone()).collect();
    let part = &mut view.wished.rings[index];
    if let Some(from_mm) = field::length(ctx, ui, &format!("{name} from"), part.from_mm) {
        part.from_mm = from_mm;
    }
    if let Some(to_mm) = field::length(ctx, ui, &format!("{name} to"), part.to_mm) {
        part.to_mm = to_mm;
    }
    tints::show(&mut part.colour, &name, &dyes, ctx, asks, ui);
    if let Some(weight) = field::number(ui, &format!("{name} weight"), part.weight) {
        part.weight = weight.clamp(WEIGHTS[0], WEIGHTS[1]);
    }
}

/// Errors part by part, and what can't be reached.
fn told(found: &Found, word: &str, ctx: &Context<'_>, ui: &mut Ui) {
    let fulfilled = &found.fulfilled;
    ui.label(format!("{:.1} off in the mean, where 5 is what a hand-dyed section varies within itself", fulfilled.difference));
    for (number, reached) in (1..).zip(&fulfilled.parts) {
        let words = match reached {
            None => "there is no cloth".to_owned(),
            Some(PartReached { difference, edges_mm, .. }) => {
                let edges: Vec<String> = edges_mm.iter().flatten().map(|edge_mm| ctx.voice().about(*edge_mm)).collect();
                let edges = if edges.is_empty() { String::new() } else { format!(", edges at {}", edges.join(" and ")) };
                format!("{difference:.1} off{edges}")
            }
        };
        ui.label(format!("{word} {number}: {words}"));
    }
    if fulfilled.line_mm > 0.0 {
        ui.label(format!("Each bind costs a line of {}", ctx.voice().about(fulfilled.line_mm)));
    }
    for not_reached in &fulfilled.not_reached {
        ui.label(RichText::new(format!("{}.", not_reached.say(ctx.voice()))).color(Palette::of(ui.ctx()).warn));
    }
}
