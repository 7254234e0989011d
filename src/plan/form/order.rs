//! An order in a file.

use super::parts::{LineForm, MoneyForm, ShadeForm, SupplyForm, WorkshopForm, WorkshopV1};
use crate::form::{FileForm, FileFormat, FormatNumber, Keys, stands_for};
use crate::plan::OrderSpec;
use jiff::civil::DateTime;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// An order file of format 1.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OrderV1 {
    /// 1.
    pub format: FormatNumber<1>,
    /// Its name.
    pub name: String,
    /// Anything to remember.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
    /// The recipe: one that comes with the program, or a file beside this one; the one that suits the processes unless given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub recipe: Option<String>,
    /// The process, in the same way; for each line the one that suits its layout unless given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub process: Option<String>,
    /// What is to be made.
    pub lines: Vec<LineForm>,
    /// Shades of single colours, over the recipe's.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub depths: BTreeMap<String, ShadeForm>,
    /// Where it is made.
    #[serde(default)]
    pub workshop: WorkshopV1,
    /// Whether garments of different colours may share a discharge: no.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub mix_grounds: bool,
    /// Whether a scrap was tested already: no.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub scrap_tested: bool,
    /// What is on the shelf and what it is sold in.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub supplies: Vec<SupplyForm>,
    /// What work is worth.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub money: Option<MoneyForm>,
}

impl FileFormat for OrderV1 {
    const NUMBER: u32 = 1;
}

impl FileForm for OrderV1 {
    type Live = OrderSpec;

    fn live(self) -> OrderSpec {
        let Self { format: FormatNumber, name, note, recipe, process, lines, depths, .. } = self;
        let (workshop, mix_grounds, scrap_tested) = (self.workshop.live(), self.mix_grounds, self.scrap_tested);
        let (lines, depths, supplies, money) = (lines.live(), depths.live(), self.supplies.live(), self.money.live());
        // Files of this format name no deadline.
        let deadline = None;
        OrderSpec { name, note, recipe, process, deadline, lines, depths, workshop, mix_grounds, scrap_tested, supplies, money }
    }
}

/// An order file of format 2.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OrderV2 {
    /// 2.
    pub format: FormatNumber<2>,
    /// Its name.
    pub name: String,
    /// Anything to remember.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
    /// The recipe: one that comes with the program, or a file beside this one; the one that suits the processes unless given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub recipe: Option<String>,
    /// The process, in the same way; for each line the one that suits its layout unless given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub process: Option<String>,
    /// By when everything is to be over: whenever it is.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub deadline: Option<DateTime>,
    /// What is to be made.
    pub lines: Vec<LineForm>,
    /// Shades of single colours, over the recipe's.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub shades: BTreeMap<String, ShadeForm>,
    /// Where it is made.
    #[serde(default)]
    pub workshop: WorkshopForm,
    /// Whether garments of different colours may share a discharge: no.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub mix_garment_colours: bool,
    /// Whether a scrap was tested already: no.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub scrap_tested: bool,
    /// What is on the shelf and what it is sold in.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub supplies: Vec<SupplyForm>,
    /// What work is worth.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub money: Option<MoneyForm>,
}

impl FileFormat for OrderV2 {
    const NUMBER: u32 = 2;
    const KEYS: Keys = &[("depths", "shades"), ("mix_grounds", "mix_garment_colours")];
}

stands_for!(file OrderV2 for OrderSpec {
    name, note, recipe, process, deadline, lines, workshop, scrap_tested, supplies, money; shades = depths, mix_garment_colours = mix_grounds
});
