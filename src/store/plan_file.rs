//! Recipe, process and order files, and what an order's file refers to.

use super::formats::Known;
use super::kind_file::misread;
use super::layout_file::{from_ron, in_format};
use super::text_file::read_text;
use super::{EXAMPLE_PROCESSES, EXAMPLE_RECIPES, Example, FileKind, Place, ReadError, Shipped, TextError, locate, read_layout};
use crate::form::{Keys, WrittenForm as _, in_file};
use crate::layout::{Layout, to_ron};
use crate::plan::form::{OrderV1, OrderV2, ProcessV1, ProcessV2, RecipeV1, RecipeV2};
use crate::plan::{
    OfGarments, Order, OrderParts, OrderSpec, PlanFileError, PlanProblem, Process, Recipe, Workshop, usual_process, usual_recipe,
};
use crate::telling::{Field, Refused, Told, Voice, displayed_as_in_files};
use serde::Deserialize;
use serde::de::IgnoredAny;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::Arc;

pub(super) type Parsed<T> = Result<T, (Option<Place>, TextError)>;

/// Every format that a recipe file has ever had.
const RECIPE_FORMATS: [Known<Recipe>; 2] = [Known::by::<RecipeV1>(), Known::by::<RecipeV2>()];
/// Every format that a process file has ever had.
const PROCESS_FORMATS: [Known<Process>; 2] = [Known::by::<ProcessV1>(), Known::by::<ProcessV2>()];
/// Every format that an order file has ever had.
const ORDER_FORMATS: [Known<OrderSpec>; 2] = [Known::by::<OrderV1>(), Known::by::<OrderV2>()];

/// Checks the text of a recipe.
///
/// # Errors
/// What is wrong, and where if that is known.
pub fn parse_recipe(text: &str) -> Parsed<Recipe> {
    let (recipe, keys) = plan_format(text, &RECIPE_FORMATS)?;
    recipe.check().map_err(|error| placed(text, error, keys))?;
    Ok(recipe)
}

/// Checks the text of a process.
///
/// # Errors
/// As for [`parse_recipe`].
pub fn parse_process(text: &str) -> Parsed<Process> {
    let (process, keys) = plan_format(text, &PROCESS_FORMATS)?;
    process.check().map_err(|error| placed(text, error, keys))?;
    Ok(process)
}

/// Reads the text of an order; what it refers to is not looked at.
///
/// # Errors
/// As for [`parse_recipe`].
pub fn parse_order(text: &str) -> Parsed<OrderSpec> {
    parse_order_by_keys(text).map(|(order, _)| order)
}

/// The same, and where its keys are not the program's names.
fn parse_order_by_keys(text: &str) -> Parsed<(OrderSpec, Keys)> {
    // The parser stops at the first field that is missing.
    let missing = missing_fields(text);
    match missing.first() {
        Some(first) if missing.len() > 1 => Err((locate(text, &first.to_string()), TextError::Missing(missing))),
        _ => plan_format(text, &ORDER_FORMATS),
    }
}

/// The fields that an order has to have and this text does not give; none where it can't be read.
fn missing_fields(text: &str) -> Vec<Field> {
    #[derive(Deserialize)]
    struct Bare {
        format: Option<IgnoredAny>,
        name: Option<IgnoredAny>,
        lines: Option<Vec<BareLine>>,
    }
    #[derive(Deserialize)]
    struct BareLine {
        layout: Option<IgnoredAny>,
        count: Option<IgnoredAny>,
    }
    let Ok(bare) = from_ron::<Bare>(text) else { return Vec::new() };
    let own = [("format", bare.format.is_none()), ("name", bare.name.is_none()), ("lines", bare.lines.is_none())];
    let own = own.into_iter().filter(|(_, is_missing)| *is_missing).map(|(field, _)| Field::from(field));
    let of_line = |(number, line): (usize, BareLine)| {
        let fields = [("layout", line.layout.is_none()), ("count", line.count.is_none())];
        fields
            .into_iter()
            .filter(|(_, is_missing)| *is_missing)
            .map(move |(field, _)| Field::from("lines").item(number).then(field))
    };
    own.chain((1..).zip(bare.lines.unwrap_or_default()).flat_map(of_line)).collect()
}

/// The text of a recipe file.
#[must_use]
pub fn recipe_text(recipe: &Recipe) -> String {
    to_ron(&RecipeV2::of(recipe.clone()))
}

/// The text of a process file.
#[must_use]
pub fn process_text(process: &Process) -> String {
    to_ron(&ProcessV2::of(process.clone()))
}

/// The text of an order file.
#[must_use]
pub fn order_text(order: &OrderSpec) -> String {
    to_ron(&OrderV2::of(order.clone()))
}

/// A recipe that comes with the program, by its file's name without ending, or the file at a path.
///
/// # Errors
/// [`ReadError`] naming the file, line and column, the field, its value and what would be right.
pub fn read_recipe(name: &Path) -> Result<Recipe, ReadError> {
    named(name, &EXAMPLE_RECIPES, Shipped::Recipes, parse_recipe)
}

/// A process that comes with the program, by its file's name without ending, or the file at a path.
///
/// # Errors
/// As for [`read_recipe`].
pub fn read_process(name: &Path) -> Result<Process, ReadError> {
    named(name, &EXAMPLE_PROCESSES, Shipped::Processes, parse_process)
}

/// Reads an order and all that it refers to, beside its own file, and checks it.
///
/// # Errors
/// As for [`read_recipe`]; the file named is the one that is wrong, be it the order's or one that it refers to. Of those that it refers
/// to, all that can't be read are told.
pub fn read_order(path: &Path) -> Result<Order, ReadError> {
    let text = read_text(path)?;
    let wrong = |(place, problem)| ReadError::Text { path: path.to_owned(), place, problem };
    let (raw, keys) = parse_order_by_keys(&text).map_err(wrong)?;
    let parts = order_parts(path, &raw, &[])?;
    Order::new(raw, parts).map_err(|error| wrong(placed(&text, error, keys)))
}

/// Reads an order without what it refers to.
///
/// # Errors
/// As for [`read_recipe`].
pub fn read_order_spec(path: &Path) -> Result<OrderSpec, ReadError> {
    let text = read_text(path)?;
    parse_order(&text).map_err(|error| misread(path, &text, FileKind::Order, error))
}

/// What is wanted of one layout.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct OfLayout<'a> {
    /// How many garments of it.
    pub count: u32,
    /// The name of a recipe that comes with the program, or a file; without, the one that suits the process.
    pub recipe: Option<&'a Path>,
    /// The same for the process; without, the one that suits the garment's colour.
    pub process: Option<&'a Path>,
    /// Where it is made.
    pub workshop: Workshop,
    /// Whether a scrap was tested already.
    pub scrap_tested: bool,
}

/// Why there is no order of a layout.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum OrderError {
    /// Recipe or process could not be read.
    Read(#[from] ReadError),
    /// The order can't be.
    Order(#[from] PlanFileError),
}

displayed_as_in_files!(OrderError);

impl Refused for OrderError {
    fn told(&self, voice: Voice) -> Told {
        match self {
            Self::Read(error) => error.told(voice),
            Self::Order(error) => error.told(voice),
        }
    }
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

/// An order of garments of one layout.
///
/// # Errors
/// [`OrderError`].
pub fn order_of_layout(layout: Layout, wanted: OfLayout<'_>) -> Result<Order, OrderError> {
    let process = read_process(wanted.process.unwrap_or_else(|| Path::new(usual_process(&layout))))?;
    let recipe = read_recipe(wanted.recipe.unwrap_or_else(|| Path::new(usual_recipe([&process]))))?;
    let garments = OfGarments { count: wanted.count, workshop: wanted.workshop, scrap_tested: wanted.scrap_tested };
    Ok(Order::of_garments(layout, garments, recipe, process)?)
}

/// Everything that an order refers to; the layout of a line is read unless it is `given`.
pub(super) fn order_parts(path: &Path, raw: &OrderSpec, given: &[Option<Arc<Layout>>]) -> Result<OrderParts, ReadError> {
    let mut wrong: Vec<ReadError> = Vec::new();
    let own_recipe = raw.recipe.as_ref().map(|name| kept(read_recipe(&beside(path, name, &EXAMPLE_RECIPES)), &mut wrong));
    let layouts = order_layouts(path, raw, given, &mut wrong);
    let mut names: Vec<&str> = raw.process.as_deref().into_iter().collect();
    for (line, layout) in raw.lines.iter().zip(&layouts) {
        let name = layout.as_ref().map_or(line.process.as_deref(), |layout| Some(raw.process_name(line, layout)));
        names.extend(name.filter(|name| !names.contains(name)));
    }
    let mut processes: Vec<(String, Process)> = Vec::new();
    for name in names {
        let process = kept(read_process(&beside(path, name, &EXAMPLE_PROCESSES)), &mut wrong);
        processes.extend(process.map(|process| (name.to_owned(), process)));
    }
    // Where the order names none, each process has the recipe that suits it, as for a layout.
    let suited = |(_, process): &(String, Process)| read_recipe(Path::new(usual_recipe([process])));
    let recipes: Vec<Recipe> = match own_recipe {
        Some(recipe) => recipe.into_iter().collect(),
        None => processes.iter().filter_map(|named| kept(suited(named), &mut wrong)).collect(),
    };
    if wrong.is_empty() {
        Ok(OrderParts { recipes, processes, layouts: layouts.into_iter().flatten().collect() })
    } else {
        Err(ReadError::all(wrong))
    }
}

/// What was read, or its error put with the others.
fn kept<T>(read: Result<T, ReadError>, wrong: &mut Vec<ReadError>) -> Option<T> {
    read.map_err(|error| wrong.push(error)).ok()
}

/// The layout of each line, each file read once; none where it can't be.
fn order_layouts(path: &Path, raw: &OrderSpec, given: &[Option<Arc<Layout>>], wrong: &mut Vec<ReadError>) -> Vec<Option<Layout>> {
    let mut known: Vec<(&str, Option<Layout>)> = Vec::new();
    let mut layouts = Vec::new();
    let given = given.iter().map(Option::as_deref).chain(std::iter::repeat(None));
    for (line, given) in raw.lines.iter().zip(given) {
        if let Some(layout) = given {
            layouts.push(Some(layout.clone()));
            continue;
        }
        let at = known.iter().position(|(name, _)| *name == line.layout).unwrap_or_else(|| {
            known.push((&line.layout, kept(read_layout(&beside(path, &line.layout, &[])), wrong)));
            known.len() - 1
        });
        layouts.push(known[at].1.clone());
    }
    layouts
}

/// The name itself where it comes with the program, else the path beside the file that names it.
fn beside(file: &Path, name: &str, shipped: &[Example]) -> PathBuf {
    if find(name, shipped).is_some() { PathBuf::from(name) } else { file.parent().unwrap_or_else(|| Path::new("")).join(name) }
}

fn find<'a>(name: &str, shipped: &'a [Example]) -> Option<&'a Example> {
    shipped.iter().find(|example| example.short_name() == name)
}

fn named<T>(name: &Path, shipped: &[Example], what: Shipped, parse: fn(&str) -> Parsed<T>) -> Result<T, ReadError> {
    let example = name.to_str().and_then(|name| find(name, shipped));
    let text = example.map_or_else(|| read_text(name), |example| Ok(example.text.to_owned()));
    let text = text.map_err(|error| match error {
        ReadError::File { path, source } if source.kind() == io::ErrorKind::NotFound => {
            let known = shipped.iter().map(Example::short_name).collect();
            ReadError::NoSuch { path, what, known }
        }
        other => other,
    })?;
    parse(&text).map_err(|(place, problem)| ReadError::Text { path: name.to_owned(), place, problem })
}

/// Reads a text of the plan's by the format that it says it has.
pub(super) fn plan_format<T>(text: &str, known: &[Known<T>]) -> Parsed<(T, Keys)> {
    in_format(text, known, |found, known| {
        let problem = PlanProblem::Format { found, known };
        TextError::Plan(Box::new(PlanFileError { field: "format".into(), problem }))
    })
}

/// The error by the file's own keys, and where they stand.
pub(super) fn placed(text: &str, error: PlanFileError, keys: Keys) -> (Option<Place>, TextError) {
    let field = in_file(keys, &error.field);
    (locate(text, &field.to_string()), TextError::Plan(Box::new(PlanFileError { field, ..error })))
}
