//! What lies in the window between its bars: the panel of a step and its table, or what there is without a layout.

use super::App;
use super::photo::{OUTLINING_AT, SQUARES_AT};
use crate::app::action::Action;
use crate::app::canvas::{Canvas, Showing};
use crate::app::context::{Ask, Context};
use crate::app::day::DayView;
use crate::app::journal::JournalView;
use crate::app::panel::{self, Presets, Swatches};
use crate::app::photo::{OutlineView, PhotoView, SquaresView};
use crate::app::reveal::RevealView;
use crate::app::rod::RodView;
use crate::app::sheets::Sheets;
use crate::app::step::Step;
use crate::app::theme::Palette;
use crate::app::tour::Spot;
use crate::app::welcome::{Left, Welcome};
use crate::geometry::PanelSet;
use crate::measure::LengthStyle;
use egui::{Panel, ScrollArea, Ui, UiBuilder};

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

    /// A photograph that a garment's outline is taken from, when no layout is open.
    pub(super) fn outlining_alone(&mut self, ui: &mut Ui, asks: &mut Vec<Ask>) {
        let voice = self.voice();
        let Some(outlining) = &mut self.outlining else { return };
        let beside = has_room_beside(ui);
        if beside {
            side_panel(OUTLINING_AT, ui, |ui| outlining.choices(voice, asks, ui));
        }
        egui::CentralPanel::no_frame().show(ui, |ui| {
            if !beside {
                pages(OUTLINING_AT, &mut self.at_options, None, asks, ui);
                if self.at_options {
                    return page(OUTLINING_AT, ui, |ui| outlining.choices(voice, asks, ui));
                }
            }
            ui.scope_builder(below(ui), |ui| outlining.show(ui));
        });
    }

    /// The journal when no layout is open.
    pub(super) fn journal_alone(&mut self, ui: &mut Ui, asks: &mut Vec<Ask>) {
        let lengths = self.lengths();
        let beside = has_room_beside(ui);
        if beside {
            side_panel(Step::Journal, ui, |ui| self.journal_choices(lengths, asks, ui));
        }
        egui::CentralPanel::no_frame().show(ui, |ui| {
            if !beside {
                pages(Step::Journal, &mut self.at_options, None, asks, ui);
                if self.at_options {
                    return page(Step::Journal, ui, |ui| self.journal_choices(lengths, asks, ui));
                }
            }
            ui.scope_builder(below(ui), |ui| match self.photo.as_mut().filter(|photo| photo.home() == Step::Journal) {
                Some(photo) => photo.show(ui),
                None => self.journal.show(lengths, asks, ui),
            });
        });
    }

    /// The panel of the journal without a layout, or of the photograph in its place.
    fn journal_choices(&mut self, lengths: LengthStyle, asks: &mut Vec<Ask>, ui: &mut Ui) {
        match self.photo.as_mut().filter(|photo| photo.home() == Step::Journal) {
            Some(photo) => photo.choices(lengths, asks, ui),
            None => self.journal.choices(None, lengths, &self.settings, asks, ui),
        }
    }

    /// A step: its panel, its table, and the numbers beside it.
    pub(super) fn table(&mut self, ui: &mut Ui, asks: &mut Vec<Ask>) {
        let Some(document) = &self.document else { return };
        let (taught, is_followed) = (self.taught.as_ref(), self.following.is_at_it());
        let ctx = Context { taught, is_followed, ..Context::of(document, self.lengths(), &self.settings) };
        let (step, sheets) = (self.step, &mut self.sheets);
        self.canvas.tinted = step == Step::Colours;
        self.canvas.drawing = step == Step::Fold;
        sheets.plan = if sheets.wanted.day { self.day.for_card(&ctx.of_whole(), ui) } else { None };
        let narrow = ui.available_width() < NARROW;
        let beside = has_room_beside(ui);
        let mut table = Table {
            step,
            beside,
            canvas: &mut self.canvas,
            sheets,
            presets: &mut self.presets,
            swatches: &self.swatches,
            rod: &mut self.rod,
            reveal: &mut self.reveal,
            day: &mut self.day,
            journal: &mut self.journal,
            photo: self.photo.as_mut().filter(|photo| photo.home() == step),
            squares: self.squares.as_mut().filter(|_| step == SQUARES_AT),
            outlining: self.outlining.as_mut().filter(|_| step == OUTLINING_AT),
        };
        if beside {
            side_panel(step, ui, |ui| table.options(&ctx, asks, ui));
        }
        let has_room = has_room_for_numbers(ui.ctx()) && ui.available_width() >= ROOM_WITH_NUMBERS;
        let is_cloth = table.squares.is_none() && table.outlining.is_none();
        if step.is_about_cloth() && is_cloth && !ctx.settings.numbers_hidden && has_room {
            Panel::right("numbers").default_size(if narrow { 290.0 } else { 330.0 }).min_size(220.0).show(ui, |ui| {
                ScrollArea::vertical()
                    .id_salt("numbers")
                    .auto_shrink(false)
                    .show(ui, |ui| panel::numbers(&ctx, table.canvas, asks, ui));
            });
        }
        let frame = egui::Frame::NONE.fill(Palette::of(ui.ctx()).panel);
        let is_alone = table.photo.is_some() || table.reveal.shows_wall() || table.reveal.shows_wish();
        if step == Step::Reveal && beside && !is_alone && ui.available_width() > ROOM_FOR_BOTH {
            let width = LAYOUT_SHARE * ui.available_width();
            Panel::left("layout").frame(frame).default_size(width).min_size(240.0).show(ui, |ui| {
                ui.horizontal_wrapped(|ui| showings(table.canvas, ctx.layout.panels(), true, asks, ui));
                table.canvas.show(&ctx, asks, ui);
            });
        }
        let at_options = &mut self.at_options;
        egui::CentralPanel::no_frame().frame(frame).show(ui, |ui| {
            // The day's options are a page among its own.
            if !beside && step != Step::Day {
                let cloth = is_cloth.then(|| (&*table.canvas, ctx.layout.panels()));
                pages(step, at_options, cloth, asks, ui);
                if *at_options {
                    return page(step, ui, |ui| table.options(&ctx, asks, ui));
                }
            } else if beside && is_cloth && step.shows_cloth() && step != Step::Reveal {
                ui.horizontal_wrapped(|ui| showings(table.canvas, ctx.layout.panels(), true, asks, ui));
            }
            // What is left below: tables paint their ground over all the room they are given.
            ui.scope_builder(below(ui), |ui| table.show(&ctx, asks, ui));
        });
    }
}

/// The room that is left.
fn below(ui: &Ui) -> UiBuilder {
    UiBuilder::new().max_rect(ui.available_rect_before_wrap())
}

/// The views of the steps, for as long as a frame is drawn.
struct Table<'a> {
    step: Step,
    /// Whether the options stand beside the table.
    beside: bool,
    canvas: &'a mut Canvas,
    sheets: &'a mut Sheets,
    presets: &'a mut Presets,
    swatches: &'a Swatches,
    rod: &'a mut RodView,
    reveal: &'a mut RevealView,
    day: &'a mut DayView,
    journal: &'a mut JournalView,
    /// The photograph that shows in the step's place.
    photo: Option<&'a mut PhotoView>,
    /// The photograph that swatches are taken from, in the cloth's place.
    squares: Option<&'a mut SquaresView>,
    /// The photograph that the garment's outline is taken from, in its place.
    outlining: Option<&'a mut OutlineView>,
}

impl Table<'_> {
    /// What a step lets the maker say.
    fn options(&mut self, ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
        if let Some(photo) = &mut self.photo {
            return photo.choices(ctx.lengths, asks, ui);
        }
        if let Some(squares) = &mut self.squares {
            return squares.choices(ctx, asks, ui);
        }
        if let Some(outlining) = &mut self.outlining {
            return outlining.choices(ctx.voice(), asks, ui);
        }
        let whole = &ctx.of_whole();
        match self.step {
            Step::Garment => panel::garment(ctx, asks, ui),
            Step::Fold => panel::fold(ctx, self.canvas, self.swatches, asks, ui),
            Step::Binds => panel::binds(ctx, self.canvas, self.presets, asks, ui),
            Step::Colours => panel::colours(ctx, self.swatches, asks, ui),
            Step::Rod => panel::thread(ctx, asks, ui),
            Step::Reveal => {
                self.reveal.choices(whole, self.swatches, asks, ui);
                panel::process(whole, asks, ui);
                self.reveal.telling(whole, ui);
            }
            Step::Sheets => self.sheets.choices(whole, asks, ui),
            Step::Day => self.day.choices(whole, asks, ui),
            Step::Journal => self.journal.choices(Some(whole.layout), ctx.lengths, ctx.settings, asks, ui),
        }
    }

    /// What lies on the table.
    fn show(&mut self, ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
        if let Some(photo) = &mut self.photo {
            return photo.show(ui);
        }
        if let Some(squares) = &mut self.squares {
            return squares.show(ui);
        }
        if let Some(outlining) = &mut self.outlining {
            return outlining.show(ui);
        }
        match self.step {
            Step::Rod => self.rod.show(ctx, asks, ui),
            Step::Sheets => self.sheets.show(&ctx.of_whole(), asks, ui),
            Step::Reveal => self.reveal.show(&ctx.of_whole(), self.canvas, asks, ui),
            Step::Day => self.day.show(&ctx.of_whole(), ctx.settings, self.beside, asks, ui),
            Step::Journal => self.journal.show(ctx.lengths, asks, ui),
            Step::Garment | Step::Fold | Step::Binds | Step::Colours => self.cloth(ctx, asks, ui),
        }
    }

    /// The cloth, with its reveal over a corner.
    fn cloth(&mut self, ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
        let table = ui.max_rect();
        self.canvas.show(ctx, asks, ui);
        let shows = self.step.draws_fold() && !ctx.settings.inset_hidden;
        let covered = if shows { self.reveal.inset(&ctx.of_whole(), table, asks, ui) } else { Some(egui::Vec2::ZERO) };
        if covered.is_none() {
            asks.push(Ask::Act(Action::Inset));
        }
        self.canvas.leave_free(covered.unwrap_or_default(), ui);
    }
}

/// The pages of a step where its options have no room beside its table: those, and the table.
fn pages(step: Step, at_options: &mut bool, cloth: Option<(&Canvas, &PanelSet)>, asks: &mut Vec<Ask>, ui: &mut Ui) {
    ui.style_mut().always_scroll_the_only_direction = true;
    ScrollArea::horizontal().id_salt("pages").show(ui, |ui| {
        ui.horizontal(|ui| {
            ui.add_space(10.0);
            ui.selectable_value(at_options, true, "Options");
            match cloth {
                Some((canvas, panels)) if step.shows_cloth() && step != Step::Reveal => {
                    if showings(canvas, panels, !*at_options, asks, ui) {
                        *at_options = false;
                    }
                }
                _ => drop(ui.selectable_value(at_options, false, step.name())),
            }
        });
    });
}

/// The ways to show the cloth, to be chosen; whether one was.
fn showings(canvas: &Canvas, panels: &PanelSet, is_shown: bool, asks: &mut Vec<Ask>, ui: &mut Ui) -> bool {
    ui.add_space(10.0);
    let mut chosen = false;
    for showing in Showing::ALL.into_iter().filter(|showing| showing.is_there(panels)) {
        if ui.selectable_label(is_shown && canvas.showing == showing, showing.name()).clicked() {
            asks.push(Ask::Act(Action::from(showing)));
            chosen = true;
        }
    }
    chosen
}

/// Whether a step's options have room beside its table.
fn has_room_beside(ui: &Ui) -> bool {
    ui.available_width() >= ROOM_BESIDE
}

/// Least breadth of the window, points, for options beside a table that can still be worked on: below, each is a page.
const ROOM_BESIDE: f32 = 640.0;

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
        Spot::Options.is_at(ui.max_rect(), ui.ctx());
        scrolled(step, ui, add);
    });
}

/// The same as a page.
fn page(step: Step, ui: &mut Ui, add: impl FnOnce(&mut Ui)) {
    egui::Frame::NONE.inner_margin(egui::Margin::symmetric(8, 2)).show(ui, |ui| scrolled(step, ui, add));
}

fn scrolled(step: Step, ui: &mut Ui, add: impl FnOnce(&mut Ui)) {
    ScrollArea::vertical().id_salt(step).auto_shrink(false).show(ui, |ui| {
        ui.add_space(4.0);
        add(ui);
    });
}

/// Share of the table that the layout takes beside its reveal.
const LAYOUT_SHARE: f32 = 0.4;
/// Windows narrower than this get narrower panels, points.
const NARROW: f32 = 1200.0;
/// Windows narrower than this have no numbers beside the table, points.
const ROOM_FOR_NUMBERS: f32 = 920.0;
/// Least breadth of table and numbers together, points: the handbook may stand beside them.
const ROOM_WITH_NUMBERS: f32 = 560.0;
/// Room in which layout and reveal stand beside each other, points.
const ROOM_FOR_BOTH: f32 = 760.0;
