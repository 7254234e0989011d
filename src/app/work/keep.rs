//! What outlives a run: settings, and work that is not saved yet.

use crate::app::settings::Settings;
use crate::edit::{Document, Recovered, RecoveryFolder};
use crate::layout::raw::LayoutV1;
use egui::Ui;
use std::path::PathBuf;
use std::sync::Arc;
use std::time::Duration;

/// How often unsaved work is kept, seconds.
const KEEP_EVERY_S: f64 = 5.0;

/// Where settings and unsaved work are kept.
#[derive(Debug)]
pub(super) struct Keep {
    settings: Option<PathBuf>,
    recovery: Option<RecoveryFolder>,
    run: String,
    pub(super) recovered: Vec<Recovered>,
    /// The state that was kept last.
    kept: Option<Arc<LayoutV1>>,
    next: f64,
}

impl Keep {
    /// Keeps in `home`; without one nothing is remembered.
    pub(super) fn new(home: Option<PathBuf>) -> Self {
        let settings = home.as_ref().map(|home| home.join("settings.ron"));
        let recovery = home.map(|home| RecoveryFolder::new(home.join("unsaved")));
        let mut keep = Self { settings, recovery, run: run_name(), recovered: Vec::new(), kept: None, next: 0.0 };
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

    /// Looks again for unsaved work of earlier runs.
    pub(super) fn look_again(&mut self) {
        self.recovered = self.recovery.as_ref().map(RecoveryFolder::kept).unwrap_or_default();
    }

    /// Keeps the document's state if no file holds it, at most every few seconds.
    pub(super) fn unsaved(&mut self, document: &Document, ui: &Ui) {
        let Some(recovery) = &self.recovery else { return };
        let state = document.history().current();
        if !document.is_unsaved() || self.kept.as_ref().is_some_and(|kept| Arc::ptr_eq(kept, state)) {
            return;
        }
        let now = ui.input(|input| input.time);
        if now < self.next {
            ui.ctx().request_repaint_after(Duration::from_secs_f64(self.next - now));
            return;
        }
        self.next = now + KEEP_EVERY_S;
        // A full disk is told about when the maker saves; until then there is nothing to be done about it.
        let _kept = recovery.keep(&self.run, document);
        self.kept = Some(state.clone());
    }

    /// This run's work is saved, or given up.
    pub(super) fn forget(&mut self) {
        self.kept = None;
        if let Some(recovery) = &self.recovery {
            let _forgotten = recovery.forget(&self.run);
        }
    }
}

/// A name for this run's unsaved work that no other run has at the same time.
fn run_name() -> String {
    let since = std::time::SystemTime::now().duration_since(std::time::UNIX_EPOCH).map_or(0, |since| since.as_secs());
    format!("{since}-{}", std::process::id())
}
