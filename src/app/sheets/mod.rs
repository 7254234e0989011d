//! The sheets as they will come out: paper and parts chosen beside them, laid out off the window's thread.

mod card;
mod page;
mod pictures;
mod wanted;

use self::card::{CardPicture, CardWith};
pub(super) use self::page::{PageLines, page_lines};
use self::page::{pieces, show_together};
use self::pictures::CardPictures;
pub(crate) use self::wanted::Wanted;
use super::action::Action;
use super::context::{Ask, Context};
use super::purpose::{Printed, Purpose};
use super::theme::Palette;
use super::warnings::warnings;
use crate::layout::{Figures, Layout};
use crate::measure::LengthStyle;
use crate::plan::Plan;
use crate::print::PdfDocument;
use crate::print::parts::print_parts_with;
use crate::reveal::Cancel;
use crate::telling::{AnyRefusal, listed};
use egui::{Response, RichText, ScrollArea, Ui, vec2};
use std::sync::Arc;
use std::sync::mpsc::{Receiver, channel};

/// For which state of things sheets were laid out.
#[derive(Debug, Clone)]
struct Key {
    layout: Arc<Layout>,
    wanted: Wanted,
    lengths: LengthStyle,
    card: CardWith,
}

impl Key {
    fn is(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.layout, &other.layout)
            && (&self.wanted, self.lengths, &self.card) == (&other.wanted, other.lengths, &other.card)
    }
}

/// Sheets for a state of things.
type Done = (Key, LaidOut<Arc<Vec<PageLines>>>);
/// Sheets that another thread is at.
type UnderWay = (Key, Receiver<LaidOut<Vec<PageLines>>>);
/// Sheets laid out, or why they could not be.
type LaidOut<T> = Result<T, AnyRefusal>;

/// How the sheets are looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
enum Looking {
    /// Each by itself, all at once.
    #[default]
    OneByOne,
    /// Laid together as they will be taped.
    Together,
    /// One closely.
    Closely(usize),
}

/// The sheets of the layout, laid out anew when it or the wishes change.
#[derive(Debug, Default)]
pub(crate) struct Sheets {
    pub(crate) wanted: Wanted,
    done: Option<Done>,
    under_way: Option<UnderWay>,
    looking: Looking,
    /// The plan for the job card, and which of its lines the layout is.
    pub(crate) plan: Option<(Arc<Plan>, usize)>,
    pictures: CardPictures,
}

impl Sheets {
    /// What the job card shows besides when it is printed.
    pub(crate) fn card_to_print(&self, layout: &Arc<Layout>) -> CardWith {
        let picture = match self.pictures.at_hand(layout) {
            _ if !self.wanted.shows_picture() => CardPicture::None,
            Some(picture) => CardPicture::Made(picture),
            None => CardPicture::ToMake,
        };
        CardWith { plan: self.plan.clone(), picture }
    }

    /// What it shows besides now: the picture as soon as it is made, until then its frame.
    fn card_to_show(&mut self, layout: &Arc<Layout>, ui: &Ui) -> CardWith {
        let picture = if !self.wanted.shows_picture() {
            CardPicture::None
        } else if let Some(Ok(picture)) = self.pictures.get(layout, ui.ctx()) {
            CardPicture::Made(picture.clone())
        } else {
            CardPicture::Frame
        };
        CardWith { plan: self.plan.clone(), picture }
    }

    /// What to look out for before printing, and the choices.
    pub(crate) fn choices(&mut self, ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
        warnings(ctx, asks, ui);
        self.wanted.choices(ctx, asks, ui);
    }

    /// The sheets, on the table.
    pub(crate) fn show(&mut self, ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
        self.keep_up(ctx, ui);
        // Sheets of the same garment are shown until the new ones are laid out; those of another would be taken for this one's.
        let garment = &ctx.layout.raw().garment;
        if self.under_way.is_some()
            && self
                .done
                .as_ref()
                .is_some_and(|(key, _)| key.layout.raw().garment.kind != garment.kind || key.layout.name() != ctx.layout.name())
        {
            self.done = None;
        }
        let palette = Palette::of(ui.ctx());
        ui.painter().rect_filled(ui.max_rect(), 0.0, palette.table);
        let pages = match &self.done {
            Some((_, Ok(pages))) => pages.clone(),
            Some((_, Err(refusal))) => {
                ui.add_space(40.0);
                ui.vertical_centered(|ui| ui.label(RichText::new(refusal.say(ctx.voice())).color(palette.refused)));
                return;
            }
            None => {
                ui.add_space(40.0);
                ui.vertical_centered(|ui| ui.label("Laying out the sheets…"));
                return;
            }
        };
        self.ways(ctx, &pages, ui);
        match self.looking {
            Looking::Closely(index) if index < pages.len() => {
                let response = ui.vertical_centered(|ui| pages[index].show(ui, ui.available_size(), palette)).inner;
                self.menu(index, &pages, &response, asks);
            }
            Looking::Together if !pieces(&pages).is_empty() => {
                if let Some(index) = show_together(&pages, ui, palette) {
                    self.looking = Looking::Closely(index);
                }
            }
            _ => self.all(&pages, asks, ui, palette),
        }
    }

    /// The menu of a right click on a sheet.
    fn menu(&mut self, index: usize, pages: &[PageLines], response: &Response, asks: &mut Vec<Ask>) {
        response.context_menu(|ui| {
            ui.set_min_width(200.0);
            ui.strong(format!("Sheet {}", pages[index].name));
            let ways = [
                (Looking::Closely(index), "Enlarge"),
                (Looking::OneByOne, "Show all sheets"),
                (Looking::Together, "Show assembled"),
            ];
            let possible = |way: Looking| way != self.looking && (way != Looking::Together || !pieces(pages).is_empty());
            let mut chosen = None;
            for (way, words) in ways.into_iter().filter(|(way, _)| possible(*way)) {
                if ui.button(words).clicked() {
                    chosen = Some(way);
                }
            }
            ui.separator();
            let one = ui.button("Print this sheet…").on_hover_text("One sheet as a PDF, to replace a spoiled one").clicked();
            let all = ui.button(Action::Print.label()).on_hover_text(Action::Print.tooltip()).clicked();
            if let Some(way) = chosen {
                self.looking = way;
            }
            asks.extend(one.then_some(Ask::NameFile(Purpose::PrintSheet(index))));
            asks.extend(all.then_some(Ask::Act(Action::Print)));
            if chosen.is_some() || one || all {
                ui.close();
            }
        });
    }

    /// What will be printed, to be told where its file is named: how many sheets, as soon as they are laid out, the paper and the parts.
    pub(crate) fn about_print(&mut self, ctx: &Context<'_>, what: Printed, ui: &Ui) -> String {
        self.keep_up(ctx, ui);
        let pages = match &self.done {
            Some((_, Ok(pages))) if self.under_way.is_none() => Some(pages.as_slice()),
            _ => None,
        };
        let paper = self.wanted.paper.said(ctx.lengths);
        let serving = self.wanted.parts.iter().filter(|kind| what == Printed::Order || kind.serves(ctx.layout));
        let parts = listed(serving.map(|kind| kind.name().replace('-', " ")), "and");
        match (what, pages) {
            (Printed::One(index), Some(pages)) if index < pages.len() => {
                format!("Sheet {} of {}, {}, on {paper}", index + 1, pages.len(), pages[index].name)
            }
            (Printed::All, Some(pages)) => {
                let plural = if pages.len() == 1 { "sheet" } else { "sheets" };
                format!("{} {plural} on {paper}: {parts}", pages.len())
            }
            (Printed::One(index), _) => format!("Sheet {}, on {paper}", index + 1),
            (Printed::All, None) => format!("On {paper}: {parts}; laying out the sheets…"),
            (Printed::Order, _) => format!("For every layout, on {paper}: {parts}"),
        }
    }

    /// How many there are, and the ways to look at them.
    fn ways(&mut self, ctx: &Context<'_>, pages: &[PageLines], ui: &mut Ui) {
        ui.horizontal_wrapped(|ui| {
            ui.add_space(12.0);
            ui.selectable_value(&mut self.looking, Looking::OneByOne, "Single sheets");
            if !pieces(pages).is_empty() {
                ui.selectable_value(&mut self.looking, Looking::Together, "Assembled");
            }
            if let Looking::Closely(index) = self.looking
                && let Some(page) = pages.get(index)
            {
                ui.selectable_value(&mut self.looking, Looking::Closely(index), format!("Sheet {}, enlarged", page.name));
            }
            let plural = if pages.len() == 1 { "sheet" } else { "sheets" };
            ui.label(RichText::new(format!("{} {plural} on {}", pages.len(), self.wanted.paper.said(ctx.lengths))).weak());
            if self.wanted.shows_picture() {
                self.about_picture(ctx, ui);
            }
        });
    }

    /// How far the job card's picture is, or why there is none.
    fn about_picture(&mut self, ctx: &Context<'_>, ui: &mut Ui) {
        let palette = Palette::of(ui.ctx());
        match self.pictures.get(ctx.layout, ui.ctx()) {
            Some(Ok(_)) => {}
            Some(Err(words)) => {
                let words = format!("The job card has no picture. {}", words.say(ctx.voice()));
                ui.label(RichText::new(words).color(palette.refused));
            }
            None => {
                let done = self.pictures.done().unwrap_or(0.0);
                ui.label(RichText::new(format!("making its picture, {:.0} %", 100.0 * done)).weak());
            }
        }
    }

    fn all(&mut self, pages: &[PageLines], asks: &mut Vec<Ask>, ui: &mut Ui, palette: &Palette) {
        ScrollArea::vertical().id_salt("sheets").auto_shrink(false).show(ui, |ui| {
            let margin = egui::Margin::symmetric(6, 4);
            egui::Frame::NONE.inner_margin(margin).show(ui, |ui| {
                let rows = egui::Layout::left_to_right(egui::Align::Min).with_main_wrap(true);
                ui.with_layout(rows, |ui| {
                    for (index, page) in pages.iter().enumerate() {
                        let response = page.show(ui, vec2(230.0, 300.0), palette);
                        self.menu(index, pages, &response, asks);
                        if response.on_hover_text(format!("Enlarge {}", page.name)).clicked() {
                            self.looking = Looking::Closely(index);
                        }
                    }
                });
            });
        });
    }

    /// Lays the sheets out on another thread when they are out of date, and takes them over when they are done.
    fn keep_up(&mut self, ctx: &Context<'_>, ui: &Ui) {
        let card = self.card_to_show(ctx.layout, ui);
        let now = Key { layout: ctx.layout.clone(), wanted: self.wanted.clone(), lengths: ctx.lengths, card };
        if let Some((key, receiver)) = &self.under_way
            && let Ok(result) = receiver.try_recv()
        {
            self.done = Some((key.clone(), result.map(Arc::new)));
            self.under_way = None;
        }
        let current = self.done.as_ref().is_some_and(|(key, _)| key.is(&now));
        if !current && self.under_way.is_none() {
            let (sender, receiver) = channel();
            let (egui, figures, work) = (ui.ctx().clone(), ctx.figures.clone(), now.clone());
            let spawned = std::thread::Builder::new().name("sheets".to_owned()).spawn(move || {
                let _gone = sender.send(lay_out(&work, &figures));
                egui.request_repaint();
            });
            if spawned.is_ok() {
                self.under_way = Some((now, receiver));
            }
        }
        if self.under_way.is_some() {
            ui.ctx().request_repaint_after(std::time::Duration::from_millis(40));
        }
    }
}

fn lay_out(Key { layout, wanted, lengths, card }: &Key, figures: &Figures) -> Result<Vec<PageLines>, AnyRefusal> {
    let options = wanted.options(Some(*lengths))?;
    let document: PdfDocument = card.with(layout, &Cancel::new(), |card| {
        print_parts_with(layout, figures, &wanted.parts, &options, card).map_err(AnyRefusal::from)
    })?;
    Ok(document.parts.iter().flat_map(|part| &part.pages).map(page_lines).collect())
}
