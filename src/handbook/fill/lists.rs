//! Texts that the program's own tables make: each stands in a page under its name.

use super::figures::{example, plan};
use crate::geometry::{Centring, LineShape, Panels, Progression, Span};
use crate::plan::{CautionContext, Chemistry, Hazard, Region, Step, WorkPlace, cautions};
use crate::store::EXAMPLE_LAYOUTS;
use crate::telling::{capitalised, listed};

/// The keys as the repository lists them; a test of the window holds that list to its table of actions.
const KEYS: &str = include_str!("../../../KEYS.md");

/// A text by its name.
pub(super) fn list(name: &str) -> Option<String> {
    match name {
        "nested" => Some(matching(Centring::Nested)),
        "plain-half" => Some(matching(Centring::PlainHalf)),
        "open" => Some(matching(Centring::Open)),
        "shapes" => Some(capitalised(&listed(LineShape::ALL.map(LineShape::name), "and"))),
        "measured" => measured(),
        "margin" | "ratio-inward" | "ratio-outward" => ratio(name),
        "cautions" => every_caution(),
        "keys" => KEYS.split_once("| on the cloth |").map(|(_, tables)| format!("| on the cloth |{tables}")),
        "layout" => middle_of_layout(),
        _ => None,
    }
}

fn matching(centring: Centring) -> String {
    centring.matching(Panels::Two).to_owned()
}

/// What was measured on the first example's garment.
fn measured() -> Option<String> {
    let figures = crate::layout::Figures::of(&example("tee-m")?);
    let measured = figures.garment.measures.iter().filter(|measure| measure.status.is_none());
    Some(listed(measured.map(|measure| measure.name.trim_end_matches("_mm").replace('_', " ")), "and"))
}

/// How the first example's gaps tighten.
fn ratio(what: &str) -> Option<String> {
    let layout = example("tee-m")?;
    let binds = &layout.raw().binds;
    let of = |progression: &Progression| match progression {
        Progression::Ratio { ratio, span, .. } => Some((*ratio, *span)),
        _ => None,
    };
    let (inward, outward) = (of(&binds.inward)?, of(&binds.outward)?);
    match (what, inward.1) {
        ("margin", Some(Span::ToEnd { leave_mm })) => Some(crate::measure::LengthStyle::MILLIMETRES.format(leave_mm)),
        ("ratio-inward", _) => inward.0.map(crate::measure::neat),
        ("ratio-outward", _) => outward.0.map(crate::measure::neat),
        _ => None,
    }
}

/// The fold and the binds of the first example, as its file has them.
fn middle_of_layout() -> Option<String> {
    let text = EXAMPLE_LAYOUTS[0].text;
    let (_, rest) = text.split_once("    fold: ")?;
    let (middle, _) = rest.split_once("    process: ")?;
    Some(format!("```ron\nfold: {}\n```", middle.trim_end().replace("\n    ", "\n")))
}

/// Every caution, each under a heading that its hazard names: those of the first example's plan, the gravest first, then those of what it
/// does not use.
fn every_caution() -> Option<String> {
    let plan = plan()?;
    let of_plan = plan.cautions().into_iter().map(|told| told.caution.clone());
    let context = CautionContext {
        agent: None,
        bath: None,
        after_discharge: false,
        rinsed_once: false,
        in_alkali: false,
        place: WorkPlace::Outdoors,
        region: Region::Europe,
    };
    let others = [Chemistry::Acid, Chemistry::Bleach].map(|chemistry| Step { chemistry, ..Step::new(String::new()) });
    let others = others
        .into_iter()
        .flat_map(|step| cautions(&step, &context))
        .filter(|caution| matches!(caution.hazard, Hazard::Acid | Hazard::Bleach));
    let mut told = String::new();
    for caution in of_plan.chain(others) {
        let name = serde_json::to_value(caution.hazard).ok()?.as_str()?.replace('_', "-");
        let mark = capitalised(caution.hazard.mark()?);
        told.push_str(&format!("### {mark} {{ #{name} }}\n\n{}\n\nSource: {}.\n\n", caution.text, caution.source));
    }
    Some(told)
}
