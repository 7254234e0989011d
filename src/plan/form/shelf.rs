//! A shelf in a file, and in the store.

use super::parts::{BlankForm, SupplyForm};
use crate::form::{FileFormat, FormatNumber, stands_for};
use crate::plan::Shelf;
use serde::{Deserialize, Serialize};

/// A shelf of format 1.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ShelfV1 {
    /// 1.
    pub format: FormatNumber<1>,
    /// The currency's sign or name; none where no price is given.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub currency: String,
    /// What is weighed or measured off.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub supplies: Vec<SupplyForm>,
    /// Undyed garments.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub blanks: Vec<BlankForm>,
}

impl FileFormat for ShelfV1 {
    const NUMBER: u32 = 1;
}

stands_for!(file ShelfV1 for Shelf { currency, supplies, blanks });
