//! An order as the maker gives it, nothing checked.

use super::usual::usual_process;
use crate::layout::Layout;
use crate::measure::LengthUnit;
use crate::plan::{GradeRule, Hours, PlanFileError, PlanProblem, Region, ShadeDepth, Unit, Vessel, Weekday, WorkPlace};
use crate::telling::Field;
use jiff::civil::DateTime;
use serde::Serialize;
use std::collections::BTreeMap;
use std::fmt;

/// An order as the maker gives it.
#[derive(Debug, Clone, PartialEq)]
pub struct OrderSpec {
    /// Its name.
    pub name: String,
    /// Anything to remember.
    pub note: String,
    /// The recipe: one that comes with the program, or a file beside this one; without, the one that suits the processes.
    pub recipe: Option<String>,
    /// The process: one that comes with the program, or a file beside this one; without, for each line the one that suits its layout.
    pub process: Option<String>,
    /// By when everything is to be over, if the order says so.
    pub deadline: Option<DateTime>,
    /// What is to be made.
    pub lines: Vec<OrderLineSpec>,
    /// Depths of single colours, over the recipe's.
    pub depths: BTreeMap<String, ShadeDepth>,
    /// Where it is made.
    pub workshop: Workshop,
    /// Whether garments of different colours may share a discharge. What loosens from one ground can settle on another, so not unless given;
    /// undyed ones never share it with coloured ones.
    pub mix_grounds: bool,
    /// Whether a scrap was tested already, so that the plan need not.
    pub scrap_tested: bool,
    /// What is on the shelf and what it is sold in.
    pub supplies: Vec<Supply>,
    /// What work is worth.
    pub money: Option<Money>,
}

/// So many garments from one layout.
#[derive(Debug, Clone, PartialEq)]
pub struct OrderLineSpec {
    /// The layout file, beside the order's.
    pub layout: String,
    /// Graded to this size of the layout's kind of garment; none for the layout's own.
    pub size: Option<String>,
    /// What grading does to the rings.
    pub rings: GradeRule,
    /// How many.
    pub count: u32,
    /// A process of its own.
    pub process: Option<String>,
    /// What one garment costs undyed.
    pub blank_price: Option<f64>,
}

impl OrderSpec {
    /// The name of the process that a line goes through: its own, the order's, or the one that suits its layout.
    #[must_use]
    pub fn process_name<'a>(&'a self, line: &'a OrderLineSpec, layout: &Layout) -> &'a str {
        line.process.as_deref().or(self.process.as_deref()).unwrap_or_else(|| usual_process(layout))
    }
}

/// The workshop: one pair of hands, and this.
#[derive(Debug, Clone, PartialEq)]
pub struct Workshop {
    /// Tubs: 1.
    pub tubs: u32,
    /// Water that a tub takes with the cloth in it, L: 30, an ordinary storage tub (practice).
    pub tub_l: f64,
    /// Sinks: 1.
    pub sinks: u32,
    /// Washing machines: 1.
    pub washers: u32,
    /// Tables: 1.
    pub tables: u32,
    /// Rods that the rack takes: 8 (practice).
    pub rack_rods: u32,
    /// Where the discharge is done: outdoors.
    pub place: WorkPlace,
    /// The vessel of the discharge: a steel pot of 20 L on a hob.
    pub vessel: Vessel,
    /// How many such vessels there are: 1.
    pub vessels: u32,
    /// Temperature of the room, C: 20.
    pub room_c: f64,
    /// Temperature that the wrapped rods are kept at while the dye fixes, C; the room's unless given.
    pub cure_c: Option<f64>,
    /// Whose limits and terms the cautions use: Europe's.
    pub region: Region,
    /// Hours of hands-on work on a working day: 08:00 to 20:00.
    pub hours: Vec<Hours>,
    /// Days without hands-on work: none.
    pub days_off: Vec<Weekday>,
}

impl Workshop {
    /// Temperature that the wrapped rods are kept at while the dye fixes, C.
    #[must_use]
    pub fn curing_c(&self) -> f64 {
        self.cure_c.unwrap_or(self.room_c)
    }
}

impl Default for Workshop {
    fn default() -> Self {
        Self {
            tubs: 1,
            tub_l: 30.0,
            sinks: 1,
            washers: 1,
            tables: 1,
            rack_rods: 8,
            place: WorkPlace::Outdoors,
            vessel: Vessel::default(),
            vessels: 1,
            room_c: 20.0,
            cure_c: None,
            region: Region::default(),
            hours: vec![Hours { from: "08:00".to_owned(), to: "20:00".to_owned() }],
            days_off: Vec::new(),
        }
    }
}

/// Something that is used up.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub enum Material {
    /// Dye of a colour, g.
    Dye(String),
    /// Soda ash, g.
    SodaAsh,
    /// The recipe's discharge agent, g.
    DischargeAgent,
    /// Urea, g.
    Urea,
    /// Ice, g.
    Ice,
    /// Thread, m.
    Thread,
}

impl Material {
    /// What it is counted in on a shelf.
    #[must_use]
    pub const fn unit(&self) -> Unit {
        match self {
            Self::Thread => Unit::Metre,
            Self::Dye(_) | Self::SodaAsh | Self::DischargeAgent | Self::Urea | Self::Ice => Unit::Gram,
        }
    }

    /// A material by what it is called: `dye, teal`, `soda ash`; none where nothing is called so.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        let name = name.trim();
        let plain = [Self::SodaAsh, Self::DischargeAgent, Self::Urea, Self::Ice, Self::Thread];
        let dye = || name.strip_prefix("dye, ").map(str::trim).filter(|colour| !colour.is_empty());
        plain
            .into_iter()
            .find(|material| material.to_string() == name)
            .or_else(|| dye().map(|colour| Self::Dye(colour.to_owned())))
    }
}

impl fmt::Display for Material {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Dye(colour) => write!(f, "dye, {colour}"),
            Self::SodaAsh => f.write_str("soda ash"),
            Self::DischargeAgent => f.write_str("discharge agent"),
            Self::Urea => f.write_str("urea"),
            Self::Ice => f.write_str("ice"),
            Self::Thread => f.write_str("thread"),
        }
    }
}

/// What is on the shelf of a material, and the packs it is sold in. Grams; thread in metres.
#[derive(Debug, Clone, PartialEq)]
pub struct Supply {
    /// The material.
    pub material: Material,
    /// On the shelf.
    pub on_hand: f64,
    /// Packs it is sold in.
    pub packs: Vec<Pack>,
}

/// Most packs that a supply is sold in.
const MOST_PACKS: usize = 8;

impl Supply {
    /// The same counted in another unit: thread may be wanted in yards.
    #[must_use]
    pub(super) fn counted_in(&self, unit: Unit) -> Self {
        let per_unit = match (&self.material, unit.in_mm()) {
            (Material::Thread, Some(unit_mm)) => LengthUnit::Metre.in_mm() / unit_mm,
            _ => 1.0,
        };
        let pack = |pack: &Pack| Pack { holds: pack.holds * per_unit, ..*pack };
        let (material, packs) = (self.material.clone(), self.packs.iter().map(pack).collect());
        Self { material, on_hand: self.on_hand * per_unit, packs }
    }

    /// Checks it, the `number`th of a list, after those `before` it.
    pub(in crate::plan) fn check(&self, before: &[Self], number: usize) -> Result<(), PlanFileError> {
        let field = |key: &'static str| Field::from("supplies").item(number).then(key);
        PlanFileError::check(field("on_hand"), self.on_hand, 0.0, 1e9)?;
        for pack in &self.packs {
            PlanFileError::check(field("packs.holds"), pack.holds, 0.001, 1e9)?;
            PlanFileError::check(field("packs.price"), pack.price, 0.0, 1e9)?;
        }
        if self.packs.len() > MOST_PACKS {
            return Err(PlanFileError::new(field("packs"), PlanProblem::Count { count: self.packs.len(), most: MOST_PACKS }));
        }
        if before.iter().any(|earlier| earlier.material == self.material) {
            return Err(PlanFileError::new(field("material"), PlanProblem::Twice { name: self.material.to_string() }));
        }
        Ok(())
    }
}

/// A pack as sold.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Pack {
    /// What it holds, g; thread m.
    pub holds: f64,
    /// What it costs.
    pub price: f64,
}

/// What work is worth.
#[derive(Debug, Clone, PartialEq)]
pub struct Money {
    /// The currency's sign or name.
    pub currency: String,
    /// Pay for an hour of hands-on work.
    pub hourly_rate: f64,
    /// Margin on materials and labour, percent.
    pub margin_percent: f64,
}
