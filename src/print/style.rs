//! The one table of line styles: every format asks here what a layer looks like.
//!
//! Thin dark lines for a cheap printer and a damp bench. Layers differ by width and dash, never by colour alone; the colour is for
//! programs that open the DXF or SVG on a screen.

/// What an item of a drawing is, and so how it is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Layer {
    /// Patterns that stand for colours; lowest, so that lines stay readable over them.
    Fill,
    /// Edge of what is drawn.
    Outline,
    /// An edge that lies behind, seen through.
    Behind,
    /// A middle line.
    Axis,
    /// A line for orientation.
    Reference,
    /// The line that all others go by.
    Guide,
    /// Where two sides meet.
    Ridge,
    /// Where something is folded.
    Crease,
    /// Where something is folded that can't lie flat beyond its end.
    LoneCrease,
    /// From what is folded over to where it is laid.
    Arrow,
    /// One of many lines to mark.
    Across,
    /// Dots to prick through and chalk.
    Pounce,
    /// A point to find again.
    Pin,
    /// Edges and holes to cut.
    Cut,
    /// Trim lines and join marks between sheets.
    Marks,
    /// Measuring bars.
    Scale,
    /// The small drawing on the assembly map.
    Map,
    /// Words.
    Text,
}

/// How a layer is drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Style {
    /// Name of the layer in a file, unless the drawing has one of its own: letters and hyphens only.
    pub name: &'static str,
    /// Stroke width in mm.
    pub width_mm: f64,
    /// Lengths of dashes and gaps in mm, alternating; empty for a full line.
    pub dash_mm: &'static [f64],
    /// Grey level of the ink: 0 is black, 255 white.
    pub grey: u8,
    /// Colour number in a DXF file (1 to 255, the usual index table; 7 is black on white).
    pub dxf_colour: u8,
}

const FULL: &[f64] = &[];
const LONG_DOT: &[f64] = &[8.0, 1.5, 1.5, 1.5];
const DASHES: &[f64] = &[4.0, 2.0];
const SHORT_DASHES: &[f64] = &[2.0, 1.5];
const DOTTED: &[f64] = &[0.6, 1.6];

impl Layer {
    /// Every layer, lowest first: the order in which layers are painted.
    pub const ALL: [Self; 18] = [
        Self::Fill,
        Self::Outline,
        Self::Behind,
        Self::Axis,
        Self::Reference,
        Self::Guide,
        Self::Ridge,
        Self::Crease,
        Self::LoneCrease,
        Self::Arrow,
        Self::Across,
        Self::Pounce,
        Self::Pin,
        Self::Cut,
        Self::Marks,
        Self::Scale,
        Self::Map,
        Self::Text,
    ];

    /// The style of this layer. Widths and dashes: own choice, legible at arm's length on a 300 dpi printer.
    #[must_use]
    pub const fn style(self) -> Style {
        let (name, width_mm, dash_mm, grey, dxf_colour) = match self {
            Self::Fill => ("fill", 0.15, FULL, 60, 8),
            Self::Outline => ("outline", 0.50, FULL, 0, 7),
            Self::Behind => ("behind", 0.30, DASHES, 0, 6),
            Self::Axis => ("axis", 0.25, LONG_DOT, 0, 1),
            Self::Reference => ("reference", 0.20, SHORT_DASHES, 0, 8),
            Self::Guide => ("guide", 0.60, FULL, 0, 3),
            Self::Ridge => ("ridge", 0.25, LONG_DOT, 90, 2),
            Self::Crease => ("crease", 0.18, DOTTED, 0, 4),
            Self::LoneCrease => ("crease-ends-alone", 0.25, DASHES, 0, 4),
            Self::Arrow => ("arrow", 0.30, FULL, 0, 1),
            Self::Across => ("across", 0.30, FULL, 0, 5),
            Self::Pounce => ("pounce", 0.80, FULL, 0, 5),
            Self::Pin => ("pin", 0.35, FULL, 0, 1),
            Self::Cut => ("cut", 0.35, FULL, 0, 7),
            Self::Marks => ("marks", 0.20, FULL, 40, 9),
            Self::Scale => ("scale", 0.25, FULL, 0, 7),
            Self::Map => ("map", 0.15, FULL, 60, 9),
            Self::Text => ("text", 0.20, FULL, 0, 7),
        };
        Style { name, width_mm, dash_mm, grey, dxf_colour }
    }
}

/// Names that a drawing has of its own for layers: what they stand for in its trade. Letters and hyphens only.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct LayerNames(pub &'static [(Layer, &'static str)]);

impl LayerNames {
    /// The name of a layer.
    #[must_use]
    pub fn of(self, layer: Layer) -> &'static str {
        let own = self.0.iter().find(|(named, _)| *named == layer);
        own.map_or(layer.style().name, |(_, name)| name)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_layer_is_listed_once_in_painting_order_with_its_own_name() {
        assert!(Layer::ALL.is_sorted_by(|a, b| a < b));
        let mut names: Vec<_> = Layer::ALL.iter().map(|l| l.style().name).collect();
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), Layer::ALL.len());
    }

    #[test]
    fn dashes_come_in_pairs() {
        for layer in Layer::ALL {
            assert_eq!(layer.style().dash_mm.len() % 2, 0, "{layer:?}");
        }
    }
}
