//! The figures of a recipe, each with its field and range: one list for checking and for changing them.

use super::{BathVolume, IceLayer, Recipe, SOLUBLE_G_PER_KG, Sourced};
use crate::telling::Field;

/// A figure of a recipe.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure<F> {
    /// Its field, whose key says its unit.
    pub field: Field,
    /// The figure.
    pub figure: F,
    /// The least that it can be meant to be.
    pub least: f64,
    /// The most.
    pub most: f64,
}

/// The list, of references that may change what they refer to if `$mut` is `mut`. The ranges keep out what can't be meant, not what is
/// unwise.
macro_rules! figures {
    ($recipe:expr $(, $mut:tt)?) => {{
        let recipe = $recipe;
        let percent = & $($mut)? recipe.dye.percent;
        let mut all = vec![
            figure("dye.percent.pale", & $($mut)? percent.pale, 0.0, 100.0),
            figure("dye.percent.medium", & $($mut)? percent.medium, 0.0, 100.0),
            figure("dye.percent.full", & $($mut)? percent.full, 0.0, 100.0),
            figure("dye.percent.very_deep", & $($mut)? percent.very_deep, 0.0, 100.0),
            figure("dye.method_factor", & $($mut)? recipe.dye.method_factor, 0.01, 20.0),
            figure("soda_ash.grams_per_litre", & $($mut)? recipe.soda_ash.grams_per_litre, 0.1, SOLUBLE_G_PER_KG),
            figure("soda_ash.strewn_per_gram_of_dye", & $($mut)? recipe.soda_ash.strewn_per_gram_of_dye, 0.0, 20.0),
        ];
        all.push(match & $($mut)? recipe.soda_ash.bath {
            BathVolume::Liquor { litres_per_kg } => figure("soda_ash.bath.litres_per_kg", litres_per_kg, 1.0, 200.0),
            BathVolume::Tub { litres } => figure("soda_ash.bath.litres", litres, 0.1, 10_000.0),
        });
        if let Some(discharge) = & $($mut)? recipe.discharge {
            all.push(figure("discharge.percent", & $($mut)? discharge.percent, 0.01, 100.0));
            all.push(figure("discharge.litres_per_kg", & $($mut)? discharge.litres_per_kg, 1.0, 200.0));
            if let Some(soda) = & $($mut)? discharge.soda_ash_g_per_l {
                all.push(figure("discharge.soda_ash_g_per_l", soda, 0.0, SOLUBLE_G_PER_KG));
            }
            if let Some(share) = & $($mut)? discharge.strength_percent {
                all.push(figure("discharge.strength_percent", share, 1.0, 100.0));
            }
        }
        if let Some(solution) = & $($mut)? recipe.solution {
            all.push(figure("solution.pick_up_ml_per_g", & $($mut)? solution.pick_up_ml_per_g, 0.1, 10.0));
            all.push(figure("solution.urea_g_per_l", & $($mut)? solution.urea_g_per_l, 0.0, 1000.0));
        }
        if let Some(ice) = & $($mut)? recipe.ice {
            all.push(figure("ice.margin_mm", & $($mut)? ice.margin_mm, 0.0, 500.0));
            all.push(figure("ice.packing", & $($mut)? ice.packing, 0.1, 1.0));
            if let Some(room_c) = & $($mut)? ice.room_c {
                all.push(figure("ice.room_c", room_c, 1.0, 50.0));
            }
            all.push(figure("ice.transfer_w_per_m2_k", & $($mut)? ice.transfer_w_per_m2_k, 1.0, 100.0));
            for (number, layer) in (1..).zip(& $($mut)? ice.layers) {
                let of = |key: &'static str| Field::from("ice.layers").item(number).then(key);
                all.push(match layer {
                    IceLayer::Depth { depth_mm } => figure(of("depth_mm"), depth_mm, 1.0, 500.0),
                    IceLayer::Water { grams_per_gram } => figure(of("grams_per_gram"), grams_per_gram, 0.1, 50.0),
                });
            }
        }
        if let Some(cure) = & $($mut)? recipe.cure {
            all.push(figure("cure.known_h", & $($mut)? cure.known_h, 0.1, 720.0));
            all.push(figure("cure.known_c", & $($mut)? cure.known_c, 0.0, 110.0));
            all.push(figure("cure.factor_per_10_k", & $($mut)? cure.factor_per_10_k, 1.0, 6.0));
        }
        all
    }};
}

fn figure<F>(field: impl Into<Field>, figure: F, least: f64, most: f64) -> Figure<F> {
    Figure { field: field.into(), figure, least, most }
}

impl Recipe {
    /// Every figure with its field and range, in the order of the recipe's parts.
    #[must_use]
    pub fn figures(&self) -> Vec<Figure<&Sourced>> {
        figures!(self)
    }

    /// The same, to be changed. What comes out may be out of range: [`Recipe::check`] tells.
    pub fn figures_mut(&mut self) -> Vec<Figure<&mut Sourced>> {
        figures!(self, mut)
    }
}
