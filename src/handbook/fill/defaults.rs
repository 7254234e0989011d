//! Defaults and limits, by their names in files where they have one.

use crate::geometry::{Cloth, Thread};
use crate::layout::Limits;
use crate::measure::{LengthStyle, neat};
use crate::plan::FUSION_KJ_PER_KG;
use crate::print::{BAR_4_IN_MM, BAR_MM};
use crate::reveal::colour::TOLD_APART;
use crate::store::{EXAMPLE_RECIPES, MOST_BACKUPS, parse_recipe};
use crate::telling::listed;

/// A default in words.
pub(super) fn usual(name: &str) -> Option<String> {
    let (cloth, thread, limits) = (Cloth::default(), Thread::default(), Limits::default());
    let mm = |mm: f64| LengthStyle::MILLIMETRES.format(mm);
    Some(match name {
        "cloth.grams_per_m2" => format!("{} g/m²", neat(cloth.grams_per_m2)),
        "cloth.packing" => neat(cloth.packing),
        "thread.thin_extra_wraps" => thread.thin_extra_wraps.to_string(),
        "limits.shallowest_pleat" => mm(limits.shallowest_pleat_mm),
        "limits.deepest_pleat" => mm(limits.deepest_pleat_mm),
        "limits.thickest_rod" => mm(limits.thickest_rod_mm),
        "limits.all" => all_limits(&limits),
        "told_apart" => neat(TOLD_APART),
        "bar_mm" => mm(BAR_MM),
        "bar_in" => format!("{} in", neat(BAR_4_IN_MM / 25.4)),
        "fusion" => format!("{} kJ/kg", neat(FUSION_KJ_PER_KG)),
        "most_backups" => MOST_BACKUPS.to_string(),
        "recipe.soda" => {
            let recipe = parse_recipe(EXAMPLE_RECIPES[0].text).ok()?;
            format!("{} g/L", neat(recipe.soda_ash.grams_per_litre.value))
        }
        _ => return None,
    })
}

/// Where the program starts to warn, in one sentence's part.
fn all_limits(limits: &Limits) -> String {
    let mm = |mm: f64| LengthStyle::MILLIMETRES.format(mm);
    let all = [
        format!("pleats of {} to {}", mm(limits.shallowest_pleat_mm), mm(limits.deepest_pleat_mm)),
        format!("a rod {} thick", mm(limits.thickest_rod_mm)),
        format!("{} thicknesses of thread between wraps", neat(limits.smallest_gap_threads)),
        format!("{} % of the guide arc on cloth", neat(100.0 * limits.least_guide_share)),
        format!("a colour difference of {}", neat(TOLD_APART)),
    ];
    listed(all, "and")
}
