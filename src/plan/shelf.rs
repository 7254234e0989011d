//! The shelf of supplies, kept once: what is there of dyes, agents, thread and undyed garments, in what it is sold, and what a run took.
//!
//! Every plan's shopping list reads it. Where it is kept is not known here.

use super::{GarmentWork, Material, PlanFileError, PlanProblem, Supply};
use crate::plan::error::check_name;
use crate::telling::Field;
use serde::Serialize;

/// Undyed garments of one kind, size and colour.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Blank {
    /// Kind, size and colour: `crew-neck tee, M, plum`.
    pub name: String,
    /// How many are there.
    pub on_hand: u32,
    /// What one costs, if that is known.
    pub price: Option<f64>,
}

/// What is on the shelf.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Shelf {
    /// The currency's sign or name; empty where no price is given.
    pub currency: String,
    /// What is weighed or measured off. Grams; thread in metres.
    pub supplies: Vec<Supply>,
    /// Undyed garments.
    pub blanks: Vec<Blank>,
}

/// How much of a material was used. Grams; thread in metres.
#[derive(Debug, Clone, PartialEq)]
pub struct Used {
    /// The material.
    pub material: Material,
    /// How much.
    pub amount: f64,
}

/// Undyed garments that a plan needs, against the shelf.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BlankLine {
    /// Which.
    pub name: String,
    /// How many the order needs.
    pub needed: u32,
    /// How many are there.
    pub on_hand: u32,
    /// How many are missing.
    pub missing: u32,
    /// What the missing ones cost; none where no price is known.
    pub price: Option<f64>,
}

impl BlankLine {
    /// What to buy: `nothing`, `3`, `3, 14.70 EUR`.
    #[must_use]
    pub fn to_buy(&self, currency: &str) -> String {
        match self.price {
            _ if self.missing == 0 => "nothing".to_owned(),
            Some(price) => format!("{}, {price:.2} {currency}", self.missing).trim_end().to_owned(),
            None => self.missing.to_string(),
        }
    }
}

/// What is to be said once, below a shopping list: which undyed garments that are missing have no price; none where all have.
#[must_use]
pub fn blanks_unpriced(lines: &[BlankLine]) -> Option<String> {
    let unpriced = lines.iter().filter(|line| line.missing > 0 && line.price.is_none());
    let names: Vec<&str> = unpriced.map(|line| line.name.as_str()).collect();
    (!names.is_empty()).then(|| format!("No price given for: {}.", names.join("; ")))
}

/// Most supplies and blanks that a shelf holds. Own choice: far beyond any workshop.
const MOST: usize = 2000;
/// Most undyed garments of a kind.
const MOST_BLANKS: f64 = 1e6;
/// Least that is told as taken, g or m: what three figures would not show.
const TOLD: f64 = 0.005;

impl Shelf {
    /// Whether nothing is known of it.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.supplies.is_empty() && self.blanks.is_empty()
    }

    /// What is there of a material.
    #[must_use]
    pub fn supply(&self, material: &Material) -> Option<&Supply> {
        self.supplies.iter().find(|supply| supply.material == *material)
    }

    /// Undyed garments of that name.
    #[must_use]
    pub fn blank(&self, name: &str) -> Option<&Blank> {
        self.blanks.iter().find(|blank| blank.name == name)
    }

    /// Puts a supply on it, in the place of what it said of that material.
    pub fn set(&mut self, supply: Supply) {
        match self.supplies.iter_mut().find(|known| known.material == supply.material) {
            Some(known) => *known = supply,
            None => self.supplies.push(supply),
        }
        self.supplies.sort_by(|a, b| a.material.cmp(&b.material));
    }

    /// The same with undyed garments.
    pub fn set_blank(&mut self, blank: Blank) {
        match self.blanks.iter_mut().find(|known| known.name == blank.name) {
            Some(known) => *known = blank,
            None => self.blanks.push(blank),
        }
        self.blanks.sort_by(|a, b| a.name.cmp(&b.name));
    }

    /// Checks amounts, prices and names.
    ///
    /// # Errors
    /// [`PlanFileError`] naming the field.
    pub fn check(&self) -> Result<(), PlanFileError> {
        for (field, count) in [("supplies", self.supplies.len()), ("blanks", self.blanks.len())] {
            if count > MOST {
                return Err(PlanFileError::new(field, PlanProblem::TooMany { count, most: MOST }));
            }
        }
        if !self.currency.is_empty() {
            check_name("currency", &self.currency)?;
        }
        for (index, supply) in self.supplies.iter().enumerate() {
            supply.check(&self.supplies[..index], index + 1)?;
        }
        for (index, blank) in self.blanks.iter().enumerate() {
            let field = |key: &'static str| Field::from("blanks").item(index + 1).then(key);
            check_name(field("name"), &blank.name)?;
            PlanFileError::check(field("on_hand"), f64::from(blank.on_hand), 0.0, MOST_BLANKS)?;
            PlanFileError::check(field("price"), blank.price.unwrap_or_default(), 0.0, 1e9)?;
            if self.blanks[..index].iter().any(|earlier| earlier.name == blank.name) {
                return Err(PlanFileError::new(field("name"), PlanProblem::Twice { name: blank.name.clone() }));
            }
        }
        Ok(())
    }

    /// The shelf after this was used, and what was taken from it in words. What it does not know stays unknown, and of nothing less than
    /// nothing is left.
    #[must_use]
    pub fn after(&self, used: &[Used], garments: &[GarmentWork]) -> (Self, Vec<String>) {
        let (mut after, mut taken) = (self.clone(), Vec::new());
        for Used { material, amount } in used {
            let Some(supply) = after.supplies.iter_mut().find(|supply| supply.material == *material) else { continue };
            let part = amount.min(supply.on_hand);
            if part >= TOLD {
                supply.on_hand -= part;
                taken.push(format!("{material}: {}", material.unit().say(part)));
            }
        }
        for garment in garments {
            let Some(blank) = after.blanks.iter_mut().find(|blank| blank.name == garment.blank) else { continue };
            let part = garment.count.min(blank.on_hand);
            if part > 0 {
                blank.on_hand -= part;
                taken.push(format!("{}: {part}", blank.name));
            }
        }
        (after, taken)
    }

    /// What a plan needs of undyed garments, where the shelf knows any: each kind once, in the order of the lines.
    #[must_use]
    pub fn blank_lines(&self, garments: &[&GarmentWork]) -> Vec<BlankLine> {
        let mut lines: Vec<BlankLine> = Vec::new();
        for garment in garments.iter().filter(|_| !self.blanks.is_empty()) {
            match lines.iter_mut().find(|line| line.name == garment.blank) {
                Some(line) => line.needed += garment.count,
                None => lines.push(BlankLine {
                    name: garment.blank.clone(),
                    needed: garment.count,
                    on_hand: 0,
                    missing: 0,
                    price: None,
                }),
            }
        }
        for line in &mut lines {
            let known = self.blank(&line.name);
            line.on_hand = known.map_or(0, |blank| blank.on_hand);
            line.missing = line.needed.saturating_sub(line.on_hand);
            line.price = known.and_then(|blank| blank.price).map(|price| price * f64::from(line.missing));
        }
        lines
    }
}
