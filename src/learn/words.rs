//! What is told of values that were learned, on every face alike.

use super::component::shown_components;
use super::learned::Learned;
use super::lesson::Lesson;
use super::taught::{DyeStrength, ToldReach, ToldValue};
use super::value::{LearnedValue, shown_by};
use crate::layout::{ComponentReach, Layout, LayoutSpec, Tuning};

/// What is not learned, and why.
pub const HELD_BY_CONVENTION: &str =
    "Held by convention, as they trade off with the others: the dose that discharges half, what thread covers.";
/// What error bars leave out.
pub const FROM_DRAWN_PIECES: &str =
    "All error bars come from pieces that the program drew itself; what its model leaves out is in none of them.";
/// What is to be said where no piece was kept back; the way to do so follows.
pub const NOT_JUDGED: &str = "How far these values foretell a piece is not known: keep one back";

/// How far off the best fit is no longer the cloth's own unevenness, Lab (own judgement: drawn pieces were off by 0.6 to 1.1, a photograph of another
/// piece of the same maker's by 5.9).
const FAR_OFF: f64 = 3.0;

impl Lesson {
    /// Where the best fit is far from what the photographs show: how far, and what may be the matter.
    #[must_use]
    pub fn misfit(&self) -> Option<String> {
        let off = self.off;
        (off > FAR_OFF).then(|| {
            format!(
                "Even the best fit is {off:.1} from the photographs (Lab, mean), where about 1 is usual: see whether each photograph is of its own \
                 layout, and what came out otherwise than planned."
            )
        })
    }
}

/// A value as a row of a table: what it is called with its unit, and its numbers to three digits.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ValueRow {
    /// Which.
    pub value: LearnedValue,
    /// Its name, with its unit where it has one.
    pub name: String,
    /// The default.
    pub was: String,
    /// What pieces taught; the default where nothing was learned.
    pub is: String,
    /// Where it lies by one standard deviation either way, or that it was not learned.
    pub probably: String,
    /// How many pieces show it.
    pub pieces: usize,
    /// Whether it was learned.
    pub is_learned: bool,
}

impl ValueRow {
    fn of(told: ToldValue) -> Self {
        let ToldValue { value, was, is, between, pieces } = told;
        let facts = value.facts();
        let unit = match facts.key {
            key if key.ends_with("_per_mm") => ", per mm",
            key if key.ends_with("_mm") => ", mm",
            _ => "",
        };
        let probably =
            between.map_or_else(|| "not learned".to_owned(), |[low, high]| format!("{} to {}", short(low), short(high)));
        let name = format!("{}{unit}", facts.words);
        Self { value, name, was: short(was), is: short(is), probably, pieces, is_learned: between.is_some() }
    }
}

impl Learned {
    /// Every value that a piece shows, in the order of files.
    #[must_use]
    pub fn rows(&self) -> Vec<ValueRow> {
        self.told().into_iter().filter(|told| told.pieces > 0).map(ValueRow::of).collect()
    }
}

impl DyeStrength {
    /// How strong it comes out, without a full stop.
    #[must_use]
    pub fn words(&self) -> String {
        let percent = 100.0 * (self.strength - 1.0);
        let than = if percent < 0.0 { "weaker" } else { "stronger" };
        let give_or_take = 100.0 * self.sd;
        format!("{} comes out {:.0} % {than} than its swatch, give or take {give_or_take:.0} %", self.name, percent.abs())
    }
}

impl ToldReach {
    /// How far it reaches beside its maker's guess, or that this was not learned, without a full stop.
    #[must_use]
    pub fn words(&self) -> String {
        let ComponentReach { mixture, component, reach_factor } = &self.of;
        let Some(sd) = self.sd else {
            return format!(
                "{component} in {mixture}: how far it reaches is not learned (your guess: {})",
                reach_words(self.guess)
            );
        };
        let [is, guess] = [*reach_factor, self.guess].map(farther_percent);
        // Where both go the same way, the way is said once.
        let guess = if is * guess > 0.0 { format!("{} %", guess.abs()) } else { reach_words(self.guess) };
        let give_or_take = 100.0 * reach_factor * sd;
        let is = reach_words(*reach_factor);
        format!("{component} in {mixture} reaches {is} (your guess: {guess}), give or take {give_or_take:.0} %")
    }
}

/// How far something reaches beside dyes, to a percent: `31 % farther`.
#[must_use]
pub fn reach_words(reach_factor: f64) -> String {
    match farther_percent(reach_factor) {
        0.0 => "as far as dyes do".to_owned(),
        farther if farther > 0.0 => format!("{farther} % farther"),
        farther => format!("{} % less far", -farther),
    }
}

/// By how much farther than dyes do something reaches, whole percent.
fn farther_percent(reach_factor: f64) -> f64 {
    (100.0 * (reach_factor - 1.0)).round()
}

/// How the mixtures of a layout change that takes these values, a sentence without a full stop for each component that does.
#[must_use]
pub fn change_words(tuning: &Tuning, spec: &LayoutSpec) -> Vec<String> {
    let words = |(own, new): (ComponentReach, f64)| {
        let ComponentReach { mixture, component, reach_factor } = own;
        format!("{component} in {mixture} reaches {} (was: {})", reach_words(new), reach_words(reach_factor))
    };
    tuning.changes(spec).into_iter().map(words).collect()
}

/// What a piece made from this layout shows, in a few words; none of a layout that shows nothing.
#[must_use]
pub fn shown_words(layout: &Layout) -> Vec<&'static str> {
    use LearnedValue as V;
    let shown = shown_by(layout);
    let about = [
        (V::DyeAlong, "dye"),
        (V::DischargeAlong, "discharge"),
        (V::WaxedConductance, "waxed thread"),
        (V::StringConductance, "string"),
        (V::BandConductance, "bands"),
        (V::DampShare, "damp inside"),
        (V::WetShare, "wet inside"),
        (V::FurtherIce, "more ice"),
    ];
    let of_values = about.into_iter().filter(|(value, _)| shown.contains(value)).map(|(_, words)| words);
    of_values.chain((!shown_components(layout).is_empty()).then_some("a mixture")).collect()
}

/// A value to three digits.
fn short(value: f64) -> String {
    let places = match value.abs() {
        size if size >= 100.0 => 0,
        size if size >= 10.0 => 1,
        size if size >= 1.0 => 2,
        size if size >= 0.1 => 3,
        _ => 4,
    };
    format!("{value:.places$}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::learn::{TEST_CLOTH, TaughtBy};

    #[test]
    fn values_are_told_to_three_digits() {
        let told = [0.012_345, 0.123_45, 1.2345, 12.345, 123.45].map(short);
        assert_eq!(told, ["0.0123", "0.123", "1.23", "12.3", "123"]);
    }

    #[test]
    fn a_row_names_its_unit_and_says_what_was_not_learned() {
        let values = vec![LearnedValue::DyeAlong, LearnedValue::Seeping, LearnedValue::WetShare];
        let piece = TaughtBy { name: "tee".to_owned(), photographs: Vec::new(), values };
        // The reach is known to a tenth, the others as little as before.
        let learned = Learned::from_parts(&[(LearnedValue::DyeAlong, 12.5, vec![0.01])], &[], vec![piece], Vec::new()).unwrap();
        let rows = learned.rows();
        let names: Vec<&str> = rows.iter().map(|row| row.name.as_str()).collect();
        assert_eq!(names, ["dye, along cloth, mm", "seeping, per mm", "wet inside, share"]);
        assert_eq!(rows[0].is, "12.5");
        // A tenth and the floor of 0.05 in square are 0.112: 12.5 e^-0.112 to 12.5 e^0.112.
        assert_eq!(rows[0].probably, "11.2 to 14.0");
        assert!(rows[1..].iter().all(|row| row.probably == "not learned" && row.is == row.was && !row.is_learned));
    }

    #[test]
    fn how_far_components_reach_is_told_beside_the_makers_guess() {
        let told = |guess: f64, reach_factor: f64, sd: Option<f64>| {
            let (mixture, component) = ("slate grey".to_owned(), "blue".to_owned());
            ToldReach { of: ComponentReach { mixture, component, reach_factor }, guess, sd, pieces: 1 }.words()
        };
        let sd = Some(0.046);
        assert_eq!(told(1.25, 1.31, sd), "blue in slate grey reaches 31 % farther (your guess: 25 %), give or take 6 %");
        assert_eq!(told(0.8, 0.704, sd), "blue in slate grey reaches 30 % less far (your guess: 20 %), give or take 3 %");
        assert_eq!(told(1.25, 0.9, sd), "blue in slate grey reaches 10 % less far (your guess: 25 % farther), give or take 4 %");
        let alike = "blue in slate grey reaches as far as dyes do (your guess: 10 % less far), give or take 5 %";
        assert_eq!(told(0.9, 1.002, sd), alike);
        assert_eq!(
            told(1.0, 1.5, sd),
            "blue in slate grey reaches 50 % farther (your guess: as far as dyes do), give or take 7 %"
        );
        assert_eq!(told(1.25, 1.25, None), "blue in slate grey: how far it reaches is not learned (your guess: 25 % farther)");
    }

    /// A layout that takes what was learned is told by what it had.
    #[test]
    fn what_changes_in_a_layouts_mixtures_is_told() {
        let mut spec = TEST_CLOTH[1].layout();
        let grey = &mut spec.colours.rotation[0];
        grey.components = crate::layout::first_components(grey.srgb);
        let mixture = grey.name.clone();
        let reach = |component: &str, reach_factor| ComponentReach {
            mixture: mixture.clone(),
            component: component.to_owned(),
            reach_factor,
        };
        let reaches = vec![reach("component 1", 1.0), reach("component 2", 1.313), reach("component 3", 2.0)];
        let tuning = Tuning { calibration: spec.process.calibration, reaches };
        let words = change_words(&tuning, &spec);
        assert_eq!(words, ["component 2 in teal reaches 31 % farther (was: as far as dyes do)"]);
    }

    #[test]
    fn strengths_and_what_is_shown_are_told_in_words() {
        let dye = |strength| DyeStrength { name: "teal".to_owned(), strength, sd: 0.08, pieces: 1 };
        assert_eq!(dye(0.88).words(), "teal comes out 12 % weaker than its swatch, give or take 8 %");
        assert_eq!(dye(1.05).words(), "teal comes out 5 % stronger than its swatch, give or take 8 %");
        let shown = TEST_CLOTH.map(|square| shown_words(&Layout::try_from(square.layout()).unwrap()));
        let expected = [
            vec!["dye", "discharge", "waxed thread"],
            vec!["dye", "string", "damp inside"],
            vec!["dye", "bands", "wet inside", "more ice"],
        ];
        assert_eq!(shown, expected);
    }
}
