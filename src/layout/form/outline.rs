//! A garment of the maker's own outline, as files of format 2 have it.

use super::line::PathForm;
use crate::form::stands_for;
use crate::geometry::{GarmentKind, OwnOutline, Panels};
use serde::{Deserialize, Serialize};

/// A kind of garment.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum GarmentKindV2 {
    /// A short-sleeved T-shirt with a round neck.
    CrewTee,
    /// A short-sleeved T-shirt with a pointed neck.
    VNeckTee,
    /// A long-sleeved T-shirt with a round neck.
    LongSleeveTee,
    /// A top without sleeves, on shoulder straps.
    Tank,
    /// An infant's one-piece with short sleeves, closed at the crotch.
    InfantBodysuit,
    /// A long-sleeved top with a hood.
    HoodedTop,
    /// A dress cut like a T-shirt, shaped at the waist.
    ShirtDress,
    /// A flat bag with two handles.
    ToteBag,
    /// A rectangle of cloth.
    FlatCloth,
    /// A garment of the maker's own outline.
    Own,
}

stands_for!(enum GarmentKindV2 for GarmentKind {
    CrewTee {}, VNeckTee {}, LongSleeveTee {}, Tank {}, InfantBodysuit {}, HoodedTop {}, ShirtDress {}, ToteBag {}, FlatCloth {}, Own {}
});

/// The outlines of a garment of one's own, as drawn: halves, mm, each from the top of the centre line to its foot.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OwnOutlineForm {
    /// Half of the front, or of the only layer.
    pub front: PathForm,
    /// Half of the back where it is cut otherwise.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub back: Option<PathForm>,
    /// How many layers lie on the table.
    pub layers: LayersForm,
}

stands_for!(struct OwnOutlineForm for OwnOutline { front, back; layers = panels });

/// How many layers of cloth there are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum LayersForm {
    /// A single cloth.
    One,
    /// A front and a back.
    Two,
}

stands_for!(enum LayersForm for Panels { One {}, Two {} });
