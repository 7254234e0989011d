//! What the program remembers from one day to the next: units, look, last folder, files opened lately.

use crate::measure::{InchFraction, LengthStyle};
use crate::store::save;
use egui::ThemePreference;
use serde::{Deserialize, Serialize};
use std::fs;
use std::path::{Path, PathBuf};

/// Most files remembered.
const MOST_RECENT: usize = 10;

/// The settings.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub(crate) struct Settings {
    /// Whether lengths are written in inches.
    pub(crate) inches: bool,
    /// The look.
    pub(crate) look: Look,
    /// Files opened or saved lately, the last first.
    pub(crate) recent: Vec<PathBuf>,
    /// The folder in which a file was last opened or saved.
    pub(crate) folder: Option<PathBuf>,
}

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
    /// Reads them; where they are missing or unreadable, the usual ones serve.
    pub(crate) fn read(path: &Path) -> Self {
        fs::read_to_string(path).ok().and_then(|text| ron::from_str(&text).ok()).unwrap_or_default()
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

    /// How lengths are written.
    pub(crate) fn lengths(&self) -> LengthStyle {
        if self.inches { LengthStyle::Inches { nearest: InchFraction::Sixteenth } } else { LengthStyle::default() }
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
        let mut settings = Settings { inches: true, look: Look::Dark, ..Settings::default() };
        for n in 0..12 {
            settings.remember(&folder.path().join(format!("{n}.ron")));
        }
        settings.remember(&folder.path().join("5.ron"));
        settings.write(&path);
        let again = Settings::read(&path);
        assert_eq!(again, settings);
        assert_eq!(again.recent.len(), MOST_RECENT);
        assert!(again.recent[0].ends_with("5.ron") && again.recent[1].ends_with("11.ron"));
        fs::write(&path, "(inches: maybe").unwrap();
        assert_eq!(Settings::read(&path), Settings::default());
    }
}
