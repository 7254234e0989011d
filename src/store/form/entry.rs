//! A journal's entry in a file, and in the store.

use crate::form::{FileFormat, FormatNumber, stands_for};
use crate::store::journal::{EntryPhoto, RawEntry};
use jiff::civil::Date;
use serde::{Deserialize, Serialize};

/// An entry of format 1.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct EntryV1 {
    /// 1.
    pub format: FormatNumber<1>,
    /// Its name: day and layout.
    pub id: String,
    /// The day on which it was made.
    pub made: Date,
    /// Which of several equal garments of a day it is: an only one.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub garment: String,
    /// How it came out, 1 to 5.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rating: Option<u8>,
    /// What was done otherwise than the layout says.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub differently: String,
    /// What to change next time.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub change: String,
    /// Anything else.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
    /// How the waits of the day came out, a sentence each.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub waits: Vec<String>,
    /// When each step of the day was done, a sentence each.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub times: Vec<String>,
    /// Photographs.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub photos: Vec<PhotoV1>,
    /// The text of the layout's file as it was that day, in the format of that day.
    pub layout: String,
}

impl FileFormat for EntryV1 {
    const NUMBER: u32 = 1;
}

stands_for!(file EntryV1 for RawEntry { id, made, garment, rating, differently, change, note, waits, times, photos, layout });

/// A photograph of an entry.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PhotoV1 {
    /// Its file in the journal's folder `photos`: the content's SHA-256 in hexadecimal, and the kind's ending.
    pub file: String,
    /// The name that it came with.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub from: String,
}

stands_for!(struct PhotoV1 for EntryPhoto { file, from });
