//! What the layers of a printed part are called: the words of the trade for lines that the rest of `print` knows by their looks alone.

use crate::print::{Drawing, Layer, LayerNames};

/// Names of the layers of template and strips.
const NAMES: LayerNames = LayerNames(&[
    (Layer::Behind, "other-panel"),
    (Layer::Axis, "centre-line"),
    (Layer::Reference, "arc"),
    (Layer::Guide, "guide-arc"),
    (Layer::Across, "bind"),
    (Layer::Pin, "burst-centre"),
]);

/// An empty drawing of a part.
pub(super) fn part(title: impl Into<String>) -> Drawing {
    Drawing::new(title).named(NAMES)
}
