//! The window: the maker's table. The only module that names the toolkit it is drawn with.
//!
//! Panels read a `Context` and push what they ask for; [`App`] does it when everything is drawn. It holds no arithmetic
//! of the trade.

mod action;
mod alarm;
mod brought;
mod canvas;
mod context;
mod day;
mod design;
mod dialog;
mod echo;
mod field;
mod finder;
mod flat;
mod fold_picture;
mod handbook;
mod heading;
mod heights;
mod hints;
mod job;
mod journal;
mod learn;
mod menu;
mod pace;
mod panel;
mod photo;
mod picker;
mod projection;
mod purpose;
mod reveal;
mod rod;
mod run;
mod screen;
mod settings;
mod sheets;
mod step;
mod theme;
mod today;
mod tour;
mod warnings;
mod welcome;
mod wish;
mod work;

pub use alarm::{Ring, SystemRing};
pub use work::App;

use crate::store::system_region;
use std::path::PathBuf;

/// The window's name, also the name of the folder in which the program keeps its settings.
const NAME: &str = "Pleatwright";

/// Opens the window, with a layout if one is named.
///
/// # Errors
/// What the system said when there is no display to open a window on.
pub fn open_window(layout: Option<PathBuf>) -> Result<(), String> {
    let viewport = egui::ViewportBuilder::default()
        .with_title(NAME)
        .with_app_id("pleatwright")
        .with_icon(icon())
        .with_inner_size([1280.0, 860.0])
        .with_min_inner_size([760.0, 520.0])
        .with_drag_and_drop(true);
    let options = eframe::NativeOptions { viewport, persist_window: true, ..eframe::NativeOptions::default() };
    let home = eframe::storage_dir(NAME);
    let creator: eframe::AppCreator<'_> = Box::new(move |creation| {
        let app = App::new(&creation.egui_ctx, home, layout);
        let ctx = &creation.egui_ctx;
        Ok(Box::new(app.in_region(system_region()).ringing(SystemRing, ctx).with_first_tour(ctx)))
    });
    eframe::run_native(NAME, options, creator).map_err(|error| error.to_string())
}

/// The window's icon where the system takes it from the window; where it has none, the system's own shows.
fn icon() -> egui::IconData {
    eframe::icon_data::from_png_bytes(include_bytes!("../../packaging/icons/128.png")).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    #[test]
    fn the_icon_is_a_picture() {
        let icon = super::icon();
        assert_eq!((icon.width, icon.height, icon.rgba.len()), (128, 128, 4 * 128 * 128));
    }

    /// Window and command line keep one journal: the window's folder is the one that the library tells.
    #[test]
    fn the_windows_folder_is_the_command_lines() {
        assert_eq!(eframe::storage_dir(super::NAME), crate::store::data_folder());
    }
}
