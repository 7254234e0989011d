//! The plan as plain text: to read, print or pin to the wall.

use super::{
    DECAHYDRATE_PER_SODA_ASH, Entry, IceMass, LineCostWords, LinePlan, Load, Plan, PlanCaution, Untimely, WEIGH_IF_YOU_CAN,
    blanks_unpriced, packs_unknown, short, work_time,
};
use crate::measure::{counted, unbroken};
use crate::telling::{Names, Voice, Warned as _};
use jiff::civil::{Date, DateTime};
use std::fmt::{self, Write};

/// Widest line, characters: fits a sheet of A4 in type to be read at arm's length.
const WIDTH: usize = 96;

/// The plan in words. With `formulas`, every amount is followed by the formula that led to it and how far that can be trusted.
#[must_use]
pub fn plan_text(plan: &Plan, formulas: bool) -> String {
    let mut page = Page { text: String::new(), formulas };
    // Writing to a string does not fail.
    let _written = page.plan(plan);
    page.text
}

struct Page {
    text: String,
    formulas: bool,
}

impl Page {
    fn plan(&mut self, plan: &Plan) -> fmt::Result {
        self.head(plan)?;
        self.conflicts(plan)?;
        self.warnings(plan)?;
        self.each(plan)?;
        self.loads(plan)?;
        self.shopping(plan)?;
        self.costs(plan)?;
        self.cautions(plan)?;
        self.limits(plan)?;
        self.steps(plan)?;
        self.timetable(plan)
    }

    fn head(&mut self, plan: &Plan) -> fmt::Result {
        let times = &plan.timeline;
        writeln!(self.text, "{}\n{}", plan.name, "=".repeat(plan.name.chars().count()))?;
        for sentence in plan.untimely.iter().flat_map(Untimely::sentences) {
            self.wrapped("! ", &sentence)?;
        }
        let loads = counted(plan.loads.len(), "load");
        let garments = counted(plan.garments, "garment");
        let dry_g = plan.totals.dry_g;
        let cloth = if dry_g < 1000.0 { format!("{} g", short(dry_g)) } else { format!("{} kg", short(dry_g / 1000.0)) };
        writeln!(self.text, "{garments}, {cloth} of dry cloth, in {loads}. Recipe: {}.", plan.recipe)?;
        writeln!(
            self.text,
            "From {} to {}, {} of it hands-on.",
            day_time(times.begins),
            day_time(times.ends),
            work_time(times.hands_min)
        )?;
        let known = if times.optimal { "No timetable from this start ends earlier." } else { "Good, but not proven shortest." };
        writeln!(self.text, "{known}")?;
        for change in &times.clock_changes {
            self.wrapped("", &format!("Clock change: {}. Waits allow for it.", change.sentence()))?;
        }
        if plan.loads.iter().any(|load| load.discharge.is_some()) {
            self.wrapped("", &format!("Discharge {}, nowhere else, in {}.", plan.place, plan.vessel.words(plan.lengths)))?;
        }
        Ok(())
    }

    fn conflicts(&mut self, plan: &Plan) -> fmt::Result {
        for conflict in &plan.timeline.conflicts {
            self.wrapped("CONFLICT: ", &format!("{conflict}."))?;
        }
        Ok(())
    }

    fn warnings(&mut self, plan: &Plan) -> fmt::Result {
        let voice = Voice { lengths: plan.lengths, names: Names::Keys };
        plan.warnings.iter().try_for_each(|warning| self.wrapped("WARNING: ", &warning.say(voice)))
    }

    fn limits(&mut self, plan: &Plan) -> fmt::Result {
        let limits = plan.limits();
        if limits.is_empty() {
            return Ok(());
        }
        self.title("Once you start")?;
        limits.iter().try_for_each(|limit| self.wrapped("- ", &format!("{limit}.")))
    }

    fn title(&mut self, title: &str) -> fmt::Result {
        writeln!(self.text, "\n{title}\n{}", "-".repeat(title.chars().count()))
    }

    fn formula(&mut self, amount: &super::Amount) -> fmt::Result {
        if self.formulas {
            self.wrapped("        = ", &format!("{} [{}]", amount.formula, amount.status))?;
        }
        Ok(())
    }

    fn each(&mut self, plan: &Plan) -> fmt::Result {
        self.title("For one garment")?;
        for line in &plan.lines {
            self.line(line)?;
        }
        Ok(())
    }

    fn line(&mut self, line: &LinePlan) -> fmt::Result {
        let each = &line.each;
        writeln!(self.text, "{} x {}, {} g of dry cloth", line.count, line.name, short(each.dry_g))?;
        for dye in &each.dyes {
            writeln!(
                self.text,
                "    {:<14}{:>9}   for {} g of cloth, {}",
                named(&dye.colour),
                dye.dye.to_string(),
                short(dye.cloth_g),
                dye.depth
            )?;
            self.formula(&dye.dye)?;
            if let Some(mixing) = dye.mixing() {
                self.wrapped("        ", &mixing)?;
            }
        }
        if each.undyed_g > 0.0 {
            writeln!(self.text, "    {:<14}{:>9}   for {} g of cloth", "no dye:", "", short(each.undyed_g))?;
        }
        if each.soda_strewn.value > 0.0 {
            writeln!(
                self.text,
                "    {:<14}{:>9}   sprinkled over the powder{}",
                "soda ash:",
                each.soda_strewn.to_string(),
                kitchen(&each.soda_strewn)
            )?;
            self.formula(&each.soda_strewn)?;
        }
        for (number, ice) in (1..).zip(&each.ice) {
            self.ice(number, ice)?;
        }
        for solution in &each.solutions {
            let urea = if solution.urea.value > 0.0 { format!(", with {} of urea", solution.urea) } else { String::new() };
            let strength = short(solution.grams_per_l);
            writeln!(
                self.text,
                "    {:<14}{:>9}   of solution, {strength} g/L{urea}",
                named(&solution.colour),
                solution.volume.to_string()
            )?;
            self.formula(&solution.volume)?;
        }
        if each.thread.value > 0.0 {
            writeln!(self.text, "    {:<14}{:>9}   tails included", "thread:", each.thread.to_string())?;
            self.formula(&each.thread)?;
        }
        let tied = format!("{}:", line.work.work.fold_words().tied);
        writeln!(self.text, "    {:<14}{:>9}   about, when dry inside: cloth, thread, soda ash", tied, each.dry_rod.to_string())?;
        self.formula(&each.dry_rod)
    }

    fn ice(&mut self, number: u32, ice: &IceMass) -> fmt::Result {
        let layer = format!("ice, layer {number}:");
        let lead = format!("    {layer:<14}{:>9}   ", ice.ice.to_string());
        self.wrapped(&lead, &format!("over {}; takes {} to melt: about {} in still air", ice.over(), ice.heat, ice.melts_in))?;
        self.formula(&ice.ice)?;
        if self.formulas {
            self.formula(&ice.heat)?;
            self.formula(&ice.melts_in)?;
        }
        Ok(())
    }

    fn loads(&mut self, plan: &Plan) -> fmt::Result {
        self.title("Loads: what shares a tub")?;
        for load in &plan.loads {
            self.load(plan, load)?;
        }
        if plan.has_kitchen_measures() {
            writeln!(self.text, "{WEIGH_IF_YOU_CAN}")?;
        }
        Ok(())
    }

    fn load(&mut self, plan: &Plan, load: &Load) -> fmt::Result {
        let items: Vec<String> =
            load.items.iter().map(|item| format!("{} x {}", item.count, plan.lines[item.line].name)).collect();
        self.wrapped(&format!("Load {}: ", load.number), &format!("{}; {} g of dry cloth", items.join(", "), short(load.dry_g)))?;
        if let Some(bath) = &load.discharge {
            self.wrapped("    discharge:      ", &bath.contents(plan.lengths))?;
            self.wrapped("                    ", &bath.heat_words())?;
            bath.amounts().try_for_each(|amount| self.formula(amount))?;
        }
        if let Some(soak) = &load.soak {
            let ph = soak.ph.as_ref().map_or_else(String::new, |ph| format!(", {ph} at 25 °C"));
            let words = format!("{} of soda ash in {} of water{ph}{}", soak.soda_ash, soak.water, kitchen(&soak.soda_ash));
            self.wrapped("    soda ash soak:  ", &words)?;
            self.formula(&soak.soda_ash)?;
            self.formula(&soak.water)?;
            if let Some(ph) = &soak.ph {
                self.formula(ph)?;
            }
            if self.formulas {
                let crystals = short(soak.soda_ash.value * DECAHYDRATE_PER_SODA_ASH);
                let factor = short(DECAHYDRATE_PER_SODA_ASH);
                self.wrapped(
                    "        ",
                    &format!("or {crystals} g of washing soda crystals: {factor} times as much, as they hold water"),
                )?;
            }
        }
        let dyes: Vec<String> = load.dyes.iter().map(|(colour, amount)| format!("{colour}: {amount}")).collect();
        // One garment's dyes stand above already.
        if !dyes.is_empty() && plan.garments > 1 {
            self.wrapped("    dye:            ", &dyes.join("; "))?;
            load.dyes.iter().try_for_each(|(_, amount)| self.formula(amount))?;
        }
        Ok(())
    }

    fn shopping(&mut self, plan: &Plan) -> fmt::Result {
        self.title("Shopping list")?;
        let currency = &plan.currency;
        writeln!(self.text, "{:<20}{:>10}{:>10}  to buy", "", "needed", "in stock")?;
        for line in &plan.shopping {
            let unit = line.needed.unit;
            let price = line.price.filter(|_| !line.packs.is_empty()).map(|price| format!("   {price:.2} {currency}"));
            let buy = line.to_buy_words().map(|words| words + &price.unwrap_or_default());
            let buy = buy.unwrap_or_else(|| "nothing".to_owned());
            let on_hand = unit.say(line.on_hand);
            writeln!(
                self.text,
                "{:<20}{:>10}{on_hand:>10}  {}",
                line.material.to_string(),
                line.needed.to_string(),
                buy.trim_end()
            )?;
            if let Some(uses) = line.uses_words() {
                self.wrapped("    ", &uses)?;
            }
            self.formula(&line.needed)?;
        }
        for blank in &plan.blanks {
            let (needed, on_hand) = (blank.needed, blank.on_hand);
            writeln!(self.text, "{:<20}{needed:>10}{on_hand:>10}  {}", blank.name, blank.to_buy(currency))?;
        }
        for words in packs_unknown(&plan.shopping).into_iter().chain(blanks_unpriced(&plan.blanks)) {
            self.wrapped("", &words)?;
        }
        if let Some(total) = plan.shopping_total() {
            writeln!(self.text, "{:<20}{:>20}  {total}", "total", "")?;
        }
        Ok(())
    }

    fn costs(&mut self, plan: &Plan) -> fmt::Result {
        let Some(costs) = &plan.costs else { return Ok(()) };
        self.title(&format!("Costs of one garment, {}", costs.currency))?;
        writeln!(
            self.text,
            "{:<28}{:>10}{:>11}{:>9}{:>9}{:>9}{:>9}",
            "", "garment", "materials", "hours", "labour", "cost", "price"
        )?;
        for line in &costs.lines {
            let LineCostWords { blank, materials, labour, cost, price } = line.words();
            let (name, hours) = (&line.name, line.labour_h);
            writeln!(self.text, "{name:<28}{blank:>10}{materials:>11}{hours:>9.2}{labour:>9}{cost:>9}{price:>9}")?;
            if self.formulas {
                self.wrapped("        = ", &line.formula)?;
            }
        }
        self.wrapped("", &costs.total_words())?;
        if let Some(words) = costs.not_counted() {
            self.wrapped("", &words)?;
        }
        Ok(())
    }

    /// What each step is, once, in the order in which the day comes to it.
    fn steps(&mut self, plan: &Plan) -> fmt::Result {
        self.title("The steps")?;
        let steps = plan.steps();
        for (turn, told) in steps.iter().enumerate() {
            if steps.iter().any(|other| other.process != told.process) && (turn == 0 || steps[turn - 1].process != told.process) {
                writeln!(self.text, "{}{}:", if turn == 0 { "" } else { "\n" }, plan.processes[told.process])?;
            }
            self.wrapped(&format!("{:<18}", told.step), &told.what)?;
        }
        Ok(())
    }

    fn timetable(&mut self, plan: &Plan) -> fmt::Result {
        self.title("Timetable, local clock time")?;
        let mut rows: Vec<(DateTime, usize, &Entry)> = Vec::new();
        for entry in &plan.timeline.entries {
            rows.extend(entry.stretches.iter().enumerate().map(|(index, stretch)| (stretch.from, index, entry)));
        }
        rows.sort_by_key(|row| row.0);
        let mut day: Option<Date> = None;
        for (from, index, entry) in rows {
            if day != Some(from.date()) {
                day = Some(from.date());
                writeln!(self.text, "\n{}", from.strftime("%A %-d %B %Y"))?;
            }
            self.entry(entry, index)?;
        }
        writeln!(self.text, "\nEnds {}.", day_time(plan.timeline.ends))
    }

    fn entry(&mut self, entry: &Entry, index: usize) -> fmt::Result {
        let stretch = entry.stretches[index];
        let load = entry.load.map_or_else(|| "once".to_owned(), |load| format!("load {load}"));
        let load = format!("{load} ({})", entry.garments);
        let many = entry.stretches.len();
        let part = if many > 1 { format!(" ({} of {many})", index + 1) } else { String::new() };
        let place = entry.place.map_or_else(String::new, |place| format!(", {place}"));
        let temperature = entry.temperature.map_or_else(String::new, |range| format!(", {range}"));
        let (from, to) = (stretch.from.strftime("%H:%M"), stretch.to.strftime("%H:%M"));
        writeln!(self.text, "[ ] {from}-{to}  {load:<11} {}{part}{place}{temperature}", entry.title)?;
        if let Some(marks) = entry.marks().filter(|_| index == 0) {
            self.wrapped("                          ! ", &marks)?;
        }
        for needs in entry.needs_words().iter().filter(|_| index == 0) {
            self.wrapped("                          ", needs)?;
        }
        if index + 1 == many
            && let Some(wait) = entry.wait_words()
        {
            self.wrapped("                          ", &wait)?;
        }
        Ok(())
    }

    /// Each caution once, in full, the gravest first; the deferring one last.
    fn cautions(&mut self, plan: &Plan) -> fmt::Result {
        let told = plan.cautions();
        if told.is_empty() {
            return Ok(());
        }
        self.title("Cautions")?;
        for PlanCaution { caution, steps } in told {
            self.wrapped("! ", &format!("{} At: {}. [{}]", caution.text, steps.join(", "), caution.source))?;
        }
        self.wrapped("", super::DEFER)
    }

    /// A paragraph after a lead of its own breadth, its further lines set in under the first.
    fn wrapped(&mut self, lead: &str, text: &str) -> fmt::Result {
        let indent = " ".repeat(lead.chars().count());
        let mut line = lead.to_owned();
        let mut empty = true;
        for word in unbroken(text) {
            if !empty && line.chars().count() + 1 + word.chars().count() > WIDTH {
                writeln!(self.text, "{}", line.trim_end())?;
                line.clone_from(&indent);
                empty = true;
            }
            if !empty {
                line.push(' ');
            }
            line.push_str(word);
            empty = false;
        }
        writeln!(self.text, "{}", line.trim_end())
    }
}

fn kitchen(amount: &super::Amount) -> String {
    amount.kitchen.map_or_else(String::new, |kitchen| format!(" ({kitchen})"))
}

/// A name with the colon that stands between it and its amount.
fn named(name: &str) -> String {
    format!("{name}:")
}

fn day_time(time: DateTime) -> String {
    time.strftime("%A %-d %B %Y, %H:%M").to_string()
}
