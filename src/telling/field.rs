//! The place of a value in a document.

use super::voice::{Voice, number};
use super::words::words_of;
use std::fmt;

/// A path to a field of a document: keys as its file spells them, and numbers of items, from 1.
///
/// ```
/// use pleatwright::telling::Field;
/// let field = Field::from("swatches").item(3).then("depth_percent");
/// assert_eq!(field.to_string(), "swatches.3.depth_percent");
/// ```
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Field(Vec<Step>);

#[derive(Debug, Clone, PartialEq, Eq)]
enum Step {
    Key(&'static str),
    Item(usize),
    Named(String),
}

/// What a field's number counts, as its key's ending says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unit {
    /// A length in mm.
    Length,
    /// Something else, with the sign that stands behind it.
    Sign(&'static str),
    /// A plain number.
    Plain,
}

/// Endings of keys, and the signs of their units.
const SIGNS: [(&str, &str); 13] = [
    ("_deg", "degrees"),
    ("percent", "%"),
    ("_g_per_m2", "g/m²"),
    ("_g_per_l", "g/L"),
    ("_per_kg", "L/kg"),
    ("_min", "min"),
    ("_g", "g"),
    ("_l", "L"),
    ("_w", "W"),
    ("_c", "C"),
    ("_m3", "m³"),
    ("_cm2", "cm²"),
    ("_ml", "mL"),
];

impl Field {
    /// An item of this list, counted from 1.
    #[must_use]
    pub fn item(mut self, number: usize) -> Self {
        self.0.push(Step::Item(number));
        self
    }

    /// What has this name in it: a colour among depths.
    #[must_use]
    pub fn named(mut self, name: &str) -> Self {
        self.0.push(Step::Named(name.to_owned()));
        self
    }

    /// A field within this one.
    #[must_use]
    pub fn then(mut self, inner: impl Into<Self>) -> Self {
        self.0.extend(inner.into().0);
        self
    }

    /// The same beginning as `key` says in place of `own`, both keys parted by dots, a `*` any one step; none where it doesn't begin so.
    #[must_use]
    pub fn renamed(&self, own: &str, key: &'static str) -> Option<Self> {
        let mut steps = self.0.iter();
        let mut any = Vec::new();
        for wanted in own.split('.') {
            match steps.next()? {
                step if wanted == "*" => any.push(step.clone()),
                Step::Key(step) if *step == wanted => {}
                _ => return None,
            }
        }
        let mut any = any.into_iter();
        let begun = key.split('.').map(|part| if part == "*" { any.next().unwrap_or(Step::Key(part)) } else { Step::Key(part) });
        Some(Self(begun.chain(steps.cloned()).collect()))
    }

    /// What its number counts.
    #[must_use]
    pub fn unit(&self) -> Unit {
        match self.0.last() {
            Some(Step::Key(key)) if key.ends_with("_mm") && !key.ends_with("_per_mm") => Unit::Length,
            Some(Step::Key(key)) => {
                SIGNS.into_iter().find(|(ending, _)| key.ends_with(ending)).map_or(Unit::Plain, |(_, sign)| Unit::Sign(sign))
            }
            _ => Unit::Plain,
        }
    }

    /// A number of it with its unit.
    #[must_use]
    pub fn value(&self, voice: Voice, value: f64) -> String {
        match self.unit() {
            Unit::Length => voice.length(value),
            Unit::Sign(sign) if value.is_finite() => format!("{} {sign}", number(value)),
            Unit::Sign(_) | Unit::Plain => number(value),
        }
    }

    /// The numbers of it that are right.
    #[must_use]
    pub fn values(&self, voice: Voice, least: f64, most: f64) -> String {
        match self.unit() {
            Unit::Length => voice.range(least, most),
            Unit::Sign(sign) => format!("{} to {} {sign}", number(least), number(most)),
            Unit::Plain => format!("{} to {}", number(least), number(most)),
        }
    }

    /// The path in a file; in the window the field's words, after the item that it is in.
    #[must_use]
    pub fn said(&self, voice: Voice) -> String {
        if voice.has_keys() {
            return self.to_string();
        }
        // What is within is told after these, whatever lies between.
        let (mut outer, mut own, mut before) = (Vec::new(), String::new(), None);
        for step in &self.0 {
            match step {
                Step::Key(key) => {
                    own = words_of(before.replace(*key).unwrap_or_default(), key);
                    if !SIDES.contains(key) {
                        continue;
                    }
                }
                Step::Item(number) => own = format!("{} {number}", one_of(&own)).trim_start().to_owned(),
                Step::Named(name) => own = format!("{} of \"{name}\"", one_of(&own)),
            }
            outer.push(std::mem::take(&mut own));
        }
        outer.extend(Some(own).filter(|own| !own.is_empty()));
        outer.join(", ")
    }
}

/// Keys of things that there are two of, alike within.
const SIDES: [&str; 2] = ["inward", "outward"];

/// The word for one of several things.
fn one_of(things: &str) -> &str {
    let after_ch = things.strip_suffix("es").filter(|one| one.ends_with("ch"));
    after_ch.or_else(|| things.strip_suffix('s')).unwrap_or(things)
}

impl From<&'static str> for Field {
    /// Keys parted by dots.
    fn from(keys: &'static str) -> Self {
        Self(keys.split('.').map(Step::Key).collect())
    }
}

impl PartialEq<str> for Field {
    fn eq(&self, path: &str) -> bool {
        let own = self.to_string();
        own.as_str() == path
    }
}

impl PartialEq<&str> for Field {
    fn eq(&self, path: &&str) -> bool {
        self == *path
    }
}

/// The path as files spell it.
impl fmt::Display for Field {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (index, step) in self.0.iter().enumerate() {
            if index > 0 {
                f.write_str(".")?;
            }
            match step {
                Step::Key(key) => f.write_str(key)?,
                Step::Item(number) => write!(f, "{number}")?,
                Step::Named(name) if name.is_empty() => f.write_str("\"\"")?,
                Step::Named(name) => f.write_str(name)?,
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::LengthStyle;

    #[test]
    fn a_field_is_a_path_in_a_file_and_words_in_the_window() {
        let window = Voice::window(LengthStyle::default());
        for (field, path, words) in [
            (Field::from("garment.measures.neck_width_mm"), "garment.measures.neck_width_mm", "neck width"),
            (
                Field::from("burst").then("centre.below_shoulder_mm"),
                "burst.centre.below_shoulder_mm",
                "height below the shoulder",
            ),
            (Field::from("swatches").item(3).then("depth_percent"), "swatches.3.depth_percent", "swatch 3, shade"),
            (Field::from("binds.inward").then("span.leave_mm"), "binds.inward.span.leave_mm", "inward gaps, margin"),
            (Field::from("colours.single").item(12), "colours.single.12", "section 12"),
            (Field::from("lines").item(2).then("processes.water_min"), "lines.2.processes.water_min", "row 2, water"),
        ] {
            assert_eq!((field.said(Voice::FILE), field.said(window)), (path.to_owned(), words.to_owned()));
        }
    }

    #[test]
    fn a_key_says_what_its_number_counts() {
        let unit = |key: &'static str| Field::from(key).unit();
        assert_eq!(unit("thread.tail_mm"), Unit::Length);
        assert_eq!(unit("soda_ash_g_per_l"), Unit::Sign("g/L"));
        assert_eq!((unit("seeping_per_mm"), unit("packing")), (Unit::Plain, Unit::Plain));
        assert_eq!(Field::from("lines").item(1).unit(), Unit::Plain);
    }
}
