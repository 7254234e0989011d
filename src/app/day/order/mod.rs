//! An order being written: its rows, its steps back and forth, its file.

mod rows;
mod saving;
mod worth;

pub(super) use rows::{Rows, buttons};
pub(super) use worth::{shades, worth};

use super::work::Work;
use crate::layout::Layout;
use crate::plan::{GradeRule, OrderLineSpec, OrderSpec, Workshop};
use crate::store::{EXAMPLE_ORDERS, OrderDraft, ReadError, parse_order, path_from, read_order_spec};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// Where a row's layout comes from.
#[derive(Debug, Clone)]
pub(super) enum Design {
    /// The file that the row names.
    File,
    /// The layout that is open in the window, as it is now.
    Open,
    /// One that was at hand and that no file holds.
    Kept(Arc<Layout>),
}

impl PartialEq for Design {
    fn eq(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::File, Self::File) | (Self::Open, Self::Open) => true,
            (Self::Kept(one), Self::Kept(other)) => Arc::ptr_eq(one, other),
            _ => false,
        }
    }
}

/// A state of the order.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Sheet {
    pub(super) spec: OrderSpec,
    /// Where each row's layout comes from.
    pub(super) designs: Vec<Design>,
    /// The folder that names in it are relative to.
    pub(super) folder: PathBuf,
}

/// An order being written.
pub(super) type Desk = Work<Sheet>;

impl Work<Sheet> {
    /// One row of the open layout.
    pub(super) fn of_layout(layout: &Layout, count: u32, workshop: Workshop) -> Self {
        let spec = OrderSpec {
            name: layout.name().to_owned(),
            note: String::new(),
            recipe: None,
            process: None,
            deadline: None,
            lines: vec![line(layout.name(), count)],
            depths: BTreeMap::new(),
            workshop,
            mix_grounds: false,
            scrap_tested: false,
            supplies: Vec::new(),
            money: None,
        };
        Self::of(Sheet { spec, designs: vec![Design::Open], folder: PathBuf::new() }, None)
    }

    /// An order that comes with the program.
    pub(super) fn example(index: usize) -> Option<Self> {
        let spec = EXAMPLE_ORDERS.get(index).and_then(|example| parse_order(example.text).ok())?;
        let OrderDraft { spec, given, folder } = OrderDraft::of_example(spec);
        let designs = given.into_iter().map(|layout| layout.map_or(Design::File, Design::Kept)).collect();
        Some(Self::of(Sheet { spec, designs, folder }, None))
    }

    /// The order in a file; what it refers to is looked at when it is planned.
    pub(super) fn open(path: &Path) -> Result<Self, ReadError> {
        let spec = read_order_spec(path)?;
        let designs = vec![Design::File; spec.lines.len()];
        let folder = path.parent().unwrap_or_else(|| Path::new("")).to_owned();
        Ok(Self::of(Sheet { spec, designs, folder }, Some(path.to_owned())))
    }

    /// Rows of the open layout keep it when that is put away: as its file, if it has one, or as it is.
    pub(super) fn keep_open_layout(&mut self, layout: &Arc<Layout>, path: Option<&Path>) {
        self.in_every_state(|sheet| {
            let rows = sheet.spec.lines.iter_mut().zip(&mut sheet.designs);
            for (line, design) in rows.filter(|(_, design)| **design == Design::Open) {
                match path {
                    Some(path) => {
                        line.layout = path_from(&sheet.folder, path);
                        *design = Design::File;
                    }
                    None => *design = Design::Kept(layout.clone()),
                }
            }
        });
    }
}

/// So many garments of a layout in its own size.
fn line(layout: &str, count: u32) -> OrderLineSpec {
    let (size, process, blank_price) = (None, None, None);
    OrderLineSpec { layout: layout.to_owned(), size, rings: GradeRule::default(), count, process, blank_price }
}

impl Sheet {
    /// Whether it changes with the open layout.
    pub(super) fn follows_open_layout(&self) -> bool {
        self.designs.contains(&Design::Open)
    }

    /// What is planned while this layout is open.
    pub(super) fn draft(&self, open: &Arc<Layout>) -> OrderDraft {
        let given = |design: &Design| match design {
            Design::File => None,
            Design::Open => Some(open.clone()),
            Design::Kept(layout) => Some(layout.clone()),
        };
        OrderDraft { folder: self.folder.clone(), spec: self.spec.clone(), given: self.designs.iter().map(given).collect() }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::store::{EXAMPLE_LAYOUTS, read_order};

    fn tee() -> Arc<Layout> {
        Arc::new(crate::store::parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap())
    }

    /// Another layout opened in the window used to be impossible to tell from the one that an order was begun with.
    #[test]
    fn rows_keep_their_layout_when_another_is_opened() {
        let mut desk = Desk::of_layout(&tee(), 1, Workshop::default());
        desk.change("the number of row 1", |sheet| sheet.spec.lines[0].count = 2);
        let other = Arc::new(crate::store::parse_layout(EXAMPLE_LAYOUTS[6].text).unwrap());
        desk.keep_open_layout(&tee(), None);
        let order = desk.now().draft(&other).order().unwrap();
        assert_eq!(order.lines()[0].layout.name(), tee().name());
        desk.undo();
        assert!(!desk.now().follows_open_layout() && !desk.is_unsaved());
    }

    /// Saved beside its layouts, which no file held, and opened again, it is the same order.
    #[test]
    fn an_example_is_saved_with_its_layouts_and_opened_again() {
        let home = tempfile::tempdir().unwrap();
        let path = home.path().join("regatta.ron");
        // In the way of one of the layouts.
        std::fs::write(home.path().join("harbour-row-tote.ron"), "mine").unwrap();
        let mut desk = Desk::example(0).unwrap();
        let order = desk.now().draft(&tee()).order().unwrap();
        desk.save(&path, None).unwrap();
        assert!(!desk.is_unsaved());
        assert_eq!(std::fs::read(home.path().join("harbour-row-tote.ron")).unwrap(), b"mine");
        let again = read_order(&path).unwrap();
        let lines = |order: &crate::plan::Order| {
            order.lines().iter().map(|line| (line.layout.raw().clone(), line.count)).collect::<Vec<_>>()
        };
        assert_eq!(lines(&again), lines(&order));
        let opened = Desk::open(&path).unwrap();
        assert_eq!(opened.now().spec, desk.now().spec);
        assert_eq!(again.raw().supplies, order.raw().supplies);
        // The earlier file is kept.
        let before = std::fs::read(&path).unwrap();
        desk.change("the number of row 1", |sheet| sheet.spec.lines[0].count = 7);
        desk.save(&path, None).unwrap();
        assert_eq!(std::fs::read(home.path().join("regatta.ron.bak")).unwrap(), before);
    }

    #[test]
    fn a_row_of_a_layout_in_no_file_is_not_saved_and_says_so() {
        let home = tempfile::tempdir().unwrap();
        let path = home.path().join("order.ron");
        let mut desk = Desk::of_layout(&tee(), 1, Workshop::default());
        let told = desk.save(&path, None).unwrap_err().say(crate::telling::Voice::FILE);
        assert_eq!(told, "row 1: the open layout has no file yet; save it first, then the order");
        assert!(!path.exists());
    }
}
