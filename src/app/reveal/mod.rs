//! The reveal: what comes out when the rod is opened, beside the layout, live; what the pointer reads of it; another beside it.

mod inset;
mod maker;
mod paint;
mod peel;
mod sure;
mod telling;
mod wall;

use self::inset::Inset;
use self::maker::{Look, Maker, Shown};
use self::paint::Pictured;
use self::peel::Peel;
use self::sure::SureView;
use self::telling::Telling;
use self::wall::WallView;
use super::action::Action;
use super::canvas::Canvas;
use super::context::{Ask, Context};
use super::heading::section;
use super::panel::Swatches;
use super::theme::Palette;
use super::wish::WishView;
use crate::layout::Layout;
use crate::measure::LengthStyle;
use crate::reveal::{PictureMap, Texture, comparison};
use crate::telling::Voice;
use egui::{Rect, RichText, Ui, UiBuilder, vec2};
use std::sync::Arc;
use std::sync::mpsc::{Receiver, channel};

/// The reveal view.
#[derive(Default)]
pub(crate) struct RevealView {
    look: Look,
    now: Maker,
    peel: Peel,
    sure: SureView,
    /// What the last fine reveal told.
    told: Option<Telling>,
    beside: Option<Beside>,
    compared: Option<Compared>,
    inset: Inset,
    /// The wall of variations, while it is looked at.
    wall: Option<WallView>,
    /// Rings that are wished for, and whether they show in place of the reveal.
    wish: WishView,
    wishes: bool,
}

/// What the reveal is compared with.
struct Beside {
    layout: Arc<Layout>,
    maker: Maker,
}

/// How two reveals differ, once another thread has found it.
struct Compared {
    of: (Arc<Shown>, Arc<Shown>),
    words: Option<String>,
    receiver: Receiver<String>,
}

impl std::fmt::Debug for RevealView {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("RevealView").field("look", &self.look).finish_non_exhaustive()
    }
}

impl RevealView {
    /// What its picture shows.
    pub(crate) fn look(&self) -> Look {
        self.look
    }

    /// Sets another layout beside the one at hand.
    pub(crate) fn compare_with(&mut self, layout: Arc<Layout>) {
        self.beside = Some(Beside { layout, maker: Maker::default() });
    }

    /// Whether the wall of variations shows in place of the reveal.
    pub(crate) fn shows_wall(&self) -> bool {
        self.wall.is_some()
    }

    /// Whether a wish shows in place of the reveal.
    pub(crate) fn shows_wish(&self) -> bool {
        self.wishes
    }

    /// The rings that are wished for, which show from now on.
    pub(crate) fn wish(&mut self) -> &mut WishView {
        (self.wishes, self.wall) = (true, None);
        &mut self.wish
    }

    /// Shows the wish, or puts it away.
    pub(crate) fn turn_wish(&mut self) {
        (self.wishes, self.wall) = (!self.wishes, None);
    }

    /// Shows the wall of variations, or puts it away.
    pub(crate) fn turn_wall(&mut self) {
        self.wall = if self.wall.is_some() { None } else { Some(WallView::default()) };
        self.wishes = false;
    }

    /// The choices about the picture, in the panel beside the table.
    pub(crate) fn choices(&mut self, ctx: &Context<'_>, swatches: &Swatches, asks: &mut Vec<Ask>, ui: &mut Ui) {
        if self.wishes {
            return self.wish.choices(ctx, swatches, asks, ui);
        }
        section(ui, "Picture", |ui| self.picture_choices(ctx, asks, ui));
    }

    fn picture_choices(&mut self, ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
        if self.wall.is_some() {
            let words =
                "Each differs from this layout in one or two things. A click takes it over in one step, which Undo takes back.";
            ui.label(RichText::new(words).weak());
            if ui.button("Back to the reveal").clicked() {
                asks.push(Ask::Act(Action::Vary));
            }
            return;
        }
        for map in PictureMap::ALL {
            ui.radio_value(&mut self.look.map, map, map.name());
        }
        paint::legend(self.look.map, ui);
        let mut textured = self.look.texture == Texture::Faint;
        let check = ui.add_enabled(self.look.map == PictureMap::Cloth, egui::Checkbox::new(&mut textured, "cloth texture"));
        if check.on_hover_text("Faint yarn, creases and edges of washed cloth; off gives flat colours").changed() {
            self.look.texture = if textured { Texture::Faint } else { Texture::Off };
        }
        ui.horizontal_wrapped(|ui| {
            if ui.button(Action::SavePicture.label()).on_hover_text(Action::SavePicture.tooltip()).clicked() {
                asks.push(Ask::Act(Action::SavePicture));
            }
            let hold = ui.button(Action::HoldPhotograph.label());
            if hold.on_hover_text(Action::HoldPhotograph.tooltip()).clicked() {
                asks.push(Ask::Act(Action::HoldPhotograph));
            }
            let keep = ui.button("Hold for comparison");
            if keep.on_hover_text("Keep this reveal beside what you change next").clicked() {
                self.compare_with(ctx.layout.clone());
            }
            if ui.button(Action::Compare.label()).on_hover_text(Action::Compare.tooltip()).clicked() {
                asks.push(Ask::Act(Action::Compare));
            }
            if ui.button(Action::Vary.label()).on_hover_text(Action::Vary.tooltip()).clicked() {
                asks.push(Ask::Act(Action::Vary));
            }
            if ui.button(Action::Wish.label()).on_hover_text(Action::Wish.tooltip()).clicked() {
                asks.push(Ask::Act(Action::Wish));
            }
            if self.beside.is_none() {
                self.sure.button(ui);
            }
            if self.beside.is_some() && ui.button("Stop comparing").clicked() {
                self.beside = None;
                self.compared = None;
            }
        });
        if self.beside.is_none() {
            self.sure.choices(ctx, ui);
        }
        let estimate = match ctx.layout.process().calibration.learned {
            Some(from) => {
                format!("An estimate. How far dye and discharge reach was {}; the rest is our own guess.", from.words())
            }
            None => "An estimate. How far dye and discharge reach is our own guess; correct it under Calibration.".to_owned(),
        };
        ui.label(RichText::new(estimate).weak());
    }

    /// What the reveal tells besides the picture.
    pub(crate) fn telling(&self, ctx: &Context<'_>, ui: &mut Ui) {
        // Why nothing comes stands on the table; beside the wall there is no reveal to tell of.
        if self.wall.is_none() && !self.wishes && self.now.refusal(ctx.layout).is_none() {
            telling::show(self.told.as_ref(), ctx.layout, self.now.refining(), ui);
        }
    }

    /// The pictures, on the table.
    pub(crate) fn show(&mut self, ctx: &Context<'_>, canvas: &mut Canvas, asks: &mut Vec<Ask>, ui: &mut Ui) {
        let palette = Palette::of(ui.ctx());
        ui.painter().rect_filled(ui.max_rect(), 0.0, palette.table);
        if self.wishes {
            canvas.pointed = None;
            return self.wish.show(ctx, ui.available_rect_before_wrap(), ui);
        }
        if let Some(wall) = &mut self.wall {
            canvas.pointed = None;
            return wall.show(ctx, ui.available_rect_before_wrap(), asks, ui);
        }
        self.now.keep_up_with(ctx, self.look, ui.ctx());
        if let Some((shown, _)) = self.now.shown()
            && !self.told.as_ref().is_some_and(|told| told.is_of(&shown.layout))
        {
            self.told = Telling::of(shown).or(self.told.take());
        }
        if let Some(beside) = &mut self.beside {
            beside.maker.keep_up(&beside.layout, self.look, ui.ctx());
        }
        self.compare(ui);
        let room = ui.available_rect_before_wrap();
        let Some(beside) = &self.beside else {
            if !self.sure.show(ctx, &self.now, self.look, room, canvas, ui) {
                self.peel.show(ctx, &self.now, ctx.layout, room, canvas, ui);
            }
            return;
        };
        let words = self.compared.as_ref().and_then(|compared| compared.words.as_deref());
        let foot = if words.is_some() { 54.0 } else { 0.0 };
        let (upper, lower) = room.with_max_y(room.bottom() - foot).split_top_bottom_at_fraction(0.5);
        let other = Pictured { maker: &beside.maker, layout: &beside.layout, role: Some("held to compare"), overlay: None };
        let now = Pictured { maker: &self.now, layout: ctx.layout, role: Some("as it is now"), overlay: None };
        for (pictured, room) in [(other, upper), (now, lower)] {
            paint::reveal(ctx, &pictured, None, room, canvas, ui);
        }
        if let Some(words) = words {
            let rect = Rect::from_min_max(room.left_bottom() - vec2(-16.0, foot), room.right_bottom() - vec2(16.0, 4.0));
            ui.scope_builder(UiBuilder::new().max_rect(rect), |ui| ui.label(words));
        }
    }

    /// Compares the two fine reveals on another thread, once both are there.
    fn compare(&mut self, ui: &Ui) {
        let fine = |maker: &Maker| maker.shown().map(|(shown, _)| shown.clone()).filter(|shown| shown.fine);
        let (Some(first), Some(second)) = (self.beside.as_ref().and_then(|beside| fine(&beside.maker)), fine(&self.now)) else {
            return;
        };
        let is_of = |compared: &Compared| Arc::ptr_eq(&compared.of.0, &first) && Arc::ptr_eq(&compared.of.1, &second);
        if !self.compared.as_ref().is_some_and(is_of) {
            let (sender, receiver) = channel();
            let (egui, of) = (ui.ctx().clone(), (first.clone(), second.clone()));
            // Nothing of it has a length.
            let voice = Voice::window(LengthStyle::default());
            let work = move || {
                let found = comparison(&first.reveal, &first.dyes, &second.reveal, &second.dyes);
                let unlike = || "These garments differ in cut, so they can't be compared point by point.".to_owned();
                let _gone = sender.send(found.map_or_else(unlike, |found| found.sentence(voice)));
                egui.request_repaint();
            };
            // Without a thread there is no sentence; the pictures stand beside each other all the same.
            let _spawned = std::thread::Builder::new().name("compare".to_owned()).spawn(work);
            self.compared = Some(Compared { of, words: None, receiver });
        }
        if let Some(compared) = &mut self.compared
            && let Ok(words) = compared.receiver.try_recv()
        {
            compared.words = Some(words);
        }
    }
}
