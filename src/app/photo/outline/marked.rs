//! What is marked on a photograph that an outline is taken from: the sheet, nodes round the garment, and which half counts.

use crate::photo::{FoundOutline, Halves, Photograph, Sheet, SheetPaper, guessed_sheet};
use kurbo::{Line, ParamCurveNearest as _, Point, Rect, Vec2};

/// Fewest nodes that are left.
const FEWEST: usize = 4;
/// How much of the picture a garment is drawn over that was not found.
const GUESSED: f64 = 0.5;

/// All that is marked.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Marked {
    pub(super) sheet: Sheet,
    /// Round the garment, px.
    pub(super) nodes: Vec<Point>,
    pub(super) halves: Halves,
}

/// Something that can be moved.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) enum Grip {
    /// A node, by its place among all.
    Node(usize),
    /// A corner of the sheet, from 0.
    Sheet(usize),
}

impl Marked {
    /// As the program found it; what was not found lies where it may be.
    pub(super) fn of(found: &FoundOutline, photograph: &Photograph) -> Self {
        let sheet = found.sheet.clone().unwrap_or_else(|| guessed_sheet(photograph, SheetPaper::A4));
        let [width, height] = photograph.whole().map(f64::from);
        let nodes = if found.nodes.len() < FEWEST {
            let area = Rect::from_center_size((0.5 * width, 0.5 * height), (GUESSED * width, GUESSED * height));
            vec![area.origin(), Point::new(area.x1, area.y0), Point::new(area.x1, area.y1), Point::new(area.x0, area.y1)]
        } else {
            found.nodes.clone()
        };
        Self { sheet, nodes, halves: Halves::default() }
    }

    /// Where it is.
    pub(super) fn place(&self, grip: Grip) -> Option<Point> {
        match grip {
            Grip::Node(at) => self.nodes.get(at).copied(),
            Grip::Sheet(at) => self.sheet.corners.get(at).copied(),
        }
    }

    /// What it is called.
    pub(super) fn name(grip: Grip) -> String {
        match grip {
            Grip::Node(at) => format!("outline point {}", at + 1),
            Grip::Sheet(at) => format!("sheet corner {}", at + 1),
        }
    }

    /// Moves it within a picture of this size.
    pub(super) fn shift(&mut self, grip: Grip, by: Vec2, [width, height]: [u32; 2]) {
        let place = match grip {
            Grip::Node(at) => self.nodes.get_mut(at),
            Grip::Sheet(at) => self.sheet.corners.get_mut(at),
        };
        if let Some(place) = place {
            let to = *place + by;
            *place = Point::new(to.x.clamp(0.0, f64::from(width)), to.y.clamp(0.0, f64::from(height)));
        }
    }

    /// Adds a node at a place, on the side of the outline that is nearest to it: which it is.
    pub(super) fn add(&mut self, at: Point) -> usize {
        let count = self.nodes.len();
        let away = |index: &usize| Line::new(self.nodes[*index], self.nodes[(*index + 1) % count]).nearest(at, 1e-6).distance_sq;
        let side = (0..count).min_by(|a, b| away(a).total_cmp(&away(b))).unwrap_or_default();
        self.nodes.insert((side + 1).min(count), at);
        (side + 1).min(count)
    }

    /// Takes a node away, where enough are left.
    pub(super) fn remove(&mut self, node: usize) {
        if self.nodes.len() > FEWEST && node < self.nodes.len() {
            self.nodes.remove(node);
        }
    }

    /// Everything that can be moved, in the order in which keys come to it.
    pub(super) fn grips(&self) -> impl Iterator<Item = Grip> + use<> {
        (0..self.nodes.len()).map(Grip::Node).chain((0..self.sheet.corners.len()).map(Grip::Sheet))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nodes_come_between_their_neighbours_and_stay_within_the_picture() {
        let corners = [(0.0, 0.0), (2.0, 0.0), (2.0, 3.0), (0.0, 3.0)].map(Point::from);
        let nodes = [(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)].map(Point::from).to_vec();
        let mut marked = Marked { sheet: Sheet { paper: SheetPaper::A4, corners }, nodes, halves: Halves::Mean };
        assert_eq!(marked.add(Point::new(-1.0, 5.0)), 4);
        assert_eq!(marked.add(Point::new(9.0, 5.0)), 2);
        marked.shift(Grip::Node(4), Vec2::new(50.0, 50.0), [20, 15]);
        assert_eq!(marked.nodes[4], Point::new(20.0, 15.0));
        for _ in 0..9 {
            marked.remove(0);
        }
        assert_eq!(marked.nodes.len(), FEWEST);
    }
}
