//! The other ties on the cloth: where each ends, what it is called, and which one lies under the pointer.

use super::Showing;
use crate::app::context::Context;
use crate::geometry::{ClothPoint, Fold as _, Panel};
use crate::layout::Layout;
use kurbo::Point;

/// How far a curve may stray from the true one, mm.
const FLAT_MM: f64 = 0.3;

/// A tie that is not worked on.
#[derive(Debug, Clone)]
pub(super) struct OtherTie {
    pub(super) name: String,
    /// Where its last bind lies on the cloth, as that is shown.
    pub(super) edge: Vec<Vec<Point>>,
    /// Its middle, as often as it shows.
    pub(super) middles: Vec<Point>,
}

/// All ties but the one that is worked on, as they show.
pub(super) fn others(ctx: &Context<'_>, showing: Showing) -> Vec<OtherTie> {
    if !ctx.whole.is_of_several() {
        return Vec::new();
    }
    let ties = ctx.whole.ties().iter().enumerate().filter(|(number, _)| *number != ctx.tie);
    ties.filter_map(|(_, tie)| other(ctx.layout, tie, showing)).collect()
}

fn other(worked_on: &Layout, tie: &Layout, showing: Showing) -> Option<OtherTie> {
    let fold = tie.tied_fold()?;
    let panels: &[Panel] = match showing {
        Showing::AsLaid => &Panel::BOTH,
        Showing::Back if tie.panels().back.is_some() => &[Panel::Back],
        Showing::Front | Showing::Back => &[Panel::Front],
    };
    let stretches = fold.parallel(panels, fold.taken().until_mm());
    let laid: Vec<Vec<Point>> = stretches.iter().map(|stretch| stretch.flattened(FLAT_MM)).collect();
    let mut edge = laid.clone();
    if tie.lay().is_folded() {
        edge.extend(laid.iter().map(|points| points.iter().map(|p| Point::new(-p.x, p.y)).collect()));
    }
    let mut middles: Vec<Point> = tie.middle().into_iter().flat_map(|at| tie.lay().opened(tie.lay().plane_as_laid(at))).collect();
    if showing == Showing::AsLaid {
        let shown = |at: Point| worked_on.lay().plane_as_laid(at);
        edge.iter_mut().flatten().for_each(|at| *at = shown(*at));
        middles.iter_mut().for_each(|at| *at = shown(*at));
        middles.dedup();
    }
    Some(OtherTie { name: tie.tie_name()?.to_owned(), edge, middles })
}

/// The tie whose cloth lies at a place of what is shown; none where it is loose. Of a garment that lies folded both its halves count.
pub(super) fn tie_at(ctx: &Context<'_>, showing: Showing, at: Point) -> Option<usize> {
    if !ctx.whole.is_of_several() {
        return None;
    }
    let panel = if showing == Showing::Back { Panel::Back } else { Panel::Front };
    let halves = if showing == Showing::AsLaid { ctx.layout.lay().opened(at) } else { vec![at] };
    let holds = |tie: &Layout| {
        let taken = tie.tied_fold().map(|fold| fold.taken());
        taken.is_some_and(|taken| halves.iter().any(|at| taken.holds(ClothPoint { panel, x_mm: at.x, y_mm: at.y })))
    };
    ctx.whole.ties().iter().position(holds)
}
