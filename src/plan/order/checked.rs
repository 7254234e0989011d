//! The checked order: layouts graded, recipe and processes at hand, everything that would hurt refused.

use super::raw::{OrderLineSpec, OrderSpec, Supply, Workshop};
use super::{Load, Material, OrderLine, loads};
use crate::geometry::SourceStatus;
use crate::layout::{Figures, Layout, Serves, serves};
use crate::measure::LengthStyle;
use crate::plan::error::{check_name, check_note};
use crate::plan::melting::check_melting;
use crate::plan::{
    DayHours, GarmentMasses, GradeRule, Named, Need, PlanFileError, PlanProblem, Process, Recipe, Shelf, Sourced, WorkPlace,
    check_safety, grade,
};
use crate::telling::Field;
use std::collections::BTreeMap;

/// What an order's file refers to, read.
#[derive(Debug, Clone)]
pub struct OrderParts {
    /// The recipe of each process, in their order; one alone is that of them all.
    pub recipes: Vec<Recipe>,
    /// The processes that the order and its lines name, by those names.
    pub processes: Vec<(String, Process)>,
    /// The layout of each line, not graded.
    pub layouts: Vec<Layout>,
}

/// Garments of one layout, and where they are made.
#[derive(Debug, Clone, PartialEq)]
pub struct OfGarments {
    /// How many.
    pub count: u32,
    /// Where.
    pub workshop: Workshop,
    /// Whether a scrap was tested already.
    pub scrap_tested: bool,
}

impl Default for OfGarments {
    /// One, in the usual workshop, no scrap tested yet.
    fn default() -> Self {
        Self { count: 1, workshop: Workshop::default(), scrap_tested: false }
    }
}

/// An order that can be planned.
#[derive(Debug, Clone)]
pub struct Order {
    raw: OrderSpec,
    /// As many as processes.
    recipes: Vec<Recipe>,
    processes: Vec<Process>,
    lines: Vec<OrderLine>,
    loads: Vec<Load>,
    lengths: LengthStyle,
    /// What is on the shelf beside what the order says.
    shelf: Shelf,
}

/// Most lines of an order.
const MOST_LINES: usize = 200;
/// Most garments of an order.
const MOST_GARMENTS: f64 = 2000.0;

impl Order {
    /// Checks an order, grades its layouts and packs its loads.
    ///
    /// # Errors
    /// [`PlanFileError`] naming the field, or the [`Refusal`](crate::plan::Refusal) of a plan that would hurt someone.
    pub fn new(raw: OrderSpec, parts: OrderParts) -> Result<Self, PlanFileError> {
        check_name("name", &raw.name)?;
        check_note(&raw.note)?;
        PlanFileError::check_count("lines", raw.lines.len().min(parts.layouts.len()), MOST_LINES)?;
        check_workshop(&raw.workshop)?;
        check_supplies(&raw)?;
        let recipes = recipes(&raw, parts.recipes, parts.processes.len())?;
        let processes = processes(&raw, &parts.processes, &recipes)?;
        let lengths = parts.layouts.first().map_or_else(LengthStyle::default, |layout| layout.marks().lengths());
        let names: Vec<_> = parts.processes.iter().map(|(name, _)| name.as_str()).collect();
        let lines = (1..).zip(raw.lines.iter().zip(&parts.layouts));
        let lines = lines.map(|(number, (line, layout))| {
            let name = raw.process_name(line, layout);
            let process = find_process(name, names.iter().copied(), Field::from("lines").item(number).then("process"))?;
            order_line((number, line), layout, (process, &recipes[process]), lengths)
        });
        let lines = lines.collect::<Result<Vec<_>, _>>()?;
        let total: f64 = lines.iter().map(|line| f64::from(line.count)).sum();
        PlanFileError::check("lines.count", total, 1.0, MOST_GARMENTS)?;
        check_depths(&raw, &lines)?;
        check_melting(&lines, &processes, &recipes)?;
        let loads = loads(&lines, &processes, &recipes, &raw, lengths)?;
        for (index, process) in processes.iter().enumerate() {
            let own = loads.iter().filter(|load| load.process == index);
            let largest = own.max_by(|a, b| a.dry_g.total_cmp(&b.dry_g)).and_then(|load| load.discharge.as_ref());
            check_safety(process, (raw.workshop.place, raw.workshop.region), largest)
                .map_err(|refusal| PlanFileError::new("process", refusal))?;
        }
        Ok(Self { raw, recipes, processes, lines, loads, lengths, shelf: Shelf::default() })
    }

    /// One garment from one layout, in a workshop.
    ///
    /// # Errors
    /// As for [`Order::new`].
    pub fn of_layout(layout: Layout, recipe: Recipe, process: Process, workshop: Workshop) -> Result<Self, PlanFileError> {
        Self::of_garments(layout, OfGarments { count: 1, workshop, scrap_tested: false }, recipe, process)
    }

    /// So many garments from one layout.
    ///
    /// # Errors
    /// As for [`Order::new`].
    pub fn of_garments(layout: Layout, of: OfGarments, recipe: Recipe, process: Process) -> Result<Self, PlanFileError> {
        let OfGarments { count, workshop, scrap_tested } = of;
        let line = OrderLineSpec {
            layout: layout.name().to_owned(),
            size: None,
            rings: GradeRule::default(),
            count,
            process: None,
            blank_price: None,
        };
        let raw = OrderSpec {
            name: layout.name().to_owned(),
            note: String::new(),
            recipe: Some(recipe.name.clone()),
            process: Some(process.name.clone()),
            deadline: None,
            lines: vec![line],
            depths: BTreeMap::new(),
            workshop,
            mix_grounds: false,
            scrap_tested,
            supplies: Vec::new(),
            money: None,
        };
        Self::new(
            raw,
            OrderParts { recipes: vec![recipe], processes: vec![(process.name.clone(), process)], layouts: vec![layout] },
        )
    }

    /// The order as its file gives it.
    #[must_use]
    pub fn raw(&self) -> &OrderSpec {
        &self.raw
    }

    /// The order with a shelf: it counts for what the order itself says nothing of.
    #[must_use]
    pub fn with_shelf(self, shelf: Shelf) -> Self {
        Self { shelf, ..self }
    }

    /// What is on the shelf.
    #[must_use]
    pub fn shelf(&self) -> &Shelf {
        &self.shelf
    }

    /// What is there of a material, and the packs it is sold in: as the order says, else as the shelf does.
    #[must_use]
    pub fn supply(&self, material: &Material) -> Option<&Supply> {
        let own = self.raw.supplies.iter().find(|supply| supply.material == *material);
        own.or_else(|| self.shelf.supply(material))
    }

    /// The currency of its prices.
    #[must_use]
    pub fn currency(&self) -> &str {
        self.raw.money.as_ref().map_or(&self.shelf.currency, |money| &money.currency)
    }

    /// The recipe of each process, with the order's own depths.
    #[must_use]
    pub fn recipes(&self) -> &[Recipe] {
        &self.recipes
    }

    /// The processes, without steps for ice that the recipe does not have.
    #[must_use]
    pub fn processes(&self) -> &[Process] {
        &self.processes
    }

    /// How lengths are written in its plan: for whoever has the rule of its first layout, unless something else was asked for.
    #[must_use]
    pub const fn lengths(&self) -> LengthStyle {
        self.lengths
    }

    /// The same order with its lengths written so in everything that is planned.
    #[must_use]
    pub fn written_in(mut self, lengths: LengthStyle) -> Self {
        if lengths == self.lengths {
            return self;
        }
        self.lengths = lengths;
        for line in &mut self.lines {
            line.masses = GarmentMasses::of(&line.layout, &line.figures, &self.recipes[line.process], lengths);
        }
        // The same garments in the same tubs: nothing that was packed before can be refused now.
        if let Ok(loads) = loads(&self.lines, &self.processes, &self.recipes, &self.raw, lengths) {
            self.loads = loads;
        }
        self
    }

    /// What is made.
    #[must_use]
    pub fn lines(&self) -> &[OrderLine] {
        &self.lines
    }

    /// The tub loads.
    #[must_use]
    pub fn loads(&self) -> &[Load] {
        &self.loads
    }

    /// An order of its first so many garments, in the order of its lines; none of it for 0, or where their loads can't be packed.
    #[must_use]
    pub fn first(&self, garments: u32) -> Option<Self> {
        let mut left = garments;
        let mut order = self.clone();
        for (line, spec) in order.lines.iter_mut().zip(&mut order.raw.lines) {
            line.count = line.count.min(left);
            spec.count = line.count;
            left -= line.count;
        }
        order.lines.retain(|line| line.count > 0);
        order.raw.lines.truncate(order.lines.len());
        if order.lines.is_empty() {
            return None;
        }
        order.loads = loads(&order.lines, &order.processes, &order.recipes, &order.raw, order.lengths).ok()?;
        Some(order)
    }

    /// The same order in a workshop with so many vessels for the discharge.
    #[must_use]
    pub(in crate::plan) fn with_vessels(&self, vessels: u32) -> Self {
        let mut order = self.clone();
        order.raw.workshop.vessels = vessels;
        order
    }

    /// All garments.
    #[must_use]
    pub fn garments(&self) -> u32 {
        self.lines.iter().map(|line| line.count).sum()
    }
}

/// The recipe of each process, checked, with what the order says of depths and room.
fn recipes(raw: &OrderSpec, mut recipes: Vec<Recipe>, processes: usize) -> Result<Vec<Recipe>, PlanFileError> {
    if let [only] = &recipes[..] {
        recipes = vec![only.clone(); processes];
    }
    PlanFileError::check_count("process", recipes.len().min(processes), MOST_LINES)?;
    for recipe in &mut recipes {
        recipe.dye.depths.extend(raw.depths.iter().map(|(name, &depth)| (name.clone(), depth)));
        recipe.check()?;
        if let Some(ice) = &mut recipe.ice {
            ice.room_c.get_or_insert_with(|| Sourced::new(raw.workshop.room_c, SourceStatus::Practice));
        }
    }
    Ok(recipes)
}

fn processes(raw: &OrderSpec, named: &[(String, Process)], recipes: &[Recipe]) -> Result<Vec<Process>, PlanFileError> {
    let mut processes = Vec::new();
    for ((_, process), recipe) in named.iter().zip(recipes) {
        let layers = recipe.ice.as_ref().map_or(0, |ice| ice.layers.len());
        let has_ice = |need: &Need| !matches!(need, Need::Ice(layer) if *layer as usize > layers);
        process.check()?;
        if process.uses(Need::Discharge) && recipe.discharge.is_none() {
            return Err(PlanFileError::new("recipe", PlanProblem::NoDischarge { recipe: recipe.name.clone() }));
        }
        let mut process = process.clone();
        process.steps.retain(|step| step.needs.iter().all(has_ice) && !(step.scrap && raw.scrap_tested));
        let names: Vec<String> = process.steps.iter().map(|step| step.name.clone()).collect();
        process.steps.iter_mut().for_each(|step| {
            step.after.retain(|name| names.contains(name));
            step.chemistry = step.holds();
        });
        processes.push(process);
    }
    if let Some(name) = &raw.process {
        find_process(name, named.iter().map(|(name, _)| name.as_str()), "process")?;
    }
    Ok(processes)
}

fn find_process<'a>(
    name: &str,
    names: impl Iterator<Item = &'a str> + Clone,
    field: impl Into<Field>,
) -> Result<usize, PlanFileError> {
    names.clone().position(|known| known == name).ok_or_else(|| {
        let known = names.map(str::to_owned).collect();
        PlanFileError::new(field, PlanProblem::Unknown { what: Named::Process, name: name.to_owned(), known })
    })
}

fn order_line(
    (number, line): (usize, &OrderLineSpec),
    layout: &Layout,
    (process, recipe): (usize, &Recipe),
    lengths: LengthStyle,
) -> Result<OrderLine, PlanFileError> {
    let field = |key: &'static str| Field::from("lines").item(number).then(key);
    PlanFileError::check(field("count"), f64::from(line.count), 1.0, MOST_GARMENTS)?;
    if let Some(price) = line.blank_price {
        PlanFileError::check(field("blank_price"), price, 0.0, 1e6)?;
    }
    let graded = |size: &String| grade(layout, layout.garment().kind().size_named(size)?, line.rings);
    let layout = line.size.as_ref().map_or_else(|| Ok(layout.clone()), graded);
    let layout = layout.map_err(|error| PlanFileError::new(field("size"), error))?;
    check_fibres(&layout).map_err(|problem| PlanFileError::new(field("layout"), problem))?;
    let figures = Figures::of(&layout);
    let masses = GarmentMasses::of(&layout, &figures, recipe, lengths);
    Ok(OrderLine { layout, masses, figures, count: line.count, process, blank_price: line.blank_price })
}

/// Refuses cloth that a reactive dye with soda ash harms or hardly dyes.
fn check_fibres(layout: &Layout) -> Result<(), PlanProblem> {
    match serves(&layout.raw().garment.fibres) {
        Serves::Harms { fibre, percent } => Err(PlanProblem::WrongFibre { fibre, percent, is_harmed: true }),
        Serves::Hardly { fibre, percent } => Err(PlanProblem::WrongFibre { fibre, percent, is_harmed: false }),
        Serves::Well | Serves::Paler { .. } => Ok(()),
    }
}

fn check_workshop(shop: &Workshop) -> Result<(), PlanFileError> {
    let counts = [
        ("workshop.tubs", shop.tubs),
        ("workshop.vessels", shop.vessels),
        ("workshop.sinks", shop.sinks),
        ("workshop.washers", shop.washers),
        ("workshop.tables", shop.tables),
        ("workshop.rack_rods", shop.rack_rods),
    ];
    for (field, count) in counts {
        PlanFileError::check(field, f64::from(count), 1.0, 1000.0)?;
    }
    PlanFileError::check("workshop.tub_l", shop.tub_l, 0.5, 10_000.0)?;
    if let WorkPlace::Indoors { room_m3 } = shop.place {
        PlanFileError::check("workshop.place.room_m3", room_m3, 1.0, 100_000.0)?;
    }
    shop.vessel.check()?;
    PlanFileError::check("workshop.room_c", shop.room_c, 1.0, 50.0)?;
    PlanFileError::check("workshop.cure_c", shop.curing_c(), 1.0, 110.0)?;
    DayHours::of(&shop.hours, &shop.days_off).map(drop).map_err(|error| error.within("workshop"))
}

fn check_supplies(raw: &OrderSpec) -> Result<(), PlanFileError> {
    for (index, supply) in raw.supplies.iter().enumerate() {
        supply.check(&raw.supplies[..index], index + 1)?;
    }
    match &raw.money {
        Some(money) => {
            check_name("money.currency", &money.currency)?;
            PlanFileError::check("money.hourly_rate", money.hourly_rate, 0.0, 1e6)?;
            PlanFileError::check("money.margin_percent", money.margin_percent, 0.0, 1e4)
        }
        None => Ok(()),
    }
}

/// Colours that the order names must be some layout's: a slip of the pen would otherwise go unnoticed into the dye bath.
fn check_depths(raw: &OrderSpec, lines: &[OrderLine]) -> Result<(), PlanFileError> {
    let mut known: Vec<&str> = lines.iter().flat_map(|line| line.masses.dyes.iter().map(|dye| dye.colour.as_str())).collect();
    known.sort_unstable();
    known.dedup();
    let unknown = |field: Field, name: &str| {
        let known = known.iter().map(|name| (*name).to_owned()).collect();
        let problem = PlanProblem::Unknown { what: Named::Colour, name: name.to_owned(), known };
        Err(PlanFileError::new(field, problem))
    };
    if let Some(name) = raw.depths.keys().find(|name| !known.contains(&name.as_str())) {
        return unknown(Field::from("depths").named(name), name);
    }
    for (index, supply) in raw.supplies.iter().enumerate() {
        if let Material::Dye(name) = &supply.material
            && !known.contains(&name.as_str())
        {
            return unknown(Field::from("supplies").item(index + 1).then("material"), name);
        }
    }
    Ok(())
}
