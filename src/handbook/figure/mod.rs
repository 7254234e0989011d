//! The handbook's pictures: drawn by the program from its examples, so that they show what it does today.

mod fold;
mod gaps;
mod garment;
mod laid;
mod lines;
mod paged;
mod printed;
mod reveal;
mod rod;

use crate::print::Page;

/// Breadth of every picture, mm. Words in it are set for that breadth.
pub(super) const WIDTH_MM: f64 = 150.0;

/// A picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Figure {
    /// Where measurements are taken.
    Measures,
    /// The ways to lay a garment, cut across.
    HalfFolds,
    /// A burst as it is laid, and on the opened front.
    Burst,
    /// From the guide arc to the rod.
    Pleats,
    /// A fold along a heart.
    Heart,
    /// The shapes of lines.
    Shapes,
    /// The gaps of a spacing.
    Gaps,
    /// The spacing rules beside each other.
    Rules,
    /// The tied rod.
    Rod,
    /// The reveal.
    Reveal,
    /// Which sheet of the template is which.
    Sheets,
    /// The beginning of a rod strip, true to size.
    RodStrip,
    /// The beginning of a swing strip, true to size.
    SwingStrip,
}

impl Figure {
    /// Every picture.
    pub const ALL: [Self; 13] = [
        Self::Measures,
        Self::HalfFolds,
        Self::Burst,
        Self::Pleats,
        Self::Heart,
        Self::Shapes,
        Self::Gaps,
        Self::Rules,
        Self::Rod,
        Self::Reveal,
        Self::Sheets,
        Self::RodStrip,
        Self::SwingStrip,
    ];

    /// What a page's source calls it, after `figure:`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Measures => "measures",
            Self::HalfFolds => "half-folds",
            Self::Burst => "burst",
            Self::Pleats => "pleats",
            Self::Heart => "heart",
            Self::Shapes => "shapes",
            Self::Gaps => "gaps",
            Self::Rules => "rules",
            Self::Rod => "rod",
            Self::Reveal => "reveal",
            Self::Sheets => "sheets",
            Self::RodStrip => "rod-strip",
            Self::SwingStrip => "swing-strip",
        }
    }

    /// The picture of a name.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|figure| figure.name() == name)
    }

    /// Whether it is as large as what it shows, so that it may be cut but not shrunk.
    #[must_use]
    pub const fn is_true_to_size(self) -> bool {
        matches!(self, Self::RodStrip | Self::SwingStrip)
    }

    /// Draws it, as a page of its own size, at most 150 mm broad. None where an example can't be read, which a test excludes.
    ///
    /// [`Figure::Reveal`] solves a coarse reveal: seconds; the others take milliseconds, those of the sheets tens of them.
    #[must_use]
    pub fn draw(self) -> Option<Page> {
        match self {
            Self::Measures => garment::measures(),
            Self::HalfFolds => garment::half_folds(),
            Self::Burst => laid::burst(),
            Self::Pleats => fold::pleats(),
            Self::Heart => laid::heart(),
            Self::Shapes => Some(lines::shapes()),
            Self::Gaps => gaps::gaps(),
            Self::Rules => gaps::rules(),
            Self::Rod => rod::rod(),
            Self::Reveal => reveal::reveal(),
            Self::Sheets => printed::sheets(),
            Self::RodStrip => printed::rod_strip_beginning(),
            Self::SwingStrip => printed::swing_strip_beginning(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::print::Shape;

    /// Every picture is drawn, has its breadth, and its words can be read and stand on it.
    #[test]
    fn every_picture_is_drawn_within_its_page() {
        for figure in Figure::ALL {
            assert_eq!(Figure::named(figure.name()), Some(figure));
            let page = figure.draw().unwrap_or_else(|| panic!("{figure:?} is not drawn"));
            let size = page.size_mm.to_rect();
            assert!(size.width() <= WIDTH_MM + 1e-9 && size.width() > 60.0 && size.height() < 200.0, "{figure:?}: {size:?}");
            let mut items = 0;
            for placed in &page.placed {
                for item in placed.drawing.items() {
                    items += 1;
                    let shape = item.shape.transformed(placed.page_from_drawing);
                    if let (Shape::Text(text), None) = (&shape, placed.clip) {
                        assert!(text.cap_height_mm > 0.8, "{figure:?}: {text:?}");
                        let inside = size.inflate(0.5, 0.5).union(shape.bounding_box()) == size.inflate(0.5, 0.5);
                        assert!(inside, "{figure:?}: {text:?} leaves {size:?}");
                    }
                }
            }
            assert!(items > 10 || figure == Figure::Reveal, "{figure:?}");
        }
    }
}
