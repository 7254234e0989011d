//! An order's file, and those of layouts that no file holds yet.

use super::{Design, Sheet};
use crate::app::day::work::Work;
use crate::layout::layout_text;
use crate::print::parts::file_name;
use crate::store::{OrderDraft, order_text, path_from};
use crate::telling::{AnyRefusal, Told};
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

impl Work<Sheet> {
    /// Saves it to a file, which becomes its own; layouts that no file holds are saved beside it. `open` is the open layout's file.
    /// What was written to its own file meanwhile is told first, and kept as a backup the second time.
    pub(in crate::app::day) fn save(&mut self, path: &Path, open: Option<&Path>) -> Result<String, AnyRefusal> {
        self.look_before_saving(path)?;
        let (sheet, layouts) = self.in_files(path.parent().unwrap_or_else(|| Path::new("")), open)?;
        let text = order_text(&sheet.in_words_of_files(open));
        let layouts: Vec<(&Path, &[u8])> = layouts.iter().map(|(path, text)| (path.as_path(), text.as_bytes())).collect();
        self.write(path, &text, sheet, &layouts)?;
        let beside = match layouts.len() {
            0 => String::new(),
            1 => ", and its layout beside it".to_owned(),
            count => format!(", and {count} layouts beside it"),
        };
        Ok(format!("Saved {}{beside}", path.display()))
    }

    /// The order as it stands in a folder, with the layouts that have to be written there: name and text each.
    fn in_files(&self, folder: &Path, open: Option<&Path>) -> Result<(Sheet, BTreeMap<PathBuf, String>), Told> {
        let mut sheet = self.now().moved_to(folder);
        let mut new = BTreeMap::new();
        for (number, (line, design)) in (1..).zip(sheet.spec.lines.iter_mut().zip(&mut sheet.designs)) {
            match design {
                Design::File => {}
                Design::Open if open.is_some() => {}
                Design::Open => {
                    let cure = "save it first, then the order";
                    return Err(Told::new("the open layout has no file yet", cure).at(format!("row {number}")));
                }
                Design::Kept(layout) => {
                    let text = layout_text(layout.raw());
                    let path = free_path(folder, &file_name(layout.name()), &text, &new);
                    line.layout = path_from(folder, &path);
                    *design = Design::File;
                    if fs::read(&path).ok().as_deref() != Some(text.as_bytes()) {
                        new.insert(path, text);
                    }
                }
            }
        }
        Ok((sheet, new))
    }
}

/// A path for a text in a folder at which nothing else stands.
fn free_path(folder: &Path, stem: &str, text: &str, new: &BTreeMap<PathBuf, String>) -> PathBuf {
    let names = std::iter::once(format!("{stem}.ron")).chain((2_u32..).map(|number| format!("{stem}-{number}.ron")));
    let mut paths = names.map(|name| folder.join(name));
    let is_free = |path: &PathBuf| match new.get(path) {
        Some(other) => other == text,
        None => !path.exists() || fs::read(path).is_ok_and(|there| there == text.as_bytes()),
    };
    paths.find(is_free).unwrap_or_else(|| folder.join(stem))
}

impl Sheet {
    /// The same order for a file in another folder.
    fn moved_to(&self, folder: &Path) -> Self {
        let given = |design: &Design| match design {
            Design::Kept(layout) => Some(layout.clone()),
            Design::File | Design::Open => None,
        };
        let given = self.designs.iter().map(given).collect();
        let draft = OrderDraft { folder: self.folder.clone(), spec: self.spec.clone(), given };
        let moved = draft.in_folder(folder);
        let mut sheet = Self { spec: moved.spec, designs: self.designs.clone(), folder: moved.folder };
        // The open layout's name is no path.
        for ((line, own), design) in sheet.spec.lines.iter_mut().zip(&self.spec.lines).zip(&self.designs) {
            if *design == Design::Open {
                line.layout.clone_from(&own.layout);
            }
        }
        sheet
    }

    /// What its file says while the open layout has this file.
    fn in_words_of_files(&self, open: Option<&Path>) -> crate::plan::OrderSpec {
        let mut spec = self.spec.clone();
        for (line, design) in spec.lines.iter_mut().zip(&self.designs) {
            if let (Design::Open, Some(open)) = (design, open) {
                line.layout = path_from(&self.folder, open);
            }
        }
        spec
    }
}
