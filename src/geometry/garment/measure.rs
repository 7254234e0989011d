//! The measurements a garment can have: one table gives their names, how to take them, what is plausible, and the file form.

use std::fmt;
use std::ops::RangeInclusive;

use super::SourceStatus;

/// Builds [`Measure`] and [`RawMeasures`] from one table, so that a measurement can't be known to one and not to the other.
macro_rules! measures {
    ($($(#[doc = $doc:literal])+ $variant:ident $field:ident $name:literal $low:literal ..= $high:literal;)+) => {
        /// A finished measurement of a garment, taken on the garment laid flat, in mm.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Measure {
            $($(#[doc = $doc])+ $variant,)+
        }

        impl Measure {
            /// Every measurement, in the order they are listed to a maker.
            pub const ALL: [Self; [$(Self::$variant),+].len()] = [$(Self::$variant),+];

            /// The name in files: snake case, with the unit.
            pub const fn key(self) -> &'static str {
                match self { $(Self::$variant => stringify!($field),)+ }
            }

            /// The name in print.
            pub const fn name(self) -> &'static str {
                match self { $(Self::$variant => $name,)+ }
            }

            /// How to take the measurement on the finished garment laid flat.
            pub const fn how_to_measure(self) -> &'static str {
                match self { $(Self::$variant => concat!($($doc),+).trim_ascii(),)+ }
            }

            /// The least and the greatest value accepted, in mm: wide enough for every size from a newborn's to 4XL and
            /// beyond, narrow enough to catch a slipped unit or digit. See [`Self::range_status`].
            pub const fn range_mm(self) -> RangeInclusive<f64> {
                match self { $(Self::$variant => $low..=$high,)+ }
            }
        }

        /// Measurements as a file or a form gives them: unchecked, in mm, each absent until it is given.
        #[derive(Clone, Debug, Default, PartialEq)]
        pub struct RawMeasures {
            $(
                $(#[doc = $doc])+
                pub $field: Option<f64>,
            )+
        }

        impl RawMeasures {
            /// The value given for a measurement, in mm, unchecked.
            pub const fn value(&self, measure: Measure) -> Option<f64> {
                match measure { $(Measure::$variant => self.$field,)+ }
            }

            /// Sets or clears a measurement, in mm, unchecked.
            pub const fn set(&mut self, measure: Measure, value_mm: Option<f64>) {
                match measure { $(Measure::$variant => self.$field = value_mm,)+ }
            }
        }
    };
}

measures! {
    /// Straight across the front from underarm to underarm.
    HalfChest half_chest_mm "half chest" 120.0..=1100.0;
    /// Straight down from the high point of the shoulder, where the shoulder meets the neck, to the hem.
    Length length_mm "length" 180.0..=1800.0;
    /// Straight across the back from one shoulder point, where the sleeve is set in, to the other.
    ShoulderToShoulder shoulder_to_shoulder_mm "shoulder to shoulder" 110.0..=1000.0;
    /// Straight across the neck opening, edge to edge, from one high point of the shoulder to the other.
    NeckWidth neck_width_mm "neck width" 60.0..=420.0;
    /// Straight down the centre front, from the line between the high points of the shoulder to the neck's edge.
    FrontNeckDrop front_neck_drop_mm "front neck drop" 5.0..=600.0;
    /// Straight down the centre back, from the line between the high points of the shoulder to the neck's edge.
    BackNeckDrop back_neck_drop_mm "back neck drop" 1.0..=500.0;
    /// Straight down from the level of the high point of the shoulder to the level of the shoulder point.
    ShoulderDrop shoulder_drop_mm "shoulder drop" 1.0..=200.0;
    /// Along the shoulder strap's top edge, from the neck's edge to the armhole's.
    StrapWidth strap_width_mm "strap width" 10.0..=200.0;
    /// Straight down from the level of the high point of the shoulder to the level of the underarm.
    ArmholeDepth armhole_depth_mm "armhole depth" 60.0..=600.0;
    /// Straight across the front from armhole to armhole, halfway between the strap and the underarm.
    AcrossFront across_front_mm "across front" 70.0..=800.0;
    /// Straight across the back from armhole to armhole, halfway between the strap and the underarm.
    AcrossBack across_back_mm "across back" 70.0..=800.0;
    /// Along the sleeve's upper edge, pulled straight, from the shoulder point to the end of the cuff.
    SleeveLength sleeve_length_mm "sleeve length" 30.0..=900.0;
    /// Straight across the end of the sleeve, square to its upper edge, with the cuff lying flat.
    SleeveOpening sleeve_opening_mm "sleeve opening" 30.0..=450.0;
    /// Straight down from the level of the shoulder point to the upper end of the cuff, with the sleeve lying without strain.
    SleeveFall sleeve_fall_mm "sleeve fall" 0.0..=850.0;
    /// Straight across the waist, edge to edge, at its narrowest.
    WaistWidth waist_width_mm "waist width" 100.0..=1100.0;
    /// Straight down from the level of the high point of the shoulder to the level of the narrowest waist.
    WaistDepth waist_depth_mm "waist depth" 100.0..=800.0;
    /// Straight across the lower edge, from side to side.
    HemWidth hem_width_mm "hem width" 100.0..=1500.0;
    /// Straight up from the level of the hem at the centre to the hem at the side; nothing for a straight hem.
    HemRise hem_rise_mm "hem rise at the side" 0.0..=250.0;
    /// Straight across at the upper ends of the leg openings, from side to side.
    HipWidth hip_width_mm "hip width" 100.0..=600.0;
    /// Straight across the crotch at its closure.
    CrotchWidth crotch_width_mm "crotch width" 30.0..=250.0;
    /// Straight from the upper end of the leg opening, at the side, to its lower end, at the crotch.
    LegOpening leg_opening_mm "leg opening" 50.0..=350.0;
    /// Straight up from the level of the high point of the shoulder to the top of the hood, folded in half and laid flat.
    HoodHeight hood_height_mm "hood height" 120.0..=550.0;
    /// Straight across the hood, folded in half and laid flat, from its back to the edge of the face opening.
    HoodDepth hood_depth_mm "hood depth" 100.0..=450.0;
    /// Straight across the bag, from side to side.
    BagWidth bag_width_mm "bag width" 80.0..=1000.0;
    /// Straight down the bag from its upper edge to its foot.
    BagHeight bag_height_mm "bag height" 80.0..=1000.0;
    /// Straight up from the bag's upper edge to the inside of the handle's top; nothing if the handles stay out of the fold.
    HandleDrop handle_drop_mm "handle drop" 0.0..=900.0;
    /// Straight across one band of the handle.
    HandleWidth handle_width_mm "handle width" 8.0..=120.0;
    /// Straight along the bag's upper edge between the two feet of one handle, inside edge to inside edge.
    HandleSpacing handle_spacing_mm "handle spacing" 20.0..=600.0;
    /// Straight across the cloth, from side to side.
    ClothWidth cloth_width_mm "cloth width" 50.0..=6000.0;
    /// Straight down the cloth, from its upper to its lower edge.
    ClothHeight cloth_height_mm "cloth height" 50.0..=6000.0;
}

impl Measure {
    /// Where the accepted ranges come from: set by us around the sizes made, with room on both sides.
    pub const fn range_status(self) -> SourceStatus {
        SourceStatus::Memory
    }
}

/// Writes the name used in files.
impl fmt::Display for Measure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.key())
    }
}
