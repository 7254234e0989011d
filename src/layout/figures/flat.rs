//! Figures of a flat bundle: what every fold has, and its pieces, its size and what holds it.

use super::fold::{FoldFigures, SideFigures};
use crate::geometry::{FlatFold, FlatPattern, Pack, PanelPair, Top, rod_size};
use crate::layout::Layout;
use kurbo::Vec2;
use serde::Serialize;
use std::f64::consts::PI;

/// A flat bundle.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FlatFigures {
    /// How the garment is laid, in plain words.
    pub centring: &'static str,
    /// What will match what, in plain words.
    pub matching: &'static str,
    /// What it is folded into, in plain words.
    pub pattern: &'static str,
    /// Whether pieces are rolled up; if not they go to and fro.
    pub is_rolled: bool,
    /// What the heights below are counted from.
    pub top: Top,
    /// Width of stripes or of the strip, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub width_mm: Option<f64>,
    /// From crease to crease along a strip of squares, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub height_mm: Option<f64>,
    /// The direction that creases of stripes or of the strip run in, degrees clockwise from straight up.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub angle_deg: Option<f64>,
    /// Wedges in the whole turn.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub wedges: Option<u32>,
    /// The wedges' centre from the centre line, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub centre_from_centre_line_mm: Option<f64>,
    /// The same below the shoulder, or the upper edge of what has none, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub centre_below_shoulder_mm: Option<f64>,
    /// How often something is folded over: creases with a number of their own.
    pub folds: u32,
    /// Pieces that lie on each other.
    pub pieces: u32,
    /// Layers in each of them.
    pub layers: u32,
    /// Layers where most lie on each other.
    pub most_layers: u32,
    /// Length of the bundle across its binds, mm.
    pub bundle_length_mm: f64,
    /// Its width, mm.
    pub bundle_width_mm: f64,
    /// Its height where most layers lie, free, mm.
    pub bundle_height_mm: f64,
    /// By how much the outermost layer of the thickest crease falls short, mm.
    pub creep_mm: f64,
    /// The blocks that hold it; none of what is only tied.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub blocks: Option<BlockFigures>,
    /// The thread that is wound round it; none of what has none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub wrap: Option<WrapFigures>,
    /// Gaps from the first bind toward the first end.
    pub inward: SideFigures,
    /// Gaps from the first bind to the other end.
    pub outward: SideFigures,
}

/// Blocks on a bundle.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct BlockFigures {
    /// What they are called.
    pub shape: &'static str,
    /// Area of one, mm2.
    pub area_mm2: f64,
    /// Where their middle lies along the bundle and across it, mm.
    pub middle_mm: [f64; 2],
    /// Cloth of all layers under them, mm2, by panel.
    pub cloth_mm2: PanelPair<f64>,
    /// Most layers between them.
    pub most_layers: u32,
    /// How far a clamp opens over these layers, pressed, mm; the blocks' own thickness comes on top.
    pub opening_mm: f64,
}

/// A thread wound round a bundle.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct WrapFigures {
    /// Where it begins, from the bundle's first end, mm.
    pub from_mm: f64,
    /// Where it ends on the bundle, mm.
    pub to_mm: f64,
    /// How far a turn goes along the bundle, mm.
    pub gap_mm: f64,
    /// Whether it is wound back again.
    pub crossed: bool,
    /// How often it goes round, one way.
    pub turns: f64,
    /// By what angle it slants on a face from straight across, degrees: in the middle of the wrap.
    pub angle_deg: f64,
    /// Thread to cut, mm: all turns and two tails.
    pub thread_mm: f64,
}

pub(super) fn flat_figures(layout: &Layout, fold: &FoldFigures) -> Option<FlatFigures> {
    let flat = layout.flat()?;
    let most_layers = flat.most_layers();
    let (spec, size, middle) = (flat.spec(), flat.size(), layout.middle());
    let (width_mm, height_mm, angle_deg, wedges) = match spec.pattern {
        FlatPattern::Stripes { width_mm, angle_deg, .. } | FlatPattern::Triangles { width_mm, angle_deg, .. } => {
            (Some(width_mm), None, Some(angle_deg), None)
        }
        FlatPattern::Squares { width_mm, height_mm, angle_deg, .. } => (Some(width_mm), Some(height_mm), Some(angle_deg), None),
        FlatPattern::Wedges { wedges, .. } => (None, None, None, Some(wedges)),
        FlatPattern::Halves { .. } => (None, None, None, None),
    };
    Some(FlatFigures {
        centring: fold.centring,
        matching: fold.matching,
        pattern: spec.pattern.kind().name(),
        is_rolled: spec.pack == Pack::Rolled,
        top: fold.top,
        width_mm,
        height_mm,
        angle_deg,
        wedges,
        centre_from_centre_line_mm: middle.map(|at| at.x),
        centre_below_shoulder_mm: middle.map(|at| at.y),
        folds: flat.folds(),
        pieces: flat.pieces(),
        layers: fold.layers,
        most_layers,
        bundle_length_mm: size.width,
        bundle_width_mm: size.height,
        bundle_height_mm: f64::from(most_layers) * layout.cloth().free_thickness_mm,
        creep_mm: flat.creep_mm(layout.cloth().free_thickness_mm),
        blocks: block_figures(layout, flat),
        wrap: wrap_figures(layout, flat),
        inward: fold.inward,
        outward: fold.outward,
    })
}

fn block_figures(layout: &Layout, flat: &FlatFold) -> Option<BlockFigures> {
    let (spec, block) = (layout.raw().blocks.as_ref()?, layout.blocks()?);
    let (under, middle) = (flat.under(block), flat.middle() + Vec2::new(spec.along_mm, spec.across_mm));
    Some(BlockFigures {
        shape: spec.shape.name(),
        area_mm2: block.area_mm2(),
        middle_mm: [middle.x, middle.y],
        cloth_mm2: under.cloth_mm2,
        most_layers: under.most_layers,
        opening_mm: f64::from(under.most_layers) * layout.cloth().pressed_thickness_mm,
    })
}

/// The girth of what is wound is that of what a bind goes round, and thread is measured along its own middle, as a bind's.
fn wrap_figures(layout: &Layout, flat: &FlatFold) -> Option<WrapFigures> {
    let (wrap, thread) = (layout.wrap()?, layout.thread());
    let girth_mm = |along_mm: f64| rod_size(flat, layout.cloth(), along_mm).bound_girth_mm + PI * thread.diameter_mm;
    let stretch = wrap.stretch_mm();
    Some(WrapFigures {
        from_mm: stretch.start,
        to_mm: stretch.end,
        gap_mm: wrap.spec().gap_mm,
        crossed: wrap.spec().crossed,
        turns: wrap.turns(),
        angle_deg: wrap.angle_deg(),
        thread_mm: layout.marks().to_cut_mm(wrap.length_mm(girth_mm) + 2.0 * thread.tail_mm),
    })
}
