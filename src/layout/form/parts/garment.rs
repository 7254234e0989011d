//! The garment and how it is laid.

use crate::form::{FileForm, stands_for};
use crate::geometry::{Centre, Centring, GarmentKind, Pleats, RawMeasures};
use crate::layout::{Fibre, FibreShare, WashSpec};
use serde::{Deserialize, Serialize};

/// A kind of garment.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum GarmentKindForm {
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
}

impl FileForm for GarmentKindForm {
    type Live = GarmentKind;

    fn live(self) -> GarmentKind {
        match self {
            Self::CrewTee => GarmentKind::CrewTee,
            Self::VNeckTee => GarmentKind::VNeckTee,
            Self::LongSleeveTee => GarmentKind::LongSleeveTee,
            Self::Tank => GarmentKind::Tank,
            Self::InfantBodysuit => GarmentKind::InfantBodysuit,
            Self::HoodedTop => GarmentKind::HoodedTop,
            Self::ShirtDress => GarmentKind::ShirtDress,
            Self::ToteBag => GarmentKind::ToteBag,
            Self::FlatCloth => GarmentKind::FlatCloth,
        }
    }
}

impl GarmentKindForm {
    /// The kind in format 1; none of one's own outline, which that format does not know.
    #[must_use]
    pub fn of(kind: GarmentKind) -> Option<Self> {
        Some(match kind {
            GarmentKind::CrewTee => Self::CrewTee,
            GarmentKind::VNeckTee => Self::VNeckTee,
            GarmentKind::LongSleeveTee => Self::LongSleeveTee,
            GarmentKind::Tank => Self::Tank,
            GarmentKind::InfantBodysuit => Self::InfantBodysuit,
            GarmentKind::HoodedTop => Self::HoodedTop,
            GarmentKind::ShirtDress => Self::ShirtDress,
            GarmentKind::ToteBag => Self::ToteBag,
            GarmentKind::FlatCloth => Self::FlatCloth,
            GarmentKind::Own => return None,
        })
    }
}

/// Measurements taken on a garment, from one table of keys and what they are.
macro_rules! measures {
    ($($key:ident $what:literal;)+) => {
        /// Measurements taken on the garment laid flat, mm; each absent until it is given.
        #[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
        #[serde(default, deny_unknown_fields)]
        pub struct MeasuresForm {
            $(
                #[doc = $what]
                #[serde(skip_serializing_if = "Option::is_none")]
                pub $key: Option<f64>,
            )+
        }

        stands_for!(struct MeasuresForm for RawMeasures { $($key),+ });
    };
}

measures! {
    half_chest_mm "Half chest.";
    length_mm "Length.";
    shoulder_to_shoulder_mm "Shoulder to shoulder.";
    neck_width_mm "Neck width.";
    front_neck_drop_mm "Front neck drop.";
    back_neck_drop_mm "Back neck drop.";
    shoulder_drop_mm "Shoulder drop.";
    strap_width_mm "Strap width.";
    armhole_depth_mm "Armhole depth.";
    across_front_mm "Across front.";
    across_back_mm "Across back.";
    sleeve_length_mm "Sleeve length.";
    sleeve_opening_mm "Sleeve opening.";
    sleeve_fall_mm "Sleeve fall.";
    waist_width_mm "Waist width.";
    waist_depth_mm "Waist depth.";
    hem_width_mm "Hem width.";
    hem_rise_mm "Hem rise at the side.";
    hip_width_mm "Hip width.";
    crotch_width_mm "Crotch width.";
    leg_opening_mm "Leg opening.";
    hood_height_mm "Hood height.";
    hood_depth_mm "Hood depth.";
    bag_width_mm "Bag width.";
    bag_height_mm "Bag height.";
    handle_drop_mm "Handle drop.";
    handle_width_mm "Handle width.";
    handle_spacing_mm "Handle spacing.";
    cloth_width_mm "Cloth width.";
    cloth_height_mm "Cloth height.";
}

/// A fibre, by its generic name.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum FibreForm {
    /// Cotton.
    Cotton,
    /// Linen (flax).
    Linen,
    /// Hemp.
    Hemp,
    /// Viscose, modal or lyocell.
    Viscose,
    /// Wool or another animal hair.
    Wool,
    /// Silk.
    Silk,
    /// Polyamide.
    Nylon,
    /// Polyester.
    Polyester,
    /// Acrylic.
    Acrylic,
    /// Elastane.
    Elastane,
    /// Anything else.
    Other,
}

stands_for!(enum FibreForm for Fibre {
    Cotton {}, Linen {}, Hemp {}, Viscose {}, Wool {}, Silk {}, Nylon {}, Polyester {}, Acrylic {}, Elastane {}, Other {}
});

/// A fibre's share of the cloth.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FibreShareForm {
    /// The fibre.
    pub fibre: FibreForm,
    /// Percent of the cloth's mass.
    pub percent: f64,
}

stands_for!(struct FibreShareForm for FibreShare { fibre, percent });

/// Change by washing, percent; shrinking is negative.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct WashForm {
    /// Along the garment, down the centre line: 0.
    pub length_percent: f64,
    /// Across it: 0.
    pub width_percent: f64,
}

stands_for!(struct WashForm for WashSpec { length_percent, width_percent });

/// How the halves of the garment are stacked before it is pleated.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum HalfFoldForm {
    /// Front left, front right, back right, back left.
    Nested,
    /// Back left, front left, front right, back right.
    PlainHalf,
    /// Not folded: front on back.
    Open,
}

stands_for!(enum HalfFoldForm for Centring { Nested {}, PlainHalf {}, Open {} });

/// Where the burst centre sits. Distances from the centre line are positive to the wearer's left.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum CentreForm {
    /// Measured down from the high point of the shoulder.
    BelowShoulder {
        /// Distance from the centre line, mm.
        from_centre_line_mm: f64,
        /// Distance below the shoulder point, mm.
        below_shoulder_mm: f64,
    },
    /// Measured up from the middle between shoulder point and hem.
    AboveMiddle {
        /// Distance from the centre line, mm.
        from_centre_line_mm: f64,
        /// Rise above the middle, mm.
        above_middle_mm: f64,
    },
}

stands_for!(enum CentreForm for Centre {
    BelowShoulder { from_centre_line_mm, below_shoulder_mm },
    AboveMiddle { from_centre_line_mm, above_middle_mm },
});

/// How deep the pleats are, or how many.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum PleatsForm {
    /// As deep as this at the guide arc.
    Depth {
        /// Crease to crease at the guide arc, mm.
        depth_mm: f64,
    },
    /// This many over the whole turn.
    Count {
        /// Number of pleats.
        count: u32,
    },
}

stands_for!(enum PleatsForm for Pleats { Depth { depth_mm }, Count { count } });
