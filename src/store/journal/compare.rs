//! Two entries beside each other, and two layouts: every field that differs, in the maker's terms; several ties one by one.

use super::JournalEntry;
use super::words::{is_variant, label, order, words};
use crate::form::WrittenForm as _;
use crate::layout::LayoutSpec;
use crate::layout::form::LayoutV2;
use crate::measure::LengthStyle;
use serde::Serialize;
use serde_json::{Map, Value};

/// Something in which two differ.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Difference {
    /// What.
    pub what: String,
    /// The first's.
    pub first: String,
    /// The second's.
    pub second: String,
}

/// Two entries beside each other.
#[derive(Debug, Clone, PartialEq)]
pub struct Comparison {
    /// The first.
    pub first: JournalEntry,
    /// The second.
    pub second: JournalEntry,
    /// In what they differ as made: day, rating, what was done differently.
    pub made: Vec<Difference>,
    /// In what their layouts differ.
    pub layouts: Vec<Difference>,
}

impl Comparison {
    /// Sets two entries beside each other, with lengths written as asked.
    #[must_use]
    pub fn of(first: JournalEntry, second: JournalEntry, lengths: LengthStyle) -> Self {
        let (a, b) = (first.raw(), second.raw());
        let rating = |rating: Option<u8>| rating.map_or_else(|| NOT_GIVEN.to_owned(), |rating| format!("{rating} of 5"));
        let text = |text: &String| if text.is_empty() { NOT_GIVEN.to_owned() } else { text.clone() };
        let made = [
            ("made", a.made.to_string(), b.made.to_string()),
            ("garment", text(&a.garment), text(&b.garment)),
            ("rating", rating(a.rating), rating(b.rating)),
            ("done differently", text(&a.differently), text(&b.differently)),
            ("to change", text(&a.change), text(&b.change)),
            ("note", text(&a.note), text(&b.note)),
            ("waits", text(&a.waits.join("; ")), text(&b.waits.join("; "))),
        ];
        let differing = made.into_iter().filter(|(_, first, second)| first != second);
        let made = differing.map(|(what, first, second)| Difference { what: what.to_owned(), first, second }).collect();
        let layouts = layout_differences(first.layout(), second.layout(), lengths);
        Self { first, second, made, layouts }
    }
}

/// What stands where one of the two says nothing.
const NOT_GIVEN: &str = "not given";

/// Every field in which two layouts differ, in the order in which a maker decides them. A field that this function does not know a
/// plain name for is named by its own; none is passed over. Where one has several ties, what is of a tie is told after what is of the whole
/// garment, under the tie's name: ties are the same where they are called the same, or one was called otherwise in its
/// place, and the tie of a layout of one is the other's first.
#[must_use]
pub fn layout_differences(first: &LayoutSpec, second: &LayoutSpec, lengths: LengthStyle) -> Vec<Difference> {
    if first.ties.is_none() && second.ties.is_none() {
        return differences(&value(first), &value(second), lengths);
    }
    let mut found = differences(&without_ties(first), &without_ties(second), lengths);
    let of_all = [("ties", tie_order(first), tie_order(second)), ("loose cloth", loose(first, second), loose(second, first))];
    let differing = of_all.into_iter().filter(|(_, first, second)| first != second);
    found.extend(differing.map(|(what, first, second)| Difference { what: what.to_owned(), first, second }));
    for (name, tie, other) in pairs_of_ties(first, second) {
        let fold = |tie: Option<LayoutSpec>| tie.map_or_else(|| NOT_GIVEN.to_owned(), |tie| tie.fold.kind().name().to_owned());
        match (tie, other) {
            (Some(tie), Some(other)) => {
                let of_tie = differences(&of_tie_alone(&tie), &of_tie_alone(&other), lengths).into_iter();
                found.extend(of_tie.map(|told| Difference { what: format!("{name}: {}", told.what), ..told }));
            }
            (tie, other) => found.push(Difference { what: format!("tie {name}"), first: fold(tie), second: fold(other) }),
        }
    }
    found
}

/// A layout as its file has it. A form holds strings, finite numbers, lists and maps with plain keys: all that JSON can write.
fn value(layout: &LayoutSpec) -> Value {
    serde_json::to_value(LayoutV2::of(layout.clone())).unwrap_or_default()
}

/// The keys of what is of a tie.
const OF_TIE: [&str; 4] = ["fold", "binds", "thread", "colours"];

fn without_ties(layout: &LayoutSpec) -> Value {
    let mut value = value(layout);
    if let Value::Object(keys) = &mut value {
        keys.retain(|key, _| key != "ties" && !OF_TIE.contains(&key.as_str()));
    }
    value
}

fn of_tie_alone(tie: &LayoutSpec) -> Value {
    let mut value = value(tie);
    if let Value::Object(keys) = &mut value {
        keys.retain(|key, _| OF_TIE.contains(&key.as_str()));
    }
    value
}

/// What the ties are called, in the order in which they are tied.
fn tie_order(layout: &LayoutSpec) -> String {
    let names: Vec<&str> = layout.tie_names().collect();
    if names.is_empty() { "one".to_owned() } else { names.join(", ") }
}

/// The colour of the loose cloth, by its name; where both layouts have a dye of its own, with how that looks. What a tie's dye looks like is told
/// with the tie.
fn loose(layout: &LayoutSpec, other: &LayoutSpec) -> String {
    let own = |layout: &LayoutSpec| layout.ties.as_ref().and_then(|ties| ties.loose_dye.clone());
    match (&layout.ties, own(layout)) {
        (None, _) => NOT_GIVEN.to_owned(),
        (_, Some(dye)) if own(other).is_some() => format!("{} ({})", dye.name, dye.srgb),
        (_, Some(dye)) => dye.name,
        (Some(ties), None) => ties.loose.clone().unwrap_or_else(|| "no dye".to_owned()),
    }
}

/// The ties of two layouts, each as a layout of it alone, those of the same name beside each other, and those at the same place in the order whose
/// names the other has not: in the first's order, then what only the second has.
fn pairs_of_ties(first: &LayoutSpec, second: &LayoutSpec) -> Vec<(String, Option<LayoutSpec>, Option<LayoutSpec>)> {
    let names = |layout: &LayoutSpec, other: &LayoutSpec| -> Vec<String> {
        // The tie of a layout of one has no name.
        let named = if layout.ties.is_some() { layout } else { other };
        named.tie_names().take(layout.tie_count()).map(str::to_owned).collect()
    };
    let (own, others) = (names(first, second), names(second, first));
    let renamed = |number: usize| others.get(number).is_some_and(|name| !own.contains(name)).then_some(number);
    let same = |number: usize| others.iter().position(|other| *other == own[number]).or_else(|| renamed(number));
    let paired: Vec<Option<usize>> = (0..own.len()).map(same).collect();
    let of_first = own.iter().zip(&paired).enumerate();
    let mut pairs: Vec<_> = of_first
        .map(|(number, (name, other))| (name.clone(), Some(first.tie(number)), other.map(|other| second.tie(other))))
        .collect();
    let left = (0..others.len()).filter(|other| !paired.contains(&Some(*other)));
    pairs.extend(left.map(|other| (others[other].clone(), None, Some(second.tie(other)))));
    pairs
}

/// Every field in which two layouts' values differ, in the order in which a maker decides them.
fn differences(first: &Value, second: &Value, lengths: LengthStyle) -> Vec<Difference> {
    let mut walk = Walk { lengths, found: Vec::new() };
    walk.values("", Some(first), Some(second));
    walk.found.sort_by_key(|(path, _)| order(path));
    walk.found.into_iter().map(|(_, difference)| difference).collect()
}

struct Walk {
    lengths: LengthStyle,
    /// By their paths.
    found: Vec<(String, Difference)>,
}

impl Walk {
    fn values(&mut self, path: &str, first: Option<&Value>, second: Option<&Value>) {
        if first == second {
            return;
        }
        if let (Some(Value::Object(a)), Some(Value::Object(b))) = (first, second)
            && may_be_opened(a, b)
        {
            let mut keys: Vec<&String> = a.keys().chain(b.keys().filter(|key| !a.contains_key(*key))).collect();
            keys.sort();
            for key in keys {
                let inner = if path.is_empty() { key.clone() } else { format!("{path}.{key}") };
                self.values(&inner, a.get(key), b.get(key));
            }
            return;
        }
        if is_alike(first, second) {
            return;
        }
        let (first, second) = self.told(path, first, second);
        let difference = Difference { what: label(path), first, second };
        self.found.push((path.to_owned(), difference));
    }
}

impl Walk {
    /// Both values in words, so finely that they differ.
    fn told(&self, path: &str, first: Option<&Value>, second: Option<&Value>) -> (String, String) {
        let both = |told: &dyn Fn(&Value) -> String| {
            let told = |value: Option<&Value>| value.map_or_else(|| NOT_GIVEN.to_owned(), told);
            (told(first), told(second))
        };
        let by = |length: &dyn Fn(f64) -> String| both(&|value| words(path, value, length));
        let usual = |mm: f64| if mm.abs() < THIN_MM { self.lengths.format_thickness(mm) } else { self.lengths.format(mm) };
        let usual = std::iter::once_with(|| by(&usual));
        let finer = FINER_DECIMALS.into_iter().map(|decimals| by(&|mm| self.lengths.format_to(mm, decimals)));
        let differing = usual.chain(finer).find(|(first, second)| first != second);
        differing.unwrap_or_else(|| both(&Value::to_string))
    }
}

/// What is thinner is told as thicknesses are, mm: cloth and threads (own choice).
const THIN_MM: f64 = 3.0;
/// Decimals of their unit that lengths get where the usual ones hide their difference.
const FINER_DECIMALS: [u8; 3] = [2, 4, 6];
/// Numbers that differ by less than this share of themselves are one: what reckoning leaves.
const SAME_SHARE: f64 = 1e-9;

/// Whether two values are numbers that differ by no more than reckoning leaves.
fn is_alike(first: Option<&Value>, second: Option<&Value>) -> bool {
    let numbers = first.and_then(Value::as_f64).zip(second.and_then(Value::as_f64));
    numbers.is_some_and(|(a, b)| (a - b).abs() <= SAME_SHARE * a.abs().max(b.abs()))
}

/// Whether two objects are compared field by field: two of one kind, and no colour, which is told whole.
fn may_be_opened(a: &Map<String, Value>, b: &Map<String, Value>) -> bool {
    let tag = |object: &Map<String, Value>| object.keys().next().filter(|_| is_variant(object)).cloned();
    let is_swatch = |object: &Map<String, Value>| object.contains_key("srgb");
    tag(a) == tag(b) && !is_swatch(a) && !is_swatch(b)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Each tie under its name, whatever its place in the order; what one of the layouts lacks as a tie, not as a lump of fields.
    #[test]
    fn several_ties_are_compared_one_by_one() {
        let file = crate::store::EXAMPLE_LAYOUTS.iter().find(|file| file.name.contains("four-ties")).unwrap();
        let four = crate::store::parse_layout(file.text).unwrap().raw().clone();
        let told = |first: &LayoutSpec, second: &LayoutSpec| -> Vec<[String; 3]> {
            let differences = layout_differences(first, second, LengthStyle::default());
            differences.into_iter().map(|Difference { what, first, second }| [what, first, second]).collect()
        };
        assert_eq!(told(&four, &four), Vec::<[String; 3]>::new());
        // The hem tied before the right sleeve, with another thread; the loose cloth bare.
        let mut ties = four.tie_specs();
        ties.swap(2, 3);
        ties[2].thread.wraps = 5;
        let other = four.clone().with_ties(ties, None);
        let names = "Heart, Left sleeve, Right sleeve, Hem";
        let expected = [
            ["ties", names, "Heart, Left sleeve, Hem, Right sleeve"],
            ["loose cloth", "navy", "no dye"],
            ["Hem: thread, wraps", "3", "5"],
        ];
        assert_eq!(told(&four, &other), expected.map(|row| row.map(str::to_owned)));
        // Of its ties but two: two are missing, and nothing else is told.
        let fewer = four.clone().with_ties(four.tie_specs()[..2].to_vec(), four.loose_swatch().cloned());
        let missing =
            [["ties", names, "Heart, Left sleeve"], ["tie Right sleeve", "burst", NOT_GIVEN], ["tie Hem", "burst", NOT_GIVEN]];
        assert_eq!(told(&four, &fewer), missing.map(|row| row.map(str::to_owned)));
        // The tie of a layout of one is the first.
        let mut one = four.tie(0);
        one.thread.wraps = 4;
        let told = told(&one, &four);
        assert_eq!(told[0], ["ties".to_owned(), "one".to_owned(), names.to_owned()]);
        assert_eq!(told[2], ["Heart: thread, wraps".to_owned(), "4".to_owned(), "3".to_owned()]);
        assert_eq!(told.len(), 6, "{told:?}");
    }

    /// "31 mm" beside "31 mm" used to be told as a difference, and cloth of 0.45 mm as cloth of 0.5 mm.
    #[test]
    fn what_is_told_as_a_difference_reads_differently() {
        let told = |a: f64, b: f64, lengths| {
            let mut walk = Walk { lengths, found: Vec::new() };
            let gap = |mm: f64| serde_json::json!({ "first_gap_mm": mm, "ratio": 0.88 });
            walk.values("binds.inward", Some(&gap(a)), Some(&gap(b)));
            walk.found.into_iter().map(|(_, difference)| (difference.first, difference.second)).collect::<Vec<_>>()
        };
        let pair = |a: &str, b: &str| vec![(a.to_owned(), b.to_owned())];
        let inches = LengthStyle::Inches { nearest: crate::measure::InchFraction::Sixteenth };
        assert_eq!(told(31.04, 31.0, LengthStyle::default()), pair("31.04 mm", "31 mm"));
        assert_eq!(told(31.0, 31.000_01, inches), pair("1.220472 in", "1.220473 in"));
        assert_eq!(told(31.0, 31.0 + 1e-12, LengthStyle::default()), []);
        assert_eq!(told(12.7, 25.4, inches), pair("1/2 in", "1 in"));
        assert_eq!(told(0.45, 0.62, LengthStyle::default()), pair("0.45 mm", "0.62 mm"));
        assert_eq!(told(1.0, 1.5, inches), pair("0.039 in", "0.059 in"));
    }
}
