//! The window: the maker's table. The only module that names the toolkit it is drawn with.
//!
//! Panels read a `Context` and push what they ask for; [`App`] does it when everything is drawn. It holds no arithmetic
//! of the trade.

mod action;
mod alarm;
mod canvas;
mod context;
mod day;
mod design;
mod dialog;
mod echo;
mod field;
mod finder;
mod flat;
mod handbook;
mod heading;
mod heights;
mod hints;
mod journal;
mod menu;
mod pace;
mod panel;
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
mod warnings;
mod welcome;
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
        .with_inner_size([1280.0, 860.0])
        .with_min_inner_size([760.0, 520.0])
        .with_drag_and_drop(true);
    let options = eframe::NativeOptions { viewport, persist_window: true, ..eframe::NativeOptions::default() };
    let home = eframe::storage_dir(NAME);
    let creator: eframe::AppCreator<'_> = Box::new(move |creation| {
        let app = App::new(&creation.egui_ctx, home, layout);
        Ok(Box::new(app.in_region(system_region()).ringing(SystemRing, &creation.egui_ctx)))
    });
    eframe::run_native(NAME, options, creator).map_err(|error| error.to_string())
}

#[cfg(test)]
mod tests {
    /// Window and command line keep one journal: the window's folder is the one that the library tells.
    #[test]
    fn the_windows_folder_is_the_command_lines() {
        assert_eq!(eframe::storage_dir(super::NAME), crate::store::data_folder());
    }
}
