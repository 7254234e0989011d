//! Spacing presets: those that come with the program and the maker's own, each with its picture.

use crate::app::action::Action;
use crate::app::context::Ask;
use crate::app::heading::heading;
use crate::app::screen::screen;
use crate::app::theme::Palette;
use crate::edit::EditCommand;
use crate::geometry::{Bind, Fit, SpacingPreset};
use crate::store::{EXAMPLE_PRESETS, Kept, PresetShelf, ShelfError, parse_preset};
use crate::telling::{AnyRefusal, Told, Voice};
use egui::{Button, Rect, Response, RichText, Role, Sense, Shape, Stroke, Ui, WidgetInfo, vec2};
use std::path::{Path, PathBuf};

/// A preset as it is listed.
#[derive(Debug)]
struct Listed {
    preset: SpacingPreset,
    /// Its file, if it is the maker's own.
    path: Option<PathBuf>,
    /// Radii as shares of twice the guide arc's, for the picture.
    rings: Vec<f64>,
    /// Which of them is the guide arc.
    guide: Option<usize>,
}

/// The presets, read when the program starts and when one is kept, renamed or removed.
#[derive(Debug)]
pub(crate) struct Presets {
    shelf: Option<PresetShelf>,
    listed: Vec<Listed>,
    /// Why files on the shelf could not be read.
    refused: Vec<AnyRefusal>,
}

/// The picture shows rings out to so many times the guide arc's radius.
const PICTURE_REACH: f64 = 2.0;

impl Presets {
    /// Presets, with the maker's own from this folder.
    pub(crate) fn new(folder: Option<PathBuf>) -> Self {
        let mut presets = Self { shelf: folder.map(PresetShelf::new), listed: Vec::new(), refused: Vec::new() };
        presets.look_again();
        presets
    }

    /// Where the maker's own are kept.
    pub(crate) fn folder(&self) -> Option<&Path> {
        self.shelf.as_ref().map(PresetShelf::folder)
    }

    /// Reads the shelf again.
    pub(crate) fn look_again(&mut self) {
        let (own, refused) = self.shelf.as_ref().map(PresetShelf::presets).unwrap_or_default();
        let own = own.into_iter().map(|shelved| listed(shelved.preset, Some(shelved.path)));
        let ours = EXAMPLE_PRESETS.iter().filter_map(|example| parse_preset(example.text).ok());
        self.listed = own.chain(ours.map(|preset| listed(preset, None))).collect();
        self.refused = refused.into_iter().map(AnyRefusal::from).collect();
    }

    /// The maker's own.
    pub(crate) fn own(&self) -> Vec<SpacingPreset> {
        self.listed.iter().filter(|listed| listed.path.is_some()).map(|listed| listed.preset.clone()).collect()
    }

    /// Those of these presets that are not listed, whatever their notes say.
    pub(crate) fn unknown(&self, presets: Vec<SpacingPreset>) -> Vec<SpacingPreset> {
        let is_known = |preset: &SpacingPreset| {
            self.listed.iter().any(|one| one.preset == SpacingPreset { note: one.preset.note.clone(), ..preset.clone() })
        };
        presets.into_iter().filter(|preset| !is_known(preset)).collect()
    }

    /// Keeps presets that came from elsewhere: what to tell.
    pub(crate) fn keep(&mut self, presets: &[SpacingPreset]) -> Result<String, AnyRefusal> {
        let mut words = Vec::new();
        for preset in presets {
            let Some(shelf) = &self.shelf else {
                return Err(Told::new("this system names no data folder, so presets can't be kept", "save the layout").into());
            };
            match shelf.keep(preset)? {
                Kept::Already => {}
                Kept::New => words.push(format!("Kept spacing preset \"{}\"", preset.name)),
                Kept::As(name) => {
                    words.push(format!("Kept spacing preset \"{}\" as \"{name}\", as the name was taken", preset.name));
                }
            }
        }
        self.look_again();
        Ok(words.join("; "))
    }

    /// Gives one of the maker's own another name.
    pub(crate) fn rename(&mut self, path: &Path, name: &str) -> Result<(), ShelfError> {
        let renamed = self.shelf.as_ref().map_or(Ok(()), |shelf| shelf.rename(path, name));
        self.look_again();
        renamed
    }

    /// Takes one of the maker's own off the shelf; where its file is kept.
    pub(crate) fn remove(&mut self, path: &Path) -> Result<PathBuf, ShelfError> {
        let removed = self.shelf.as_ref().map_or_else(|| Ok(path.to_owned()), |shelf| shelf.remove(path));
        self.look_again();
        removed
    }

    pub(super) fn show(&self, voice: Voice, asks: &mut Vec<Ask>, ui: &mut Ui) {
        heading(ui, "Presets");
        if ui.button(Action::SavePreset.label()).on_hover_text(Action::SavePreset.tooltip()).clicked() {
            asks.push(Ask::Act(Action::SavePreset));
        }
        for (index, one) in self.listed.iter().enumerate() {
            ui.push_id(index, |ui| row(one, asks, ui));
        }
        let palette = Palette::of(ui.ctx());
        for refused in &self.refused {
            ui.label(RichText::new(refused.say(voice)).color(palette.refused));
        }
    }
}

fn row(one: &Listed, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let name = &one.preset.name;
    ui.horizontal(|ui| {
        picture(one, ui);
        ui.vertical(|ui| {
            ui.label(RichText::new(name).strong()).on_hover_text(&one.preset.note);
            ui.horizontal_wrapped(|ui| {
                let scaled = named(ui, "Apply", &format!("Apply {name}"), "Scaled to this guide arc");
                let kept = named(ui, "Apply unscaled", &format!("Apply {name} unscaled"), "Its own gaps, whatever the guide arc");
                for (response, fit) in [(scaled, Fit::Scaled), (kept, Fit::Kept)] {
                    if response.clicked() {
                        asks.push(Ask::Edit(EditCommand::ApplyPreset(Box::new(one.preset.clone()), fit)));
                    }
                }
                if let Some(path) = &one.path {
                    if named(ui, "Rename…", &format!("Rename {name}"), "Change its name").clicked() {
                        asks.push(Ask::NamePreset { path: path.clone(), name: name.clone() });
                    }
                    if named(ui, "Remove", &format!("Remove {name}"), "Remove it from the list; its file is kept").clicked() {
                        asks.push(Ask::RemovePreset(path.clone()));
                    }
                }
            });
        });
    });
}

/// A small button whose full name says what it acts on.
fn named(ui: &mut Ui, words: &str, name: &str, hint: &str) -> Response {
    let response = ui.add(Button::new(words).small()).on_hover_text(hint);
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, name));
    response
}

fn listed(preset: SpacingPreset, path: Option<PathBuf>) -> Listed {
    let (rings, guide) = rings(&preset).unwrap_or_default();
    Listed { preset, path, rings, guide }
}

/// The rings of a preset's picture, as shares of its reach, and which of them is the guide arc.
fn rings(preset: &SpacingPreset) -> Option<(Vec<f64>, Option<usize>)> {
    let placed = preset.on_half_disc(PICTURE_REACH).ok()?;
    let farthest_mm = PICTURE_REACH * preset.guide_radius_mm;
    let guide = placed.binds.iter().position(Bind::is_guide);
    Some((placed.binds.iter().map(|bind| bind.radius_mm / farthest_mm).collect(), guide))
}

/// Size of a preset's picture, points.
const PICTURE: egui::Vec2 = vec2(58.0, 58.0);

/// A quarter of the burst: its centre in the upper left corner.
fn picture(one: &Listed, ui: &mut Ui) {
    let palette = Palette::of(ui.ctx());
    let (response, painter) = ui.allocate_painter(PICTURE, Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, format!("Rings of {}", one.preset.name)));
    let card: Rect = response.rect.shrink(1.0);
    painter.rect_filled(card, 4.0, palette.table);
    let painter = painter.with_clip_rect(card);
    let corner = card.min + vec2(3.0, 3.0);
    for (index, &share) in one.rings.iter().enumerate().filter(|(_, share)| **share <= 1.0) {
        let radius = (card.width() - 6.0) * screen(share);
        let at = |step: u8| corner + radius * egui::Vec2::angled(f32::from(step) / 24.0 * std::f32::consts::FRAC_PI_2);
        let width = if one.guide == Some(index) { 2.4 } else { 1.1 };
        painter.add(Shape::line((0..=24).map(at).collect(), Stroke::new(width, palette.chalk)));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_preset_that_comes_along_has_a_picture() {
        let presets = Presets::new(None);
        assert_eq!(presets.listed.len(), EXAMPLE_PRESETS.len());
        for one in &presets.listed {
            assert!(one.rings.len() > 4 && one.guide.is_some(), "{}", one.preset.name);
            assert!(one.rings.windows(2).all(|pair| pair[0] < pair[1]));
        }
    }
}
