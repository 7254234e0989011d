//! What the window calls the figures of a recipe, and what they count.

use crate::telling::Field;

/// What a figure is called, by its field; its unit is said with its range.
pub(super) fn label(field: &Field) -> String {
    let key = field.to_string();
    let own = match key.as_str() {
        "dye.percent.pale" => "Dye, pale shade",
        "dye.percent.medium" => "Dye, medium shade",
        "dye.percent.full" => "Dye, full shade",
        "dye.percent.very_deep" => "Dye, very deep shade",
        "dye.method_factor" => "Dye, method factor",
        "soda_ash.grams_per_litre" => "Soda ash, soak",
        "soda_ash.strewn_per_gram_of_dye" => "Soda ash, sprinkled",
        "soda_ash.bath.litres_per_kg" => "Soak, water",
        "soda_ash.bath.litres" => "Soak, tub",
        "discharge.percent" => "Agent",
        "discharge.litres_per_kg" => "Bath, least water",
        "discharge.soda_ash_g_per_l" => "Bath, soda ash",
        "discharge.strength_percent" => "Agent in the product",
        "solution.pick_up_ml_per_g" => "Solution taken up",
        "solution.urea_g_per_l" => "Urea",
        "ice.margin_mm" => "Ice beyond the rod",
        "ice.packing" => "Ice, packing",
        "ice.room_c" => "Air over the ice",
        "ice.transfer_w_per_m2_k" => "Heat to the ice",
        "cure.known_h" => "Cure, known time",
        "cure.known_c" => "Cure, known at",
        "cure.factor_per_10_k" => "Cure, 10 °C warmer",
        other => return layer_label(other),
    };
    own.to_owned()
}

fn layer_label(key: &str) -> String {
    let number = key.split('.').nth(2).unwrap_or_default();
    format!("Ice, layer {number}")
}

/// What a figure counts.
pub(super) fn unit(field: &Field) -> &'static str {
    let key = field.to_string();
    let last = key.rsplit('.').next().unwrap_or_default();
    match last {
        "pale" | "medium" | "full" | "very_deep" | "percent" => "% of the dry cloth",
        "strength_percent" => "%",
        "grams_per_litre" | "soda_ash_g_per_l" | "urea_g_per_l" => "g/L",
        "strewn_per_gram_of_dye" => "g per g of dye",
        "litres_per_kg" => "L per kg of dry cloth",
        "litres" => "L",
        "pick_up_ml_per_g" => "mL per g of dry cloth",
        "margin_mm" | "depth_mm" => "mm",
        "packing" => "of the heap is ice",
        "room_c" | "known_c" => "°C",
        "transfer_w_per_m2_k" => "W/(m² K)",
        "grams_per_gram" => "g of water per g of dry cloth",
        "known_h" => "h",
        "factor_per_10_k" => "times faster",
        _ => "times",
    }
}
