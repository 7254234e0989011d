//! What shows when nothing is open: begin with a garment, open an example or a file of yesterday.

use super::action::Action;
use super::canvas::View;
use super::context::Ask;
use super::design;
use super::flat::flat;
use super::fold_picture;
use super::learn::begins;
use super::settings::Settings;
use super::step::Step;
use super::theme::Palette;
use super::tour::Spot;
use crate::edit::Recovered;
use crate::geometry::{Garment, GarmentKind, RawMeasures};
use crate::layout::{FoldStart, Layout};
use crate::store::{EXAMPLE_LAYOUTS, parse_layout, read_layout};
use egui::{Align2, Color32, ColorImage, CornerRadius, FontId, Pos2, Rect, RichText, ScrollArea, Sense, Stroke, StrokeKind};
use egui::{TextureHandle, TextureOptions, Ui, vec2};
use jiff::Timestamp;
use jiff::tz::TimeZone;
use std::path::{Path, PathBuf};

/// A garment drawn on a card.
#[derive(Debug)]
struct Picture {
    bounds: kurbo::Rect,
    lines: Vec<Vec<kurbo::Point>>,
}

/// A garment to begin with.
#[derive(Debug)]
struct Beginning {
    kind: GarmentKind,
    size: String,
    picture: Picture,
}

/// An example to open.
struct Sample {
    name: String,
    picture: Picture,
    /// Its cloth in the sections' colours, transparent around it.
    cloth: ColorImage,
    texture: Option<TextureHandle>,
}

/// A layout opened lately.
struct Recent {
    path: PathBuf,
    /// None where its file can't be read any more.
    sample: Option<Sample>,
}

/// The welcome screen.
pub(crate) struct Welcome {
    beginnings: Vec<Beginning>,
    /// How the garment that is begun with is to be folded.
    fold: FoldStart,
    /// A garment of nobody's kind, for one of the maker's own outline.
    own: Picture,
    samples: Vec<Sample>,
    /// Read one by one, so that the start waits for none.
    recent: Vec<Recent>,
}

impl std::fmt::Debug for Welcome {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Welcome").field("beginnings", &self.beginnings).finish_non_exhaustive()
    }
}

impl Default for Welcome {
    fn default() -> Self {
        let samples = EXAMPLE_LAYOUTS.iter().filter_map(|example| Some(sample(&parse_layout(example.text).ok()?)));
        let beginnings = GarmentKind::ALL.into_iter().filter_map(beginning).collect();
        Self { beginnings, fold: FoldStart::default(), own: own(), samples: samples.collect(), recent: Vec::new() }
    }
}

fn beginning(kind: GarmentKind) -> Option<Beginning> {
    let size = kind.usual_size()?;
    let garment = Garment::new(kind, Some(size), &RawMeasures::default()).ok()?;
    let panels = [&garment.draft().back, &garment.draft().front].map(|panel| panel.whole().path().clone());
    Some(Beginning { kind, size: size.to_string(), picture: drawn(&panels) })
}

/// A smock with a stand-up collar, broad cuffs and a round hem: its half from the top of the centre line, and the other one.
fn own() -> Picture {
    let mut half = kurbo::BezPath::new();
    half.move_to((0.0, 12.0));
    half.quad_to((60.0, 20.0), (90.0, -30.0));
    half.line_to((110.0, 10.0));
    half.curve_to((200.0, 30.0), (300.0, 120.0), (360.0, 330.0));
    half.line_to((250.0, 380.0));
    half.quad_to((220.0, 290.0), (190.0, 270.0));
    half.curve_to((185.0, 420.0), (215.0, 500.0), (230.0, 590.0));
    half.quad_to((120.0, 650.0), (0.0, 650.0));
    let other = kurbo::Affine::FLIP_X * half.clone();
    drawn(&[half, other])
}

/// How far a curve may stray from the true one on a card, mm.
const FLAT_MM: f64 = 1.0;

fn drawn(paths: &[kurbo::BezPath]) -> Picture {
    Picture { bounds: design::bounds(paths), lines: paths.iter().flat_map(|path| flat(path, FLAT_MM)).collect() }
}

/// Pixels along the longer side of an example's cloth.
const CLOTH_PIXELS: u16 = 240;

fn sample(layout: &Layout) -> Sample {
    let picture = drawn(&design::outlines(layout));
    let cloth = design::picture(layout, picture.bounds, CLOTH_PIXELS);
    Sample { name: layout.name().to_owned(), picture, cloth, texture: None }
}

/// What earlier days have left.
pub(crate) struct Left<'a> {
    /// Layouts that no file holds.
    pub(crate) recovered: &'a [Recovered],
    /// What is written and not in the journal yet, a line each.
    pub(crate) texts: &'a [String],
    /// Whether a run is under way.
    pub(crate) running: bool,
}

impl Welcome {
    /// Reads recent layouts again: they may have been changed.
    pub(crate) fn look_again(&mut self) {
        self.recent.clear();
    }

    pub(crate) fn show(&mut self, settings: &Settings, left: &Left<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
        ScrollArea::vertical().id_salt("welcome").auto_shrink(false).show(ui, |ui| {
            egui::Frame::NONE.inner_margin(egui::Margin::symmetric(28, 20)).show(ui, |ui| {
                ui.label(RichText::new("Pleatwright").size(34.0).strong());
                ui.label("Plan the fold, print it full size, then tie and dye.");
                recovery(left, asks, ui);
                if left.running {
                    ui.add_space(12.0);
                    if ui.button(RichText::new("Continue the run").size(19.0)).clicked() {
                        asks.push(Ask::Go(Step::Day));
                    }
                }
                if !settings.recent.is_empty() {
                    title("Recent layouts", ui);
                    self.recent(settings, asks, ui);
                    open(asks, ui);
                }
                title("Start with a garment", ui);
                let name = |of: &FoldStart| format!("Fold the garment {}", of.words());
                if let Some(of) = fold_picture::choose(|of| *of == self.fold, name, ui) {
                    self.fold = of;
                }
                ui.label(RichText::new(format!("Folded {}; choose another fold, then a garment.", self.fold.words())).weak());
                begins(settings, asks, ui);
                let garments = ui.horizontal_wrapped(|ui| {
                    for one in &self.beginnings {
                        let name = format!("Start with {}", one.kind);
                        if card(&one.picture, None, one.kind.name(), &name, ui) {
                            asks.push(Ask::Begin(one.kind, one.size.clone(), self.fold.clone()));
                        }
                    }
                    let own = GarmentKind::Own;
                    if card(&self.own, None, own.name(), &format!("Start with {own}"), ui) {
                        asks.push(Ask::Act(Action::ImportOutline));
                    }
                });
                Spot::Garments.is_at(garments.response.rect, ui.ctx());
                title("Examples from Harbour Row, an invented club", ui);
                self.samples(asks, ui);
                if settings.recent.is_empty() {
                    title("Recent layouts", ui);
                    ui.label(RichText::new("None opened yet.").weak());
                    open(asks, ui);
                }
                title("What you made", ui);
                let journal = Action::Go(Step::Journal);
                if ui.button("Open the journal").on_hover_text(journal.tooltip()).clicked() {
                    asks.push(Ask::Act(journal));
                }
            });
        });
    }

    fn samples(&mut self, asks: &mut Vec<Ask>, ui: &mut Ui) {
        ui.horizontal_wrapped(|ui| {
            for (index, one) in self.samples.iter_mut().enumerate() {
                let (words, name) = (sample_words(&one.name).to_owned(), one.name.clone());
                if one.card(&words, &name, ui) {
                    asks.push(Ask::OpenExample(index));
                }
            }
        });
    }

    /// What was opened lately, each with its picture and its layout's name; by the file's name alone until it is read, and where it can't be.
    fn recent(&mut self, settings: &Settings, asks: &mut Vec<Ask>, ui: &mut Ui) {
        self.recent.retain(|recent| settings.recent.contains(&recent.path));
        let unread = settings.recent.iter().find(|path| self.recent.iter().all(|recent| recent.path != **path));
        if let Some(path) = unread {
            self.recent.push(Recent { path: path.clone(), sample: read_layout(path).ok().map(|layout| sample(&layout)) });
            ui.ctx().request_repaint();
        }
        ui.horizontal_wrapped(|ui| {
            for path in &settings.recent {
                let of_path = self.recent.iter_mut().find(|recent| recent.path == *path);
                let chosen = match of_path.and_then(|recent| recent.sample.as_mut()) {
                    Some(sample) => {
                        let words = sample.name.clone();
                        sample.card(&words, &file_name(path), ui)
                    }
                    None => ui.link(file_name(path)).on_hover_text(path.display().to_string()).clicked(),
                };
                if chosen {
                    asks.push(Ask::Open(path.clone()));
                }
            }
        });
    }
}

impl Sample {
    /// Its card; whether it was chosen.
    fn card(&mut self, words: &str, name: &str, ui: &mut Ui) -> bool {
        let (ctx, cloth) = (ui.ctx().clone(), &self.cloth);
        let texture = self.texture.get_or_insert_with(|| ctx.load_texture("example", cloth.clone(), TextureOptions::LINEAR));
        card(&self.picture, Some(texture), words, name, ui)
    }
}

/// An example's name on its card: all are Harbour Row's.
fn sample_words(name: &str) -> &str {
    name.trim_start_matches("Harbour Row ")
}

fn title(words: &str, ui: &mut Ui) {
    ui.add_space(14.0);
    ui.label(RichText::new(words).size(19.0).strong());
}

fn file_name(path: &Path) -> String {
    path.file_name().map_or_else(|| path.display().to_string(), |name| name.to_string_lossy().into_owned())
}

fn open(asks: &mut Vec<Ask>, ui: &mut Ui) {
    if ui.button(Action::Open.label()).on_hover_text("Or drop a file on the window").clicked() {
        asks.push(Ask::Act(Action::Open));
    }
}

fn recovery(left: &Left<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
    if left.recovered.is_empty() && left.texts.is_empty() {
        return;
    }
    ui.add_space(12.0);
    let palette = Palette::of(ui.ctx());
    ui.label(RichText::new("Unsaved work").size(19.0).strong().color(palette.warn));
    for work in left.recovered {
        ui.horizontal_wrapped(|ui| {
            ui.label(work.layout.name());
            ui.label(RichText::new(whence(work)).weak());
            if ui.button("Recover").clicked() {
                asks.push(Ask::Recover(work.path.clone(), true));
            }
            if ui.button("Discard").clicked() {
                asks.push(Ask::Recover(work.path.clone(), false));
            }
        });
    }
    for line in left.texts {
        ui.horizontal_wrapped(|ui| {
            ui.label(format!("Unsaved journal text: {line}"));
            if ui.button("Continue writing").clicked() {
                asks.push(Ask::Go(Step::Journal));
            }
        });
    }
}

/// What tells unsaved work from other work of the same name: its file, and when it was kept.
fn whence(work: &Recovered) -> String {
    let file = work.file.as_ref().map_or_else(|| "never saved".to_owned(), |file| format!("in {}", file.display()));
    let kept_at = work.kept_at.and_then(|at| Timestamp::try_from(at).ok());
    let time = kept_at.map(|at| TimeZone::system().to_datetime(at).strftime("%Y-%m-%d %H:%M:%S").to_string());
    time.map_or_else(|| file.clone(), |time| format!("{file}, kept {time}"))
}

/// What a card says under its picture, in two lines where one is too short.
fn card_words(words: &str, width: f32, ink: Color32) -> egui::text::LayoutJob {
    let mut job = egui::text::LayoutJob::simple(words.to_owned(), FontId::proportional(14.0), ink, width);
    job.wrap.max_rows = 2;
    job
}

/// A card with a garment; whether it was chosen.
fn card(picture: &Picture, cloth: Option<&TextureHandle>, words: &str, name: &str, ui: &mut Ui) -> bool {
    let palette = Palette::of(ui.ctx());
    let (response, painter) = ui.allocate_painter(vec2(130.0, 164.0), Sense::click());
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Button, true, name));
    let card = response.rect.shrink(2.0);
    painter.rect_filled(card, CornerRadius::same(6), palette.table);
    if response.hovered() || response.has_focus() {
        painter.rect_stroke(card, CornerRadius::same(6), Stroke::new(2.0, palette.accent), StrokeKind::Inside);
    }
    let area = card.shrink2(vec2(8.0, 4.0)).with_max_y(card.bottom() - 44.0);
    let view = View::fitting(picture.bounds, area, false);
    let at = |p: kurbo::Point| view.screen_from_mm(area, p);
    if let Some(cloth) = cloth {
        let bounds = picture.bounds;
        let corners = [(bounds.x0, bounds.y0), (bounds.x1, bounds.y1)].map(|corner| at(corner.into()));
        let whole = Rect::from_min_max(Pos2::ZERO, egui::pos2(1.0, 1.0));
        painter.image(cloth.id(), Rect::from_two_pos(corners[0], corners[1]), whole, Color32::WHITE);
    }
    for line in &picture.lines {
        painter.line(line.iter().map(|&p| at(p)).collect::<Vec<Pos2>>(), Stroke::new(1.5, palette.chalk));
    }
    let below = card.center_bottom() - vec2(0.0, 6.0);
    let galley = painter.layout_job(card_words(words, card.width() - 8.0, palette.ink));
    let rect = Align2::CENTER_BOTTOM.anchor_size(below, galley.size());
    painter.galley(rect.min, galley, palette.ink);
    response.on_hover_text(name).clicked()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// "bodysuit, 6-12 m..." used to stand where the months were cut off.
    #[test]
    fn every_card_says_its_name_whole() {
        let (width, mut cut) = (130.0 - 4.0 - 8.0, Vec::new());
        let mut shown = egui::Context::default().run_ui(egui::RawInput::default(), |ui| {
            let kinds = GarmentKind::every().map(|kind| kind.name().to_owned());
            let samples = EXAMPLE_LAYOUTS.iter().filter_map(|example| parse_layout(example.text).ok());
            cut.clear();
            for words in kinds.chain(samples.map(|layout| sample_words(layout.name()).to_owned())) {
                if ui.painter().layout_job(card_words(&words, width, Color32::BLACK)).elided {
                    cut.push(words);
                }
            }
        });
        // Nothing is painted.
        shown.textures_delta.clear();
        assert_eq!(cut, Vec::<String>::new());
    }
}
