//! Recipe, process and order files, and what an order's file refers to.

use super::layout_file::{from_ron, read_text, to_ron};
use super::{EXAMPLE_PROCESSES, EXAMPLE_RECIPES, Example, Place, ReadError, TextError, locate, read_layout};
use crate::layout::Layout;
use crate::plan::{
    ORDER_FORMAT, Order, OrderParts, OrderV1, PROCESS_FORMAT, PlanFileError, PlanProblem, Process, RECIPE_FORMAT, Recipe,
    WorkPlace, WorkshopV1, usual_process, usual_recipe,
};
use serde::Deserialize;
use serde::de::DeserializeOwned;
use std::path::{Path, PathBuf};

pub(super) type Parsed<T> = Result<T, (Option<Place>, TextError)>;

/// Checks the text of a recipe.
///
/// # Errors
/// What is wrong, and where if that is known.
pub fn parse_recipe(text: &str) -> Parsed<Recipe> {
    let recipe: Recipe = versioned(text, RECIPE_FORMAT)?;
    recipe.check().map_err(|error| placed(text, error))?;
    Ok(recipe)
}

/// Checks the text of a process.
///
/// # Errors
/// As for [`parse_recipe`].
pub fn parse_process(text: &str) -> Parsed<Process> {
    let process: Process = versioned(text, PROCESS_FORMAT)?;
    process.check().map_err(|error| placed(text, error))?;
    Ok(process)
}

/// Reads the text of an order; what it refers to is not looked at.
///
/// # Errors
/// As for [`parse_recipe`].
pub fn parse_order(text: &str) -> Parsed<OrderV1> {
    versioned(text, ORDER_FORMAT)
}

/// The text of a recipe file.
#[must_use]
pub fn recipe_text(recipe: &Recipe) -> String {
    to_ron(recipe)
}

/// The text of a process file.
#[must_use]
pub fn process_text(process: &Process) -> String {
    to_ron(process)
}

/// The text of an order file.
#[must_use]
pub fn order_text(order: &OrderV1) -> String {
    to_ron(order)
}

/// A recipe that comes with the program, by its file's name without ending, or the file at a path.
///
/// # Errors
/// [`ReadError`] naming the file, line and column, the field, its value and what would be right.
pub fn read_recipe(name: &Path) -> Result<Recipe, ReadError> {
    named(name, &EXAMPLE_RECIPES, parse_recipe)
}

/// A process that comes with the program, by its file's name without ending, or the file at a path.
///
/// # Errors
/// As for [`read_recipe`].
pub fn read_process(name: &Path) -> Result<Process, ReadError> {
    named(name, &EXAMPLE_PROCESSES, parse_process)
}

/// Reads an order and all that it refers to, beside its own file, and checks it.
///
/// # Errors
/// As for [`read_recipe`]; the file named is the one that is wrong, be it the order's or one that it refers to.
pub fn read_order(path: &Path) -> Result<Order, ReadError> {
    let text = read_text(path)?;
    let wrong = |(place, problem)| ReadError::Text { path: path.to_owned(), place, problem };
    let raw = parse_order(&text).map_err(wrong)?;
    let parts = OrderParts {
        recipe: read_recipe(&beside(path, &raw.recipe, &EXAMPLE_RECIPES))?,
        processes: order_processes(path, &raw)?,
        layouts: order_layouts(path, &raw)?,
    };
    Order::new(raw, parts).map_err(|error| wrong(placed(&text, error)))
}

/// What is wanted of one layout.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct OfLayout<'a> {
    /// How many garments of it.
    pub count: u32,
    /// The name of a recipe that comes with the program, or a file; without, the one that suits the process.
    pub recipe: Option<&'a Path>,
    /// The same for the process; without, the one that suits the garment's colour.
    pub process: Option<&'a Path>,
    /// Where a discharge is done.
    pub place: WorkPlace,
}

/// Why there is no order of a layout.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum OrderError {
    /// Recipe or process could not be read.
    #[error(transparent)]
    Read(#[from] ReadError),
    /// The order can't be.
    #[error(transparent)]
    Order(#[from] PlanFileError),
}

impl OrderError {
    /// The same as an error in the layout's file.
    #[must_use]
    pub fn of_file(self, layout: &Path) -> ReadError {
        match self {
            Self::Read(error) => error,
            Self::Order(error) => {
                ReadError::Text { path: layout.to_owned(), place: None, problem: TextError::Plan(Box::new(error)) }
            }
        }
    }
}

/// An order of garments of one layout, in a workshop as it usually is.
///
/// # Errors
/// [`OrderError`].
pub fn order_of_layout(layout: Layout, wanted: OfLayout<'_>) -> Result<Order, OrderError> {
    let process = read_process(wanted.process.unwrap_or_else(|| Path::new(usual_process(&layout))))?;
    let recipe = read_recipe(wanted.recipe.unwrap_or_else(|| Path::new(usual_recipe(&process))))?;
    let workshop = WorkshopV1 { place: wanted.place, ..WorkshopV1::default() };
    Ok(Order::of_garments(layout, wanted.count, recipe, process, workshop)?)
}

fn order_processes(path: &Path, raw: &OrderV1) -> Result<Vec<(String, Process)>, ReadError> {
    let mut names: Vec<&String> = Vec::new();
    for name in std::iter::once(&raw.process).chain(raw.lines.iter().filter_map(|line| line.process.as_ref())) {
        if !names.contains(&name) {
            names.push(name);
        }
    }
    let read = |name: &String| Ok((name.clone(), read_process(&beside(path, name, &EXAMPLE_PROCESSES))?));
    names.into_iter().map(read).collect()
}

fn order_layouts(path: &Path, raw: &OrderV1) -> Result<Vec<Layout>, ReadError> {
    let mut known: Vec<(&str, Layout)> = Vec::new();
    let mut layouts = Vec::new();
    for line in &raw.lines {
        let layout = match known.iter().find(|(name, _)| *name == line.layout) {
            Some((_, layout)) => layout.clone(),
            None => read_layout(&beside(path, &line.layout, &[]))?,
        };
        known.push((&line.layout, layout.clone()));
        layouts.push(layout);
    }
    Ok(layouts)
}

/// The name itself where it comes with the program, else the path beside the file that names it.
fn beside(file: &Path, name: &str, shipped: &[Example]) -> PathBuf {
    if find(name, shipped).is_some() { PathBuf::from(name) } else { file.parent().unwrap_or_else(|| Path::new("")).join(name) }
}

fn find<'a>(name: &str, shipped: &'a [Example]) -> Option<&'a Example> {
    shipped.iter().find(|example| example.name.strip_suffix(".ron") == Some(name))
}

fn named<T>(name: &Path, shipped: &[Example], parse: fn(&str) -> Parsed<T>) -> Result<T, ReadError> {
    let example = name.to_str().and_then(|name| find(name, shipped));
    let text = example.map_or_else(|| read_text(name), |example| Ok(example.text.to_owned()))?;
    parse(&text).map_err(|(place, problem)| ReadError::Text { path: name.to_owned(), place, problem })
}

/// The form's number first: a newer file may have fields that this program does not know.
pub(super) fn versioned<T: DeserializeOwned>(text: &str, known: u32) -> Parsed<T> {
    #[derive(Deserialize)]
    struct Form {
        format: u32,
    }
    let form: Form = from_ron(text)?;
    if form.format != known {
        let problem = PlanProblem::Format { found: form.format, known };
        return Err(placed(text, PlanFileError { field: "format".to_owned(), problem }));
    }
    from_ron(text)
}

pub(super) fn placed(text: &str, error: PlanFileError) -> (Option<Place>, TextError) {
    (locate(text, &error.field), TextError::Plan(Box::new(error)))
}
