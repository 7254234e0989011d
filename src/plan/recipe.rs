//! Recipes: every percentage and factor that the masses are reckoned with, by name, each with its source.

use super::error::{check_name, check_note};
use super::{CureRule, DischargeRule, DyeClass, PlanFileError, Sourced};
use crate::geometry::SourceStatus;
use crate::telling::Field;
use serde::Serialize;
use std::collections::BTreeMap;
use std::fmt;

/// How deep a colour is to come out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub enum ShadeDepth {
    /// A tint.
    Pale,
    /// An ordinary shade.
    Medium,
    /// A full shade.
    Full,
    /// As deep as it gets: black, navy.
    VeryDeep,
}

impl fmt::Display for ShadeDepth {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Pale => "pale",
            Self::Medium => "medium",
            Self::Full => "full",
            Self::VeryDeep => "very deep",
        })
    }
}

/// Dye in percent on the weight of the dry cloth, by shade depth.
#[derive(Debug, Clone, PartialEq)]
pub struct DepthPercent {
    /// For a pale shade.
    pub pale: Sourced,
    /// For a medium shade.
    pub medium: Sourced,
    /// For a full shade.
    pub full: Sourced,
    /// For a very deep shade.
    pub very_deep: Sourced,
}

impl DepthPercent {
    /// The percentage of a depth.
    #[must_use]
    pub const fn of(&self, depth: ShadeDepth) -> &Sourced {
        match depth {
            ShadeDepth::Pale => &self.pale,
            ShadeDepth::Medium => &self.medium,
            ShadeDepth::Full => &self.full,
            ShadeDepth::VeryDeep => &self.very_deep,
        }
    }
}

/// How much dye.
#[derive(Debug, Clone, PartialEq)]
pub struct DyeRule {
    /// Percent on weight of fibre.
    pub percent: DepthPercent,
    /// What the method takes beyond an even bath: powder under ice is used more generously.
    pub method_factor: Sourced,
    /// The depth of a colour that none is named for.
    pub usual_depth: ShadeDepth,
    /// The class of the dyes, by the temperature at which they fix: cold unless given.
    pub class: DyeClass,
    /// Depths of single colours, by name.
    pub depths: BTreeMap<String, ShadeDepth>,
}

/// How much water a bath has.
#[derive(Debug, Clone, PartialEq)]
pub enum BathVolume {
    /// In proportion to the cloth.
    Liquor {
        /// Litres of water for a kilogram of dry cloth: 10 is a liquor ratio of 1:10.
        litres_per_kg: Sourced,
    },
    /// The same for any load.
    Tub {
        /// Litres in the tub.
        litres: Sourced,
    },
}

/// Soda ash.
#[derive(Debug, Clone, PartialEq)]
pub struct SodaRule {
    /// In the soak, grams to a litre of water.
    pub grams_per_litre: Sourced,
    /// Water of the soak.
    pub bath: BathVolume,
    /// Strewn over the powder, grams to a gram of dye; 0 for none.
    pub strewn_per_gram_of_dye: Sourced,
}

/// Dye dissolved and put on by hand.
#[derive(Debug, Clone, PartialEq)]
pub struct SolutionRule {
    /// Solution that a gram of dry cloth takes, mL.
    pub pick_up_ml_per_g: Sourced,
    /// Urea in it, grams to a litre; 0 for none. It keeps the cloth damp while the dye fixes.
    pub urea_g_per_l: Sourced,
}

impl Default for SolutionRule {
    /// 1.2 mL to a gram, a damp cloth squeezed full (common practice, no source), and no urea.
    fn default() -> Self {
        let practice = |value| Sourced::new(value, SourceStatus::Practice);
        Self { pick_up_ml_per_g: practice(1.2), urea_g_per_l: practice(0.0) }
    }
}

/// One layer of ice.
#[derive(Debug, Clone, PartialEq)]
pub enum IceLayer {
    /// By its depth over the rod.
    Depth {
        /// Depth, mm.
        depth_mm: Sourced,
    },
    /// By the water that it is to bring.
    Water {
        /// Grams of water to a gram of dry cloth.
        grams_per_gram: Sourced,
    },
}

/// Ice over the rod.
#[derive(Debug, Clone, PartialEq)]
pub struct IceRule {
    /// The layers, first to last.
    pub layers: Vec<IceLayer>,
    /// How far the ice reaches beyond the rod on each side, mm.
    pub margin_mm: Sourced,
    /// Share of a heap of crushed ice that is ice.
    pub packing: Sourced,
    /// Temperature of the air over it, C; that of the workshop's room unless given.
    pub room_c: Option<Sourced>,
    /// Heat that still air brings to the ice, W/(m2 K).
    pub transfer_w_per_m2_k: Sourced,
}

impl IceRule {
    /// Temperature of the air over the ice, C: as given, else of an ordinary room, 20.
    #[must_use]
    pub fn room_c(&self) -> f64 {
        self.room_c.as_ref().map_or(20.0, |room_c| room_c.value)
    }
}

/// A recipe.
#[derive(Debug, Clone, PartialEq)]
pub struct Recipe {
    /// Its name.
    pub name: String,
    /// Anything to remember.
    pub note: String,
    /// Dye.
    pub dye: DyeRule,
    /// Soda ash.
    pub soda_ash: SodaRule,
    /// Discharge, if the recipe has one.
    pub discharge: Option<DischargeRule>,
    /// Ice, if the dye goes on as powder under it.
    pub ice: Option<IceRule>,
    /// Dye dissolved and put on by hand; the usual where a layout is dyed so and the recipe does not say.
    pub solution: Option<SolutionRule>,
    /// How long the dye lies until it has fixed; what is usual for its class unless given.
    pub cure: Option<CureRule>,
}

/// Most layers of ice.
const MOST_LAYERS: usize = 10;
/// Most colours that a depth is said for. Own choice.
const MOST_DEPTHS: usize = 1000;

impl Recipe {
    /// The depth that a colour is dyed to.
    #[must_use]
    pub fn depth_of(&self, colour: &str) -> ShadeDepth {
        self.dye.depths.get(colour).copied().unwrap_or(self.dye.usual_depth)
    }

    /// How long the dye lies until it has fixed: as given, where that was found within the range of its class, else as usual for its class.
    #[must_use]
    pub fn fixing(&self) -> CureRule {
        let (class, range) = (self.dye.class, self.dye.class.fixes_at());
        let of_class = |rule: &&CureRule| (range.from_c..=range.to_c).contains(&rule.known_c.value);
        self.cure.as_ref().filter(of_class).cloned().unwrap_or_else(|| CureRule::usual(class))
    }

    /// Hours that the dye lies at a temperature until it has fixed. Above its class' range nothing fixes faster.
    #[must_use]
    pub fn fixes_in_h(&self, at_c: f64) -> f64 {
        self.fixing().hours(at_c.min(self.dye.class.fixes_at().to_c))
    }

    /// Checks that every number can be meant.
    ///
    /// # Errors
    /// [`PlanFileError`] naming the field, the value and its range.
    pub fn check(&self) -> Result<(), PlanFileError> {
        check_name("name", &self.name)?;
        check_note(&self.note)?;
        PlanFileError::check_most("dye.depths", self.dye.depths.len(), MOST_DEPTHS)?;
        self.dye.depths.keys().try_for_each(|colour| check_name(Field::from("dye.depths").named(colour), colour))?;
        for of in self.figures() {
            PlanFileError::check(of.field, of.figure.value, of.least, of.most)?;
        }
        self.discharge.as_ref().map_or(Ok(()), DischargeRule::check)?;
        match &self.ice {
            Some(ice) => PlanFileError::check_count("ice.layers", ice.layers.len(), MOST_LAYERS),
            None => Ok(()),
        }
    }
}
