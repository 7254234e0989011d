//! What is weighed, poured and bought.

use crate::app::heading::heading;
use crate::app::theme::Palette;
use crate::plan::{Amount, DEFER, LineCostWords, Load, Plan, WEIGH_IF_YOU_CAN, blanks_unpriced, packs_unknown, short};
use crate::telling::{Voice, Warned as _};
use egui::{Grid, Label, RichText, ScrollArea, Ui};

/// Everything to weigh out, with its formulas if asked for.
pub(super) fn show(plan: &Plan, formulas: bool, voice: Voice, ui: &mut Ui) {
    let palette = Palette::of(ui.ctx());
    for warning in &plan.warnings {
        ui.add(wrapped(RichText::new(warning.say(voice)).color(palette.warn)));
    }
    for (number, line) in plan.lines.iter().enumerate() {
        let each = if line.count == 1 { "For".to_owned() } else { format!("For each of {} ×", line.count) };
        heading(ui, &format!("{each} {}, {} g of dry cloth", line.name, short(line.each.dry_g)));
        table(
            ui,
            // Two lines may be of one design and size.
            &format!("each {number}"),
            |rows| {
                for dye in &line.each.dyes {
                    let mixing = dye.mixing().map_or_else(String::new, |mixing| format!("; {mixing}"));
                    let about = format!("for {} g of cloth, {}{mixing}", short(dye.cloth_g), dye.depth);
                    rows.amount(&format!("dye, {}", dye.colour), &dye.dye, &about);
                }
                if line.each.soda_strewn.value > 0.0 {
                    rows.amount("soda ash", &line.each.soda_strewn, "sprinkled over the powder");
                }
                for (number, ice) in (1..).zip(&line.each.ice) {
                    let about = format!("over {}; melts in about {} in still air", ice.over(), ice.melts_in);
                    rows.amount(&format!("ice, layer {number}"), &ice.ice, &about);
                }
                for solution in &line.each.solutions {
                    let urea =
                        if solution.urea.value > 0.0 { format!(", {} of urea in it", solution.urea) } else { String::new() };
                    let about = format!("{} g/L{urea}", short(solution.grams_per_l));
                    rows.amount(&format!("solution, {}", solution.colour), &solution.volume, &about);
                }
                if line.each.thread.value > 0.0 {
                    rows.amount("thread", &line.each.thread, "tails included");
                }
                rows.amount(line.work.work.fold_words().tied, &line.each.dry_rod, "about, when dry inside");
            },
            formulas,
        );
    }
    for load in &plan.loads {
        heading(ui, &format!("Load {}: {}", load.number, items(plan, load)));
        table(ui, &format!("load {}", load.number), |rows| baths(load, plan, rows), formulas);
    }
    if plan.has_kitchen_measures() {
        ui.label(RichText::new(WEIGH_IF_YOU_CAN).weak());
    }
    shopping(plan, ui);
    costs(plan, ui);
}

fn items(plan: &Plan, load: &Load) -> String {
    let item = |item: &crate::plan::LoadItem| {
        let name = plan.lines.get(item.line).map_or("", |line| line.name.as_str());
        format!("{} × {name}", item.count)
    };
    load.items.iter().map(item).collect::<Vec<_>>().join(", ")
}

/// The baths of a load; its dyes only where they are those of several garments.
fn baths(load: &Load, plan: &Plan, rows: &mut Rows<'_>) {
    if let Some(bath) = &load.discharge {
        rows.amount(
            "water",
            &bath.water,
            &format!("discharge, {} deep with the rods in it", plan.lengths.format(bath.depth.value.round())),
        );
        if let Some(soda) = &bath.soda_ash {
            rows.amount("soda ash", soda, "dissolved in the cold water");
        }
        rows.amount(bath.agent.name(), &bath.mass, "then, in small lots");
        rows.amount("heating", &bath.heat.heating, &format!("to {}", bath.heat.water));
        rows.amount("with the rods in", &bath.heat.with_goods, &format!("the agent works at {}", bath.heat.works));
        rows.amount("at the end", &bath.heat.at_end, "");
    }
    if let Some(soak) = &load.soak {
        rows.amount("soda ash", &soak.soda_ash, "soda ash soak");
        rows.amount("water", &soak.water, "");
        if let Some(ph) = &soak.ph {
            rows.amount("alkalinity", ph, "at 25 °C");
        }
    }
    for (colour, amount) in load.dyes.iter().filter(|_| plan.garments > 1) {
        rows.amount(&format!("dye, {colour}"), amount, "all garments together");
    }
}

/// Rows of amounts, in a grid where there is room for one.
struct Rows<'a> {
    ui: &'a mut Ui,
    formulas: bool,
    /// Whether there is no room for columns: what is said of an amount stands below it.
    narrow: bool,
}

impl Rows<'_> {
    fn amount(&mut self, name: &str, amount: &Amount, about: &str) {
        let ui = &mut *self.ui;
        let value = RichText::new(amount.to_string()).strong().size(17.0);
        let rough = amount.kitchen.map_or_else(String::new, |kitchen| format!(", {kitchen}"));
        let about = wrapped(RichText::new(format!("{about}{rough}")).weak());
        if self.narrow {
            ui.horizontal_wrapped(|ui| {
                ui.label(name);
                ui.label(value);
            });
            ui.add(about).on_hover_text(formula(amount));
            if self.formulas {
                ui.add(wrapped(RichText::new(formula(amount)).weak().small()));
            }
            ui.add_space(4.0);
            return;
        }
        ui.label(name);
        ui.label(value);
        ui.add(about).on_hover_text(formula(amount));
        ui.end_row();
        if self.formulas {
            ui.label("");
            ui.label("");
            ui.add(wrapped(RichText::new(formula(amount)).weak().small()));
            ui.end_row();
        }
    }
}

/// A grid's words run on past the edge unless they are told to go on below.
fn wrapped(words: RichText) -> Label {
    Label::new(words).wrap()
}

fn formula(amount: &Amount) -> String {
    format!("{} = {}  [{}]", amount, amount.formula, amount.status)
}

/// Room below which amounts are no table, points: two columns of it would leave the third no words to a line.
const NARROW: f32 = 440.0;

fn table(ui: &mut Ui, id: &str, fill: impl FnOnce(&mut Rows<'_>), formulas: bool) {
    let narrow = ui.available_width() < NARROW;
    let fill = |ui: &mut Ui| fill(&mut Rows { ui, formulas, narrow });
    if narrow {
        return drop(ui.scope(fill));
    }
    ScrollArea::horizontal()
        .id_salt(id)
        .show(ui, |ui| Grid::new(id).num_columns(3).striped(true).min_col_width(110.0).show(ui, fill));
}

fn shopping(plan: &Plan, ui: &mut Ui) {
    heading(ui, "Shopping list");
    let currency = &plan.currency;
    let rows = |ui: &mut Ui| {
        for head in ["", "Needed", "In stock", "To buy"] {
            ui.label(RichText::new(head).weak().small());
        }
        ui.end_row();
        for line in &plan.shopping {
            ui.label(line.material.to_string());
            ui.label(line.needed.to_string());
            ui.label(line.needed.unit.say(line.on_hand));
            ui.label(to_buy(line, currency));
            ui.end_row();
        }
        for blank in &plan.blanks {
            ui.label(&blank.name);
            ui.label(blank.needed.to_string());
            ui.label(blank.on_hand.to_string());
            ui.label(blank.to_buy(currency));
            ui.end_row();
        }
    };
    let grid = Grid::new("shopping").num_columns(4).striped(true).min_col_width(90.0);
    ScrollArea::horizontal().id_salt("shopping").show(ui, |ui| grid.show(ui, rows));
    for line in &plan.shopping {
        if let Some(uses) = line.uses_words() {
            let words = format!("{}, {}: {uses}", crate::telling::capitalised(&line.material.to_string()), line.needed);
            ui.add(wrapped(RichText::new(words).weak()));
        }
    }
    if let Some(words) = plan.shopping_total() {
        ui.label(RichText::new(format!("Total: {words}")).strong());
    }
    for words in packs_unknown(&plan.shopping).into_iter().chain(blanks_unpriced(&plan.blanks)) {
        ui.add(wrapped(RichText::new(words).weak()));
    }
}

fn to_buy(line: &crate::plan::ShoppingLine, currency: &str) -> String {
    let words = line.to_buy_words().unwrap_or_else(|| "nothing".to_owned());
    line.price.filter(|_| line.missing > 0.0).map_or_else(|| words.clone(), |price| format!("{words}, {price:.2} {currency}"))
}

fn costs(plan: &Plan, ui: &mut Ui) {
    let Some(costs) = &plan.costs else { return };
    heading(ui, &format!("One garment in {}", costs.currency));
    let rows = |ui: &mut Ui| {
        for head in ["", "Garment", "Materials", "Labour", "Cost", "Asking price"] {
            ui.label(RichText::new(head).weak().small());
        }
        ui.end_row();
        for line in &costs.lines {
            ui.label(&line.name).on_hover_text(&line.formula);
            let LineCostWords { blank, materials, labour, cost, price } = line.words();
            for words in [blank, materials, labour, cost, price] {
                ui.label(words);
            }
            ui.end_row();
        }
    };
    ScrollArea::horizontal().id_salt("costs").show(ui, |ui| Grid::new("costs").num_columns(6).striped(true).show(ui, rows));
    ui.add(wrapped(RichText::new(costs.total_words())));
    if let Some(words) = costs.not_counted() {
        ui.add(wrapped(RichText::new(words).color(Palette::of(ui.ctx()).warn)));
    }
}

/// Every caution once, with the steps it belongs to, and who says so.
pub(super) fn cautions(plan: &Plan, ui: &mut Ui) {
    let palette = Palette::of(ui.ctx());
    ui.label(RichText::new(DEFER).strong());
    ui.add_space(6.0);
    for told in plan.cautions() {
        ui.label(RichText::new(&told.caution.text).size(16.5).color(palette.warn));
        ui.label(RichText::new(format!("At: {}. Source: {}.", told.steps.join(", "), told.caution.source)).weak());
        ui.add_space(8.0);
    }
}
