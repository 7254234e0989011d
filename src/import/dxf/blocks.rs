//! Everything drawn, blocks among it wherever they are inserted.

use super::Block;
use super::curves;
use super::entity::Entity;
use crate::import::error::ImportError;
use crate::import::limits::{CURVE_MM, MOST_DEPTH, MOST_SEGMENTS};
use crate::import::raw::RawLine;
use kurbo::{Affine, PathEl};
use std::collections::HashMap;

/// What is drawn, `y` turned down.
#[derive(Debug)]
pub(super) struct Drawn<'a> {
    blocks: &'a HashMap<&'a str, Block<'a>>,
    /// What a drawing unit measures, mm, as far as it is known.
    unit_mm: f64,
    pub(super) lines: Vec<RawLine>,
    pub(super) has_text: bool,
    /// Lines, curves and insertions so far.
    count: usize,
}

/// Where something is inserted: its place, and the layer that what lies on none of its own takes.
#[derive(Debug, Clone, Copy)]
struct Place<'a> {
    out: Affine,
    layer: Option<&'a str>,
    depth: u32,
}

/// The layer of blocks whose entities go with what inserts them (DXF reference, block definitions).
const NO_LAYER: &str = "0";

impl<'a> Drawn<'a> {
    pub(super) fn new(blocks: &'a HashMap<&'a str, Block<'a>>, unit_mm: f64) -> Self {
        Self { blocks, unit_mm, lines: Vec::new(), has_text: false, count: 0 }
    }

    pub(super) fn all(&mut self, entities: &[Entity<'a>]) -> Result<(), ImportError> {
        self.each(entities, Place { out: Affine::FLIP_Y, layer: None, depth: 0 })
    }

    fn each(&mut self, entities: &[Entity<'a>], place: Place<'a>) -> Result<(), ImportError> {
        for entity in entities {
            if entity.is_elsewhere()? {
                continue;
            }
            match entity.kind {
                "INSERT" => self.insert(entity, place)?,
                "TEXT" | "MTEXT" => self.has_text = true,
                _ => self.line(entity, place)?,
            }
        }
        Ok(())
    }

    fn line(&mut self, entity: &Entity<'a>, place: Place<'a>) -> Result<(), ImportError> {
        let [a, b, c, d, ..] = place.out.as_coeffs();
        let growth = a.hypot(b).max(c.hypot(d));
        // What has no usable growth is refused as infinite, or is nothing.
        let tolerance = (CURVE_MM / (self.unit_mm * growth)).clamp(1e-9, 1e9);
        let Some(path) = curves::path(entity, tolerance)? else { return Ok(()) };
        let path = place.out * path;
        self.count(path.elements().len())?;
        if path.elements().iter().any(|element| !matches!(element, PathEl::MoveTo(_) | PathEl::ClosePath)) {
            self.lines.push(RawLine { name: None, layer: layer(entity, place).map(str::to_owned), path });
        }
        Ok(())
    }

    fn insert(&mut self, entity: &Entity<'a>, place: Place<'a>) -> Result<(), ImportError> {
        self.count(1)?;
        let block = entity.text(2).and_then(|name| self.blocks.get(name));
        let Some(block) = block.filter(|_| place.depth < MOST_DEPTH) else { return Ok(()) };
        let side = if entity.is_turned_over()? { Affine::FLIP_X } else { Affine::IDENTITY };
        let within = side
            * Affine::translate(entity.point(10)?.to_vec2())
            * Affine::rotate(entity.number(50, 0.0)?.to_radians())
            * Affine::scale_non_uniform(entity.number(41, 1.0)?, entity.number(42, 1.0)?)
            * Affine::translate(-block.base);
        let layer = layer(entity, place);
        self.each(&block.entities, Place { out: place.out * within, layer, depth: place.depth + 1 })
    }

    fn count(&mut self, more: usize) -> Result<(), ImportError> {
        self.count += more;
        if self.count > MOST_SEGMENTS { Err(ImportError::TooManySegments) } else { Ok(()) }
    }
}

fn layer<'a>(entity: &Entity<'a>, place: Place<'a>) -> Option<&'a str> {
    entity.text(8).filter(|layer| place.layer.is_none() || *layer != NO_LAYER).or(place.layer)
}
