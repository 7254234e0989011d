//! What the layers of a printed part are called: the words of the trade for lines that the rest of `print` knows by their looks alone.

use crate::layout::{FoldKind, Layout};
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

/// The same where the garment is folded along a line.
const LINE_NAMES: LayerNames = LayerNames(&[
    (Layer::Behind, "other-panel"),
    (Layer::Axis, "centre-line"),
    (Layer::Reference, "extra-line"),
    (Layer::Guide, "line"),
    (Layer::Across, "bind"),
    (Layer::Pin, "pin"),
]);

/// The same where it is folded into a flat bundle.
const FLAT_NAMES: LayerNames = LayerNames(&[
    (Layer::Behind, "other-panel"),
    (Layer::Axis, "centre-line"),
    (Layer::Reference, "thread"),
    (Layer::Guide, "first-bind"),
    (Layer::Ridge, "block"),
    (Layer::Across, "bind"),
    (Layer::Pin, "centre"),
]);

/// The same where it is twisted into a puck.
const PUCK_NAMES: LayerNames = LayerNames(&[
    (Layer::Behind, "other-panel"),
    (Layer::Axis, "centre-line"),
    (Layer::Reference, "tick"),
    (Layer::Guide, "pinch-circle"),
    (Layer::Across, "band"),
    (Layer::Pin, "pinch"),
]);

/// An empty drawing of a part of a layout.
pub(super) fn part(layout: &Layout, what: &str) -> Drawing {
    let names = match layout.raw().fold.kind() {
        FoldKind::Burst => NAMES,
        FoldKind::Line => LINE_NAMES,
        FoldKind::Flat(_) => FLAT_NAMES,
        FoldKind::Spiral => PUCK_NAMES,
    };
    Drawing::new(format!("{}: {what}", layout.title())).named(names)
}
