//! What the frozen forms of files are made of.
//!
//! A form says how the files of one format are written: serde structs of its own, with no type in them that the program works with, so
//! that a change of the program can't change what a file means. Every part of a form says what it stands for ([`FileForm`]); both are
//! taken apart with every field named, so that a new field does not compile before each form has decided on it. A form that files have
//! been written in is never changed: its defaults and its keys are its own.
//!
//! This module must not know which files there are.

use crate::telling::Field;
use jiff::civil::{Date, DateTime};
use serde::de::{DeserializeOwned, Deserializer, Error as _};
use serde::{Deserialize, Serialize, Serializer};
use std::collections::{BTreeMap, BTreeSet};

/// A part of a file's form, or a whole file, as it is read.
pub trait FileForm: Sized {
    /// What it stands for in the program.
    type Live;

    /// What it stands for.
    fn live(self) -> Self::Live;
}

/// A form that can say everything that it may have to.
pub trait WrittenForm: FileForm {
    /// The form of a value.
    fn of(live: Self::Live) -> Self;
}

/// A whole file in one format.
pub trait FileFormat: FileForm + DeserializeOwned {
    /// The number that such a file says it has.
    const NUMBER: u32;
    /// Where this format's keys are not the program's own names for fields: the beginning of a path by the program's names, and by the
    /// file's. Of two that fit a path, the first counts.
    const KEYS: Keys = &[];
}

/// Beginnings of paths to fields, by the program's names and by a file's keys. A `*` is any one part of a path, as the number of an entry.
pub type Keys = &'static [(&'static str, &'static str)];

/// A field by a file's own keys.
///
/// ```
/// use pleatwright::form::in_file;
/// use pleatwright::telling::Field;
/// let keys = &[("fold.arcs", "burst.further_arcs"), ("fold", "burst"), ("dyes.*.depth", "dyes.*.shade")];
/// assert_eq!(in_file(keys, &Field::from("fold.arcs").item(2)), "burst.further_arcs.2");
/// assert_eq!(in_file(keys, &Field::from("fold.centre")), "burst.centre");
/// assert_eq!(in_file(keys, &Field::from("dyes").item(3).then("depth")), "dyes.3.shade");
/// assert_eq!(in_file(keys, &Field::from("folds")), "folds");
/// ```
#[must_use]
pub fn in_file(keys: Keys, field: &Field) -> Field {
    keys.iter().find_map(|(own, key)| field.renamed(own, key)).unwrap_or_else(|| field.clone())
}

/// A format's number in a file: this one and no other.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct FormatNumber<const NUMBER: u32>;

impl<const NUMBER: u32> Serialize for FormatNumber<NUMBER> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_u32(NUMBER)
    }
}

impl<'de, const NUMBER: u32> Deserialize<'de> for FormatNumber<NUMBER> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        match u32::deserialize(deserializer)? {
            found if found == NUMBER => Ok(Self),
            found => Err(D::Error::custom(format!("this is format {found}, read as format {NUMBER}"))),
        }
    }
}

/// Values that stand for themselves.
macro_rules! themselves {
    ($($own:ty),+) => {
        $(impl FileForm for $own {
            type Live = Self;

            fn live(self) -> Self {
                self
            }
        }

        impl WrittenForm for $own {
            fn of(live: Self) -> Self {
                live
            }
        })+
    };
}

themselves!([f64; 2], [f64; 3], bool, u8, u32, u64, usize, i32, f64, String, Date, DateTime);

impl<T: FileForm> FileForm for Option<T> {
    type Live = Option<T::Live>;

    fn live(self) -> Self::Live {
        self.map(T::live)
    }
}

impl<T: WrittenForm> WrittenForm for Option<T> {
    fn of(live: Self::Live) -> Self {
        live.map(T::of)
    }
}

impl<T: FileForm> FileForm for Vec<T> {
    type Live = Vec<T::Live>;

    fn live(self) -> Self::Live {
        self.into_iter().map(T::live).collect()
    }
}

impl<T: WrittenForm> WrittenForm for Vec<T> {
    fn of(live: Self::Live) -> Self {
        live.into_iter().map(T::of).collect()
    }
}

impl<K: FileForm<Live: Ord> + Ord, T: FileForm> FileForm for BTreeMap<K, T> {
    type Live = BTreeMap<K::Live, T::Live>;

    fn live(self) -> Self::Live {
        self.into_iter().map(|(key, value)| (key.live(), value.live())).collect()
    }
}

impl<K: WrittenForm<Live: Ord> + Ord, T: WrittenForm> WrittenForm for BTreeMap<K, T> {
    fn of(live: Self::Live) -> Self {
        live.into_iter().map(|(key, value)| (K::of(key), T::of(value))).collect()
    }
}

impl<T: FileForm<Live: Ord> + Ord> FileForm for BTreeSet<T> {
    type Live = BTreeSet<T::Live>;

    fn live(self) -> Self::Live {
        self.into_iter().map(T::live).collect()
    }
}

impl<T: WrittenForm<Live: Ord> + Ord> WrittenForm for BTreeSet<T> {
    fn of(live: Self::Live) -> Self {
        live.into_iter().map(T::of).collect()
    }
}

impl<A: FileForm, B: FileForm> FileForm for (A, B) {
    type Live = (A::Live, B::Live);

    fn live(self) -> Self::Live {
        (self.0.live(), self.1.live())
    }
}

impl<A: WrittenForm, B: WrittenForm> WrittenForm for (A, B) {
    fn of((first, second): Self::Live) -> Self {
        (A::of(first), B::of(second))
    }
}

/// Says what a struct, an enum or a whole file of a form stands for, field by field and variant by variant. What bears another name in
/// the program follows after a semicolon, the form's name first. A file's number stands for nothing. A part that formats write in
/// different ways is a parameter, with what it stands for.
///
/// ```text
/// stands_for!(struct ClothV1 for Cloth { grams_per_m2, packing });
/// stands_for!(struct BurstV1 for BurstSpec { centre, pleats; half_fold = centring });
/// stands_for!(enum WorkPlaceForm for WorkPlace { Outdoors {}, Indoors { room_m3 } });
/// stands_for!(enum RingForm for Ring { Gas {}; ElectricRing = Electric {} });
/// stands_for!(file PresetV1 for SpacingPreset { name, note });
/// stands_for!(struct StepForm<N = Need> for Step { name, needs });
/// ```
macro_rules! stands_for {
    (struct $form:ident $(<$part:ident = $of:ident>)? for $live:ident {
        $($same:ident),* $(; $($key:ident = $own:ident),+)? $(,)?
    }) => {
        $crate::form::stands_for!(@struct $form $(<$part = $of>)? for $live {} { $($same),* } { $($($key = $own),+)? });
    };
    (file $form:ident for $live:ident { $($same:ident),* $(; $($key:ident = $own:ident),+)? $(,)? }) => {
        $crate::form::stands_for!(@struct $form for $live { format } { $($same),* } { $($($key = $own),+)? });
    };
    (@struct $form:ident $(<$part:ident = $of:ident>)? for $live:ident {
        $($number:ident)?
    } { $($same:ident),* } { $($key:ident = $own:ident),* }) => {
        impl $(<$part: $crate::form::FileForm<Live = $of>>)? $crate::form::FileForm for $form $(<$part>)? {
            type Live = $live;

            fn live(self) -> $live {
                let Self { $($number: $crate::form::FormatNumber,)? $($same,)* $($key,)* } = self;
                $live {
                    $($same: $crate::form::FileForm::live($same),)*
                    $($own: $crate::form::FileForm::live($key),)*
                }
            }
        }

        impl $(<$part: $crate::form::WrittenForm<Live = $of>>)? $crate::form::WrittenForm for $form $(<$part>)? {
            fn of(live: $live) -> Self {
                let $live { $($same,)* $($own: $key,)* } = live;
                Self {
                    $($number: $crate::form::FormatNumber,)?
                    $($same: $crate::form::WrittenForm::of($same),)*
                    $($key: $crate::form::WrittenForm::of($key),)*
                }
            }
        }
    };
    (enum $form:ident for $live:ident {
        $($same:ident { $($field:ident),* }),* $(; $($key:ident = $own:ident { $($inner:ident),* }),+)? $(,)?
    }) => {
        impl $crate::form::FileForm for $form {
            type Live = $live;

            fn live(self) -> $live {
                match self {
                    $(Self::$same { $($field),* } => $live::$same { $($field: $crate::form::FileForm::live($field)),* },)*
                    $($(Self::$key { $($inner),* } => $live::$own { $($inner: $crate::form::FileForm::live($inner)),* },)+)?
                }
            }
        }

        impl $crate::form::WrittenForm for $form {
            fn of(live: $live) -> Self {
                match live {
                    $($live::$same { $($field),* } => Self::$same { $($field: $crate::form::WrittenForm::of($field)),* },)*
                    $($($live::$own { $($inner),* } => Self::$key { $($inner: $crate::form::WrittenForm::of($inner)),* },)+)?
                }
            }
        }
    };
}

pub(crate) use stands_for;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_is_read_as_itself_and_refused_as_another() {
        assert_eq!(ron::to_string(&FormatNumber::<2>).unwrap(), "2");
        assert_eq!(ron::from_str("2"), Ok(FormatNumber::<2>));
        let refused = ron::from_str::<FormatNumber<2>>("1").unwrap_err().to_string();
        assert!(refused.contains("this is format 1, read as format 2"), "{refused}");
    }
}
