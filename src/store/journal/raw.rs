//! An entry as it is kept, nothing checked.

use jiff::civil::Date;

/// An entry as it is kept.
#[derive(Debug, Clone, PartialEq)]
pub struct RawEntry {
    /// Its name: day and layout, such as `2027-05-03-harbour-row-tee-m`.
    pub id: String,
    /// The day on which it was made.
    pub made: Date,
    /// Which of several equal garments of a day it is: `2 of 3`.
    pub garment: String,
    /// How it came out, 1 to 5.
    pub rating: Option<u8>,
    /// What was done otherwise than the layout says.
    pub differently: String,
    /// What to change next time.
    pub change: String,
    /// Anything else.
    pub note: String,
    /// How the waits of the day came out, a sentence each.
    pub waits: Vec<String>,
    /// When each step of the day was done, a sentence each.
    pub times: Vec<String>,
    /// Photographs.
    pub photos: Vec<EntryPhoto>,
    /// The text of the layout's file as it was that day, in the format of that day.
    pub layout: String,
}

/// A photograph of an entry.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct EntryPhoto {
    /// Its file in the journal's folder `photos`: the content's SHA-256 in hexadecimal, and the kind's ending.
    pub file: String,
    /// The name that it came with.
    pub from: String,
}
