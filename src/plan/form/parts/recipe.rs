//! What a recipe is made of.

use super::{SourcedForm, TemperatureForm};
use crate::form::stands_for;
use crate::plan::{
    BathVolume, CureRule, DepthPercent, DischargeAgent, DischargeRule, DyeClass, IceLayer, IceRule, ShadeDepth, SolutionRule,
};
use serde::{Deserialize, Serialize};

/// How strong a colour is to come out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum ShadeForm {
    /// A tint.
    Pale,
    /// An ordinary shade.
    Medium,
    /// A full shade.
    Full,
    /// As strong as it gets.
    VeryDeep,
}

stands_for!(enum ShadeForm for ShadeDepth { Pale {}, Medium {}, Full {}, VeryDeep {} });

/// Dye in percent on the weight of the dry cloth, by shade.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PercentForm {
    /// For a pale shade.
    pub pale: SourcedForm,
    /// For a medium shade.
    pub medium: SourcedForm,
    /// For a full shade.
    pub full: SourcedForm,
    /// For a very deep shade.
    pub very_deep: SourcedForm,
}

stands_for!(struct PercentForm for DepthPercent { pale, medium, full, very_deep });

/// A class of reactive dyes, by the temperature at which it fixes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum DyeClassForm {
    /// At the temperature of a room.
    #[default]
    Cold,
    /// Warm.
    Warm,
    /// Hot.
    Hot,
}

stands_for!(enum DyeClassForm for DyeClass { Cold {}, Warm {}, Hot {} });

/// How much water a bath has.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum BathForm {
    /// In proportion to the cloth.
    Liquor {
        /// Litres of water for a kilogram of dry cloth.
        litres_per_kg: SourcedForm,
    },
    /// The same for any load.
    Tub {
        /// Litres in the tub.
        litres: SourcedForm,
    },
}

stands_for!(enum BathForm for BathVolume { Liquor { litres_per_kg }, Tub { litres } });

/// Dye dissolved and put on by hand.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SolutionForm {
    /// Solution that a gram of dry cloth takes, mL.
    pub pick_up_ml_per_g: SourcedForm,
    /// Urea in it, grams to a litre; 0 for none.
    pub urea_g_per_l: SourcedForm,
}

stands_for!(struct SolutionForm for SolutionRule { pick_up_ml_per_g, urea_g_per_l });

/// One layer of ice.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum IceLayerForm {
    /// By its depth over the rod.
    Depth {
        /// Depth, mm.
        depth_mm: SourcedForm,
    },
    /// By the water that it is to bring.
    Water {
        /// Grams of water to a gram of dry cloth.
        grams_per_gram: SourcedForm,
    },
}

stands_for!(enum IceLayerForm for IceLayer { Depth { depth_mm }, Water { grams_per_gram } });

/// Ice over the rod.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct IceForm {
    /// The layers, first to last.
    pub layers: Vec<IceLayerForm>,
    /// How far the ice reaches beyond the rod on each side, mm.
    pub margin_mm: SourcedForm,
    /// Share of a heap of crushed ice that is ice.
    pub packing: SourcedForm,
    /// Temperature of the air over it, C; that of the workshop's room unless given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub room_c: Option<SourcedForm>,
    /// Heat that still air brings to the ice, W/(m2 K).
    pub transfer_w_per_m2_k: SourcedForm,
}

stands_for!(struct IceForm for IceRule { layers, margin_mm, packing, room_c, transfer_w_per_m2_k });

/// A reductive discharge agent.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum AgentForm {
    /// Sodium dithionite.
    SodiumDithionite,
    /// Thiourea dioxide.
    ThioureaDioxide,
    /// A mixture ready for use, by its label.
    ReadyMixture,
}

stands_for!(enum AgentForm for DischargeAgent { SodiumDithionite {}, ThioureaDioxide {}, ReadyMixture {} });

/// The discharge of a recipe.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DischargeRuleForm {
    /// The agent.
    pub agent: AgentForm,
    /// Agent, percent on the weight of the dry cloth.
    pub percent: SourcedForm,
    /// Water, litres to a kilogram of dry cloth at least.
    pub litres_per_kg: SourcedForm,
    /// Soda ash in the bath, grams to a litre; none unless given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub soda_ash_g_per_l: Option<SourcedForm>,
    /// What share of the product is agent, percent; 100 unless given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub strength_percent: Option<SourcedForm>,
    /// Temperatures at which it works; the agent's usual ones unless given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub works: Option<TemperatureForm>,
    /// Least and most minutes in the bath; the agent's usual ones unless given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub minutes: Option<(u32, u32)>,
    /// After how many minutes a bath is spent: 20.
    #[serde(default = "usual_renewal_min")]
    pub renew_after_min: u32,
}

const fn usual_renewal_min() -> u32 {
    20
}

stands_for!(struct DischargeRuleForm for DischargeRule {
    agent, percent, litres_per_kg, soda_ash_g_per_l, strength_percent, works, minutes, renew_after_min
});

/// How long the dye lies until it has fixed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CureForm {
    /// Hours that it takes at the known temperature.
    pub known_h: SourcedForm,
    /// Temperature of those hours, C.
    pub known_c: SourcedForm,
    /// How many times faster it fixes 10 K warmer.
    pub factor_per_10_k: SourcedForm,
}

stands_for!(struct CureForm for CureRule { known_h, known_c, factor_per_10_k });
