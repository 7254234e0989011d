//! A recipe in the window: every figure with its unit, its range and where it comes from.

use super::editor::Editor;
use super::figure_words::{label, unit};
use crate::app::context::Ask;
use crate::app::field::{self, choice};
use crate::app::heading::heading;
use crate::geometry::SourceStatus;
use crate::plan::{
    BathVolume, CureRule, DischargeAgent, DischargeRule, DyeClass, Figure, IceLayer, IceRule, Recipe, ShadeDepth, SolutionRule,
    Sourced, Temperature,
};
use crate::telling::Voice;
use egui::{Label, RichText, Ui};

/// Figures of the recipe's parts, by the beginnings of their fields.
const DYE: &str = "dye.";
const SODA: &str = "soda_ash.";
const DISCHARGE: &str = "discharge.";
const ICE: &str = "ice.";
const SOLUTION: &str = "solution.";
const CURE: &str = "cure.";

const SHADES: [ShadeDepth; 4] = [ShadeDepth::Pale, ShadeDepth::Medium, ShadeDepth::Full, ShadeDepth::VeryDeep];

/// A figure that the maker gave, in place of another.
fn own(value: f64, before: &Sourced) -> Sourced {
    const CHANGED: &str = "your own figure, was ";
    let source = if before.source.starts_with(CHANGED) {
        before.source.clone()
    } else {
        format!("{CHANGED}{}", crate::measure::neat(before.value))
    };
    Sourced { value, status: SourceStatus::Memory, source }
}

impl Editor<Recipe> {
    /// The recipe, to be changed.
    pub(super) fn show(&mut self, voice: Voice, asks: &mut Vec<Ask>, ui: &mut Ui) {
        self.head(asks, ui);
        let recipe = self.work.now().clone();
        if let Some(name) = field::wide_words(ui, "Recipe name", &recipe.name) {
            self.attempt("the name", voice, ui, |recipe| recipe.name = name);
        }
        if let Some(note) = field::lines(ui, "Recipe note", &recipe.note) {
            self.attempt("the note", voice, ui, |recipe| recipe.note = note);
        }
        heading(ui, "Dye");
        if let Some(class) = choice(ui, "Dye class", recipe.dye.class, &DyeClass::ALL, |class| class.name().to_owned()) {
            self.attempt("the dye class", voice, ui, |recipe| recipe.dye.class = class);
        }
        if let Some(shade) = choice(ui, "Usual shade", recipe.dye.usual_depth, &SHADES, |shade| shade.to_string()) {
            self.attempt("the usual shade", voice, ui, |recipe| recipe.dye.usual_depth = shade);
        }
        self.figures(DYE, voice, ui);
        self.shades(&recipe, voice, ui);
        heading(ui, "Soda ash");
        self.soak(&recipe, voice, ui);
        self.figures(SODA, voice, ui);
        heading(ui, "Discharge");
        self.discharge(&recipe, voice, ui);
        heading(ui, "Ice");
        self.ice(&recipe, voice, ui);
        heading(ui, "Solution by hand");
        self.part("Own solution figures", recipe.solution.is_some(), voice, ui, |recipe, on| {
            recipe.solution = on.then(SolutionRule::default);
        });
        self.figures(SOLUTION, voice, ui);
        heading(ui, "Cure");
        self.part("Own cure time", recipe.cure.is_some(), voice, ui, |recipe, on| {
            recipe.cure = on.then(|| CureRule::usual(recipe.dye.class));
        });
        self.figures(CURE, voice, ui);
    }

    /// The figures of a part, each with its range and source.
    fn figures(&mut self, part: &str, voice: Voice, ui: &mut Ui) {
        let recipe = self.work.now().clone();
        let own_of = |(_, figure): &(usize, Figure<&Sourced>)| figure.field.to_string().starts_with(part);
        for (index, Figure { field, figure, least, most }) in recipe.figures().into_iter().enumerate().filter(own_of) {
            let label = label(&field);
            if let Some(value) = field::number(ui, &label, figure.value) {
                self.attempt(&label, voice, ui, |recipe| set(recipe, index, |figure| *figure = own(value, figure)));
            }
            let number = crate::measure::neat;
            let source = if figure.source.is_empty() { String::new() } else { format!(": {}", figure.source) };
            let words = format!("{} to {} {}; {}{source}", number(least), number(most), unit(&field), figure.status);
            let response = ui.add(Label::new(RichText::new(words).weak().small()).wrap());
            let id = response.id.with("source");
            egui::CollapsingHeader::new(RichText::new(format!("Source of {label}")).small()).id_salt(id).show(ui, |ui| {
                let all = [SourceStatus::Published, SourceStatus::Computed, SourceStatus::Practice, SourceStatus::Memory];
                if let Some(status) = choice(ui, &format!("Status, {label}"), figure.status, &all, |one| one.to_string()) {
                    self.attempt(&label, voice, ui, |recipe| set(recipe, index, |figure| figure.status = status));
                }
                if let Some(source) = field::wide_words(ui, &format!("Source, {label}"), &figure.source) {
                    self.attempt(&label, voice, ui, |recipe| set(recipe, index, |figure| figure.source = source));
                }
            });
        }
    }

    /// A part that need not be there.
    fn part(&mut self, label: &str, is_there: bool, voice: Voice, ui: &mut Ui, change: impl FnOnce(&mut Recipe, bool)) {
        let mut on = is_there;
        if ui.checkbox(&mut on, label).changed() {
            self.attempt(label, voice, ui, |recipe| change(recipe, on));
        }
    }

    /// Shades of single colours.
    fn shades(&mut self, recipe: &Recipe, voice: Voice, ui: &mut Ui) {
        for (colour, &shade) in &recipe.dye.depths {
            let label = format!("Shade of {colour}");
            let shades: Vec<Option<ShadeDepth>> = SHADES.into_iter().map(Some).chain([None]).collect();
            let words = |shade: Option<ShadeDepth>| shade.map_or_else(|| "as usual".to_owned(), |shade| shade.to_string());
            if let Some(shade) = choice(ui, &label, Some(shade), &shades, words) {
                self.attempt(&label, voice, ui, |recipe| {
                    match shade {
                        Some(shade) => recipe.dye.depths.insert(colour.clone(), shade),
                        None => recipe.dye.depths.remove(colour),
                    };
                });
            }
        }
        if let Some(colour) = field::read(ui, "Shade for colour", "", |text| Ok(text.trim().to_owned())) {
            let usual = recipe.dye.usual_depth;
            self.attempt("a colour's shade", voice, ui, |recipe| {
                recipe.dye.depths.insert(colour, usual);
            });
        }
    }

    fn soak(&mut self, recipe: &Recipe, voice: Voice, ui: &mut Ui) {
        let is_tub = matches!(recipe.soda_ash.bath, BathVolume::Tub { .. });
        let words = |tub: bool| if tub { "the same for any load" } else { "by the cloth" }.to_owned();
        if let Some(tub) = choice(ui, "Water of the soak", is_tub, &[false, true], words) {
            self.attempt("the soak's water", voice, ui, |recipe| {
                recipe.soda_ash.bath = if tub {
                    BathVolume::Tub { litres: unverified(USUAL_TUB_L) }
                } else {
                    BathVolume::Liquor { litres_per_kg: unverified(USUAL_LIQUOR_L_PER_KG) }
                };
            });
        }
    }

    fn discharge(&mut self, recipe: &Recipe, voice: Voice, ui: &mut Ui) {
        self.part("With a discharge", recipe.discharge.is_some(), voice, ui, |recipe, on| {
            recipe.discharge = on.then(usual_discharge);
        });
        let Some(rule) = &recipe.discharge else { return };
        let agents = DischargeAgent::ALL;
        if let Some(agent) = choice(ui, "Discharge agent", rule.agent, &agents, |agent| agent.name().to_owned()) {
            self.discharge_rule("the agent", voice, ui, |rule| rule.agent = agent);
        }
        self.figures(DISCHARGE, voice, ui);
        self.part("Soda ash in the bath", rule.soda_ash_g_per_l.is_some(), voice, ui, |recipe, on| {
            with_discharge(recipe, |rule| rule.soda_ash_g_per_l = on.then(|| unverified(USUAL_BATH_SODA_G_PER_L)));
        });
        self.part("Product is not all agent", rule.strength_percent.is_some(), voice, ui, |recipe, on| {
            with_discharge(recipe, |rule| rule.strength_percent = on.then(|| unverified(100.0)));
        });
        let used = rule.used();
        self.part("Own working range", rule.works.is_some(), voice, ui, |recipe, on| {
            with_discharge(recipe, |rule| rule.works = on.then_some(used.works));
        });
        if let Some(works) = rule.works {
            for (label, value, change) in [
                ("Works from, °C", works.from_c, (|range, to| range.from_c = to) as fn(&mut Temperature, f64)),
                ("Works to, °C", works.to_c, |range, to| range.to_c = to),
            ] {
                if let Some(value) = field::number(ui, label, value) {
                    self.discharge_rule(label, voice, ui, |rule| rule.works.iter_mut().for_each(|range| change(range, value)));
                }
            }
        }
        self.part("Own time in the bath", rule.minutes.is_some(), voice, ui, |recipe, on| {
            with_discharge(recipe, |rule| rule.minutes = on.then_some((used.least_min, used.most_min)));
        });
        if let Some((least, most)) = rule.minutes {
            if let Some(least) = field::count(ui, "Least in the bath, min", least) {
                self.discharge_rule("the least time", voice, ui, |rule| rule.minutes = Some((least, most)));
            }
            if let Some(most) = field::count(ui, "Most in the bath, min", most) {
                self.discharge_rule("the most time", voice, ui, |rule| rule.minutes = Some((least, most)));
            }
        }
        if let Some(after) = field::count(ui, "Bath spent after, min", rule.renew_after_min) {
            self.discharge_rule("when the bath is spent", voice, ui, |rule| rule.renew_after_min = after);
        }
    }

    fn discharge_rule(&mut self, what: &str, voice: Voice, ui: &Ui, change: impl FnOnce(&mut DischargeRule)) {
        self.attempt(what, voice, ui, |recipe| with_discharge(recipe, change));
    }

    fn ice(&mut self, recipe: &Recipe, voice: Voice, ui: &mut Ui) {
        self.part("With ice", recipe.ice.is_some(), voice, ui, |recipe, on| recipe.ice = on.then(usual_ice));
        let Some(ice) = &recipe.ice else { return };
        for (index, layer) in ice.layers.iter().enumerate() {
            let is_water = matches!(layer, IceLayer::Water { .. });
            let words = |water: bool| if water { "by its water" } else { "by its depth" }.to_owned();
            if let Some(water) = choice(ui, &format!("Layer {}, measured", index + 1), is_water, &[false, true], words) {
                self.attempt("how a layer is measured", voice, ui, |recipe| {
                    with_layers(recipe, |layers| layers[index] = if water { usual_water() } else { usual_layer() });
                });
            }
        }
        ui.horizontal_wrapped(|ui| {
            if ui.button("Add a layer of ice").clicked() {
                self.attempt("a layer of ice", voice, ui, |recipe| with_layers(recipe, |layers| layers.push(usual_layer())));
            }
            if ice.layers.len() > 1 && ui.button("Remove the last layer").clicked() {
                self.attempt("a layer of ice", voice, ui, |recipe| with_layers(recipe, |layers| drop(layers.pop())));
            }
        });
        self.part("Own air over the ice", ice.room_c.is_some(), voice, ui, |recipe, on| {
            recipe.ice.iter_mut().for_each(|ice| ice.room_c = on.then(|| unverified(20.0)));
        });
        self.figures(ICE, voice, ui);
    }
}

fn set(recipe: &mut Recipe, index: usize, change: impl FnOnce(&mut Sourced)) {
    if let Some(figure) = recipe.figures_mut().into_iter().nth(index) {
        change(figure.figure);
    }
}

fn with_discharge(recipe: &mut Recipe, change: impl FnOnce(&mut DischargeRule)) {
    if let Some(rule) = &mut recipe.discharge {
        change(rule);
    }
}

fn with_layers(recipe: &mut Recipe, change: impl FnOnce(&mut Vec<IceLayer>)) {
    if let Some(ice) = &mut recipe.ice {
        change(&mut ice.layers);
    }
}

fn unverified(value: f64) -> Sourced {
    Sourced::new(value, SourceStatus::Memory)
}

/// Figures that a part begins with when it is added, as in the recipes that come with the program (common practice, no source; to be
/// measured or looked up).
const USUAL_TUB_L: f64 = 10.0;
const USUAL_LIQUOR_L_PER_KG: f64 = 10.0;
const USUAL_BATH_SODA_G_PER_L: f64 = 2.5;

fn usual_discharge() -> DischargeRule {
    DischargeRule {
        agent: DischargeAgent::ThioureaDioxide,
        percent: unverified(2.0),
        litres_per_kg: unverified(16.0),
        soda_ash_g_per_l: Some(unverified(USUAL_BATH_SODA_G_PER_L)),
        strength_percent: None,
        works: None,
        minutes: None,
        renew_after_min: 20,
    }
}

fn usual_layer() -> IceLayer {
    IceLayer::Depth { depth_mm: unverified(60.0) }
}

fn usual_water() -> IceLayer {
    IceLayer::Water { grams_per_gram: unverified(3.0) }
}

fn usual_ice() -> IceRule {
    IceRule {
        layers: vec![usual_layer()],
        margin_mm: unverified(30.0),
        packing: unverified(0.6),
        room_c: None,
        transfer_w_per_m2_k: unverified(20.0),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::store::{EXAMPLE_RECIPES, parse_recipe};

    /// Every figure of every recipe has words of its own and a unit, so that no two fields of the window are alike.
    #[test]
    fn every_figure_has_its_words() {
        for example in EXAMPLE_RECIPES {
            let mut recipe = parse_recipe(example.text).unwrap();
            recipe.solution.get_or_insert_default();
            recipe.ice.get_or_insert_with(usual_ice).layers = vec![usual_layer(), usual_water()];
            recipe.discharge.get_or_insert_with(usual_discharge);
            recipe.check().unwrap();
            let mut labels: Vec<String> = recipe.figures().iter().map(|figure| label(&figure.field)).collect();
            let count = labels.len();
            labels.sort_unstable();
            labels.dedup();
            assert_eq!(labels.len(), count, "{labels:?}");
            for figure in recipe.figures() {
                let is_bare = unit(&figure.field) == "times";
                assert_eq!(is_bare, figure.field == "dye.method_factor", "{}", figure.field);
            }
        }
    }

    /// Where a figure came from is not lost when it is changed, and not told of another value.
    #[test]
    fn a_changed_figure_is_the_makers_own() {
        let before = Sourced { value: 4.0, status: SourceStatus::Published, source: "a handbook".to_owned() };
        let once = own(5.0, &before);
        assert_eq!((once.status, once.source.as_str()), (SourceStatus::Memory, "your own figure, was 4"));
        assert_eq!(own(6.0, &once).source, "your own figure, was 4");
    }
}
