//! What the program remembers from one day to the next: units, look, last folder, files opened lately.

use super::canvas::Showing;
use crate::measure::{InchFraction, LengthStyle, Region, RuleMarks};
use crate::store::{MOST_TEXT_BYTES, read_regular_text, save};
use egui::ThemePreference;
use serde::{Deserialize, Serialize};
use std::fs;
use std::path::{Path, PathBuf};

/// Most files remembered.
const MOST_RECENT: usize = 10;

/// The settings.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub(crate) struct Settings {
    /// What lengths are written in.
    pub(crate) units: Units,
    /// The look.
    pub(crate) look: Look,
    /// How large letters and controls are, against the usual.
    pub(crate) scale: f32,
    /// How the garment is shown.
    pub(crate) showing: Showing,
    /// Whether the numbers beside the table are put away.
    pub(crate) numbers_hidden: bool,
    /// Whether the small reveal over the cloth is put away.
    pub(crate) inset_hidden: bool,
    /// Whether the run calls without sound and notification when a wait ends.
    pub(crate) alarm_silent: bool,
    /// Files opened or saved lately, the last first.
    pub(crate) recent: Vec<PathBuf>,
    /// The folder in which a file was last opened or saved.
    pub(crate) folder: Option<PathBuf>,
    /// The printer and its paper, once something was said of them.
    pub(crate) printer: Option<Printer>,
    /// The maker's own file of what photographs taught.
    pub(crate) learned: Option<PathBuf>,
    /// Whether new layouts begin with it.
    pub(crate) begins_learned: bool,
    /// Whether the first start is past, which begins with the tour. Settings that were kept before there was one are past it.
    #[serde(default = "is_past")]
    pub(crate) toured: bool,
    /// Where the maker lives, as the system says; what is usual there is where nothing else was chosen.
    #[serde(skip)]
    pub(crate) region: Option<Region>,
}

const fn is_past() -> bool {
    true
}

/// What is known of the printer.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(crate) struct Printer {
    /// Its paper, by name.
    pub(crate) paper: String,
    /// What it makes of 100 mm, mm.
    pub(crate) printed_mm_per_100: f64,
    /// The border that it leaves white, mm.
    pub(crate) margin_mm: f64,
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            units: Units::default(),
            look: Look::default(),
            scale: 1.0,
            showing: Showing::default(),
            numbers_hidden: false,
            inset_hidden: false,
            alarm_silent: false,
            recent: Vec::new(),
            folder: None,
            printer: None,
            learned: None,
            begins_learned: false,
            toured: false,
            region: None,
        }
    }
}

/// What lengths are written in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub(crate) enum Units {
    /// The unit of the layout's marks.
    #[default]
    AsLayout,
    /// Millimetres, whatever the layout.
    Millimetres,
    /// Centimetres, whatever the layout.
    Centimetres,
    /// Inches, whatever the layout.
    Inches,
}

/// Smallest and largest scale of letters and controls.
const SCALES: std::ops::RangeInclusive<f32> = 0.7..=2.5;

/// The look of the window.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub(crate) enum Look {
    /// Slate and chalk.
    Dark,
    /// Paper and pencil.
    Light,
    /// As the system says.
    #[default]
    AsSystem,
}

impl Look {
    pub(crate) fn preference(self) -> ThemePreference {
        match self {
            Self::Dark => ThemePreference::Dark,
            Self::Light => ThemePreference::Light,
            Self::AsSystem => ThemePreference::System,
        }
    }
}

impl Settings {
    /// Gives the window its look and scale.
    pub(crate) fn apply(&self, ctx: &egui::Context) {
        ctx.set_theme(self.look.preference());
        let scale = if self.scale.is_finite() { self.scale } else { 1.0 };
        ctx.set_zoom_factor(scale.clamp(*SCALES.start(), *SCALES.end()));
    }

    /// Makes letters and controls larger or smaller by a factor.
    pub(crate) fn scale_by(&mut self, factor: f32) {
        self.scale = (self.scale * factor).clamp(*SCALES.start(), *SCALES.end());
    }

    /// Reads them; where they are missing or unreadable, the usual ones serve.
    pub(crate) fn read(path: &Path) -> Self {
        read_regular_text(path, MOST_TEXT_BYTES).ok().and_then(|text| ron::from_str(&text).ok()).unwrap_or_default()
    }

    /// Writes them. A failure is no reason to disturb the work: the next start has the usual ones.
    pub(crate) fn write(&self, path: &Path) {
        let folder = path.parent().map_or(Ok(()), fs::create_dir_all);
        let text = ron::ser::to_string_pretty(self, ron::ser::PrettyConfig::new());
        if let (Ok(()), Ok(text)) = (folder, text) {
            let _written = save(path, text.as_bytes());
        }
    }

    /// Remembers a file that was opened or saved.
    pub(crate) fn remember(&mut self, path: &Path) {
        let path = fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
        self.folder = path.parent().map(Path::to_owned);
        self.recent.retain(|other| *other != path);
        self.recent.insert(0, path);
        self.recent.truncate(MOST_RECENT);
    }

    /// How lengths are written where it does not go by the layout.
    pub(crate) fn asked_lengths(&self) -> Option<LengthStyle> {
        match self.units {
            Units::AsLayout => None,
            Units::Millimetres => Some(LengthStyle::MILLIMETRES),
            Units::Centimetres => Some(LengthStyle::CENTIMETRES),
            Units::Inches => Some(LengthStyle::Inches { nearest: InchFraction::Sixteenth }),
        }
    }

    /// The same for a layout with these marks: where they are of the unit asked for, its lengths are written as on its rule.
    pub(crate) fn asked_lengths_for(&self, marks: RuleMarks) -> Option<LengthStyle> {
        self.asked_lengths().filter(|asked| asked.unit_name() != marks.lengths().unit_name())
    }

    /// How the lengths of a layout with these marks are written.
    pub(crate) fn lengths(&self, marks: RuleMarks) -> LengthStyle {
        self.asked_lengths_for(marks).unwrap_or_else(|| marks.lengths())
    }

    /// The marks that a new layout begins with.
    pub(crate) fn marks_to_begin_with(&self) -> RuleMarks {
        match self.units {
            Units::AsLayout => self.region.map(Region::marks).unwrap_or_default(),
            Units::Millimetres | Units::Centimetres => RuleMarks::default(),
            Units::Inches => RuleMarks::InchSixteenth,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn settings_come_back_and_bad_ones_do_not_matter() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("deep/settings.ron");
        assert_eq!(Settings::read(&path), Settings::default());
        let printer = Printer { paper: "Letter".to_owned(), printed_mm_per_100: 99.2, margin_mm: 4.0 };
        let mut settings = Settings { units: Units::Inches, look: Look::Dark, printer: Some(printer), ..Settings::default() };
        for n in 0..12 {
            settings.remember(&folder.path().join(format!("{n}.ron")));
        }
        settings.remember(&folder.path().join("5.ron"));
        settings.write(&path);
        let again = Settings::read(&path);
        assert_eq!(again, settings);
        assert_eq!(again.recent.len(), MOST_RECENT);
        assert!(again.recent[0].ends_with("5.ron") && again.recent[1].ends_with("11.ron"));
        fs::write(&path, "(units: maybe").unwrap();
        assert_eq!(Settings::read(&path), Settings::default());
    }
}
