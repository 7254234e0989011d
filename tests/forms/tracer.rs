//! Every key of a file's form, and what stands there, found by reading one: a deserializer that gives each struct all the fields that
//! it knows and each choice every variant in turn.

use serde::de::value::StrDeserializer;
use serde::de::{
    DeserializeOwned, DeserializeSeed, Deserializer, EnumAccess, Error as _, IntoDeserializer as _, MapAccess, SeqAccess,
    VariantAccess, Visitor,
};
use serde::forward_to_deserialize_any;
use std::collections::{BTreeMap, BTreeSet};

type Error = serde::de::value::Error;

/// What is known so far.
#[derive(Default)]
struct Trace {
    /// What stands at each path.
    lines: BTreeMap<String, String>,
    /// The path of every field.
    fields: BTreeSet<String>,
    /// A field that is left out.
    left_out: Option<String>,
    /// For each choice, the variant to take and how many there are.
    choices: BTreeMap<String, (usize, usize)>,
    /// Choices met in this reading.
    met: BTreeSet<String>,
    /// The number that the format has.
    number: u32,
}

/// The keys of a form, a line each: `binds.marks: Exact | Millimetres1, may be left out`. A `?` follows what may be nothing, a `[]` what
/// is a list, a `{}` what has names of the maker's own.
pub(crate) fn keys<T: DeserializeOwned>(number: u32) -> String {
    let mut trace = Trace { number, ..Trace::default() };
    loop {
        trace.met.clear();
        if let Err(error) = trace.read::<T>() {
            panic!("{error}");
        }
        if !trace.advance() {
            break;
        }
    }
    let mut may_be_left_out = BTreeSet::new();
    for field in trace.fields.clone() {
        trace.lead_to(&field);
        trace.left_out = Some(field.clone());
        if trace.read::<T>().is_ok() {
            may_be_left_out.extend([field.clone() + "?", field]);
        }
    }
    let line = |(path, what): (&String, &String)| {
        let left_out = if may_be_left_out.contains(path) { ", may be left out" } else { "" };
        format!("{}: {what}{left_out}\n", path.trim_start_matches('.'))
    };
    trace.lines.iter().map(line).collect()
}

impl Trace {
    fn read<T: DeserializeOwned>(&mut self) -> Result<T, Error> {
        T::deserialize(At { trace: self, path: String::new() })
    }

    /// Sets the choices so that a reading comes to a path.
    fn lead_to(&mut self, path: &str) {
        for (choice, (at, _)) in &mut self.choices {
            let variant =
                path.strip_prefix(choice).and_then(|rest| rest.strip_prefix('.')).and_then(|rest| rest.split('.').next());
            let index = variant.and_then(|variant| self.lines[choice].split(" | ").position(|name| name == variant));
            *at = index.unwrap_or(*at);
        }
    }

    /// Goes on to the next variants: of every choice met all of whose inner choices are through. False when all are.
    fn advance(&mut self) -> bool {
        let is_open = |choices: &BTreeMap<String, (usize, usize)>, path: &str| {
            let inner = format!("{path}.");
            choices.iter().any(|(other, (at, count))| other.starts_with(&inner) && at + 1 < *count)
        };
        let ready: Vec<String> = self.met.iter().filter(|path| !is_open(&self.choices, path)).cloned().collect();
        let mut advanced = false;
        for path in ready {
            let (at, count) = self.choices.get_mut(&path).expect("what was met is known");
            if *at + 1 < *count {
                *at += 1;
                advanced = true;
            }
        }
        advanced
    }
}

/// A place in a form.
struct At<'a> {
    trace: &'a mut Trace,
    path: String,
}

impl At<'_> {
    fn note(&mut self, what: &str) {
        self.trace.lines.entry(self.path.clone()).or_insert_with(|| what.to_owned());
    }

    fn inner(&mut self, part: &str) -> At<'_> {
        At { path: format!("{}{part}", self.path), trace: self.trace }
    }

    /// A text that any reader of texts takes.
    fn text(&self) -> &'static str {
        match self.path.rsplit('.').next().unwrap_or_default().trim_end_matches(['?', ']', '[']) {
            "srgb" | "over" => "#0f7c8a",
            "letter" => "A",
            "path" | "front" | "back" => "M0,0 L1,1",
            "made" | "on" => "2027-05-03",
            "at" | "from" | "to" | "deadline" => "2027-05-03T08:00:00",
            _ => "teal",
        }
    }
}

macro_rules! whole_numbers {
    ($($method:ident $visit:ident),+) => {
        $(fn $method<V: Visitor<'de>>(mut self, visitor: V) -> Result<V::Value, Error> {
            self.note("whole number");
            visitor.$visit(if self.path == ".format" { self.trace.number.try_into().unwrap() } else { 1 })
        })+
    };
}

impl<'de> Deserializer<'de> for At<'_> {
    type Error = Error;

    fn deserialize_any<V: Visitor<'de>>(self, _: V) -> Result<V::Value, Error> {
        Err(Error::custom(format!("{}: nothing is told of what stands here", self.path)))
    }

    whole_numbers!(
        deserialize_u8 visit_u8, deserialize_u16 visit_u16, deserialize_u32 visit_u32, deserialize_u64 visit_u64,
        deserialize_i8 visit_i8, deserialize_i16 visit_i16, deserialize_i32 visit_i32, deserialize_i64 visit_i64
    );

    fn deserialize_bool<V: Visitor<'de>>(mut self, visitor: V) -> Result<V::Value, Error> {
        self.note("true | false");
        visitor.visit_bool(true)
    }

    fn deserialize_f64<V: Visitor<'de>>(mut self, visitor: V) -> Result<V::Value, Error> {
        self.note("number");
        visitor.visit_f64(1.0)
    }

    fn deserialize_str<V: Visitor<'de>>(mut self, visitor: V) -> Result<V::Value, Error> {
        self.note("text");
        visitor.visit_str(self.text())
    }

    fn deserialize_string<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Error> {
        self.deserialize_str(visitor)
    }

    fn deserialize_option<V: Visitor<'de>>(mut self, visitor: V) -> Result<V::Value, Error> {
        visitor.visit_some(self.inner("?"))
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(self, _: &'static str, visitor: V) -> Result<V::Value, Error> {
        visitor.visit_newtype_struct(self)
    }

    fn deserialize_seq<V: Visitor<'de>>(mut self, visitor: V) -> Result<V::Value, Error> {
        self.note("list");
        visitor.visit_seq(Items { at: self, count: 1, number: 0, is_tuple: false })
    }

    fn deserialize_tuple<V: Visitor<'de>>(mut self, count: usize, visitor: V) -> Result<V::Value, Error> {
        self.note("values");
        visitor.visit_seq(Items { at: self, count, number: 0, is_tuple: true })
    }

    fn deserialize_map<V: Visitor<'de>>(mut self, visitor: V) -> Result<V::Value, Error> {
        self.note("names");
        visitor.visit_map(Entry { at: self, is_done: false })
    }

    fn deserialize_struct<V: Visitor<'de>>(
        mut self,
        _: &'static str,
        fields: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Error> {
        if !self.path.is_empty() {
            self.note("fields");
        }
        visitor.visit_map(Fields { at: self, fields, now: "" })
    }

    fn deserialize_enum<V: Visitor<'de>>(
        mut self,
        _: &'static str,
        variants: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Error> {
        self.note(&variants.join(" | "));
        self.trace.met.insert(self.path.clone());
        let (at, _) = *self.trace.choices.entry(self.path.clone()).or_insert((0, variants.len()));
        visitor.visit_enum(Choice { at: self, variant: variants[at] })
    }

    forward_to_deserialize_any! { i128 u128 f32 char bytes byte_buf unit unit_struct tuple_struct identifier ignored_any }
}

struct Fields<'a> {
    at: At<'a>,
    fields: &'static [&'static str],
    now: &'static str,
}

impl<'de> MapAccess<'de> for Fields<'_> {
    type Error = Error;

    fn next_key_seed<K: DeserializeSeed<'de>>(&mut self, seed: K) -> Result<Option<K::Value>, Error> {
        let Some((first, rest)) = self.fields.split_first() else { return Ok(None) };
        (self.now, self.fields) = (first, rest);
        let path = format!("{}.{first}", self.at.path);
        if self.at.trace.left_out.as_ref() == Some(&path) {
            return self.next_key_seed(seed);
        }
        self.at.trace.fields.insert(path);
        let key: StrDeserializer<'_, Error> = first.into_deserializer();
        seed.deserialize(key).map(Some)
    }

    fn next_value_seed<V: DeserializeSeed<'de>>(&mut self, seed: V) -> Result<V::Value, Error> {
        let part = format!(".{}", self.now);
        seed.deserialize(self.at.inner(&part))
    }
}

struct Entry<'a> {
    at: At<'a>,
    is_done: bool,
}

impl<'de> MapAccess<'de> for Entry<'_> {
    type Error = Error;

    fn next_key_seed<K: DeserializeSeed<'de>>(&mut self, seed: K) -> Result<Option<K::Value>, Error> {
        if std::mem::replace(&mut self.is_done, true) { Ok(None) } else { seed.deserialize(self.at.inner("{name}")).map(Some) }
    }

    fn next_value_seed<V: DeserializeSeed<'de>>(&mut self, seed: V) -> Result<V::Value, Error> {
        seed.deserialize(self.at.inner("{}"))
    }
}

struct Items<'a> {
    at: At<'a>,
    count: usize,
    number: usize,
    is_tuple: bool,
}

impl<'de> SeqAccess<'de> for Items<'_> {
    type Error = Error;

    fn next_element_seed<T: DeserializeSeed<'de>>(&mut self, seed: T) -> Result<Option<T::Value>, Error> {
        if self.number == self.count {
            return Ok(None);
        }
        self.number += 1;
        let part = if self.is_tuple { format!(".{}", self.number) } else { "[]".to_owned() };
        seed.deserialize(self.at.inner(&part)).map(Some)
    }
}

struct Choice<'a> {
    at: At<'a>,
    variant: &'static str,
}

impl<'de, 'a> EnumAccess<'de> for Choice<'a> {
    type Error = Error;
    type Variant = At<'a>;

    fn variant_seed<V: DeserializeSeed<'de>>(self, seed: V) -> Result<(V::Value, At<'a>), Error> {
        let name: StrDeserializer<'_, Error> = self.variant.into_deserializer();
        let value = seed.deserialize(name)?;
        Ok((value, At { path: format!("{}.{}", self.at.path, self.variant), trace: self.at.trace }))
    }
}

impl<'de> VariantAccess<'de> for At<'_> {
    type Error = Error;

    fn unit_variant(self) -> Result<(), Error> {
        Ok(())
    }

    fn newtype_variant_seed<T: DeserializeSeed<'de>>(self, seed: T) -> Result<T::Value, Error> {
        seed.deserialize(self)
    }

    fn tuple_variant<V: Visitor<'de>>(self, count: usize, visitor: V) -> Result<V::Value, Error> {
        self.deserialize_tuple(count, visitor)
    }

    fn struct_variant<V: Visitor<'de>>(self, fields: &'static [&'static str], visitor: V) -> Result<V::Value, Error> {
        self.deserialize_struct("", fields, visitor)
    }
}
