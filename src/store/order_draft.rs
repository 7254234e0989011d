//! An order that is being written: its lines may be made from layouts that no file holds yet, and it may move to another folder.

use super::plan_file::{OrderError, order_parts};
use super::{EXAMPLE_LAYOUTS, EXAMPLE_PROCESSES, EXAMPLE_RECIPES, Example, parse_layout};
use crate::layout::Layout;
use crate::plan::{Order, OrderSpec, PlanFileError};
use crate::telling::AnyRefusal;
use std::path::{Component, Path, PathBuf};
use std::sync::Arc;

/// An order as it stands while it is written.
#[derive(Debug, Clone)]
pub struct OrderDraft {
    /// The folder that the names in it are relative to.
    pub folder: PathBuf,
    /// What its file would say.
    pub spec: OrderSpec,
    /// The layout of each line that is made from one at hand, not from the file that the line names.
    pub given: Vec<Option<Arc<Layout>>>,
}

/// What is wrong with a line, said without its number.
#[derive(Debug, Clone)]
pub struct LineFault {
    /// The line's number, from 1.
    pub line: usize,
    /// What is wrong, and what would be right.
    pub refusal: AnyRefusal,
}

impl OrderDraft {
    /// An order of the program's own, with the layouts that came with it in place of their files.
    #[must_use]
    pub fn of_example(spec: OrderSpec) -> Self {
        let example = |name: &str| {
            let bare = Path::new(name).file_name()?.to_str()?;
            let example = EXAMPLE_LAYOUTS.iter().find(|example| example.name == bare)?;
            parse_layout(example.text).ok().map(Arc::new)
        };
        let given = spec.lines.iter().map(|line| example(&line.layout)).collect();
        Self { folder: PathBuf::new(), spec, given }
    }

    /// Reads what it refers to, and checks it.
    ///
    /// # Errors
    /// [`OrderError`]; of what it refers to, all that can't be read is told.
    pub fn order(&self) -> Result<Order, OrderError> {
        self.order_of(&self.spec, &self.given)
    }

    fn order_of(&self, spec: &OrderSpec, given: &[Option<Arc<Layout>>]) -> Result<Order, OrderError> {
        let parts = order_parts(&self.folder.join(FILE), spec, given)?;
        Ok(Order::new(spec.clone(), parts)?)
    }

    /// What is wrong with each line by itself, first to last: its layout, size, number or process.
    #[must_use]
    pub fn faults(&self) -> Vec<LineFault> {
        let lines = (1..).zip(self.spec.lines.iter().zip(&self.given));
        lines
            .filter_map(|(number, (line, given))| {
                // What is said of colours and packs may be about other lines.
                let alone = OrderSpec {
                    lines: vec![line.clone()],
                    depths: Default::default(),
                    supplies: Vec::new(),
                    money: None,
                    process: line.process.clone().or_else(|| self.spec.process.clone()),
                    ..self.spec.clone()
                };
                let error = self.order_of(&alone, std::slice::from_ref(given)).err()?;
                of_line(error).map(|refusal| LineFault { line: number, refusal })
            })
            .collect()
    }

    /// The same order for a file in another folder: what it names by a path there leads to where it did.
    #[must_use]
    pub fn in_folder(&self, folder: &Path) -> Self {
        if folder == self.folder {
            return self.clone();
        }
        let moved = |name: &String, shipped: &[Example]| {
            if shipped.iter().any(|example| example.short_name() == name) {
                name.clone()
            } else {
                path_from(folder, &self.folder.join(name))
            }
        };
        let mut spec = self.spec.clone();
        spec.recipe = spec.recipe.as_ref().map(|name| moved(name, &EXAMPLE_RECIPES));
        spec.process = spec.process.as_ref().map(|name| moved(name, &EXAMPLE_PROCESSES));
        for (line, given) in spec.lines.iter_mut().zip(&self.given) {
            line.process = line.process.as_ref().map(|name| moved(name, &EXAMPLE_PROCESSES));
            if given.is_none() {
                line.layout = moved(&line.layout, &[]);
            }
        }
        Self { folder: folder.to_owned(), spec, given: self.given.clone() }
    }
}

/// Stands for the order's file where only its folder counts.
const FILE: &str = "order.ron";

/// What an error says of a line that it was found in; none where it is about the order as a whole.
fn of_line(error: OrderError) -> Option<AnyRefusal> {
    match error {
        OrderError::Read(error) => Some(error.into()),
        OrderError::Order(PlanFileError { field, problem }) => {
            let field = field.renamed("lines.*", "line")?;
            Some(PlanFileError { field, problem }.into())
        }
    }
}

/// The way to a file from a folder, as an order's file writes it: without a root where there is one.
///
/// ```
/// use pleatwright::store::path_from;
/// use std::path::Path;
/// assert_eq!(path_from(Path::new("/club/orders"), Path::new("/club/tee.ron")), "../tee.ron");
/// assert_eq!(path_from(Path::new("/club"), Path::new("/club/orders/../shirts/tee.ron")), "shirts/tee.ron");
/// assert_eq!(path_from(Path::new("club"), Path::new("/shirts/tee.ron")), "/shirts/tee.ron");
/// ```
#[must_use]
pub fn path_from(folder: &Path, file: &Path) -> String {
    let (from, to) = (plain(folder), plain(file));
    if from.is_absolute() != to.is_absolute() || prefix(&from) != prefix(&to) {
        return to.display().to_string();
    }
    let (from, to): (Vec<_>, Vec<_>) = (from.components().collect(), to.components().collect());
    let shared = from.iter().zip(&to).take_while(|(a, b)| a == b).count();
    let up = from.iter().skip(shared).map(|_| "..".to_owned());
    let down = to.iter().skip(shared).map(|part| part.as_os_str().to_string_lossy().into_owned());
    up.chain(down).collect::<Vec<_>>().join("/")
}

/// A path without what leads up again.
fn plain(path: &Path) -> PathBuf {
    let mut plain = PathBuf::new();
    for part in path.components() {
        match part {
            Component::CurDir => {}
            Component::ParentDir if matches!(plain.components().next_back(), Some(Component::Normal(_))) => {
                plain.pop();
            }
            part => plain.push(part),
        }
    }
    plain
}

fn prefix(path: &Path) -> Option<Component<'_>> {
    path.components().next().filter(|first| matches!(first, Component::Prefix(_)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::store::{EXAMPLE_ORDERS, order_text, parse_order, read_order, save};
    use crate::telling::{Refused as _, Voice};

    fn example() -> OrderDraft {
        OrderDraft::of_example(parse_order(EXAMPLE_ORDERS[0].text).unwrap())
    }

    fn at(path: &str) -> PathBuf {
        Path::new(env!("CARGO_MANIFEST_DIR")).join("layouts").join(path)
    }

    /// With the layouts that come with the program it is the order that its file is beside their files.
    #[test]
    fn an_example_is_the_order_of_its_file() {
        let (own, read) = (example().order().unwrap(), read_order(&at("orders/harbour-row-regatta.ron")).unwrap());
        assert_eq!(own.raw(), read.raw());
        let names = |order: &Order| order.lines().iter().map(|line| line.layout.name().to_owned()).collect::<Vec<_>>();
        assert_eq!(names(&own), names(&read));
        assert!(example().given.iter().all(Option::is_some));
    }

    #[test]
    fn every_line_says_what_is_wrong_with_it() {
        let mut draft = example();
        assert!(draft.faults().is_empty());
        draft.spec.lines[1].size = Some("XXS".to_owned());
        draft.spec.lines[3].count = 0;
        draft.given[4] = None;
        draft.spec.lines[4].layout = "nowhere.ron".to_owned();
        let said: Vec<(usize, String)> =
            draft.faults().iter().map(|fault| (fault.line, fault.refusal.say(Voice::window(Default::default())))).collect();
        assert_eq!(said.iter().map(|(line, _)| *line).collect::<Vec<_>>(), [2, 4, 5], "{said:?}");
        assert!(said[0].1.starts_with("Size: ") && said[0].1.contains("XXS"), "{said:?}");
        assert!(said[1].1.starts_with("Count: 0 is out of range; give 1 to "), "{said:?}");
        assert!(said[2].1.contains("nowhere.ron"), "{said:?}");
        assert!(draft.order().is_err());
    }

    /// What is true of the order as a whole is not said of a line.
    #[test]
    fn a_line_does_not_say_what_is_wrong_elsewhere() {
        let mut draft = example();
        draft.spec.workshop.tubs = 0;
        assert!(draft.faults().is_empty());
        assert!(draft.order().unwrap_err().say(Voice::FILE).contains("workshop.tubs"));
    }

    /// Written into another folder, it is read from there as it was.
    #[test]
    fn an_order_moves_to_another_folder() {
        let folder = at("orders");
        let spec = parse_order(EXAMPLE_ORDERS[0].text).unwrap();
        let given = vec![None; spec.lines.len()];
        let draft = OrderDraft { folder, spec, given };
        let home = tempfile::tempdir().unwrap();
        let path = home.path().join("order.ron");
        let moved = draft.in_folder(home.path());
        assert_eq!(moved.spec.recipe, draft.spec.recipe, "what comes with the program keeps its name");
        save(&path, order_text(&moved.spec).as_bytes()).unwrap();
        let (there, here) = (read_order(&path).unwrap(), draft.order().unwrap());
        let names = |order: &Order| order.lines().iter().map(|line| line.layout.name().to_owned()).collect::<Vec<_>>();
        assert_eq!(names(&there), names(&here));
        assert_eq!(draft.in_folder(&draft.folder).spec, draft.spec);
        let back = moved.in_folder(&draft.folder);
        assert_eq!(back.spec, draft.spec, "and back");
    }
}
