//! Which pieces of a line have to do with a point, by the tile of the plane that the point is in.
//!
//! A picture asks for a million feet, and neighbours ask the same few pieces. Each tile keeps a list of those that any of its points may
//! ask, made once it has been asked for a few times: a line that is drawn anew with each move of a hand asks most tiles only once.

use kurbo::{Point, Rect, Vec2};
use std::sync::atomic::{AtomicU8, Ordering};
use std::sync::{Arc, OnceLock};

/// Side of a tile, mm.
const TILE_MM: f64 = 8.0;
/// Most tiles: a bed sheet's. What is larger has no tiles.
const MOST_TILES: f64 = 1e6;

/// The tiles of a stretch of the plane.
#[derive(Debug, Clone, Default)]
pub(crate) struct Tiles {
    bounds: Rect,
    columns: usize,
    tiles: Arc<[Tile]>,
}

/// The pieces of a tile, and how often it was asked for before there was a list of them.
#[derive(Debug, Default)]
struct Tile {
    asked: AtomicU8,
    pieces: OnceLock<Box<[u32]>>,
}

/// How often a tile is asked for before its list is made: making it costs about as much as asking twice without (measured).
const ASKED_BEFORE: u8 = 2;

fn tiles(count: usize) -> Arc<[Tile]> {
    (0..count).map(|_| Tile::default()).collect()
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
        Self { bounds, columns, tiles: tiles(columns * rows) }
    }

    /// Tiles of the same stretch that know nothing yet.
    pub(crate) fn anew(&self) -> Self {
        Self { tiles: tiles(self.tiles.len()), ..*self }
    }

    /// The pieces of a point's tile, in the order of the line; none for a point beyond all tiles, or in one that is hardly ever asked for. `about` tells those of a tile from its
    /// middle and how far its corners are from there, mm.
    #[inline]
    pub(crate) fn list(&self, point: Point, about: impl FnOnce(Point, f64) -> Vec<u32>) -> Option<&[u32]> {
        let offset = point - self.bounds.origin();
        if !(offset.x >= 0.0 && offset.y >= 0.0 && point.x <= self.bounds.x1 && point.y <= self.bounds.y1) {
            return None;
        }
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "within the tiles")]
        let (column, row) = ((offset.x / TILE_MM) as usize, (offset.y / TILE_MM) as usize);
        let tile = self.tiles.get(row * self.columns + column)?;
        if let Some(pieces) = tile.pieces.get() {
            return Some(pieces);
        }
        // Two at once may both count as the same one; no answer hangs on it.
        let asked = tile.asked.load(Ordering::Relaxed);
        if asked < ASKED_BEFORE {
            tile.asked.store(asked + 1, Ordering::Relaxed);
            return None;
        }
        Some(tile.pieces.get_or_init(|| {
            let corner = Point::new(column as f64 * TILE_MM, row as f64 * TILE_MM);
            let middle = self.bounds.origin() + corner.to_vec2() + Vec2::new(0.5 * TILE_MM, 0.5 * TILE_MM);
            about(middle, 0.5 * TILE_MM * std::f64::consts::SQRT_2).into_boxed_slice()
        }))
    }
}
