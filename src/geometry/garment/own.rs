//! A garment of the maker's own outline: drawn, not drafted from measurements.

use super::draft::Draft;
use super::{GarmentError, GarmentKind, Measure, Measurements, Panels};
use crate::geometry::Panel;
use kurbo::{Affine, BezPath, Rect, Shape as _, Size};

/// The outlines of a garment of one's own, at the size at which they are drawn.
///
/// Each is a half: an open path of lines and curves, mm, `y` down, from the top of the centre line to its foot at `x >= 0`, without the
/// centre line itself. The garment is alike on both sides. Where the heights begin is of no matter: they are counted from the uppermost
/// cloth.
#[derive(Clone, Debug, PartialEq)]
pub struct OwnOutline {
    /// Half of the front, or of the only layer.
    pub front: BezPath,
    /// Half of the back where it is cut otherwise.
    pub back: Option<BezPath>,
    /// How many layers lie on the table.
    pub panels: Panels,
}

impl OwnOutline {
    /// Both layers cut alike, or the only one.
    #[must_use]
    pub fn alike(front: BezPath, panels: Panels) -> Self {
        Self { front, back: None, panels }
    }

    /// Two layers, the back cut otherwise: its uppermost cloth lies at the front's, wherever the two were drawn.
    #[must_use]
    pub fn with_back(self, back: BezPath) -> Self {
        let down_mm = self.front.bounding_box().y0 - back.bounding_box().y0;
        Self { back: Some(Affine::translate((0.0, down_mm)) * back), panels: Panels::Two, ..self }
    }

    /// With this many layers. Of one, front and back are the two faces, and cut alike.
    #[must_use]
    pub fn in_layers(self, panels: Panels) -> Self {
        let back = self.back.filter(|_| panels == Panels::Two);
        Self { back, panels, ..self }
    }

    /// The half outline of a panel, as drawn.
    #[must_use]
    pub fn panel(&self, panel: Panel) -> &BezPath {
        match (panel, &self.back) {
            (Panel::Back, Some(back)) => back,
            _ => &self.front,
        }
    }

    /// The box round front and back as drawn, both halves, mm.
    #[must_use]
    pub fn bounds(&self) -> Rect {
        let half = Panel::BOTH.map(|panel| self.panel(panel).bounding_box());
        let half = half[0].union(half[1]);
        Rect::new(-half.x1, half.y0, half.x1, half.y1)
    }

    /// How broad and how high it is drawn, mm.
    #[must_use]
    pub fn size(&self) -> Size {
        self.bounds().size()
    }

    /// What it measures as drawn: its width and its height.
    pub(super) fn drawn(&self) -> Measurements {
        let size = self.size();
        [(Measure::ClothWidth, size.width), (Measure::ClothHeight, size.height)].into_iter().collect()
    }

    /// The outlines of a garment that measures this, stretched to its width and height.
    pub(super) fn draft(&self, m: &Measurements) -> Result<Draft, GarmentError> {
        let bounds = self.bounds();
        let scale = [m.of(Measure::ClothWidth) / bounds.width(), m.of(Measure::ClothHeight) / bounds.height()];
        let map = Affine::scale_non_uniform(scale[0], scale[1]) * Affine::translate((0.0, -bounds.y0));
        Draft::of_halves(GarmentKind::Own, |panel| map * self.panel(panel).clone())
    }
}
