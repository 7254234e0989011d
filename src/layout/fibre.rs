//! What the cloth is made of, and whether a reactive dye serves it.

use crate::telling::{Refused, Told, Voice, displayed_as_in_files, listed};
use serde::Serialize;
use std::fmt;

/// A fibre, by its generic name as on a content label (the names of ISO 2076 and of the labelling rules for textiles).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub enum Fibre {
    /// Cotton.
    Cotton,
    /// Linen (flax).
    Linen,
    /// Hemp.
    Hemp,
    /// Viscose, modal or lyocell: regenerated cellulose.
    Viscose,
    /// Wool or another animal hair.
    Wool,
    /// Silk.
    Silk,
    /// Polyamide, called nylon.
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

/// What a reactive dye in a bath of soda ash does with a fibre.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Take {
    /// Cellulose: the dye binds to it.
    Dyes,
    /// Protein: hot alkali harms it.
    IsHarmed,
    /// The dye finds nothing to bind to and washes out.
    StaysUndyed,
}

impl Fibre {
    /// Every fibre, cellulose first.
    pub const ALL: [Self; 11] = [
        Self::Cotton,
        Self::Linen,
        Self::Hemp,
        Self::Viscose,
        Self::Wool,
        Self::Silk,
        Self::Nylon,
        Self::Polyester,
        Self::Acrylic,
        Self::Elastane,
        Self::Other,
    ];

    /// Plain word for it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Cotton => "cotton",
            Self::Linen => "linen",
            Self::Hemp => "hemp",
            Self::Viscose => "viscose",
            Self::Wool => "wool",
            Self::Silk => "silk",
            Self::Nylon => "nylon",
            Self::Polyester => "polyester",
            Self::Acrylic => "acrylic",
            Self::Elastane => "elastane",
            Self::Other => "other fibre",
        }
    }

    /// What becomes of it in an alkaline bath of reactive dye (textbooks of dyeing: the dye reacts with the hydroxyl groups of cellulose;
    /// alkali and heat hydrolyse the proteins of wool and silk).
    #[must_use]
    pub const fn take(self) -> Take {
        match self {
            Self::Cotton | Self::Linen | Self::Hemp | Self::Viscose => Take::Dyes,
            Self::Wool | Self::Silk => Take::IsHarmed,
            Self::Nylon | Self::Polyester | Self::Acrylic | Self::Elastane | Self::Other => Take::StaysUndyed,
        }
    }
}

impl fmt::Display for Fibre {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

/// A fibre's share of the cloth, as the content label gives it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FibreShare {
    /// The fibre.
    pub fibre: Fibre,
    /// Percent of the cloth's mass.
    pub percent: f64,
}

/// Largest share of fibre that takes no dye, or is harmed, at which nothing is said, percent: a pale cast that hardly shows (common
/// practice, no source).
pub const UNDYED_UNNOTICED_PERCENT: f64 = 20.0;
/// Least share of cellulose that is worth dyeing, percent: below it most of the cloth keeps its colour (our own judgement).
pub const LEAST_CELLULOSE_PERCENT: f64 = 50.0;
/// How far the shares may be from 100 in all, percent: labels round.
pub const FIBRES_ROUND_PERCENT: f64 = 1.0;

/// Whether a reactive dye serves a cloth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Serves {
    /// It does; the content may not have been told.
    Well,
    /// Part of the cloth stays undyed, percent: it comes out paler, or heathered.
    Paler {
        /// The largest such fibre.
        fibre: Fibre,
        /// All that stays undyed, percent.
        percent: f64,
    },
    /// Too little of it takes the dye.
    Hardly {
        /// The largest fibre that does not.
        fibre: Fibre,
        /// All that stays undyed, percent.
        percent: f64,
    },
    /// Soda ash and heat would harm it.
    Harms {
        /// The largest such fibre.
        fibre: Fibre,
        /// All that is harmed, percent.
        percent: f64,
    },
}

/// Whether a reactive dye serves a cloth of this content; one that is not told counts as cotton.
#[must_use]
pub fn serves(content: &[FibreShare]) -> Serves {
    let share = |take: Take| -> (f64, Option<Fibre>) {
        let own = || content.iter().filter(|share| share.fibre.take() == take);
        let largest = own().max_by(|a, b| a.percent.total_cmp(&b.percent)).map(|share| share.fibre);
        (own().map(|share| share.percent).sum(), largest)
    };
    if let (percent, Some(fibre)) = share(Take::IsHarmed)
        && percent > UNDYED_UNNOTICED_PERCENT
    {
        return Serves::Harms { fibre, percent };
    }
    match share(Take::StaysUndyed) {
        (percent, Some(fibre)) if percent > 100.0 - LEAST_CELLULOSE_PERCENT => Serves::Hardly { fibre, percent },
        (percent, Some(fibre)) if percent > UNDYED_UNNOTICED_PERCENT => Serves::Paler { fibre, percent },
        _ => Serves::Well,
    }
}

/// A content label that can't be read.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub struct ParseFibresError {
    /// The part that can't be read.
    pub text: String,
}

displayed_as_in_files!(ParseFibresError);

impl Refused for ParseFibresError {
    fn told(&self, _voice: Voice) -> Told {
        Told::new(
            format!("not a share of a fibre: \"{}\"", self.text),
            format!(
                "copy the label, such as \"60 % cotton, 40 % polyester\"; fibres are {}",
                listed(Fibre::ALL.map(Fibre::name), "and")
            ),
        )
    }
}

/// Reads a content label: `60 % cotton, 40 % polyester`, `cotton 60, polyester 40`, or one fibre alone for all of it. Nothing gives no content.
///
/// # Errors
/// [`ParseFibresError`] with the part that can't be read.
pub fn parse_fibres(text: &str) -> Result<Vec<FibreShare>, ParseFibresError> {
    let parts: Vec<&str> = text.split([',', ';']).map(str::trim).filter(|part| !part.is_empty()).collect();
    parts.iter().map(|part| parse_share(part, parts.len() == 1)).collect()
}

fn parse_share(part: &str, alone: bool) -> Result<FibreShare, ParseFibresError> {
    let wrong = || ParseFibresError { text: part.to_owned() };
    let is_number = |c: char| c.is_ascii_digit() || c == '.';
    let number: String = part.chars().filter(|&c| is_number(c)).collect();
    let name: String = part.chars().filter(|&c| !is_number(c) && c != '%').collect();
    let name = name.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
    let fibre = Fibre::ALL.into_iter().find(|fibre| fibre.name() == name).ok_or_else(wrong)?;
    let percent = if number.is_empty() && alone { 100.0 } else { number.parse().map_err(|_not_a_number| wrong())? };
    Ok(FibreShare { fibre, percent })
}

/// The content as a label says it: `60 % cotton, 40 % polyester`; nothing where it is not told.
#[must_use]
pub fn fibre_words(content: &[FibreShare]) -> String {
    content.iter().map(|share| format!("{} % {}", share.percent, share.fibre)).collect::<Vec<_>>().join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn content(shares: &[(Fibre, f64)]) -> Vec<FibreShare> {
        shares.iter().map(|&(fibre, percent)| FibreShare { fibre, percent }).collect()
    }

    #[test]
    fn cellulose_is_dyed_blends_come_out_paler_protein_is_harmed() {
        use Fibre::{Cotton, Elastane, Linen, Polyester, Silk, Viscose, Wool};
        let judged = |shares: &[(Fibre, f64)]| serves(&content(shares));
        assert_eq!(judged(&[]), Serves::Well);
        assert_eq!(judged(&[(Cotton, 55.0), (Linen, 45.0)]), Serves::Well);
        assert_eq!(judged(&[(Viscose, 95.0), (Elastane, 5.0)]), Serves::Well);
        assert_eq!(judged(&[(Cotton, 80.0), (Polyester, 20.0)]), Serves::Well);
        assert_eq!(judged(&[(Cotton, 60.0), (Polyester, 40.0)]), Serves::Paler { fibre: Polyester, percent: 40.0 });
        assert_eq!(judged(&[(Polyester, 65.0), (Cotton, 35.0)]), Serves::Hardly { fibre: Polyester, percent: 65.0 });
        assert_eq!(judged(&[(Silk, 100.0)]), Serves::Harms { fibre: Silk, percent: 100.0 });
        assert_eq!(judged(&[(Wool, 30.0), (Silk, 5.0), (Cotton, 65.0)]), Serves::Harms { fibre: Wool, percent: 35.0 });
    }

    #[test]
    fn labels_are_read_and_said_again() {
        let both = content(&[(Fibre::Cotton, 60.0), (Fibre::Polyester, 40.0)]);
        for text in ["60 % cotton, 40 % polyester", "cotton 60; polyester 40", "60% Cotton,40%Polyester,"] {
            assert_eq!(parse_fibres(text).unwrap(), both, "{text}");
        }
        assert_eq!(parse_fibres(&fibre_words(&both)).unwrap(), both);
        assert_eq!(parse_fibres("cotton").unwrap(), content(&[(Fibre::Cotton, 100.0)]));
        assert_eq!(parse_fibres("1 % other fibre, 99 % hemp").unwrap().len(), 2);
        assert_eq!(parse_fibres(" ").unwrap(), []);
        for text in ["cotton, polyester", "60 % wood", "60", "6.0.1 % cotton"] {
            let said = parse_fibres(text).unwrap_err().to_string();
            assert!(said.contains("60 % cotton, 40 % polyester") && said.contains("viscose"), "{said}");
        }
    }
}
