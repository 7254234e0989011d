//! The seam between cloth and bundle: what must be known of cloth that is folded up, however it is.
//!
//! A point of the cloth is carried to its place in the bundle and back, exactly. The rod, its binds, its sections and the dye ask only
//! this trait, and never which fold they serve.
//!
//! # The bundle's own directions
//! *Along* runs across the binds, from the tip, where it is 0: what lies between two binds is a section, and sections go by it alone.
//! *Across* runs over a layer of cloth from edge to edge, from 0 to 1: in a pleat from crease to crease. *Places* count the layers
//! through the stack, from 0.
//!
//! A flat bundle lies with the sides of its box along and across: where its outline runs within that, [`Bundle::footprint`] tells.
//!
//! A puck is a rod bent into a ring ([`Ring`]): along runs round its rim and closes on itself, places lie round each other from its middle
//! to its rim, and across runs from its underside to its top.

use super::{Outline, Panel, PanelPair};
use kurbo::{Point, Vec2};
use std::fmt::Debug;
use std::ops::Range;

/// A point of the cloth in the garment's frame (see [`crate::geometry`]).
///
/// On the centre line of a folded garment the sign of `x_mm` still tells the halves apart: `-0.0` is the wearer's right half.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ClothPoint {
    /// Which panel.
    pub panel: Panel,
    /// Distance from the centre line, mm; negative on the wearer's right.
    pub x_mm: f64,
    /// Distance below the shoulder point, mm.
    pub y_mm: f64,
}

impl ClothPoint {
    /// The place in the plane, mm.
    #[must_use]
    pub fn position(&self) -> Point {
        Point::new(self.x_mm, self.y_mm)
    }
}

/// A place in the bundle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BundlePoint {
    /// Distance along it from its tip, mm; for a burst the distance from its centre.
    pub along_mm: f64,
    /// Place across its layer, in `[0, 1]` from one edge to the other.
    pub across: f64,
    /// Place in the stack, from 0: whole where cloth lies in layers, in between where it winds through them.
    pub place: f64,
}

impl BundlePoint {
    /// The layer of the stack that is nearest to it.
    #[must_use]
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a number of layers; casts saturate")]
    pub fn layer(&self) -> u32 {
        (self.place + 0.5) as u32
    }
}

/// What one cut across the bundle meets, for one panel: all its layers together.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Cut {
    /// Length of cloth cut, mm.
    pub cloth_mm: f64,
    /// Area of the panel's cloth from the tip to the cut, mm2.
    pub area_mm2: f64,
}

/// How far a bundle goes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Extent {
    /// How far along it cloth is found, mm.
    pub length_mm: f64,
    /// Pleats, or whatever lies on each other, each of all the layers of the garment as it is laid.
    pub pleats: u32,
    /// Layers of cloth in each of them.
    pub layers: u32,
    /// Whether its end is closed: what lies beyond has been tied already, so that no dye comes in there.
    pub is_closed: bool,
}

/// A stretch of one layer of the bundle, as flat cloth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CellSize {
    /// Along the bundle, mm.
    pub length_mm: f64,
    /// Across it, mm.
    pub width_mm: f64,
}

/// Which outer faces of a bundle are open to what is put on it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct OpenFaces {
    /// The flat of its first and of its last place.
    pub flats: [bool; 2],
    /// The edges of its layers where across is 0 and where it is 1.
    pub edges: [bool; 2],
    /// The tip, where along is 0, and the end.
    pub ends: [bool; 2],
    /// The sides where its outline runs elsewhere, as a flat bundle's does ([`Bundle::footprint`]).
    pub sides: bool,
}

impl OpenFaces {
    /// A rod: open all round, and at the end where its pleats run out; at the tip there is no cloth to open.
    pub const ROD: Self = Self { flats: [true; 2], edges: [true; 2], ends: [false, true], sides: false };
    /// A flat bundle: open all round.
    pub const SLAB: Self = Self { flats: [true; 2], edges: [true; 2], ends: [true; 2], sides: true };
    /// A ring: open at its rim and over its two faces, which are the edges of its layers; its middle is closed, and it has no ends.
    pub const RING: Self = Self { flats: [false, true], edges: [true; 2], ends: [false; 2], sides: false };
}

/// A bundle bent into a ring, pressed full: along it its end is its tip again, and its places lie round each other, the first in the
/// middle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ring {
    /// From its middle to its rim, mm; along is measured on the rim.
    pub radius_mm: f64,
    /// How many layers of cloth a place stands for, lying free.
    pub place_layers: f64,
}

impl Ring {
    /// How long a place is in its middle, as a share of its length along the rim.
    #[must_use]
    pub fn length_share(place: u32, places: u32) -> f64 {
        (f64::from(place) + 0.5) / f64::from(places.max(1))
    }
}

/// The cloth on the other side of a fold that is no edge of a layer, where dye goes over.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Beyond {
    /// The point on the other side that lies on this one.
    pub point: ClothPoint,
    /// How far both are from the fold, mm.
    pub away_mm: f64,
}

/// Cloth over folds, at most as many as matter at once: a square's four creases.
pub type Joins = [Option<Beyond>; 4];

/// Keeps what is found if it is among the nearest, these in the order of their distance.
pub(crate) fn keep_nearest(nearest: &mut Joins, found: Beyond) {
    let mut found = Some(found);
    for kept in nearest {
        let is_nearer = match (&found, &kept) {
            (Some(found), Some(kept)) => found.away_mm < kept.away_mm,
            (found, None) => found.is_some(),
            (None, _) => false,
        };
        if is_nearer {
            std::mem::swap(kept, &mut found);
        }
    }
}

/// Cloth folded up into a bundle.
pub trait Bundle: Debug + Send + Sync {
    /// Where a point of the cloth's plane comes to lie; `None` where it is not part of the bundle.
    fn to_bundle(&self, point: ClothPoint) -> Option<BundlePoint>;

    /// Which point of the cloth's plane lies there: the inverse of [`Bundle::to_bundle`]. `None` where no point is carried to: the layer
    /// has ended. Whether the garment has cloth at that point, [`Bundle::has_cloth`] tells.
    fn to_cloth(&self, point: BundlePoint) -> Option<ClothPoint>;

    /// How far it goes along, across the stack, and whether it is closed.
    fn extent(&self) -> Extent;

    /// A stretch of a place as flat cloth, wherever cloth is: between two distances along (mm) and two shares across.
    fn cell(&self, along_mm: Range<f64>, place: u32, across: Range<f64>) -> CellSize;

    /// Widths of as many cells as there is room for, all of a layer's one after the other across, mm: as [`Bundle::cell`] has them.
    fn cell_widths_mm(&self, along_mm: Range<f64>, place: u32, widths_mm: &mut [f64]) {
        let cells = widths_mm.len() as f64;
        for (column, width_mm) in widths_mm.iter_mut().enumerate() {
            let across = column as f64 / cells..(column + 1) as f64 / cells;
            *width_mm = self.cell(along_mm.clone(), place, across).width_mm;
        }
    }

    /// Whether all places are equally wide there, each evenly from edge to edge; if not, [`Bundle::cell`] is asked for every cell.
    fn is_even(&self) -> bool {
        true
    }

    /// The places that a place is joined to where across is 0 and where it is 1: on over a crease, or over a fold of the garment.
    fn mates(&self, place: u32) -> [Option<u32>; 2];

    /// What a cut across it meets in each panel.
    fn cut(&self, along_mm: f64) -> PanelPair<Cut>;

    /// Width of the bundle before it is tied, at a distance along it, mm: of a pleat crease to crease, and where pleats are unequal
    /// their mean by the cloth that they hold.
    fn width_mm(&self, along_mm: f64) -> f64;

    /// Whether the garment has cloth at that point.
    fn has_cloth(&self, point: ClothPoint) -> bool;

    /// The outline of a panel's cloth, where it is known: within it there is cloth ([`Bundle::has_cloth`]), beyond it none.
    fn outline(&self, _panel: Panel) -> Option<&Outline> {
        None
    }

    /// For a point of the cloth near a fold of it that is no edge of a layer: the cloth over each such fold that is nearer than
    /// `within_mm`. Empty for nearly every point.
    fn joins(&self, _point: ClothPoint, _within_mm: f64) -> Joins {
        Joins::default()
    }

    /// Whether [`Bundle::joins`] ever finds any.
    fn has_joins(&self) -> bool {
        false
    }

    /// How far a point of the cloth is from the nearest ridge and from the nearest valley that it is folded on, mm, infinitely far where
    /// none is nearer than `within_mm`. `None` where creases run along the edges of layers alone, ridges where across is 1 and valleys
    /// where it is 0.
    fn creased(&self, _point: ClothPoint, _within_mm: f64) -> Option<[f64; 2]> {
        None
    }

    /// How many layers of cloth are wrapped round the crease at which a place ends towards a direction, `x` along the bundle and `y` across
    /// it: of a pleat, the layers of the garment that enclose more than its own do.
    fn wrapped(&self, place: u32, outward: Vec2) -> u32 {
        let end = usize::from(outward.y > 0.0);
        let Some(mate) = self.mates(place)[end] else { return 0 };
        let enclosed = place.abs_diff(mate).saturating_sub(1);
        self.layers().saturating_sub(1).saturating_sub(enclosed / 2)
    }

    /// The share of a stretch of it that lies within its outline: 1 where all of it does, as on a rod.
    fn footprint(&self, _along_mm: Range<f64>, _across: Range<f64>) -> f64 {
        1.0
    }

    /// Which faces are open.
    fn open(&self) -> OpenFaces {
        OpenFaces::ROD
    }

    /// How far a bind draws it round, from 0, not at all, to 1, as a rod.
    fn yields(&self) -> f64 {
        1.0
    }

    /// The ring that it is bent into; none of a rod or a flat bundle.
    fn ring(&self) -> Option<Ring> {
        None
    }

    /// How far along it cloth is found, mm; all the way round of a ring.
    fn length_mm(&self) -> f64 {
        self.extent().length_mm
    }

    /// How many layers of cloth each pleat has.
    fn layers(&self) -> u32 {
        self.extent().layers
    }

    /// How many places the stack has: pleats times layers.
    fn places(&self) -> u32 {
        let Extent { pleats, layers, .. } = self.extent();
        pleats * layers
    }
}
