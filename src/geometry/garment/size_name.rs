//! The names of sizes.

use std::fmt;

/// Builds [`SizeName`] from one table of variants and names.
macro_rules! size_names {
    ($($variant:ident $name:literal;)+) => {
        /// The name of a size.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum SizeName {
            $(#[doc = concat!("Size ", $name, ".")] $variant,)+
        }

        impl SizeName {
            /// Every size name, from small to large, garments before bags and cloths.
            pub const ALL: [Self; [$(Self::$variant),+].len()] = [$(Self::$variant),+];

            /// The name as written.
            pub const fn as_str(self) -> &'static str {
                match self { $(Self::$variant => $name,)+ }
            }
        }
    };
}

size_names! {
    Months0To3 "0-3 months";
    Months3To6 "3-6 months";
    Months6To12 "6-12 months";
    Months12To18 "12-18 months";
    Months18To24 "18-24 months";
    Age2 "2";
    Age4 "4";
    Age6 "6";
    Age8 "8";
    Age10 "10";
    Age12 "12";
    Age14 "14";
    Xs "XS";
    S "S";
    M "M";
    L "L";
    Xl "XL";
    Xl2 "2XL";
    Xl3 "3XL";
    Xl4 "4XL";
    Small "small";
    Medium "medium";
    Large "large";
    Handkerchief "handkerchief";
    Bandana "bandana";
    TeaTowel "tea towel";
    Pillowcase "pillowcase";
    Scarf "scarf";
    Hanging "hanging";
}

impl SizeName {
    /// What it is called in a list of sizes: those of children, which are numbers alone, with a word that says so.
    #[must_use]
    pub fn in_list(self) -> String {
        match self {
            Self::Age2 | Self::Age4 | Self::Age6 | Self::Age8 | Self::Age10 | Self::Age12 | Self::Age14 => {
                format!("child {self}")
            }
            _ => self.to_string(),
        }
    }
}

impl fmt::Display for SizeName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.as_str())
    }
}
