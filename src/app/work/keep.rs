//! What outlives a run: settings, and work that is not saved yet.

use crate::app::pace::Pace;
use crate::app::run::Run;
use crate::app::settings::Settings;
use crate::edit::{Document, Recovered, RecoveryFolder};
use crate::layout::raw::LayoutV1;
use egui::Ui;
use std::path::PathBuf;
use std::sync::Arc;

/// Where settings and unsaved work are kept.
#[derive(Debug)]
pub(super) struct Keep {
    settings: Option<PathBuf>,
    recovery: Option<RecoveryFolder>,
    pub(super) run: Run,
    /// Unsaved work of runs that are over.
    pub(super) recovered: Vec<Recovered>,
    /// The state that was kept last.
    kept: Option<Arc<LayoutV1>>,
    pace: Pace,
}

impl Keep {
    /// Keeps in `home`; without one nothing is remembered.
    pub(super) fn new(home: Option<PathBuf>) -> Self {
        let settings = home.as_ref().map(|home| home.join("settings.ron"));
        let run = Run::begin(home.as_deref());
        let recovery = home.map(|home| RecoveryFolder::new(home.join("unsaved")));
        let mut keep = Self { settings, recovery, run, recovered: Vec::new(), kept: None, pace: Pace::default() };
        keep.look_again();
        keep
    }

    pub(super) fn read_settings(&self) -> Settings {
        self.settings.as_deref().map(Settings::read).unwrap_or_default()
    }

    pub(super) fn write_settings(&self, settings: &Settings) {
        if let Some(path) = &self.settings {
            settings.write(path);
        }
    }

    /// Looks again for unsaved work of earlier runs; that of runs beside this one is theirs.
    pub(super) fn look_again(&mut self) {
        self.recovered = self.recovery.as_ref().map(RecoveryFolder::kept).unwrap_or_default();
        self.recovered.retain(|work| !self.run.goes_on(&work.path));
    }

    /// Keeps the document's state if no file holds it, at most every few seconds.
    pub(super) fn unsaved(&mut self, document: &Document, ui: &Ui) {
        let Some(recovery) = &self.recovery else { return };
        let state = document.history().current();
        if !document.is_unsaved() || self.kept.as_ref().is_some_and(|kept| Arc::ptr_eq(kept, state)) || !self.pace.is_due(ui) {
            return;
        }
        // A full disk is told about when the maker saves; until then there is nothing to be done about it.
        let _kept = recovery.keep(self.run.name(), document);
        self.kept = Some(state.clone());
    }

    /// This run's work is saved, or given up.
    pub(super) fn forget(&mut self) {
        self.kept = None;
        if let Some(recovery) = &self.recovery {
            let _forgotten = recovery.forget(self.run.name());
        }
    }
}
