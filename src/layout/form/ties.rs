//! Several ties on one garment.

use super::fold::FoldForm;
use super::parts::{BindsForm, ColoursForm, DyeForm, ThreadForm};
use crate::form::stands_for;
use crate::layout::{TieSpec, TiesSpec};
use serde::{Deserialize, Serialize};

/// The ties after the first, which is the layout's own.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TiesForm {
    /// What the first tie is called.
    pub first: String,
    /// The others, in the order in which they are tied.
    pub further: Vec<TieForm>,
    /// The colour of the cloth that no tie takes, by the name that a tie's dye has; no dye unless given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub loose: Option<String>,
    /// A dye of its own for that cloth, in place of `loose`; none unless given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub loose_dye: Option<DyeForm>,
}

stands_for!(struct TiesForm for TiesSpec { first, further, loose, loose_dye });

/// One of them.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TieForm {
    /// What it is called.
    pub name: String,
    /// How its cloth is folded.
    pub fold: FoldForm,
    /// Where its binds go.
    pub binds: BindsForm,
    /// What it is bound with.
    #[serde(default)]
    pub thread: ThreadForm,
    /// Which colour each of its sections gets.
    #[serde(default)]
    pub colours: ColoursForm,
}

stands_for!(struct TieForm for TieSpec { name, fold, binds, thread, colours });
