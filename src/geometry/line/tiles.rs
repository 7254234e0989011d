//! Which pieces of a line can hold the foot of a point, by the tile of the plane that the point is in.
//!
//! A picture asks for a million feet, and neighbours ask the same few pieces. Each tile keeps a list of those whose normals reach it from
//! near enough, made when it is first asked for.

use super::piece::Piece;
use super::tree::Tree;
use kurbo::{Point, Rect};
use std::sync::OnceLock;

/// Side of a tile, mm.
const TILE_MM: f64 = 8.0;
/// Most tiles: a bed sheet's. What is larger has no tiles.
const MOST_TILES: f64 = 1e6;

/// The tiles of a stretch of the plane.
#[derive(Debug, Clone, Default)]
pub(crate) struct Tiles {
    bounds: Rect,
    columns: usize,
    lists: Vec<OnceLock<Box<[u32]>>>,
}

impl Tiles {
    /// Tiles that cover a box.
    pub(crate) fn over(bounds: Rect) -> Self {
        let (columns, rows) = ((bounds.width() / TILE_MM).floor() + 1.0, (bounds.height() / TILE_MM).floor() + 1.0);
        // Written so that a NaN is refused too.
        let fits = columns * rows <= MOST_TILES;
        if !fits {
            return Self::default();
        }
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a whole number of at most MOST_TILES")]
        let (columns, rows) = (columns as usize, rows as usize);
        Self { bounds, columns, lists: vec![OnceLock::new(); columns * rows] }
    }

    /// The pieces that can hold a point's foot, in the order of the line; none for a point beyond all tiles. `away_mm` tells how far any
    /// point is from the line.
    #[inline]
    pub(crate) fn list(&self, point: Point, pieces: &[Piece], tree: &Tree, away_mm: impl Fn(Point) -> f64) -> Option<&[u32]> {
        let offset = point - self.bounds.origin();
        if !(offset.x >= 0.0 && offset.y >= 0.0 && point.x <= self.bounds.x1 && point.y <= self.bounds.y1) {
            return None;
        }
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "within the tiles")]
        let (column, row) = ((offset.x / TILE_MM) as usize, (offset.y / TILE_MM) as usize);
        let list = self.lists.get(row * self.columns + column)?;
        Some(list.get_or_init(|| {
            let corner = Point::new(column as f64 * TILE_MM, row as f64 * TILE_MM);
            let middle = self.bounds.origin() + corner.to_vec2() + kurbo::Vec2::new(0.5 * TILE_MM, 0.5 * TILE_MM);
            let half_mm = 0.5 * TILE_MM * std::f64::consts::SQRT_2;
            let mut list = Vec::new();
            // No point of the tile is farther from the line than its middle is and half across.
            tree.within(middle, away_mm(middle) + 2.0 * half_mm, |piece| {
                if pieces[piece].may_answer(middle, half_mm) {
                    list.push(u32::try_from(piece).unwrap_or(u32::MAX));
                }
            });
            list.sort_unstable();
            list.into_boxed_slice()
        }))
    }
}
