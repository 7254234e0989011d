//! What an ASCII DXF file draws, written after the public DXF reference (group codes of HEADER, BLOCKS and ENTITIES).
//!
//! A DXF file is a list of pairs: a group code and a value, a line each. Everything that is no line is passed over, whatever it is, so that
//! a file of any release can be read.
//!
//! # Limits
//! - What is drawn in space is seen from above; of planes that are turned over only those that lie flat, their other side up, are right.
//! - An inserted array of blocks counts as one block.
//! - A spline that has fit points alone is left out.

mod blocks;
mod curves;
mod entity;
mod spline;
mod tags;

use super::error::ImportError;
use super::raw::RawDrawing;
use super::unit::FileUnit;
use blocks::Drawn;
use entity::Entity;
use std::collections::HashMap;
use tags::Tags;

/// A block: what is drawn in it, and the point that is put where it is inserted.
#[derive(Debug, Default)]
struct Block<'a> {
    base: kurbo::Vec2,
    entities: Vec<Entity<'a>>,
}

/// Its lines in drawing units, `y` turned down; `unit` where the file does not say what they are.
pub(super) fn read(bytes: &[u8], unit: Option<FileUnit>) -> Result<RawDrawing, ImportError> {
    if bytes.contains(&0) {
        return Err(ImportError::Binary);
    }
    let text = tags::text(bytes);
    let mut tags = Tags::of(&text)?;
    let (mut unit_mm, mut blocks, mut entities) = (None, HashMap::new(), Vec::new());
    while let Some(tag) = tags.next() {
        if (tag.code, tag.value) != (0, "SECTION") {
            continue;
        }
        match tags.next().map(|name| name.value) {
            Some("HEADER") => unit_mm = header(&mut tags)?,
            Some("BLOCKS") => blocks = read_blocks(&mut tags),
            Some("ENTITIES") => entities = entity::read(&mut tags, "ENDSEC"),
            _ => {}
        }
    }
    let exact_mm = unit_mm.or(unit.map(FileUnit::in_mm)).unwrap_or(1.0);
    let mut drawn = Drawn::new(&blocks, exact_mm);
    drawn.all(&entities)?;
    Ok(RawDrawing { has_text: drawn.has_text, lines: drawn.lines, unit_mm })
}

/// What a drawing unit measures, mm: `$INSUNITS`, where it says something.
fn header(tags: &mut Tags<'_>) -> Result<Option<f64>, ImportError> {
    let mut unit_mm = None;
    while let Some(tag) = tags.next() {
        match (tag.code, tag.value) {
            (0, "ENDSEC") => break,
            (9, "$INSUNITS") => {
                if let Some(unit) = tags.next().filter(|unit| unit.code == 70) {
                    unit_mm = drawing_unit_mm(unit.whole()?);
                }
            }
            _ => {}
        }
    }
    Ok(unit_mm)
}

/// Units that garments could be drawn in, mm (DXF reference, `$INSUNITS`); 0 is no unit.
fn drawing_unit_mm(code: i64) -> Option<f64> {
    Some(match code {
        1 => 25.4,
        2 => 304.8,
        4 => 1.0,
        5 => 10.0,
        6 => 1000.0,
        8 => 25.4e-6,
        9 => 25.4e-3,
        10 => 914.4,
        13 => 1e-3,
        14 => 100.0,
        _ => return None,
    })
}

fn read_blocks<'a>(tags: &mut Tags<'a>) -> HashMap<&'a str, Block<'a>> {
    let mut blocks = HashMap::new();
    while let Some(tag) = tags.next() {
        match (tag.code, tag.value) {
            (0, "ENDSEC") => break,
            (0, "BLOCK") => {
                let head = Entity::head(tags);
                let entities = entity::read(tags, "ENDBLK");
                let base = head.point(10).unwrap_or_default().to_vec2();
                if let Some(name) = head.text(2) {
                    blocks.insert(name, Block { base, entities });
                }
            }
            _ => {}
        }
    }
    blocks
}
