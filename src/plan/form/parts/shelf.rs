//! What is on the shelf, and what was used.

use super::MaterialForm;
use crate::form::stands_for;
use crate::plan::{Blank, Used};
use serde::{Deserialize, Serialize};

/// How much of a material was used. Grams; thread in metres.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct UsedForm {
    /// The material.
    pub material: MaterialForm,
    /// How much.
    pub amount: f64,
}

stands_for!(struct UsedForm for Used { material, amount });

/// Undyed garments of one kind, size and colour.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BlankForm {
    /// Kind, size and colour.
    pub name: String,
    /// How many are there: 0.
    #[serde(default)]
    pub on_hand: u32,
    /// What one costs, if that is known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub price: Option<f64>,
}

stands_for!(struct BlankForm for Blank { name, on_hand, price });
