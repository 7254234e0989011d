//! Orders: garments of several kinds and sizes, graded, packed into tub loads, weighed out, priced.

mod checked;
mod ground;
mod line;
mod loads;
mod money;
mod pack;
mod raw;
mod shopping;
mod totals;
mod usual;

pub use checked::{OfGarments, Order, OrderParts};
pub(in crate::plan) use ground::Ground;
pub use line::OrderLine;
pub use loads::{Load, LoadItem, loads};
pub use money::{CostSheet, LineCost, LineCostWords, costs};
pub use pack::{Packing, pack};
pub use raw::{Material, Money, OrderLineSpec, OrderSpec, Pack, Supply, Workshop};
pub use shopping::{PackBuy, ShoppingLine, cheapest_packs, packs_unknown, shopping_list};
pub use totals::{ColourTotal, MaterialTotal, MaterialUse, Totals, totals};
pub use usual::{usual_process, usual_recipe};
