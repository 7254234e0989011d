//! The blocks of a page, one below the other, as broad as there is room.

use super::pictures::Pictures;
use crate::app::theme::Palette;
use crate::handbook::{Block, Cell, Figure, Link, Run, page};
use egui::{Align, Frame, Label, Layout, RichText, Stroke, TextStyle, Ui, vec2};

/// Reads a page out into the window.
pub(super) struct Reader<'a> {
    pub(super) pictures: &'a mut Pictures,
    /// The heading to bring into sight; none where it is in sight already.
    pub(super) anchor: Option<&'a str>,
}

/// Sizes of the page's title, of its headings and of headings below those, points.
const TITLE: f32 = 22.0;
const HEADINGS: [f32; 2] = [18.0, 16.0];
/// Room for an item's dot or number, points.
const BEFORE_ITEM: f32 = 20.0;
/// Least breadth of a column, points, and the room between two.
const LEAST_COLUMN: f32 = 54.0;
const BETWEEN_COLUMNS: f32 = 10.0;

impl Reader<'_> {
    /// Shows a page; the link that was clicked.
    pub(super) fn page(&mut self, name: &str, ui: &mut Ui) -> Option<Link> {
        let page = page(name)?;
        let title = ui.add(Label::new(RichText::new(page.title()).strong().size(TITLE)).wrap());
        let anchor = self.anchor.take();
        let mut clicked = self.blocks(page.blocks(), anchor, ui);
        if anchor.is_some_and(|anchor| page.heading(anchor).is_none()) {
            title.scroll_to_me(Some(Align::TOP));
        }
        ui.add_space(24.0);
        clicked.take()
    }

    fn blocks(&mut self, blocks: &[Block], anchor: Option<&str>, ui: &mut Ui) -> Option<Link> {
        let mut clicked = None;
        for block in blocks {
            ui.add_space(5.0);
            let here = self.block(block, anchor, ui);
            clicked = clicked.or(here);
        }
        clicked
    }

    fn block(&mut self, block: &Block, wanted: Option<&str>, ui: &mut Ui) -> Option<Link> {
        match block {
            Block::Heading { level, runs, anchor } => {
                ui.add_space(6.0);
                let size = HEADINGS[usize::from(*level > 2)];
                let words: String = runs.iter().map(|run| run.text.as_str()).collect();
                let heading = ui.add(Label::new(RichText::new(words).strong().size(size)).wrap());
                if wanted == Some(anchor.as_str()) {
                    heading.scroll_to_me(Some(Align::TOP));
                }
                None
            }
            Block::Paragraph(runs) => words(runs, ui),
            Block::Quote(runs) => {
                let stroke = Stroke::new(1.0, Palette::of(ui.ctx()).faint);
                Frame::NONE.stroke(stroke).inner_margin(6.0).corner_radius(3.0).show(ui, |ui| words(runs, ui)).inner
            }
            Block::List { first, items } => self.list(*first, items, wanted, ui),
            Block::Table { head, rows } => table(head, rows, ui),
            Block::Code(text) => {
                code(text, ui);
                None
            }
            Block::Figure { figure, caption } => {
                self.figure(*figure, caption, ui);
                ui.scope(|ui| {
                    ui.visuals_mut().override_text_color = Some(Palette::of(ui.ctx()).faint);
                    words(caption, ui)
                })
                .inner
            }
        }
    }

    fn list(&mut self, first: Option<u64>, items: &[Vec<Block>], wanted: Option<&str>, ui: &mut Ui) -> Option<Link> {
        let mut clicked = None;
        for (number, item) in (first.unwrap_or(1)..).zip(items) {
            let row = ui.with_layout(Layout::left_to_right(Align::TOP), |ui| {
                let mark = if first.is_some() { format!("{number}.") } else { "•".to_owned() };
                ui.allocate_ui(vec2(BEFORE_ITEM, 0.0), |ui| {
                    ui.set_min_width(BEFORE_ITEM);
                    // Blocks begin a little below where they are put.
                    ui.add_space(5.0);
                    ui.label(mark);
                });
                ui.vertical(|ui| self.blocks(item, wanted, ui)).inner
            });
            clicked = clicked.or(row.inner);
        }
        clicked
    }

    fn figure(&mut self, figure: Figure, caption: &[Run], ui: &mut Ui) {
        let name: String = caption.iter().map(|run| run.text.as_str()).collect();
        match self.pictures.get(figure, ui.ctx()) {
            Some(Some(picture)) => picture.illustrate(ui, ui.available_width(), &name),
            Some(None) => {}
            None => {
                ui.horizontal(|ui| {
                    ui.spinner();
                    ui.label("Drawing…");
                });
            }
        }
    }
}

/// Words that flow from line to line; the link among them that was clicked.
fn words(runs: &[Run], ui: &mut Ui) -> Option<Link> {
    let mut clicked = None;
    ui.horizontal_wrapped(|ui| {
        // A line is as high as its letters, not as a button.
        let row = ui.text_style_height(&TextStyle::Body);
        (ui.spacing_mut().item_spacing, ui.spacing_mut().interact_size.y) = (vec2(0.0, 2.0), row);
        for run in runs {
            let mut text = RichText::new(&run.text);
            if run.style.strong {
                text = text.strong();
            }
            if run.style.emphasis {
                text = text.italics();
            }
            if run.style.code {
                text = text.code();
            }
            match &run.link {
                Some(link) => {
                    if ui.link(text).clicked() {
                        clicked = Some(link.clone());
                    }
                }
                None => {
                    ui.label(text);
                }
            }
        }
    });
    clicked
}

/// Lines to be typed, with a way to take them.
fn code(text: &str, ui: &mut Ui) {
    let ground = ui.visuals().extreme_bg_color;
    Frame::NONE.fill(ground).inner_margin(6.0).corner_radius(3.0).show(ui, |ui| {
        ui.add(Label::new(RichText::new(text.trim_end()).monospace()).wrap());
    });
    if ui.small_button("Copy").clicked() {
        ui.ctx().copy_text(text.trim_end().to_owned());
    }
}

/// A table whose columns share the room by the root of what their longest cell holds: long cells wrap.
fn table(head: &[Cell], rows: &[Vec<Cell>], ui: &mut Ui) -> Option<Link> {
    let letters = |cell: &Cell| cell.iter().map(|run| run.text.chars().count()).sum::<usize>();
    let has_head = head.iter().any(|cell| !cell.is_empty());
    let lines: Vec<&[Cell]> = has_head.then_some(head).into_iter().chain(rows.iter().map(Vec::as_slice)).collect();
    let columns = lines.iter().map(|line| line.len()).max().unwrap_or(0);
    let weight = |column: usize| {
        let longest = lines.iter().filter_map(|line| line.get(column)).map(letters).max().unwrap_or(0);
        crate::app::screen::screen((longest.max(1) as f64).sqrt())
    };
    let weights: Vec<f32> = (0..columns).map(weight).collect();
    #[expect(clippy::cast_precision_loss, reason = "a few columns")]
    let room = ui.available_width() - BETWEEN_COLUMNS * columns.saturating_sub(1) as f32;
    let sum: f32 = weights.iter().sum::<f32>().max(1.0);
    let breadths: Vec<f32> = weights.iter().map(|weight| (room * weight / sum).max(LEAST_COLUMN)).collect();
    let mut clicked = None;
    for (number, line) in lines.iter().enumerate() {
        let row = ui.with_layout(Layout::left_to_right(Align::TOP), |ui| {
            ui.spacing_mut().item_spacing.x = BETWEEN_COLUMNS;
            let mut here = None;
            for (cell, breadth) in line.iter().zip(&breadths) {
                let place = ui.allocate_ui_with_layout(vec2(*breadth, 0.0), Layout::top_down(Align::Min), |ui| {
                    ui.set_width(*breadth);
                    if has_head && number == 0 {
                        ui.style_mut().override_font_id = Some(egui::FontId::proportional(12.5));
                        ui.visuals_mut().override_text_color = Some(Palette::of(ui.ctx()).faint);
                    }
                    words(cell, ui)
                });
                here = here.or(place.inner);
            }
            here
        });
        clicked = clicked.or(row.inner);
        ui.add_space(2.0);
    }
    clicked
}
