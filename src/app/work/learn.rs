//! Learning from photographs: pieces and files for it, and what was learned put to use.

use super::App;
use super::busy::Finished;
use crate::app::learn::LearnAsk;
use crate::app::photo::{PhotoAsk, PhotoView};
use crate::app::step::Step;
use crate::app::today::today;
use crate::edit::EditCommand;
use crate::learn::{Learned, change_words};
use crate::store::{FileKind, file_said, learned_text, read_learned, refuse_other_kind, save};
use crate::telling::{AnyRefusal, Told};
use crate::test_day::write_test_day;
use egui::Context;
use jiff::ToSpan as _;
use std::path::{Path, PathBuf};

impl App {
    /// Turns to learning, in the journal.
    pub(super) fn show_learning(&mut self, ctx: &Context) {
        self.step = Step::Journal;
        self.journal.turn_to_learning();
        if self.photo.as_ref().is_some_and(|photo| photo.home() == Step::Journal) {
            self.ask(crate::app::context::Ask::Photo(PhotoAsk::Close), ctx);
        }
    }

    pub(super) fn learn(&mut self, ask: LearnAsk, ctx: &Context) {
        match ask {
            LearnAsk::AddPiece(layout) => self.journal.learning().add(layout),
            LearnAsk::AddPhotograph(piece, photograph) => self.journal.learning().add_photograph(piece, photograph),
            LearnAsk::Mark(piece, photo) => {
                if let Some((path, name, layout)) = self.journal.learning().photograph(piece, photo) {
                    self.photo = Some(PhotoView::new(&path, name, layout, Step::Journal, ctx).left_by("Back to learning"));
                }
            }
            LearnAsk::Keep(path) => self.keep_learned(path),
            LearnAsk::Earlier(own) => self.learn_on_top(own),
            LearnAsk::BeginWith(begins) => {
                self.settings.begins_learned = begins;
                self.keep.write_settings(&self.settings);
            }
            LearnAsk::Use => self.use_learned(ctx),
            LearnAsk::TestCloth(folder) => self.make_test_cloth(folder, ctx),
        }
    }

    /// What was learned that new layouts begin with; none where they begin with the defaults.
    pub(super) fn learned_to_begin_with(&self) -> Result<Option<Learned>, AnyRefusal> {
        let own = self.settings.learned.as_deref().filter(|_| self.settings.begins_learned);
        Ok(own.map(read_learned).transpose()?)
    }

    /// Reads what the maker's own file says; one that can't be read tells nothing here, and why where it is used.
    pub(super) fn look_at_learned(&mut self) {
        self.taught = self.settings.learned.as_deref().and_then(|own| read_learned(own).ok());
    }

    /// The name that what was learned is written by, to begin with: the maker's own file.
    pub(super) fn learned_name(&self) -> String {
        let own = self.settings.learned.as_deref().and_then(Path::file_name);
        own.map_or_else(|| "my-calibration.ron".to_owned(), |own| own.to_string_lossy().into_owned())
    }

    fn keep_learned(&mut self, path: PathBuf) {
        let Some(learned) = self.journal.learning().unkept() else { return };
        let text = learned_text(learned);
        let saved = refuse_other_kind(&path, FileKind::Learned, None)
            .map_err(AnyRefusal::from)
            .and_then(|()| save(&path, text.as_bytes()).map_err(AnyRefusal::from));
        if let Err(refused) = saved {
            return self.refuse(refused);
        }
        let path = std::fs::canonicalize(&path).unwrap_or(path);
        self.settings.learned = Some(path.clone());
        self.look_at_learned();
        self.keep.write_settings(&self.settings);
        let begins =
            if self.settings.begins_learned { "new layouts begin with it" } else { "begin new layouts with it if you like" };
        let words = format!("Saved what was learned to {}; {begins}", file_said(&path, self.voice()));
        self.journal.learning().is_kept(path);
        self.tell(Ok(words));
    }

    fn learn_on_top(&mut self, own: Option<PathBuf>) {
        if let Some(Err(error)) = own.as_deref().map(read_learned) {
            return self.refuse(error);
        }
        let own = own.map(|own| std::fs::canonicalize(&own).unwrap_or(own));
        // New layouts don't begin with a file that nothing names any more.
        self.settings.begins_learned &= own.is_some();
        self.settings.learned.clone_from(&own);
        self.look_at_learned();
        self.keep.write_settings(&self.settings);
        self.journal.learning().set_own(own);
    }

    /// Gives the open layout what was learned: what is not in a file yet, else what the maker's own file says.
    fn use_learned(&mut self, ctx: &Context) {
        let learned: Result<Learned, AnyRefusal> = match (self.journal.learning().unkept(), &self.settings.learned) {
            (Some(learned), _) => Ok(learned.clone()),
            (None, Some(own)) => read_learned(own).map_err(AnyRefusal::from),
            (None, None) => Err(Told::new("nothing was learned yet", "learn from photographs in the journal first").into()),
        };
        let learned = match learned {
            Ok(learned) => learned,
            Err(refused) => return self.refuse(refused),
        };
        let Some(document) = &self.document else { return };
        let (raw, name) = (document.layout().raw(), document.layout().name().to_owned());
        let (now, tuning) = (raw.process.calibration, learned.tuning_on(raw, today()));
        let changes: String = change_words(&tuning, raw).iter().map(|change| format!("; {change}")).collect();
        if changes.is_empty() && tuning.calibration.has_values_of(&now) && now.learned.is_some() {
            return self.tell(Ok(format!("{name} has these calibration values already")));
        }
        self.edit(&EditCommand::TakeLearned(Box::new(tuning)), ctx);
        self.tell(Ok(format!("{name} has what was learned{changes}; undo takes it back")));
    }

    /// Writes the test cloth's files, its day beginning tomorrow at nine, on another thread.
    fn make_test_cloth(&mut self, folder: PathBuf, ctx: &Context) {
        let paper = self.sheets.wanted.paper.clone();
        let start = today().saturating_add(1.day()).at(9, 0, 0, 0);
        self.begin_busy(&format!("Making the test cloth in {}", folder.display()), ctx, move |handle| {
            let files = write_test_day(&folder, start, &paper, &handle.cancel)?;
            let words = format!("Made the test cloth: {} files in {}; begin with what-to-do.pdf", files.len(), folder.display());
            Ok(Finished { words, to: folder })
        });
    }
}
