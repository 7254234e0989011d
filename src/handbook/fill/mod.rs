//! What a page's source leaves to the program: names between double braces, put in as it computes them.
//!
//! `{{tee-m burst.pleats}}` is a figure of an example layout, by its name without `harbour-row-` and its path in `figures --json`;
//! `{{plan loads.0.soak.water}}` one of the plan of the first example; `{{usual cloth.packing}}` a default; `{{list keys}}` and
//! `{{table measures}}` are texts that a table of the program makes.

mod defaults;
mod figures;
mod lists;
mod tables;

pub(super) use figures::example;

/// A text with its names filled in. What is not known stays as it is; a test finds it.
pub(super) fn filled(text: &str) -> String {
    let mut parts = text.split("{{");
    let mut filled = parts.next().unwrap_or_default().to_owned();
    for part in parts {
        match part.split_once("}}").and_then(|(name, rest)| Some((value(name)?, rest))) {
            Some((value, rest)) => filled.extend([value.as_str(), rest]),
            None => filled.extend(["{{", part]),
        }
    }
    filled
}

/// What stands for a name.
fn value(name: &str) -> Option<String> {
    let (source, path) = name.split_once(' ')?;
    match source {
        "usual" => defaults::usual(path),
        "list" => lists::list(path),
        "table" => tables::table(path),
        "plan" => figures::of_plan(path),
        "order" => figures::of_order(path),
        example => figures::of_layout(example, path),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layout::Figures;
    use crate::store::{EXAMPLE_LAYOUTS, parse_layout};

    #[test]
    fn names_are_filled_in_and_unknown_ones_left() {
        let figures = Figures::of(&parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap());
        let expected = format!("{} of {{{{tee-m burst.plaits}}}}, {{{{open", figures.burst.unwrap().pleats);
        assert_eq!(filled("{{tee-m burst.pleats}} of {{tee-m burst.plaits}}, {{open"), expected);
        assert_eq!(filled("{{tee-m binds.count}}"), figures.binds.len().to_string());
    }

    /// Every form of number is written as the job card writes it.
    #[test]
    fn numbers_are_written_with_their_units() {
        let tee = |path: &str| filled(&format!("{{{{tee-m {path}}}}}"));
        assert_eq!(tee("burst.guide_radius_mm"), "230 mm");
        assert_eq!(tee("thread_mm"), "9.555 m");
        assert_eq!(tee("burst.whole_ring_to_mm.back"), "256 mm");
        assert_eq!(tee("garment.measures.half_chest_mm.now_mm"), "512 mm");
        assert_eq!(tee("garment.size"), "M");
        assert_eq!(filled("{{plan loads.0.discharge.heat.water}}"), "98 °C");
    }
}
