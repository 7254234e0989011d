//! What an order is made of.

use crate::form::{FileForm, WrittenForm, stands_for};
use crate::plan::{GradeRule, Material, Money, OrderLineSpec, Pack, Supply};
use serde::{Deserialize, Serialize};

/// What happens to the rings on another size.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum GradeForm {
    /// They grow and shrink with the garment's width.
    #[default]
    Scaled,
    /// They stay as they are.
    Kept,
}

stands_for!(enum GradeForm for GradeRule { Scaled {}, Kept {} });

/// So many garments from one layout.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LineForm {
    /// The layout file, beside the order's.
    pub layout: String,
    /// Graded to this size; the layout's own unless given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub size: Option<String>,
    /// What grading does to the rings: scales them.
    #[serde(default)]
    pub rings: GradeForm,
    /// How many.
    pub count: u32,
    /// A process of its own.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub process: Option<String>,
    /// What one garment costs undyed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub blank_price: Option<f64>,
}

stands_for!(struct LineForm for OrderLineSpec { layout, size, rings, count, process, blank_price });

/// Something that is used up.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub enum MaterialForm {
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

impl FileForm for MaterialForm {
    type Live = Material;

    fn live(self) -> Material {
        match self {
            Self::Dye(colour) => Material::Dye(colour),
            Self::SodaAsh => Material::SodaAsh,
            Self::DischargeAgent => Material::DischargeAgent,
            Self::Urea => Material::Urea,
            Self::Ice => Material::Ice,
            Self::Thread => Material::Thread,
        }
    }
}

impl WrittenForm for MaterialForm {
    fn of(live: Material) -> Self {
        match live {
            Material::Dye(colour) => Self::Dye(colour),
            Material::SodaAsh => Self::SodaAsh,
            Material::DischargeAgent => Self::DischargeAgent,
            Material::Urea => Self::Urea,
            Material::Ice => Self::Ice,
            Material::Thread => Self::Thread,
        }
    }
}

/// What is on the shelf of a material, and the packs it is sold in. Grams; thread in metres.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SupplyForm {
    /// The material.
    pub material: MaterialForm,
    /// On the shelf: 0.
    #[serde(default)]
    pub on_hand: f64,
    /// Packs it is sold in.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub packs: Vec<PackForm>,
}

stands_for!(struct SupplyForm for Supply { material, on_hand, packs });

/// A pack as sold.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PackForm {
    /// What it holds, g; thread m.
    pub holds: f64,
    /// What it costs.
    pub price: f64,
}

stands_for!(struct PackForm for Pack { holds, price });

/// What work is worth.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MoneyForm {
    /// The currency's sign or name.
    pub currency: String,
    /// Pay for an hour of hands-on work.
    pub hourly_rate: f64,
    /// Margin on materials and labour, percent.
    pub margin_percent: f64,
}

stands_for!(struct MoneyForm for Money { currency, hourly_rate, margin_percent });
