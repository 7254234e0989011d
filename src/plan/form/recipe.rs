//! A recipe in a file.

use super::parts::{
    BathForm, CureForm, DischargeRuleForm, DyeClassForm, IceForm, PercentForm, ShadeForm, SolutionForm, SourcedForm,
};
use crate::form::{FileFormat, FormatNumber, Keys, stands_for};
use crate::plan::{DyeRule, Recipe, SodaRule};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// A recipe file of format 1.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RecipeV1 {
    /// 1.
    pub format: FormatNumber<1>,
    /// Its name.
    pub name: String,
    /// Anything to remember.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
    /// Dye.
    pub dye: DyeV1,
    /// Soda ash.
    pub soda_ash: SodaV1,
    /// Discharge, if the recipe has one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub discharge: Option<DischargeRuleForm>,
    /// Ice, if the dye goes on as powder under it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ice: Option<IceForm>,
    /// Dye dissolved and put on by hand.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub solution: Option<SolutionForm>,
    /// How long the dye lies until it has fixed; what is usual for its class unless given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cure: Option<CureForm>,
}

impl FileFormat for RecipeV1 {
    const NUMBER: u32 = 1;
}

stands_for!(file RecipeV1 for Recipe { name, note, dye, soda_ash, discharge, ice, solution, cure });

/// How much dye, in format 1.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DyeV1 {
    /// Percent on weight of fibre.
    pub percent: PercentForm,
    /// What the method takes beyond an even bath.
    pub method_factor: SourcedForm,
    /// The shade of a colour that none is named for.
    pub usual_depth: ShadeForm,
    /// The class of the dyes: cold.
    #[serde(default)]
    pub class: DyeClassForm,
    /// Shades of single colours, by name.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub depths: BTreeMap<String, ShadeForm>,
}

stands_for!(struct DyeV1 for DyeRule { percent, method_factor, usual_depth, class, depths });

/// Soda ash, in format 1.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SodaV1 {
    /// In the soak, grams to a litre of water.
    pub grams_per_litre: SourcedForm,
    /// Water of the soak.
    pub bath: BathForm,
    /// Sprinkled over the powder, grams to a gram of dye; 0 for none.
    pub strewn_per_gram_of_dye: SourcedForm,
}

stands_for!(struct SodaV1 for SodaRule { grams_per_litre, bath, strewn_per_gram_of_dye });

/// A recipe file of format 2.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RecipeV2 {
    /// 2.
    pub format: FormatNumber<2>,
    /// Its name.
    pub name: String,
    /// Anything to remember.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
    /// Dye.
    pub dye: DyeV2,
    /// Soda ash.
    pub soda_ash: SodaV2,
    /// Discharge, if the recipe has one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub discharge: Option<DischargeRuleForm>,
    /// Ice, if the dye goes on as powder under it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ice: Option<IceForm>,
    /// Dye dissolved and put on by hand.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub solution: Option<SolutionForm>,
    /// How long the dye lies until it has fixed; what is usual for its class unless given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cure: Option<CureForm>,
}

impl FileFormat for RecipeV2 {
    const NUMBER: u32 = 2;
    const KEYS: Keys = &[
        ("dye.depths", "dye.shades"),
        ("dye.usual_depth", "dye.usual_shade"),
        ("soda_ash.strewn_per_gram_of_dye", "soda_ash.sprinkled_per_gram_of_dye"),
    ];
}

stands_for!(file RecipeV2 for Recipe { name, note, dye, soda_ash, discharge, ice, solution, cure });

/// How much dye, in format 2.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DyeV2 {
    /// Percent on weight of fibre.
    pub percent: PercentForm,
    /// What the method takes beyond an even bath.
    pub method_factor: SourcedForm,
    /// The shade of a colour that none is named for.
    pub usual_shade: ShadeForm,
    /// The class of the dyes: cold.
    #[serde(default)]
    pub class: DyeClassForm,
    /// Shades of single colours, by name.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub shades: BTreeMap<String, ShadeForm>,
}

stands_for!(struct DyeV2 for DyeRule { percent, method_factor, class; usual_shade = usual_depth, shades = depths });

/// Soda ash, in format 2.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SodaV2 {
    /// In the soak, grams to a litre of water.
    pub grams_per_litre: SourcedForm,
    /// Water of the soak.
    pub bath: BathForm,
    /// Sprinkled over the powder, grams to a gram of dye; 0 for none.
    pub sprinkled_per_gram_of_dye: SourcedForm,
}

stands_for!(struct SodaV2 for SodaRule { grams_per_litre, bath; sprinkled_per_gram_of_dye = strewn_per_gram_of_dye });
