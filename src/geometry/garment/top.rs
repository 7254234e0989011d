//! What heights on a garment are counted from, in words.

use crate::measure::LengthStyle;
use crate::telling::Voice;
use kurbo::Point;
use serde::Serialize;
use std::fmt;

/// The level `y = 0` of the garment's frame, as a maker finds it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Top {
    /// The high point of the shoulder, where it meets the neck.
    ShoulderPoint,
    /// The upper edge of what has no shoulder: bags and cloths.
    UpperEdge,
}

impl Top {
    /// A height of `y_mm` below it (above it where negative) in words, as `30 mm above the shoulder point`.
    ///
    /// ```
    /// use pleatwright::{geometry::Top, measure::LengthStyle};
    /// assert_eq!(Top::UpperEdge.height(-30.0, LengthStyle::default()), "30 mm above the upper edge");
    /// ```
    #[must_use]
    pub fn height(self, y_mm: f64, lengths: LengthStyle) -> String {
        let side = if y_mm < 0.0 { "above" } else { "below" };
        format!("{} {side} {self}", lengths.format(y_mm.abs()))
    }

    /// A place in the garment's frame, mm, as refusals say it: how far from the centre line it lies, rounded, and its height.
    pub(crate) fn refused_place(self, at: Point, voice: Voice) -> String {
        let aside = aside(at.x, || voice.about(at.x.abs()));
        format!("{aside} and {}", self.height(at.y, voice.lengths))
    }

    /// A place in the garment's frame, mm, in words: its height, and how far from the centre line it lies.
    ///
    /// ```
    /// use pleatwright::{geometry::Top, measure::LengthStyle};
    /// assert_eq!(Top::UpperEdge.place([210.0, 0.0], LengthStyle::default()), "210 mm below the upper edge, on the centre line");
    /// ```
    #[must_use]
    pub fn place(self, [y_mm, x_mm]: [f64; 2], lengths: LengthStyle) -> String {
        let aside = aside(x_mm, || lengths.format(x_mm));
        format!("{}, {aside}", self.height(y_mm, lengths))
    }
}

/// How far from the centre line a place lies, in words; nearer than a tenth of a millimetre it lies on it.
fn aside(x_mm: f64, distance: impl FnOnce() -> String) -> String {
    const ON_IT_MM: f64 = 0.1;
    if x_mm.abs() < ON_IT_MM { "on the centre line".to_owned() } else { format!("{} from the centre line", distance()) }
}

/// Writes it with its article, as it stands in a sentence.
impl fmt::Display for Top {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::ShoulderPoint => "the shoulder point",
            Self::UpperEdge => "the upper edge",
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::GarmentKind;

    #[test]
    fn bags_and_cloths_have_no_shoulder() {
        let without = GarmentKind::ALL.into_iter().filter(|kind| kind.top() == Top::UpperEdge);
        assert_eq!(without.map(GarmentKind::name).collect::<Vec<_>>(), ["tote bag", "flat cloth"]);
    }
}
