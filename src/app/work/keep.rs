//! What outlives a run: settings, and work that is not saved yet.

use crate::app::pace::Pace;
use crate::app::run::Run;
use crate::app::settings::Settings;
use crate::edit::{Document, Recovered, RecoveryFolder};
use crate::layout::LayoutSpec;
use crate::store::SaveError;
use crate::telling::{AnyRefusal, Refused, Told, Voice};
use egui::Ui;
use std::path::PathBuf;
use std::sync::Arc;

/// Unsaved work that would not outlive a crash.
#[derive(Debug)]
struct UnsavedLost(SaveError);

impl Refused for UnsavedLost {
    fn told(&self, voice: Voice) -> Told {
        let Told { place, what, .. } = self.0.told(voice);
        Told::new(format!("unsaved work can't be kept safe from a crash ({place} {what})"), "save it now")
    }
}

/// Where settings and unsaved work are kept.
#[derive(Debug)]
pub(super) struct Keep {
    settings: Option<PathBuf>,
    recovery: Option<RecoveryFolder>,
    pub(super) run: Run,
    /// Unsaved work of runs that are over.
    pub(super) recovered: Vec<Recovered>,
    /// The state that was kept last.
    kept: Option<Arc<LayoutSpec>>,
    /// Earlier runs' work that is open now: theirs stays until this run has kept it or a file holds it.
    taken: Vec<Recovered>,
    /// Whether the last try to keep something was refused, which is told once.
    refused: bool,
    pace: Pace,
}

impl Keep {
    /// Keeps in `home`; without one nothing is remembered.
    pub(super) fn new(home: Option<PathBuf>) -> Self {
        let settings = home.as_ref().map(|home| home.join("settings.ron"));
        let run = Run::begin(home.as_deref());
        let recovery = home.map(|home| RecoveryFolder::new(home.join("unsaved")));
        let mut keep = Self {
            settings,
            recovery,
            run,
            recovered: Vec::new(),
            kept: None,
            taken: Vec::new(),
            refused: false,
            pace: Pace::default(),
        };
        keep.look_again();
        keep
    }

    /// Whether anything is remembered from one start to the next.
    pub(super) fn remembers(&self) -> bool {
        self.settings.is_some()
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
        let is_taken = |work: &Recovered| self.taken.iter().any(|taken| taken.path == work.path);
        self.recovered.retain(|work| !self.run.goes_on(&work.path) && !is_taken(work));
    }

    /// Keeps an earlier run's work, which is open now, as this run's own.
    pub(super) fn take_over(&mut self, work: Recovered, document: &Document) -> Option<AnyRefusal> {
        self.taken.push(work);
        self.look_again();
        self.keep(document)
    }

    /// Keeps the document's state if no file holds it, at most every few seconds. Says so when it can't be kept, once; it is tried
    /// again until it can.
    pub(super) fn unsaved(&mut self, document: &Document, ui: &Ui) -> Option<AnyRefusal> {
        let state = document.history().current();
        let is_kept = self.kept.as_ref().is_some_and(|kept| Arc::ptr_eq(kept, state));
        if self.recovery.is_none() || !document.is_unsaved() || is_kept || !self.pace.is_due(ui) {
            return None;
        }
        let told = self.keep(document);
        if self.refused {
            self.pace.comes_again(ui);
        }
        told
    }

    fn keep(&mut self, document: &Document) -> Option<AnyRefusal> {
        match self.recovery.as_ref()?.keep(self.run.name(), document) {
            Ok(()) => {
                self.kept = Some(document.history().current().clone());
                self.refused = false;
                self.forget_taken();
                None
            }
            Err(error) => {
                let told = (!self.refused).then(|| UnsavedLost(error).into());
                self.refused = true;
                told
            }
        }
    }

    /// This run's work is saved, or given up.
    pub(super) fn forget(&mut self) {
        self.kept = None;
        if let Some(recovery) = &self.recovery {
            let _forgotten = recovery.forget(self.run.name());
        }
        self.forget_taken();
    }

    fn forget_taken(&mut self) {
        for work in self.taken.drain(..) {
            // Left behind, it is offered again: that loses nothing.
            let _forgotten = work.forget();
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::EditCommand;
    use crate::store::{EXAMPLE_LAYOUTS, parse_layout};
    use std::fs;

    fn changed() -> Document {
        let mut document = Document::new(parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap());
        document.perform(&EditCommand::SetGuideRadius(200.0)).unwrap();
        document
    }

    /// The kept file of a crashed run used to be deleted before its work was kept anew, and what could not be kept was not tried again.
    #[test]
    fn an_earlier_runs_file_stays_until_its_work_is_kept_anew() {
        let home = tempfile::tempdir().unwrap();
        let home = home.path().to_owned();
        let mut crashed = Keep::new(Some(home.clone()));
        assert!(crashed.keep(&changed()).is_none());
        drop(crashed);
        let mut keep = Keep::new(Some(home.clone()));
        let [work] = &keep.recovered[..] else { panic!("one work is offered") };
        let (work, left) = (work.clone(), work.path.clone());
        // In the way of this run's own file.
        let own = home.join("unsaved").join(keep.run.name()).with_extension("ron");
        fs::create_dir(&own).unwrap();
        let document = Document::recovered(&work);
        let told = keep.take_over(work, &document).unwrap().say(Voice::FILE);
        assert!(told.contains("it is a folder"), "{told}");
        assert!(left.exists() && keep.recovered.is_empty(), "it stays, and is not offered twice");
        assert!(keep.keep(&document).is_none(), "told once");
        fs::remove_dir(&own).unwrap();
        assert!(keep.keep(&document).is_none());
        assert!(own.exists() && !left.exists());
        keep.forget();
        assert!(!own.exists());
    }
}
