//! Orders, recipes and processes that are being written and that no file holds, kept where a crash can't take them.

use super::DayView;
use super::editor::Editor;
use super::order::{Design, Sheet};
use super::work::Work;
use crate::app::pace::Pace;
use crate::app::run::Run;
use crate::layout::{Layout, layout_text};
use crate::plan::{Process, Recipe};
use crate::store::{
    SaveError, order_text, parse_layout, parse_order, parse_process, parse_recipe, process_text, read_text, recipe_text,
    save_over,
};
use crate::telling::{AnyRefusal, Refused, Told, Voice};
use egui::Ui;
use serde::{Deserialize, Serialize};
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// The format of the file; a newer program's is left alone.
const FORMAT: u32 = 1;

/// What is kept, as texts that their files would hold.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Texts {
    format: u32,
    order: Option<OrderTexts>,
    recipe: Option<FileText>,
    process: Option<FileText>,
}

/// A text and the file that it belongs to, if there is one.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct FileText {
    file: Option<PathBuf>,
    text: String,
}

/// An order, with the layouts of rows that no file holds.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct OrderTexts {
    order: FileText,
    folder: PathBuf,
    layouts: Vec<Option<String>>,
}

/// Unsaved work that would not outlive a crash.
#[derive(Debug)]
struct Lost(SaveError);

impl Refused for Lost {
    fn told(&self, voice: Voice) -> Told {
        let Told { place, what, .. } = self.0.told(voice);
        Told::new(format!("what you write in the Day view can't be kept safe from a crash ({place} {what})"), "save it now")
    }
}

/// The states that were kept last.
type States = (Option<Arc<Sheet>>, Option<Arc<Recipe>>, Option<Arc<Process>>);

/// The file in which this run of the program keeps it.
#[derive(Debug)]
pub(super) struct Kept {
    folder: PathBuf,
    path: PathBuf,
    /// Files of earlier runs whose work is open now, until this run's own holds it.
    taken: Vec<PathBuf>,
    last: Option<States>,
    pace: Pace,
    refused: bool,
    /// What was taken up, to be told once.
    told: Option<String>,
}

impl Kept {
    pub(super) fn new(folder: &Path, run: &Run) -> Self {
        let path = folder.join(run.name()).with_extension("ron");
        let (taken, last) = (Vec::new(), None);
        Self { folder: folder.to_owned(), path, taken, last, pace: Pace::default(), refused: false, told: None }
    }

    fn forget(&mut self) {
        for path in self.taken.drain(..).chain([self.path.clone()]) {
            // Left behind, it is offered again: that loses nothing.
            let _gone = fs::remove_file(path);
        }
        self.last = None;
    }

    fn write(&mut self, texts: &Texts) -> Result<(), SaveError> {
        let refused = |path: &Path, source| SaveError { path: path.to_owned(), source };
        fs::create_dir_all(&self.folder).map_err(|source| refused(&self.folder, source))?;
        let text = ron::ser::to_string_pretty(texts, ron::ser::PrettyConfig::new())
            .map_err(|error| refused(&self.path, std::io::Error::other(error)))?;
        save_over(&self.path, text.as_bytes())?;
        for path in self.taken.drain(..) {
            let _gone = fs::remove_file(path);
        }
        Ok(())
    }
}

impl DayView {
    /// Takes up what the last run that broke off has left; what more there is stays for the next start.
    pub(super) fn take_up(&mut self, run: &Run) {
        let Some(kept) = &mut self.kept else { return };
        let mut left: Vec<PathBuf> =
            fs::read_dir(&kept.folder).into_iter().flatten().flatten().map(|entry| entry.path()).collect();
        left.retain(|path| path.extension().is_some_and(|ending| ending == "ron") && !run.goes_on(path));
        left.sort();
        let Some((path, texts)) = left.into_iter().rev().find_map(|path| Some((path.clone(), read(&path)?))) else { return };
        self.desk = texts.order.and_then(order);
        self.recipe = texts.recipe.and_then(|text| Some(Editor::of(Work::unsaved(parse_recipe(&text.text).ok()?, text.file))));
        self.process = texts.process.and_then(|text| Some(Editor::of(Work::unsaved(parse_process(&text.text).ok()?, text.file))));
        let names = [
            self.desk.as_ref().map(|desk| desk.now().spec.name.clone()),
            self.recipe.as_ref().map(|editor| editor.work.now().name.clone()),
            self.process.as_ref().map(|editor| editor.work.now().name.clone()),
        ];
        let names: Vec<String> = names.into_iter().flatten().map(|name| format!("\"{name}\"")).collect();
        if !names.is_empty() {
            kept.taken.push(path);
            let words = crate::telling::listed(names, "and");
            kept.told = Some(format!("Recovered {words}, not saved before the program ended; see the Day view of any layout"));
        }
    }

    /// What was taken up of an earlier run, told once.
    pub(crate) fn taken_up(&mut self) -> Option<String> {
        self.kept.as_mut().and_then(|kept| kept.told.take())
    }

    /// Keeps what no file holds, at most every few seconds. Says so when it can't be kept, once.
    pub(crate) fn keep_unsaved(&mut self, open: Option<&Arc<Layout>>, ui: &Ui) -> Option<AnyRefusal> {
        let states = self.unsaved_states();
        let kept = self.kept.as_mut()?;
        if states == (None, None, None) {
            if kept.last.is_some() || !kept.taken.is_empty() {
                kept.forget();
            }
            return None;
        }
        if kept.last.as_ref().is_some_and(|last| is_same(last, &states)) || !kept.pace.is_due(ui) {
            return None;
        }
        let texts = self.texts(open);
        let kept = self.kept.as_mut()?;
        match kept.write(&texts) {
            Ok(()) => {
                (kept.last, kept.refused) = (Some(states), false);
                None
            }
            Err(error) => {
                kept.pace.comes_again(ui);
                let told = (!kept.refused).then(|| Lost(error).into());
                kept.refused = true;
                told
            }
        }
    }

    /// It is saved, or given up.
    pub(crate) fn forget_unsaved(&mut self) {
        self.kept.iter_mut().for_each(Kept::forget);
    }

    fn unsaved_states(&self) -> States {
        fn of<T: Clone + PartialEq>(work: Option<&Work<T>>) -> Option<Arc<T>> {
            work.filter(|work| work.is_unsaved()).map(|work| work.now().clone())
        }
        let (recipe, process) = (self.recipe.as_ref(), self.process.as_ref());
        (of(self.desk.as_ref()), of(recipe.map(|editor| &editor.work)), of(process.map(|editor| &editor.work)))
    }

    fn texts(&self, open: Option<&Arc<Layout>>) -> Texts {
        let (order, recipe, process) = self.unsaved_states();
        let file = |path: Option<&Path>| path.map(Path::to_owned);
        let order = order.map(|sheet| {
            let layout = |design: &Design| match design {
                Design::File => None,
                Design::Open => open.map(|layout| layout_text(layout.raw())),
                Design::Kept(layout) => Some(layout_text(layout.raw())),
            };
            OrderTexts {
                order: FileText { file: file(self.desk.as_ref().and_then(Work::path)), text: order_text(&sheet.spec) },
                folder: sheet.folder.clone(),
                layouts: sheet.designs.iter().map(layout).collect(),
            }
        });
        let recipe = recipe.map(|recipe| FileText {
            file: file(self.recipe.as_ref().and_then(|editor| editor.work.path())),
            text: recipe_text(&recipe),
        });
        let process = process.map(|process| FileText {
            file: file(self.process.as_ref().and_then(|editor| editor.work.path())),
            text: process_text(&process),
        });
        Texts { format: FORMAT, order, recipe, process }
    }
}

fn is_same(one: &States, other: &States) -> bool {
    fn same<T>(one: Option<&Arc<T>>, other: Option<&Arc<T>>) -> bool {
        match (one, other) {
            (Some(one), Some(other)) => Arc::ptr_eq(one, other),
            (one, other) => one.is_none() && other.is_none(),
        }
    }
    same(one.0.as_ref(), other.0.as_ref()) && same(one.1.as_ref(), other.1.as_ref()) && same(one.2.as_ref(), other.2.as_ref())
}

fn read(path: &Path) -> Option<Texts> {
    let texts: Texts = ron::from_str(&read_text(path).ok()?).ok()?;
    (texts.format == FORMAT).then_some(texts)
}

/// The order that was kept, as unsaved as it was.
fn order(texts: OrderTexts) -> Option<Work<Sheet>> {
    let OrderTexts { order, folder, layouts } = texts;
    let spec = parse_order(&order.text).ok()?;
    let design = |text: Option<String>| {
        let layout = text.and_then(|text| parse_layout(&text).ok());
        layout.map_or(Design::File, |layout| Design::Kept(Arc::new(layout)))
    };
    let mut designs: Vec<Design> = layouts.into_iter().map(design).collect();
    designs.resize(spec.lines.len(), Design::File);
    Some(Work::unsaved(Sheet { spec, designs, folder }, order.file))
}
