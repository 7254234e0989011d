//! What to weigh: dye, soda ash, discharge agent, water, ice and thread, from the real cloth of a layout's sections.
//!
//! Each function is one formula of the trade; each result carries the formula with its numbers put in.

use super::dry::DRIES_OVERNIGHT_MM;
use super::ice::{ice_for_water_g, layer_g, melting_h, melting_heat_kj};
use super::recipe::{BathVolume, IceLayer, IceRule};
use super::{
    Amount, KitchenMeasure, Recipe, RodBulk, ShadeDepth, Sourced, Unit, dry_rod_g, drying_h, short, soda_ash_ph, soda_left_g,
    thread_g_per_m,
};
use crate::geometry::{MM2_PER_M2, SourceStatus};
use crate::layout::{Figures, Layout, LooseFigures, Rest, SectionFigures, shares};
use crate::measure::{LengthStyle, LengthUnit, RuleMarks, total};
use crate::reveal::rod_area_from_above_mm2;
use serde::Serialize;
use std::f64::consts::PI;

/// Dye on weight of fibre, g: `cloth x percent / 100 x method factor`. With a factor of 1 it is the trade's "percent on weight of
/// fibre": 4 kg on 100 kg of cloth is 4 % (published worked example).
#[must_use]
pub fn dye_g(cloth_g: f64, percent: f64, method_factor: f64) -> f64 {
    cloth_g * percent / 100.0 * method_factor
}

/// Water of a bath, L: `cloth in kg x litres per kg`. A liquor ratio of 1:10 on 100 kg is 1000 L (published worked example).
#[must_use]
pub fn liquor_l(cloth_g: f64, litres_per_kg: f64) -> f64 {
    cloth_g / 1000.0 * litres_per_kg
}

/// One colour on one garment, or on many.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DyeMass {
    /// The colour.
    pub colour: String,
    /// How deep.
    pub depth: ShadeDepth,
    /// Dry cloth that it dyes, g.
    pub cloth_g: f64,
    /// Dye to weigh.
    pub dye: Amount,
    /// What of it each component of a mixture is, for who mixes it: its name and grams. None of an unmixed dye.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub components: Vec<(String, f64)>,
}

impl DyeMass {
    /// What to weigh for who mixes the powder, in words: `if you mix it yourself: 7.4 g of blue, 5 g of rust`; none of an unmixed dye.
    #[must_use]
    pub fn mixing(&self) -> Option<String> {
        let parts = self.components.iter().map(|(name, grams)| format!("{} of {name}", Unit::Gram.say(*grams)));
        let parts: Vec<String> = parts.collect();
        (!parts.is_empty()).then(|| format!("if you mix it yourself: {}", parts.join(", ")))
    }
}

/// One layer of ice.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct IceMass {
    /// Ice to weigh.
    pub ice: Amount,
    /// Area that it lies over: the rod as seen from above, and a margin round it, mm2.
    pub area_mm2: f64,
    /// How the rod lies under it.
    pub rest: Rest,
    /// What lies there, and on what, in plain words: `rod on its creases`, `puck`.
    #[serde(skip)]
    pub lying: &'static str,
    /// Heat that its melting takes.
    pub heat: Amount,
    /// About how long it takes to melt.
    pub melts_in: Amount,
    /// How its area is written.
    #[serde(skip)]
    pub lengths: LengthStyle,
}

/// What one garment takes for itself.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct GarmentMasses {
    /// Dry cloth, g.
    pub dry_g: f64,
    /// Dye of each colour, in the order of the rotation.
    pub dyes: Vec<DyeMass>,
    /// Dry cloth in sections without a colour that no dip reaches, g.
    pub undyed_g: f64,
    /// Soda ash strewn over the powder.
    pub soda_strewn: Amount,
    /// Ice, layer by layer; none for a garment that is dyed by hand.
    pub ice: Vec<IceMass>,
    /// Dissolved dye of each colour, for a garment that is dyed by hand.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub solutions: Vec<SolutionMass>,
    /// Thread for all binds.
    pub thread: Amount,
    /// Its rod, as it lies in a bath.
    pub rod: RodBulk,
    /// What its bound rod weighs when it is dry.
    pub dry_rod: Amount,
    /// About how long that takes.
    pub dries_in: Amount,
}

/// Dissolved dye of one colour for one garment.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SolutionMass {
    /// The colour.
    pub colour: String,
    /// How much of the solution.
    pub volume: Amount,
    /// Its strength: grams of dye to a litre.
    pub grams_per_l: f64,
    /// Urea in it; 0 g for none.
    pub urea: Amount,
}

/// A soda ash soak.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SoakBath {
    /// Water.
    pub water: Amount,
    /// Soda ash, without water of crystallisation.
    pub soda_ash: Amount,
    /// Its pH at 25 C; none where it can't be reckoned.
    pub ph: Option<Amount>,
}

impl IceMass {
    /// How large an area it lies over, in words: `310 cm²`.
    #[must_use]
    pub fn area(&self) -> String {
        self.lengths.format_area(self.area_mm2)
    }

    /// The same with what lies there: `310 cm² of rod on its creases and margin`.
    #[must_use]
    pub fn over(&self) -> String {
        format!("{} of {} and margin", self.area(), self.lying)
    }
}

/// Mass of the cloth that no dip reaches, dry, g; none where nothing is dipped.
fn undipped_g(layout: &Layout) -> Option<f64> {
    let zones: Vec<_> = layout.dips().iter().map(|dip| dip.zone).collect();
    let flat = layout.flat().filter(|_| !zones.is_empty())?;
    Some(flat.undipped_mm2(&zones) * layout.cloth().grams_per_m2 / MM2_PER_M2)
}

impl GarmentMasses {
    /// The masses of one garment, and how lengths are written in what leads to them.
    #[must_use]
    pub fn of(layout: &Layout, figures: &Figures, recipe: &Recipe, lengths: LengthStyle) -> Self {
        let dyes: Vec<DyeMass> =
            figures.colours.iter().map(|colour| dye_mass(layout, &colour.name, colour.mass_g, recipe)).collect();
        let all_dye = Amount::sum(Unit::Gram, dyes.iter().map(|dye| &dye.dye));
        let dry_g = figures.garment.cloth.mass_g;
        let in_no_section = figures.all_sections().filter(|section| section.colour.is_none()).map(|section| section.mass_g);
        let loose = figures.several.iter().map(|several| &several.loose).filter(|loose| loose.colour.is_none());
        let undyed_g =
            total(in_no_section.chain(loose.map(|loose| loose.mass_g))).min(undipped_g(layout).unwrap_or(f64::INFINITY));
        let by_hand = layout.process().dye.is_dissolved();
        let lies = Lying::of(layout, figures);
        let rule = recipe.ice.iter().filter(|_| !by_hand);
        let ice = rule.flat_map(|rule| rule.layers.iter().map(|layer| ice_mass(layer, rule, &lies, dry_g, lengths)));
        Self {
            dry_g,
            undyed_g,
            soda_strewn: strewn(&all_dye, &recipe.soda_ash.strewn_per_gram_of_dye, by_hand),
            ice: ice.collect(),
            solutions: if by_hand { solutions(&dyes, recipe) } else { Vec::new() },
            rod: rod_bulk(layout, figures),
            dry_rod: dry_rod(layout, figures, &recipe.soda_ash.grams_per_litre, lengths),
            dries_in: dries_in(figures, lengths),
            thread: thread(layout, figures, lengths),
            dyes,
        }
    }
}

impl GarmentMasses {
    /// What the cloth about several ties gets of its dye, as [`GarmentMasses::of_section`]. None where it gets none.
    #[must_use]
    pub fn of_loose(&self, loose: &LooseFigures) -> Option<Amount> {
        self.share_of(loose.colour.as_ref()?, loose.mass_g)
    }

    /// What a section gets of its dye, by its share of the cloth of that colour: powder, or for a garment that is dyed by hand solution.
    /// None for a section without a colour.
    #[must_use]
    pub fn of_section(&self, section: &SectionFigures) -> Option<Amount> {
        self.share_of(section.colour.as_ref()?, section.mass_g)
    }

    /// What so much cloth gets of a colour.
    fn share_of(&self, colour: &str, cloth_g: f64) -> Option<Amount> {
        let dye = self.dyes.iter().find(|dye| dye.colour == colour && dye.cloth_g > 0.0)?;
        let whole = self.solutions.iter().find(|of| of.colour == colour).map_or(&dye.dye, |of| &of.volume);
        let value = whole.value * cloth_g / dye.cloth_g;
        let formula = format!("{whole} x {} g of {} g of cloth = {}", short(cloth_g), short(dye.cloth_g), whole.unit.say(value));
        Some(Amount::new(value, whole.unit, whole.status, formula))
    }
}

fn dye_mass(layout: &Layout, colour: &str, cloth_g: f64, recipe: &Recipe) -> DyeMass {
    let depth = recipe.depth_of(colour);
    let (percent, factor) = (recipe.dye.percent.of(depth), &recipe.dye.method_factor);
    let value = dye_g(cloth_g, percent.value, factor.value);
    let formula = format!(
        "{} g of cloth x {} % ({depth}) / 100 x {} for the method = {} g",
        short(cloth_g),
        short(percent.value),
        short(factor.value),
        short(value)
    );
    let status = percent.status.max(factor.status);
    let swatch = layout.swatches().into_iter().find(|swatch| swatch.name == colour);
    let mixed = swatch.map_or(&[][..], |swatch| &swatch.components);
    let components = mixed.iter().zip(shares(mixed)).map(|(one, share)| (one.name.clone(), share * value)).collect();
    DyeMass { colour: colour.to_owned(), depth, cloth_g, dye: Amount::new(value, Unit::Gram, status, formula), components }
}

fn strewn(dye: &Amount, per_gram: &Sourced, by_hand: bool) -> Amount {
    // Soda ash in a solution would use the dye up in its bottle: there the soak alone brings it.
    let grams = if by_hand { 0.0 } else { dye.value * per_gram.value };
    let formula = format!("{} g of dye x {} g/g = {} g", short(dye.value), short(per_gram.value), short(grams));
    soda_ash(grams, dye.status.max(per_gram.status), formula)
}

fn soda_ash(grams: f64, status: SourceStatus, formula: String) -> Amount {
    let amount = Amount::new(grams, Unit::Gram, status, formula);
    Amount { kitchen: (grams > 0.0).then(|| KitchenMeasure::of_soda_ash(grams)), ..amount }
}

/// The pieces that are cut for the binds, in metres or yards.
fn thread(layout: &Layout, figures: &Figures, lengths: LengthStyle) -> Amount {
    let unit = Unit::of_thread(lengths);
    let value = figures.thread_mm / unit.in_mm().unwrap_or(1.0);
    let step = cut_step(layout.marks(), lengths);
    let formula =
        format!("{}, wraps and tails of each cut to the next {step}, together = {}", layout.bound_with(), unit.say(value));
    Amount::new(value, unit, SourceStatus::Practice, formula)
}

/// The steps that thread is cut in: a mark of the layout's own rule, in decimals of another.
fn cut_step(marks: RuleMarks, lengths: LengthStyle) -> String {
    let step_mm = marks.cut_step_mm();
    if marks.lengths().is_metric() == lengths.is_metric() { lengths.format(step_mm) } else { lengths.format_small(step_mm) }
}

/// Dissolved dye of each colour: `cloth x pick-up` of a solution that holds the colour's dye.
fn solutions(dyes: &[DyeMass], recipe: &Recipe) -> Vec<SolutionMass> {
    let rule = recipe.solution.clone().unwrap_or_default();
    let (pick_up, urea) = (&rule.pick_up_ml_per_g, &rule.urea_g_per_l);
    let one = |dye: &DyeMass| {
        let ml = dye.cloth_g * pick_up.value;
        let volume = format!("{} g of cloth x {} mL/g = {} mL", short(dye.cloth_g), short(pick_up.value), short(ml));
        let urea_g = ml / 1000.0 * urea.value;
        let urea_words = format!("{} mL / 1000 x {} g/L = {} g", short(ml), short(urea.value), short(urea_g));
        SolutionMass {
            colour: dye.colour.clone(),
            grams_per_l: if ml > 0.0 { dye.dye.value / ml * 1000.0 } else { 0.0 },
            volume: Amount::new(ml, Unit::Millilitre, pick_up.status, volume),
            urea: Amount::new(urea_g, Unit::Gram, urea.status.max(pick_up.status), urea_words),
        }
    };
    dyes.iter().map(one).collect()
}

/// The bound rod as it lies in a bath: its cloth pressed, and the air that packing leaves.
fn rod_bulk(layout: &Layout, figures: &Figures) -> RodBulk {
    let cloth = layout.cloth();
    let dry_g = figures.garment.cloth.mass_g;
    let loose_mm2 = figures.several.as_ref().map_or(0.0, |several| several.loose.area_mm2.sum());
    let tied_mm2 = figures.garment.cloth.area_mm2.sum() - loose_mm2;
    if let Some(puck) = &figures.spiral {
        let (across_mm, height_mm) = (puck.puck_diameter_mm, puck.puck_height_mm);
        let volume_mm3 = 0.25 * PI * across_mm * across_mm * height_mm;
        return RodBulk { dry_g, thickest_mm: height_mm, longest_mm: across_mm, volume_mm3 };
    }
    RodBulk {
        dry_g,
        thickest_mm: thickest_mm(figures),
        longest_mm: figures.ties().into_iter().map(length_mm).fold(0.0, f64::max),
        // What is not tied lies free.
        volume_mm3: (tied_mm2 * cloth.pressed_thickness_mm + loose_mm2 * cloth.free_thickness_mm) / cloth.packing,
    }
}

/// How long a rod is from its tip to its end, mm.
fn length_mm(figures: &Figures) -> f64 {
    total(figures.sections.iter().map(|section| section.length_mm))
}

/// How thick the rod is where it is thickest, the thickest of several, mm; a puck is as thick as it is high, and so is a bundle that blocks alone hold.
fn thickest_mm(figures: &Figures) -> f64 {
    if let Some(puck) = &figures.spiral {
        return puck.puck_height_mm;
    }
    if let Some(flat) = figures.flat.as_ref().filter(|_| figures.binds.is_empty()) {
        return flat.bundle_height_mm;
    }
    let binds = figures.ties().into_iter().flat_map(|tie| &tie.binds);
    binds.map(|bind| bind.rod.bound_diameter_mm).fold(0.0, f64::max)
}

fn dry_rod(layout: &Layout, figures: &Figures, soda_ash_g_per_l: &Sourced, lengths: LengthStyle) -> Amount {
    let (cloth_g, metres) = (figures.garment.cloth.mass_g, figures.thread_mm / 1000.0);
    let per_m = thread_mean_g_per_m(layout, figures);
    let (soda_g, unit) = (soda_left_g(cloth_g, soda_ash_g_per_l.value), Unit::of_thread(lengths));
    let grams = dry_rod_g(cloth_g, metres, per_m, soda_g);
    let formula = format!(
        "{} g of cloth + {} of thread x {} g/{} + {} g of soda ash left by the soak = {} g",
        short(cloth_g),
        thread(layout, figures, lengths),
        short(per_m * unit.in_mm().unwrap_or(1.0) / LengthUnit::Metre.in_mm()),
        unit.sign(),
        short(soda_g),
        short(grams)
    );
    Amount::new(grams, Unit::Gram, SourceStatus::Memory, formula)
}

/// What a metre of its thread weighs, g; of several ties with threads of their own, in the mean over all that is cut.
fn thread_mean_g_per_m(layout: &Layout, figures: &Figures) -> f64 {
    let own = |tie: &Layout| thread_g_per_m(tie.thread().kind, tie.thread().diameter_mm);
    if figures.several.is_none() || figures.thread_mm <= 0.0 {
        return own(layout);
    }
    let weighed = layout.ties().iter().zip(figures.ties()).map(|(tie, figures)| own(tie) * figures.thread_mm);
    total(weighed) / figures.thread_mm
}

fn dries_in(figures: &Figures, lengths: LengthStyle) -> Amount {
    let thickest_mm = thickest_mm(figures);
    let hours = drying_h(thickest_mm);
    let formula = format!(
        "at 20 °C 12 h up to {}, with the square of the thickness, 48 h at most; {}: {} h",
        lengths.format_small(DRIES_OVERNIGHT_MM),
        lengths.format_small(thickest_mm),
        short(hours)
    );
    Amount::new(hours, Unit::Hour, SourceStatus::Practice, formula)
}

/// How the rod lies on the rack.
struct Lying {
    rest: Rest,
    /// Its area as seen from above, mm2.
    area_mm2: f64,
    /// Its length, mm.
    length_mm: f64,
    /// A puck's diameter, mm; none of what is no puck.
    across_mm: Option<f64>,
    /// The rods of several ties, each by itself; none of one.
    several: Vec<Self>,
    /// How much of the rack loose cloth lies over, mm2.
    loose_mm2: f64,
}

/// How much of the rack loose cloth lies over, as a share of what it covers when it lies flat: pushed together round its ties (own
/// judgement).
const PUSHED_TOGETHER: f64 = 0.5;

impl Lying {
    fn of(layout: &Layout, figures: &Figures) -> Self {
        let area = |section: &SectionFigures| rod_area_from_above_mm2(layout, section.inner_mm, section.outer_mm);
        if let Some(of) = &figures.several {
            let several = layout.ties().iter().zip(&of.ties).map(|(tie, of)| Self::of(tie, &of.figures)).collect();
            // What gets no dye is covered, and needs no ice.
            let dyed_mm2 = if of.loose.colour.is_some() { of.loose.area_mm2.sum() } else { 0.0 };
            let loose_mm2 = PUSHED_TOGETHER * dyed_mm2 / f64::from(of.loose.layers.max(1));
            return Self { rest: layout.process().rest, area_mm2: 0.0, length_mm: 0.0, across_mm: None, several, loose_mm2 };
        }
        Self {
            rest: layout.process().rest,
            area_mm2: total(figures.sections.iter().map(area)),
            length_mm: length_mm(figures),
            several: Vec::new(),
            loose_mm2: 0.0,
            across_mm: figures.spiral.as_ref().map(|puck| puck.puck_diameter_mm),
        }
    }

    /// What lies there, and on what.
    const fn words(&self) -> &'static str {
        match (self.across_mm, self.rest) {
            (None, Rest::EdgesUp | Rest::TurnedHalfWay) if self.loose_mm2 > 0.0 => "rods on their creases, loose cloth",
            (None, Rest::OnItsFlat) if self.loose_mm2 > 0.0 => "rods on their flat, loose cloth",
            (None, Rest::EdgesUp | Rest::TurnedHalfWay) if !self.several.is_empty() => "rods on their creases",
            (None, Rest::OnItsFlat) if !self.several.is_empty() => "rods on their flat",
            (Some(_), _) => "puck",
            (None, Rest::EdgesUp | Rest::TurnedHalfWay) => "rod on its creases",
            (None, Rest::OnItsFlat) => "rod on its flat",
        }
    }

    /// With a margin all round: round a puck; of a rod along both sides, at both ends as wide as the rod is in the mean, and in the corners.
    fn with_margin_mm2(&self, margin_mm: f64) -> f64 {
        if !self.several.is_empty() {
            return total(self.several.iter().map(|rod| rod.with_margin_mm2(margin_mm))) + self.loose_mm2;
        }
        if let Some(across_mm) = self.across_mm {
            return 0.25 * PI * (across_mm + 2.0 * margin_mm).powi(2);
        }
        let width_mm = if self.length_mm > 0.0 { self.area_mm2 / self.length_mm } else { 0.0 };
        (self.length_mm + 2.0 * margin_mm) * (width_mm + 2.0 * margin_mm)
    }
}

fn ice_mass(layer: &IceLayer, rule: &IceRule, lies: &Lying, dry_g: f64, lengths: LengthStyle) -> IceMass {
    let area_mm2 = lies.with_margin_mm2(rule.margin_mm.value);
    let (grams, status, formula) = match layer {
        IceLayer::Depth { depth_mm } => {
            let grams = layer_g(area_mm2, depth_mm.value, rule.packing.value);
            let status = depth_mm.status.max(rule.packing.status).max(rule.margin_mm.status);
            let formula = format!(
                "{} of {} and margin x {} x 917 kg/m³ x {} packing = {} g",
                lengths.format_area(area_mm2),
                lies.words(),
                lengths.format_small(depth_mm.value),
                short(rule.packing.value),
                short(grams)
            );
            (grams, status, formula)
        }
        IceLayer::Water { grams_per_gram } => {
            let grams = ice_for_water_g(dry_g * grams_per_gram.value);
            let per = short(grams_per_gram.value);
            let formula = format!("{} g of cloth x {per} g of meltwater to the gram = {} g", short(dry_g), short(grams));
            (grams, grams_per_gram.status, formula)
        }
    };
    let heat_kj = melting_heat_kj(grams);
    let heat = format!("{} g / 1000 x 333.43 kJ/kg = {} kJ", short(grams), short(heat_kj));
    let hours = melting_h(grams, area_mm2, rule.room_c(), rule.transfer_w_per_m2_k.value);
    let melts = format!(
        "{} kJ / ({} W/(m² K) x {} x {} K) = {} h",
        short(heat_kj),
        short(rule.transfer_w_per_m2_k.value),
        lengths.format_area(area_mm2),
        short(rule.room_c()),
        short(hours)
    );
    IceMass {
        ice: Amount::new(grams, Unit::Gram, status, formula),
        area_mm2,
        rest: lies.rest,
        lying: lies.words(),
        heat: Amount::new(heat_kj, Unit::Kilojoule, status.max(SourceStatus::Computed), heat),
        melts_in: Amount::new(hours, Unit::Hour, SourceStatus::Memory, melts),
        lengths,
    }
}

/// The soak for so much dry cloth.
#[must_use]
pub fn soak_bath(recipe: &Recipe, dry_g: f64) -> SoakBath {
    let rule = &recipe.soda_ash;
    let water = match &rule.bath {
        BathVolume::Liquor { litres_per_kg } => liquor(dry_g, litres_per_kg),
        BathVolume::Tub { litres } => {
            Amount::new(litres.value, Unit::Litre, litres.status, format!("the tub's {} L", short(litres.value)))
        }
    };
    let strength = &rule.grams_per_litre;
    let grams = water.value * strength.value;
    let formula = format!("{} L x {} g/L = {} g", short(water.value), short(strength.value), short(grams));
    let ph = soda_ash_ph(strength.value).map(|ph| {
        let formula = format!("carbonate equilibrium of {} g/kg at 25 °C, Pitzer activities", short(strength.value));
        Amount::new(ph, Unit::Ph, SourceStatus::Computed, formula)
    });
    SoakBath { soda_ash: soda_ash(grams, strength.status.max(water.status), formula), water, ph }
}

fn liquor(dry_g: f64, litres_per_kg: &Sourced) -> Amount {
    let value = liquor_l(dry_g, litres_per_kg.value);
    let (grams, ratio) = (short(dry_g), short(litres_per_kg.value));
    let formula = format!("{grams} g of cloth / 1000 x {ratio} L/kg (1:{ratio}) = {} L", short(value));
    Amount::new(value, Unit::Litre, litres_per_kg.status, formula)
}
