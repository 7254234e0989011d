//! A process in a file.

use super::parts::StepForm;
use crate::form::{FileForm, FileFormat, FormatNumber, WrittenForm, stands_for};
use crate::plan::{Need, Process};
use serde::{Deserialize, Serialize};

/// A process file of format 1.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ProcessV1 {
    /// 1.
    pub format: FormatNumber<1>,
    /// Its name.
    pub name: String,
    /// Anything to remember.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
    /// The steps, in their order.
    pub steps: Vec<StepForm<NeedV1>>,
}

impl FileFormat for ProcessV1 {
    const NUMBER: u32 = 1;
}

stands_for!(file ProcessV1 for Process { name, note, steps });

/// A process file of format 2.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ProcessV2 {
    /// 2.
    pub format: FormatNumber<2>,
    /// Its name.
    pub name: String,
    /// Anything to remember.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
    /// The steps, in their order.
    pub steps: Vec<StepForm<NeedV2>>,
}

impl FileFormat for ProcessV2 {
    const NUMBER: u32 = 2;
}

stands_for!(file ProcessV2 for Process { name, note, steps });

/// A format's words for what a step uses, but for a layer of ice, which has a number.
macro_rules! needs {
    ($(#[doc = $doc:literal])+ $form:ident { $($(#[doc = $of:literal])+ $key:ident = $own:ident,)+ }) => {
        $(#[doc = $doc])+
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
        pub enum $form {
            $($(#[doc = $of])+ $key,)+
            /// A layer of ice, by its number from 1.
            Ice(u32),
        }

        impl FileForm for $form {
            type Live = Need;

            fn live(self) -> Need {
                match self {
                    $(Self::$key => Need::$own,)+
                    Self::Ice(layer) => Need::Ice(layer),
                }
            }
        }

        impl WrittenForm for $form {
            fn of(live: Need) -> Self {
                match live {
                    $(Need::$own => Self::$key,)+
                    Need::Ice(layer) => Self::Ice(layer),
                }
            }
        }
    };
}

needs! {
    /// What a step uses, in the words of format 1.
    NeedV1 {
        /// Thread for the binds.
        Thread = Thread,
        /// Water for the discharge, and its soda ash.
        BathWater = BathWater,
        /// The discharge agent.
        Discharge = Discharge,
        /// Water, soda ash and agent for the discharge of a scrap.
        ScrapBath = ScrapBath,
        /// Water and soda ash that a scrap is soaked in.
        ScrapSoak = ScrapSoak,
        /// Dye for a scrap.
        ScrapDye = ScrapDye,
        /// The soda ash soak.
        SodaSoak = SodaSoak,
        /// The dyes, weighed out.
        Dye = Dye,
        /// Soda ash sprinkled over the powder.
        SodaStrewn = SodaStrewn,
        /// Hot water that loose dye is soaked out in.
        HotSoak = HotSoak,
        /// Dissolved dye, to be put on by hand.
        Stock = Stock,
    }
}

needs! {
    /// What a step uses, in the words of format 2.
    NeedV2 {
        /// Thread for the binds.
        Thread = Thread,
        /// Water for the discharge, and its soda ash.
        BathWater = BathWater,
        /// The discharge agent.
        Discharge = Discharge,
        /// Water, soda ash and agent for the discharge of a scrap.
        ScrapBath = ScrapBath,
        /// Water and soda ash that a scrap is soaked in.
        ScrapSoak = ScrapSoak,
        /// Dye for a scrap.
        ScrapDye = ScrapDye,
        /// The soda ash soak.
        SodaAshSoak = SodaSoak,
        /// The dyes, weighed out.
        Dye = Dye,
        /// Soda ash sprinkled over the powder.
        SodaAshSprinkled = SodaStrewn,
        /// Hot water that loose dye is soaked out in.
        HotSoak = HotSoak,
        /// Dissolved dye, to be put on by hand.
        Stock = Stock,
    }
}
