//! The sheets as they will come out: paper and parts chosen beside them, laid out off the window's thread.

use super::action::Action;
use super::canvas::screen;
use super::context::{Ask, Context};
use super::field;
use super::theme::Palette;
use crate::layout::{Figures, Layout};
use crate::measure::LengthStyle;
use crate::print::parts::{PartKind, PrintOptions, TemplateOptions, print_parts};
use crate::print::{Page, Paper, PdfDocument, PrintError, PrinterCorrection, STANDARD_PAPERS, Shape as Drawn, TilingOptions};
use egui::{Color32, CornerRadius, Pos2, Rect, RichText, ScrollArea, Sense, Stroke, Ui, vec2};
use kurbo::Affine;
use std::sync::Arc;
use std::sync::mpsc::{Receiver, channel};

/// What is asked of the printer.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Wanted {
    pub(crate) paper: Paper,
    pub(crate) parts: Vec<PartKind>,
    pub(crate) printed_mm_per_100: f64,
    pub(crate) margin_mm: f64,
    pub(crate) overlap_mm: f64,
    pub(crate) pounce: bool,
    pub(crate) creases: bool,
}

impl Default for Wanted {
    fn default() -> Self {
        let usual = TilingOptions::default();
        Self {
            paper: Paper::standard(STANDARD_PAPERS[0]),
            parts: PartKind::ALL.to_vec(),
            printed_mm_per_100: 100.0,
            margin_mm: usual.margin_mm,
            overlap_mm: usual.overlap_mm,
            pounce: false,
            creases: true,
        }
    }
}

/// Distance of dots to prick, mm.
const POUNCE_MM: f64 = 5.0;

impl Wanted {
    pub(crate) fn options(&self, lengths: LengthStyle) -> Result<PrintOptions, PrintError> {
        Ok(PrintOptions {
            paper: self.paper.clone(),
            tiling: TilingOptions {
                margin_mm: self.margin_mm,
                overlap_mm: self.overlap_mm,
                correction: PrinterCorrection::from_printed_mm_per_100(self.printed_mm_per_100)?,
            },
            template: TemplateOptions { lengths, pounce_mm: self.pounce.then_some(POUNCE_MM), creases: self.creases },
        })
    }
}

/// For which state of things sheets were laid out.
type Key = (Arc<Layout>, Wanted, LengthStyle);

/// Sheets for a state of things.
type Done = (Key, LaidOut<Arc<Vec<PageLines>>>);
/// Sheets that another thread is at.
type UnderWay = (Key, Receiver<LaidOut<Vec<PageLines>>>);
/// Sheets laid out, or why they could not be.
type LaidOut<T> = Result<T, String>;

/// The sheets of the layout, laid out anew when it or the wishes change.
#[derive(Debug, Default)]
pub(crate) struct Sheets {
    pub(crate) wanted: Wanted,
    done: Option<Done>,
    under_way: Option<UnderWay>,
    /// The page looked at closely.
    large: Option<usize>,
}

/// A page ready to be painted: lines in page mm.
#[derive(Debug)]
struct PageLines {
    name: String,
    size: (f64, f64),
    lines: Vec<(Vec<kurbo::Point>, f64)>,
    solids: Vec<Vec<kurbo::Point>>,
    words: Vec<Words>,
}

#[derive(Debug)]
struct Words {
    text: String,
    at: kurbo::Point,
    cap_mm: f64,
    turn_rad: f64,
}

impl Sheets {
    /// The choices, beside the table.
    pub(crate) fn choices(&mut self, ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
        let wanted = &mut self.wanted;
        let mut paper = wanted.paper.name().to_owned();
        field::labelled(ui, "Paper", |ui| {
            let combo = egui::ComboBox::from_id_salt("paper").width(128.0).selected_text(&paper).show_ui(ui, |ui| {
                for name in STANDARD_PAPERS.map(|paper| paper.name).into_iter().chain(["roll:610", "roll:914"]) {
                    ui.selectable_value(&mut paper, name.to_owned(), name);
                }
            });
            (combo.response, ())
        });
        if let Some(typed) = field::words(ui, "Or a size", wanted.paper.name()) {
            paper = typed;
        }
        if let Ok(parsed) = paper.parse::<Paper>()
            && parsed != wanted.paper
            && paper != wanted.paper.name()
        {
            wanted.paper = parsed;
        }
        for kind in PartKind::ALL {
            let mut on = wanted.parts.contains(&kind);
            if ui.checkbox(&mut on, kind.name().replace('-', " ")).changed() {
                wanted.parts = PartKind::ALL
                    .into_iter()
                    .filter(|&other| if other == kind { on } else { wanted.parts.contains(&other) })
                    .collect();
            }
        }
        ui.checkbox(&mut wanted.creases, "creases on the template");
        ui.checkbox(&mut wanted.pounce, "dots to prick in place of lines");
        if let Some(printed) = field::number(ui, "100 mm bar prints as", wanted.printed_mm_per_100) {
            wanted.printed_mm_per_100 = printed;
        }
        if let Some(margin) = field::length(ctx, ui, "Printer's margin", wanted.margin_mm) {
            wanted.margin_mm = margin;
        }
        if let Some(overlap) = field::length(ctx, ui, "Overlap", wanted.overlap_mm) {
            wanted.overlap_mm = overlap;
        }
        ui.add_space(8.0);
        if ui.button(Action::Print.label()).on_hover_text(Action::Print.tooltip()).clicked() {
            asks.push(Ask::Act(Action::Print));
        }
        ui.label(RichText::new("Print at 100 %, not fit to page, and measure the 100 mm bar before cutting.").weak());
    }

    /// The sheets, on the table.
    pub(crate) fn show(&mut self, ctx: &Context<'_>, ui: &mut Ui) {
        self.keep_up(ctx, ui);
        let palette = Palette::of(ui.ctx());
        ui.painter().rect_filled(ui.max_rect(), 0.0, palette.table);
        let pages = match &self.done {
            Some((_, Ok(pages))) => pages.clone(),
            Some((_, Err(refusal))) => {
                ui.add_space(40.0);
                ui.vertical_centered(|ui| ui.label(RichText::new(refusal).color(palette.refused)));
                return;
            }
            None => {
                ui.add_space(40.0);
                ui.vertical_centered(|ui| ui.label("Laying out the sheets…"));
                return;
            }
        };
        ui.horizontal(|ui| {
            ui.add_space(12.0);
            let plural = if pages.len() == 1 { "sheet" } else { "sheets" };
            ui.label(RichText::new(format!("{} {plural} on {}", pages.len(), self.wanted.paper)).strong());
            if self.large.is_some() && ui.button("All sheets").clicked() {
                self.large = None;
            }
        });
        match self.large.and_then(|index| pages.get(index)) {
            Some(page) => one(page, ui, ui.available_size(), palette).0,
            None => self.all(&pages, ui, palette),
        }
    }

    fn all(&mut self, pages: &[PageLines], ui: &mut Ui, palette: &Palette) {
        ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
            ui.add_space(6.0);
            ui.horizontal_wrapped(|ui| {
                ui.add_space(6.0);
                for (index, page) in pages.iter().enumerate() {
                    let ((), response) = one(page, ui, vec2(230.0, 300.0), palette);
                    if response.on_hover_text(format!("{}: look closely", page.name)).clicked() {
                        self.large = Some(index);
                    }
                }
            });
        });
    }

    /// Lays the sheets out on another thread when they are out of date, and takes them over when they are done.
    fn keep_up(&mut self, ctx: &Context<'_>, ui: &Ui) {
        let is = |key: &Key| Arc::ptr_eq(&key.0, ctx.layout) && key.1 == self.wanted && key.2 == ctx.lengths;
        if let Some((key, receiver)) = &self.under_way
            && let Ok(result) = receiver.try_recv()
        {
            self.done = Some((key.clone(), result.map(Arc::new)));
            self.under_way = None;
        }
        let current = self.done.as_ref().is_some_and(|(key, _)| is(key));
        if !current && self.under_way.is_none() {
            let key: Key = (ctx.layout.clone(), self.wanted.clone(), ctx.lengths);
            let (sender, receiver) = channel();
            let (egui, figures, work) = (ui.ctx().clone(), ctx.figures.clone(), key.clone());
            let spawned = std::thread::Builder::new().name("sheets".to_owned()).spawn(move || {
                let _gone = sender.send(lay_out(&work, &figures));
                egui.request_repaint();
            });
            if spawned.is_ok() {
                self.under_way = Some((key, receiver));
            }
        }
        if self.under_way.is_some() {
            ui.ctx().request_repaint_after(std::time::Duration::from_millis(40));
        }
    }
}

fn lay_out((layout, wanted, lengths): &Key, figures: &Figures) -> Result<Vec<PageLines>, String> {
    let options = wanted.options(*lengths).map_err(|error| error.to_string())?;
    let document: PdfDocument = print_parts(layout, figures, &wanted.parts, &options).map_err(|error| error.to_string())?;
    Ok(document.parts.iter().flat_map(|part| &part.pages).map(page_lines).collect())
}

/// How far a curve may stray from the true one in the picture of a page, mm.
const FLAT_MM: f64 = 0.4;

fn page_lines(page: &Page) -> PageLines {
    let mut lines = PageLines {
        name: page.name.clone(),
        size: (page.size_mm.width, page.size_mm.height),
        lines: vec![],
        solids: vec![],
        words: vec![],
    };
    for placed in &page.placed {
        let clip = placed.clip.map(|clip| placed.page_from_drawing.transform_rect_bbox(clip));
        for item in placed.drawing.items() {
            let shape = item.shape.transformed(placed.page_from_drawing);
            let reach = shape.bounding_box();
            if clip.is_some_and(|clip| clip.intersect(reach).is_zero_area() && !clip.overlaps(reach)) {
                continue;
            }
            lines.add(&shape, item.layer.style().width_mm, clip);
        }
    }
    lines
}

impl PageLines {
    fn add(&mut self, shape: &Drawn, width_mm: f64, clip: Option<kurbo::Rect>) {
        match shape {
            Drawn::Text(text) => {
                let start = text.drawing_from_text() * kurbo::Point::ZERO;
                if clip.is_none_or(|clip| clip.contains(start)) {
                    self.words.push(Words {
                        text: text.text.clone(),
                        at: start,
                        cap_mm: text.cap_height_mm,
                        turn_rad: text.rotation_rad,
                    });
                }
            }
            Drawn::Dots(dots) => {
                let inside = dots.centers.iter().filter(|center| clip.is_none_or(|clip| clip.contains(**center)));
                self.lines.extend(
                    inside.map(|&center| {
                        (vec![center, center + kurbo::Vec2::new(2.0 * dots.radius_mm, 0.0)], 2.0 * dots.radius_mm)
                    }),
                );
            }
            Drawn::Solid(path) => self.solids.push(flattened(path).into_iter().flatten().collect()),
            other => {
                for line in flattened(&other.outline()) {
                    let kept = clip.map_or_else(|| vec![line.clone()], |clip| clipped(&line, clip));
                    self.lines.extend(kept.into_iter().map(|line| (line, width_mm)));
                }
            }
        }
    }
}

fn flattened(path: &kurbo::BezPath) -> Vec<Vec<kurbo::Point>> {
    let mut lines: Vec<Vec<kurbo::Point>> = Vec::new();
    kurbo::flatten(path, FLAT_MM, |el| match el {
        kurbo::PathEl::MoveTo(p) => lines.push(vec![p]),
        kurbo::PathEl::LineTo(p) => lines.last_mut().into_iter().for_each(|line| line.push(p)),
        kurbo::PathEl::ClosePath => lines.last_mut().into_iter().for_each(|line| line.extend(line.first().copied())),
        _ => {}
    });
    lines
}

/// The stretches of a line inside a rectangle, cut at its edges.
fn clipped(line: &[kurbo::Point], clip: kurbo::Rect) -> Vec<Vec<kurbo::Point>> {
    let mut kept: Vec<Vec<kurbo::Point>> = Vec::new();
    for pair in line.windows(2) {
        let Some((from, to)) = cut(pair[0], pair[1], clip) else { continue };
        match kept.last_mut() {
            Some(last) if last.last() == Some(&from) => last.push(to),
            _ => kept.push(vec![from, to]),
        }
    }
    kept
}

/// A segment cut to a rectangle (the method of Liang and Barsky, a textbook's).
fn cut(a: kurbo::Point, b: kurbo::Point, clip: kurbo::Rect) -> Option<(kurbo::Point, kurbo::Point)> {
    let d = b - a;
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    for (p, q) in [(-d.x, a.x - clip.x0), (d.x, clip.x1 - a.x), (-d.y, a.y - clip.y0), (d.y, clip.y1 - a.y)] {
        if p == 0.0 {
            if q < 0.0 {
                return None;
            }
        } else if p < 0.0 {
            from = from.max(q / p);
        } else {
            to = to.min(q / p);
        }
    }
    (from <= to).then(|| (a + from * d, a + to * d))
}

/// Paints a page within a size.
fn one(page: &PageLines, ui: &mut Ui, within: egui::Vec2, palette: &Palette) -> ((), egui::Response) {
    let (width, height) = page.size;
    let scale = (f64::from(within.x - 14.0) / width).min(f64::from(within.y - 34.0) / height);
    let size = vec2(screen(width * scale), screen(height * scale));
    let (response, painter) = ui.allocate_painter(size + vec2(14.0, 30.0), Sense::click());
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Button, true, format!("Sheet {}", page.name)));
    let paper = Rect::from_min_size(response.rect.min + vec2(6.0, 4.0), size);
    painter.rect_filled(paper.translate(vec2(3.0, 3.0)), CornerRadius::ZERO, palette.shadow);
    painter.rect_filled(paper, CornerRadius::ZERO, Color32::WHITE);
    let page_from_mm = Affine::scale(scale);
    let at = |p: kurbo::Point| {
        let p = page_from_mm * p;
        paper.min + vec2(screen(p.x), screen(p.y))
    };
    let ink = Color32::from_rgb(24, 24, 24);
    let painter = painter.with_clip_rect(paper);
    for (line, width_mm) in &page.lines {
        let stroke =
            Stroke::new(screen(width_mm * scale).clamp(0.5, 6.0), ink.gamma_multiply(if scale < 1.0 { 0.7 } else { 1.0 }));
        painter.line(line.iter().map(|&p| at(p)).collect::<Vec<Pos2>>(), stroke);
    }
    for solid in &page.solids {
        painter.add(egui::Shape::convex_polygon(solid.iter().map(|&p| at(p)).collect(), ink, Stroke::NONE));
    }
    for words in &page.words {
        paint_words(&painter, words, at(words.at), screen(words.cap_mm * scale), ink);
    }
    let name = response.rect.left_bottom() + vec2(6.0, -2.0);
    ui.painter().text(name, egui::Align2::LEFT_BOTTOM, &page.name, egui::FontId::proportional(13.0), palette.ink);
    ((), response)
}

/// Capitals are about seven tenths of the font's size.
const CAP_SHARE: f32 = 0.7;

fn paint_words(painter: &egui::Painter, words: &Words, at: Pos2, cap: f32, ink: Color32) {
    if cap < 2.2 {
        return;
    }
    let size = cap / CAP_SHARE;
    let galley = painter.layout_no_wrap(words.text.clone(), egui::FontId::proportional(size), ink);
    let turn = screen(words.turn_rad);
    // The words' baseline starts at `at`; a galley starts at its upper left corner.
    let up = egui::Vec2::angled(turn - std::f32::consts::FRAC_PI_2) * (0.92 * size);
    painter.add(egui::epaint::TextShape::new(at + up, galley, ink).with_angle(turn));
}
