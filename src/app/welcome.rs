//! What shows when nothing is open: begin with a garment, open an example or a file of yesterday.

use super::action::Action;
use super::canvas::{View, screen};
use super::context::Ask;
use super::settings::Settings;
use super::theme::Palette;
use crate::edit::Recovered;
use crate::geometry::{Garment, GarmentKind, RawMeasures};
use crate::store::EXAMPLE_LAYOUTS;
use egui::{CornerRadius, Pos2, RichText, ScrollArea, Sense, Stroke, Ui, vec2};

/// A garment to begin with, drawn once.
#[derive(Debug)]
struct Picture {
    kind: GarmentKind,
    size: String,
    bounds: kurbo::Rect,
    lines: Vec<Vec<kurbo::Point>>,
}

/// The welcome screen.
#[derive(Debug)]
pub(crate) struct Welcome {
    pictures: Vec<Picture>,
}

impl Default for Welcome {
    fn default() -> Self {
        Self { pictures: GarmentKind::ALL.into_iter().filter_map(picture).collect() }
    }
}

fn picture(kind: GarmentKind) -> Option<Picture> {
    let sizes = kind.sizes();
    let size = sizes.get(sizes.len() / 2)?.name;
    let garment = Garment::new(kind, Some(size), &RawMeasures::default()).ok()?;
    let outline = garment.draft().back.whole().clone();
    let mut lines: Vec<Vec<kurbo::Point>> = Vec::new();
    for path in [outline.path(), garment.draft().front.whole().path()] {
        kurbo::flatten(path, 1.0, |el| match el {
            kurbo::PathEl::MoveTo(p) => lines.push(vec![p]),
            kurbo::PathEl::LineTo(p) => lines.last_mut().into_iter().for_each(|line| line.push(p)),
            kurbo::PathEl::ClosePath => lines.last_mut().into_iter().for_each(|line| line.extend(line.first().copied())),
            _ => {}
        });
    }
    Some(Picture { kind, size: size.to_string(), bounds: outline.bounds(), lines })
}

impl Welcome {
    pub(crate) fn show(&self, settings: &Settings, recovered: &[Recovered], asks: &mut Vec<Ask>, ui: &mut Ui) {
        ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
            ui.add_space(24.0);
            ui.horizontal(|ui| {
                ui.add_space(28.0);
                ui.vertical(|ui| {
                    ui.label(RichText::new("Pleatwright").size(34.0).strong());
                    ui.label(
                        "Lay a burst on a garment, print it full size, and know every number before the first bind is tied.",
                    );
                    recovery(recovered, asks, ui);
                    ui.add_space(14.0);
                    ui.label(RichText::new("Begin with a garment").size(19.0).strong());
                    self.garments(asks, ui);
                    ui.add_space(14.0);
                    self.files(settings, asks, ui);
                    ui.add_space(24.0);
                });
            });
        });
    }

    fn garments(&self, asks: &mut Vec<Ask>, ui: &mut Ui) {
        ui.horizontal_wrapped(|ui| {
            for picture in &self.pictures {
                if draw(picture, ui) {
                    asks.push(Ask::Begin(picture.kind, picture.size.clone()));
                }
            }
        });
    }

    fn files(&self, settings: &Settings, asks: &mut Vec<Ask>, ui: &mut Ui) {
        ui.columns(2, |columns| {
            columns[0].label(RichText::new("Harbour Row, the example order").size(19.0).strong());
            for (index, example) in EXAMPLE_LAYOUTS.iter().enumerate() {
                let name = example.name.trim_end_matches(".ron").replace('-', " ");
                if columns[0].link(name).clicked() {
                    asks.push(Ask::OpenExample(index));
                }
            }
            columns[1].label(RichText::new("Your layouts").size(19.0).strong());
            if settings.recent.is_empty() {
                columns[1].label(RichText::new("None opened yet.").weak());
            }
            for path in &settings.recent {
                let name =
                    path.file_name().map_or_else(|| path.display().to_string(), |name| name.to_string_lossy().into_owned());
                if columns[1].link(name).on_hover_text(path.display().to_string()).clicked() {
                    asks.push(Ask::Open(path.clone()));
                }
            }
            if columns[1].button(Action::Open.label()).on_hover_text("Or drop a file on the window").clicked() {
                asks.push(Ask::Act(Action::Open));
            }
        });
    }
}

fn recovery(recovered: &[Recovered], asks: &mut Vec<Ask>, ui: &mut Ui) {
    if recovered.is_empty() {
        return;
    }
    ui.add_space(12.0);
    let palette = Palette::of(ui.ctx());
    ui.label(RichText::new("Work that was not saved").size(19.0).strong().color(palette.warn));
    for work in recovered {
        ui.horizontal(|ui| {
            ui.label(work.layout.name());
            if ui.button("Take it up again").clicked() {
                asks.push(Ask::Recover(work.path.clone(), true));
            }
            if ui.button("Give it up").clicked() {
                asks.push(Ask::Recover(work.path.clone(), false));
            }
        });
    }
}

fn draw(picture: &Picture, ui: &mut Ui) -> bool {
    let palette = Palette::of(ui.ctx());
    let (response, painter) = ui.allocate_painter(vec2(132.0, 150.0), Sense::click());
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Button, true, format!("Begin with {}", picture.kind)));
    let active = response.hovered() || response.has_focus();
    let card = response.rect.shrink(3.0);
    painter.rect_filled(card, CornerRadius::same(6), palette.table);
    if active {
        painter.rect_stroke(card, CornerRadius::same(6), Stroke::new(2.0, palette.accent), egui::StrokeKind::Inside);
    }
    let area = card.shrink2(vec2(8.0, 4.0)).with_max_y(card.bottom() - 26.0);
    let view = View::fitting(picture.bounds, area, false);
    for line in &picture.lines {
        let points: Vec<Pos2> = line.iter().map(|&p| view.screen_from_mm(area, p)).collect();
        painter.line(points, Stroke::new(1.6, palette.chalk));
    }
    let words = card.center_bottom() - vec2(0.0, screen(6.0));
    painter.text(words, egui::Align2::CENTER_BOTTOM, picture.kind.name(), egui::FontId::proportional(14.0), palette.ink);
    response.clicked()
}
