//! The edges of a flat bundle: which places are joined over each, and how many layers are wrapped round that.

use super::fold_line::FoldLine;
use super::series::Series;
use super::stack::Stack;
use crate::geometry::Lay;
use kurbo::{Affine, Point, Vec2};
use std::f64::consts::PI;

/// What is joined over one edge of a bundle.
#[derive(Debug, Clone, Default)]
pub(crate) struct Joined {
    /// For each place the one that it goes on into.
    pub(crate) mates: Vec<Option<u32>>,
    /// How many joined layers lie round that of each place.
    pub(crate) wrapped: Vec<u32>,
}

impl Joined {
    fn new(mates: Vec<Option<u32>>) -> Self {
        // Joined places never cross: those open when one is met lie round it.
        let mut open: u32 = 0;
        let mut wrapped = vec![0; mates.len()];
        for (place, mate) in (0_u32..).zip(&mates) {
            match *mate {
                Some(mate) if mate > place => {
                    (wrapped[place as usize], wrapped[mate as usize]) = (open, open);
                    open += 1;
                }
                Some(_) => open = open.saturating_sub(1),
                None => {}
            }
        }
        Self { mates, wrapped }
    }

    /// The most places that lie between two joined ones.
    fn most_enclosed(&self) -> u32 {
        let enclosed = (0_u32..).zip(&self.mates).filter_map(|(place, mate)| Some(mate.as_ref()?.abs_diff(place) - 1));
        enclosed.max().unwrap_or(0)
    }
}

/// The crease of a piece of one of the series, or the garment's own fold, as the bundle's plane has it.
pub(super) struct PlacedCrease {
    pub(super) line: FoldLine,
    /// The place over it.
    pub(super) mate: Option<u32>,
}

/// The garment's own fold on the laid cloth.
pub(super) fn garment_fold() -> FoldLine {
    FoldLine::new(Point::ORIGIN, Vec2::new(-1.0, 0.0))
}

/// All creases that a place ends at, in the bundle's plane.
pub(super) fn creases_of(stack: &Stack<'_>, lay: &Lay, place: u32) -> Vec<PlacedCrease> {
    let (pieces, layer) = stack.decoded(place);
    let mut found = Vec::new();
    let mut onto = Affine::IDENTITY;
    for (number, series) in stack.series.iter().enumerate().rev() {
        let piece = pieces.of(number);
        onto *= series.onto(piece);
        for (crease, beside) in series.beside(piece).into_iter().zip([piece.checked_sub(1), Some(piece + 1)]) {
            let (Some(crease), Some(beside)) = (crease, beside) else { continue };
            let mate = Some(stack.place(&pieces.with(number, beside), layer));
            found.push(PlacedCrease { line: crease.carried(onto), mate });
        }
    }
    if let Some(over) = lay.over_the_fold(layer) {
        let mate = Some(stack.place(&pieces, over)).filter(|&mate| mate != place);
        found.push(PlacedCrease { line: garment_fold().carried(onto), mate });
    }
    found
}

/// What is joined over each of some lines of the bundle's plane.
pub(crate) fn joined(series: &[Series], lay: &Lay, edges: &[FoldLine]) -> Vec<Joined> {
    let stack = Stack { series, layers: lay.layers() };
    let mut mates = vec![vec![None; stack.places() as usize]; edges.len()];
    for place in 0..stack.places() {
        for crease in creases_of(&stack, lay, place) {
            if let Some(edge) = edges.iter().position(|edge| edge.is_along(&crease.line)) {
                mates[edge][place as usize] = crease.mate;
            }
        }
    }
    mates.into_iter().map(Joined::new).collect()
}

/// By how much the outermost layer of the thickest crease falls short of the innermost, mm: round a stack of `n` layers on either
/// side it goes half a circle of that radius, `pi n t` for each layer enclosed.
pub(crate) fn creep_mm(joined: &[Joined], layer_mm: f64) -> f64 {
    let most = joined.iter().map(Joined::most_enclosed).max().unwrap_or(0);
    0.5 * PI * f64::from(most) * layer_mm
}
