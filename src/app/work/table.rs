//! What lies in the window between its bars: the panel of a step and its table, or what there is without a layout.

use super::App;
use crate::app::action::Action;
use crate::app::canvas::{Canvas, Showing};
use crate::app::context::{Ask, Context};
use crate::app::panel;
use crate::app::step::Step;
use crate::app::theme::Palette;
use crate::app::welcome::{Left, Welcome};
use egui::{Panel, ScrollArea, Ui};

impl App {
    /// What shows when nothing is open: a run that is under way, or the welcome.
    pub(super) fn beginning(&mut self, step: Step, ui: &mut Ui, asks: &mut Vec<Ask>) {
        let (running, texts) = (self.day.is_running(), self.unfinished_texts());
        let voice = self.voice();
        let settings = &self.settings;
        egui::CentralPanel::default().show(ui, |ui| {
            if running && step == Step::Day {
                self.day.show_run(settings, voice, asks, ui);
            } else {
                let left = Left { recovered: &self.keep.recovered, texts: &texts, running };
                let welcome = self.welcome.get_or_insert_with(Welcome::default);
                welcome.show(settings, &left, asks, ui);
            }
        });
    }

    /// The journal when no layout is open.
    pub(super) fn journal_alone(&mut self, ui: &mut Ui, asks: &mut Vec<Ask>) {
        let lengths = self.lengths();
        side_panel(Step::Journal, ui, |ui| self.journal.choices(None, lengths, asks, ui));
        egui::CentralPanel::no_frame().show(ui, |ui| self.journal.show(lengths, asks, ui));
    }

    /// A step: its panel, its table, and the numbers beside it.
    pub(super) fn table(&mut self, ui: &mut Ui, asks: &mut Vec<Ask>) {
        let Some(document) = &self.document else { return };
        let ctx =
            Context { layout: document.layout(), figures: document.figures(), lengths: self.lengths(), settings: &self.settings };
        let (canvas, sheets, presets, reveal) = (&mut self.canvas, &mut self.sheets, &mut self.presets, &mut self.reveal);
        let (rod, day, journal, swatches, step) = (&mut self.rod, &mut self.day, &mut self.journal, &self.swatches, self.step);
        canvas.tinted = step == Step::Colours;
        canvas.drawing = step == Step::Fold;
        sheets.plan = if sheets.wanted.day { day.for_card(&ctx, ui) } else { None };
        let narrow = ui.available_width() < NARROW;
        let beside = step != Step::Day || ui.available_width() >= ROOM_FOR_DAY;
        let panel = |ui: &mut Ui| match step {
            Step::Garment => panel::garment(&ctx, asks, ui),
            Step::Fold => panel::fold(&ctx, canvas, asks, ui),
            Step::Binds => panel::binds(&ctx, canvas, presets, asks, ui),
            Step::Colours => panel::colours(&ctx, swatches, asks, ui),
            Step::Rod => panel::thread(&ctx, asks, ui),
            Step::Reveal => {
                reveal.choices(&ctx, asks, ui);
                panel::process(&ctx, asks, ui);
                reveal.telling(&ctx, ui);
            }
            Step::Sheets => sheets.choices(&ctx, asks, ui),
            Step::Day => day.choices(&ctx, asks, ui),
            Step::Journal => journal.choices(Some(ctx.layout), ctx.lengths, asks, ui),
        };
        if beside {
            side_panel(step, ui, panel);
        }
        if step.is_about_cloth() && !ctx.settings.numbers_hidden && has_room_for_numbers(ui.ctx()) {
            Panel::right("numbers").default_size(if narrow { 290.0 } else { 330.0 }).min_size(220.0).show(ui, |ui| {
                ScrollArea::vertical()
                    .id_salt("numbers")
                    .auto_shrink(false)
                    .show(ui, |ui| panel::numbers(&ctx, canvas, asks, ui));
            });
        }
        if step == Step::Reveal && ui.available_width() > ROOM_FOR_BOTH {
            let width = LAYOUT_SHARE * ui.available_width();
            let frame = egui::Frame::NONE.fill(Palette::of(ui.ctx()).panel);
            Panel::left("layout").frame(frame).default_size(width).min_size(240.0).show(ui, |ui| cloth(&ctx, canvas, asks, ui));
        }
        let frame = egui::Frame::NONE.fill(Palette::of(ui.ctx()).panel);
        egui::CentralPanel::no_frame().frame(frame).show(ui, |ui| match step {
            Step::Rod => rod.show(&ctx, ui),
            Step::Sheets => sheets.show(&ctx, asks, ui),
            Step::Reveal => reveal.show(&ctx, canvas, ui),
            Step::Day => day.show(&ctx, ctx.settings, beside, asks, ui),
            Step::Journal => journal.show(ctx.lengths, asks, ui),
            _ => {
                let table = ui.max_rect();
                cloth(&ctx, canvas, asks, ui);
                let shows = step.draws_fold() && !ctx.settings.inset_hidden;
                let covered = if shows { reveal.inset(&ctx, table, asks, ui) } else { Some(egui::Vec2::ZERO) };
                if covered.is_none() {
                    asks.push(Ask::Act(Action::Inset));
                }
                canvas.leave_free(covered.unwrap_or_default(), ui);
            }
        });
    }
}

/// Least breadth of the window, points, for the day's choices beside its table: below, they are a page of it.
const ROOM_FOR_DAY: f32 = 640.0;

/// Whether the window is wide enough for numbers beside a table that can still be worked on.
pub(super) fn has_room_for_numbers(ctx: &egui::Context) -> bool {
    ctx.content_rect().width() >= ROOM_FOR_NUMBERS
}

/// The panel beside the table.
fn side_panel(step: Step, ui: &mut Ui, add: impl FnOnce(&mut Ui)) {
    let narrow = ui.available_width() < NARROW;
    let side = if narrow { 322.0 } else { 350.0 };
    let most = if narrow { side } else { 560.0 };
    Panel::left("step").default_size(side).min_size(280.0).max_size(most).show(ui, |ui| {
        ScrollArea::vertical().id_salt(step).auto_shrink(false).show(ui, |ui| {
            ui.add_space(4.0);
            add(ui);
        });
    });
}

/// The cloth on the table, with the ways to show it.
fn cloth(ctx: &Context<'_>, canvas: &mut Canvas, asks: &mut Vec<Ask>, ui: &mut Ui) {
    ui.horizontal_wrapped(|ui| {
        ui.add_space(10.0);
        for showing in Showing::ALL {
            if ui.selectable_label(canvas.showing == showing, showing.name()).clicked() {
                asks.push(Ask::Act(Action::from(showing)));
            }
        }
    });
    canvas.show(ctx, asks, ui);
}

/// Share of the table that the layout takes beside its reveal.
const LAYOUT_SHARE: f32 = 0.4;
/// Windows narrower than this get narrower panels, points.
const NARROW: f32 = 1200.0;
/// Windows narrower than this have no numbers beside the table, points.
const ROOM_FOR_NUMBERS: f32 = 920.0;
/// Room in which layout and reveal stand beside each other, points.
const ROOM_FOR_BOTH: f32 = 760.0;
