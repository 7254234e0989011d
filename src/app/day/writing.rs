//! Doing what is asked of the orders, recipes and processes that are being written.

use super::editor::Editor;
use super::order::{Design, Desk};
use super::work::Work;
use super::{DayAsk, DayView, Looking};
use crate::app::purpose::DayFile;
use crate::layout::Layout;
use crate::plan::{usual_process, usual_recipe};
use crate::print::parts::file_name;
use crate::store::{
    EXAMPLE_PROCESSES, EXAMPLE_RECIPES, Example, path_from, process_text, read_layout, read_process, read_recipe, recipe_text,
    refuse_other_kind,
};
use crate::telling::{AnyRefusal, Told};
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// The layout that is open in the window, and its file.
pub(crate) struct OpenLayout<'a> {
    pub(crate) layout: &'a Arc<Layout>,
    pub(crate) path: Option<&'a Path>,
}

/// What is done by an ask, beside what it changes.
#[derive(Debug, PartialEq, Eq)]
pub(crate) enum Outcome {
    /// Nothing to tell.
    Done,
    /// Saved: what to tell.
    Saved(String),
    /// A file's name is to be asked for.
    NameFile(DayFile),
}

impl DayView {
    /// Takes a file into use.
    pub(crate) fn use_file(&mut self, file: DayFile, path: PathBuf) -> Result<(), AnyRefusal> {
        match (file, &mut self.desk) {
            (DayFile::Order, _) => self.desk = Some(Desk::open(&path)?),
            (DayFile::Recipe, Some(desk)) => desk.change("the recipe", |sheet| {
                sheet.spec.recipe = Some(path_from(&sheet.folder, &path));
            }),
            (DayFile::Process, Some(desk)) => desk.change("the process", |sheet| {
                sheet.spec.process = Some(path_from(&sheet.folder, &path));
            }),
            (DayFile::Recipe, None) => self.wanted.recipe = Some(path),
            (DayFile::Process, None) => self.wanted.process = Some(path),
        }
        self.look_again();
        Ok(())
    }

    /// Forgets what was read and planned, so that files are read again.
    pub(crate) fn look_again(&mut self) {
        self.planner.look_again();
        self.rows.look_again();
        self.own_names.look_again();
    }

    /// Does what was asked.
    pub(crate) fn do_ask(&mut self, ask: DayAsk, open: Option<&OpenLayout<'_>>) -> Result<Outcome, AnyRefusal> {
        match ask {
            DayAsk::NewOrder => {
                let of = |open: &OpenLayout<'_>| Desk::of_layout(open.layout, self.wanted.count, self.wanted.workshop.clone());
                self.desk = open.map(of);
                if let Some(desk) = &mut self.desk {
                    self.wanted.recipe_and_process_into(desk);
                }
            }
            DayAsk::ExampleOrder(index) => self.desk = Desk::example(index),
            DayAsk::Row(index, path) => self.row(index, &path)?,
            DayAsk::Write(file) => {
                if let Some(open) = open {
                    self.write(file, open.layout)?;
                }
            }
            DayAsk::Save(file) => {
                return match self.path(file).map(Path::to_owned) {
                    Some(path) => self.save_to(file, &path, open),
                    None => Ok(Outcome::NameFile(file)),
                };
            }
            DayAsk::SaveTo(file, path) => return self.save_to(file, &path, open),
            DayAsk::Close(file) | DayAsk::GiveUp(file) => self.close(file),
        }
        Ok(Outcome::Done)
    }

    /// Makes a row of a layout file.
    fn row(&mut self, index: usize, path: &Path) -> Result<(), AnyRefusal> {
        read_layout(path)?;
        if let Some(desk) = &mut self.desk {
            desk.change(&format!("the design of row {}", index + 1), |sheet| {
                let name = path_from(&sheet.folder, path);
                sheet.set_design(index, Design::File, &name);
            });
        }
        self.look_again();
        Ok(())
    }

    /// Opens the recipe or process that is planned by, to be changed.
    fn write(&mut self, file: DayFile, open: &Layout) -> Result<(), AnyRefusal> {
        match file {
            DayFile::Recipe => {
                let name = self.named(DayFile::Recipe, open)?;
                let path = own_file(&name, &EXAMPLE_RECIPES);
                self.recipe = Some(Editor::of(Work::of(read_recipe(&name)?, path)));
                self.looking = Looking::Recipe;
            }
            DayFile::Process => {
                let name = self.named(DayFile::Process, open)?;
                let path = own_file(&name, &EXAMPLE_PROCESSES);
                self.process = Some(Editor::of(Work::of(read_process(&name)?, path)));
                self.looking = Looking::Process;
            }
            DayFile::Order => {}
        }
        Ok(())
    }

    /// The recipe or process that is planned by: one that comes with the program, by its name, or a file.
    fn named(&self, file: DayFile, open: &Layout) -> Result<PathBuf, AnyRefusal> {
        let of_order = |name: &Option<String>, shipped: &[Example], folder: &Path| {
            name.as_ref().map(|name| match shipped.iter().any(|example| example.short_name() == name) {
                true => PathBuf::from(name),
                false => folder.join(name),
            })
        };
        let [recipe, process] = match &self.desk {
            Some(desk) => {
                let sheet = desk.now();
                [
                    of_order(&sheet.spec.recipe, &EXAMPLE_RECIPES, &sheet.folder),
                    of_order(&sheet.spec.process, &EXAMPLE_PROCESSES, &sheet.folder),
                ]
            }
            None => [self.wanted.recipe.clone(), self.wanted.process.clone()],
        };
        let process = process.unwrap_or_else(|| PathBuf::from(usual_process(open)));
        match (file, recipe) {
            (DayFile::Recipe, Some(recipe)) => Ok(recipe),
            (DayFile::Recipe, None) => Ok(PathBuf::from(usual_recipe([&read_process(&process)?]))),
            _ => Ok(process),
        }
    }

    /// The file of what is being written.
    fn path(&self, file: DayFile) -> Option<&Path> {
        match file {
            DayFile::Order => self.desk.as_ref().and_then(Work::path),
            DayFile::Recipe => self.recipe.as_ref().and_then(|editor| editor.work.path()),
            DayFile::Process => self.process.as_ref().and_then(|editor| editor.work.path()),
        }
    }

    /// Saves what is being written; a recipe or process is then planned by.
    fn save_to(&mut self, file: DayFile, path: &Path, open: Option<&OpenLayout<'_>>) -> Result<Outcome, AnyRefusal> {
        let nothing =
            || Told::new(format!("there is not a single {} to save", super::word(file)), "open one in the Day view first");
        refuse_other_kind(path, file.kind(), self.path(file))?;
        let words = match file {
            DayFile::Order => self.desk.as_mut().ok_or_else(nothing)?.save(path, open.and_then(|open| open.path))?,
            DayFile::Recipe => {
                let work = &mut self.recipe.as_mut().ok_or_else(nothing)?.work;
                save(work, path, recipe_text)?
            }
            DayFile::Process => {
                let work = &mut self.process.as_mut().ok_or_else(nothing)?.work;
                save(work, path, process_text)?
            }
        };
        match file {
            DayFile::Order => self.look_again(),
            file => self.use_file(file, path.to_owned())?,
        }
        Ok(Outcome::Saved(words))
    }

    fn close(&mut self, file: DayFile) {
        match file {
            DayFile::Order => {
                self.keep_workshop();
                self.desk = None;
            }
            DayFile::Recipe => self.recipe = None,
            DayFile::Process => self.process = None,
        }
        let gone = match self.looking {
            Looking::Recipe => self.recipe.is_none(),
            Looking::Process => self.process.is_none(),
            _ => false,
        };
        if gone {
            self.looking = Looking::Amounts;
        }
    }

    /// What has changes that no file holds, by its name; of several, the order first.
    pub(crate) fn unsaved(&self, files: &[DayFile]) -> Option<(DayFile, String)> {
        let order = self.desk.as_ref().filter(|desk| desk.is_unsaved()).map(|desk| desk.now().spec.name.clone());
        let recipe = self.recipe.as_ref().map(|editor| &editor.work).filter(|work| work.is_unsaved());
        let process = self.process.as_ref().map(|editor| &editor.work).filter(|work| work.is_unsaved());
        let all = [
            (DayFile::Order, order),
            (DayFile::Recipe, recipe.map(|work| work.now().name.clone())),
            (DayFile::Process, process.map(|work| work.now().name.clone())),
        ];
        all.into_iter().filter(|(file, _)| files.contains(file)).find_map(|(file, name)| Some((file, name?)))
    }

    /// A name for the file of what is being written, without ending: it says what it holds, for a layout may have the same name.
    pub(crate) fn file_stem(&self, file: DayFile) -> String {
        let name = match file {
            DayFile::Order => self.desk.as_ref().map(|desk| desk.now().spec.name.clone()),
            DayFile::Recipe => self.recipe.as_ref().map(|editor| editor.work.now().name.clone()),
            DayFile::Process => self.process.as_ref().map(|editor| editor.work.now().name.clone()),
        };
        let (word, stem) = (super::word(file), name.map(|name| file_name(&name)));
        match stem {
            None => word.to_owned(),
            Some(stem) if stem.split('-').any(|part| part == word) => stem,
            Some(stem) => format!("{stem}-{word}"),
        }
    }

    /// Whether there is an order.
    pub(crate) fn has_order(&self) -> bool {
        self.desk.is_some()
    }

    /// What undo and redo in the Day view would take back and do again.
    pub(crate) fn steps(&self) -> [Option<&str>; 2] {
        match self.looking {
            Looking::Recipe => self.recipe.as_ref().map(|editor| editor.work.steps()),
            Looking::Process => self.process.as_ref().map(|editor| editor.work.steps()),
            _ => self.desk.as_ref().map(Work::steps),
        }
        .unwrap_or_default()
    }

    /// Takes the last step back, or does it again; whether there was one.
    pub(crate) fn step(&mut self, forward: bool) -> bool {
        let is_one = self.steps()[usize::from(forward)].is_some();
        match (self.looking, &mut self.recipe, &mut self.process, &mut self.desk) {
            (Looking::Recipe, Some(editor), ..) => go(&mut editor.work, forward),
            (Looking::Process, _, Some(editor), _) => go(&mut editor.work, forward),
            (Looking::Recipe | Looking::Process, ..) => {}
            (.., Some(desk)) => go(desk, forward),
            _ => {}
        }
        is_one
    }

    /// The open layout is put away: rows of it keep it as it is.
    pub(crate) fn keep_open_layout(&mut self, open: &OpenLayout<'_>) {
        if let Some(desk) = &mut self.desk {
            desk.keep_open_layout(open.layout, open.path);
        }
    }
}

impl super::Wanted {
    /// An order begins with the recipe and process that the layout was planned by.
    fn recipe_and_process_into(&self, desk: &mut Desk) {
        let name = |path: &PathBuf| path.to_string_lossy().into_owned();
        let (recipe, process) = (self.recipe.as_ref().map(name), self.process.as_ref().map(name));
        desk.in_every_state(|sheet| {
            sheet.spec.recipe.clone_from(&recipe);
            sheet.spec.process.clone_from(&process);
            sheet.spec.scrap_tested = self.scrap_tested;
            sheet.spec.deadline = self.deadline.then_some(self.time);
        });
    }
}

fn go<T: Clone + PartialEq>(work: &mut Work<T>, forward: bool) {
    if forward { work.redo() } else { work.undo() }
}

/// The file of a recipe or process, unless it comes with the program: then it has none of the maker's own yet.
fn own_file(name: &Path, shipped: &[Example]) -> Option<PathBuf> {
    let is_shipped = shipped.iter().any(|example| Some(example.short_name()) == name.to_str());
    (!is_shipped).then(|| name.to_owned())
}

/// Saves a recipe or process; what somebody else wrote to its file is told first.
fn save<T: Clone + PartialEq>(work: &mut Work<T>, path: &Path, text: fn(&T) -> String) -> Result<String, AnyRefusal> {
    work.look_before_saving(path)?;
    let value = (**work.now()).clone();
    work.write(path, &text(&value), value, &[])?;
    Ok(format!("Saved {}", path.display()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::store::{EXAMPLE_LAYOUTS, parse_layout};

    /// What comes with the program is never written over: it is edited as a copy that has no file.
    #[test]
    fn what_comes_with_the_program_has_no_file_of_its_own() {
        assert_eq!(own_file(Path::new("plain-dye"), &EXAMPLE_PROCESSES), None);
        assert_eq!(own_file(Path::new("mine/plain-dye.ron"), &EXAMPLE_PROCESSES), Some(PathBuf::from("mine/plain-dye.ron")));
    }

    #[test]
    fn the_recipe_that_suits_is_the_one_that_is_edited() {
        let layout = Arc::new(parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap());
        let open = OpenLayout { layout: &layout, path: None };
        let mut day = DayView::new(None, &crate::app::run::Run::begin(None));
        day.do_ask(DayAsk::Write(DayFile::Recipe), Some(&open)).unwrap();
        assert_eq!(day.recipe.as_ref().unwrap().work.now().name, "Powder under ice");
        day.do_ask(DayAsk::Write(DayFile::Process), Some(&open)).unwrap();
        assert_eq!(day.process.as_ref().unwrap().work.now().name, "Discharge and dye");
        assert_eq!(day.unsaved(&[DayFile::Recipe, DayFile::Process]), None);
        let saved = day.do_ask(DayAsk::Save(DayFile::Recipe), Some(&open)).unwrap();
        assert_eq!(saved, Outcome::NameFile(DayFile::Recipe));
    }
}
