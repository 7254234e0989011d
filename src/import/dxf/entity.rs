//! Entities: what begins with a group code of 0, with its values.

use super::tags::{Tag, Tags};
use crate::import::error::ImportError;
use kurbo::Point;

/// Something drawn.
#[derive(Debug)]
pub(super) struct Entity<'a> {
    /// What it is: `LINE`, `ARC`, ...
    pub(super) kind: &'a str,
    pub(super) tags: Vec<Tag<'a>>,
    /// The corners of a `POLYLINE`, which are entities of their own in the file.
    pub(super) corners: Vec<Vec<Tag<'a>>>,
}

/// The entities up to one of that kind, or the end of the file.
pub(super) fn read<'a>(tags: &mut Tags<'a>, end: &str) -> Vec<Entity<'a>> {
    let mut entities: Vec<Entity<'a>> = Vec::new();
    while let Some(tag) = tags.next() {
        if tag.code != 0 {
            continue;
        }
        if tag.value == end || tag.value == "ENDSEC" {
            break;
        }
        let entity = Entity { kind: tag.value, ..Entity::head(tags) };
        match entities.last_mut() {
            Some(line) if entity.kind == "VERTEX" && line.kind == "POLYLINE" => line.corners.push(entity.tags),
            _ => entities.push(entity),
        }
    }
    entities
}

/// The first value of that group code.
pub(super) fn first<'t, 'a>(tags: &'t [Tag<'a>], code: i32) -> Option<&'t Tag<'a>> {
    tags.iter().find(|tag| tag.code == code)
}

/// The number of that group code, or what it is where there is none.
pub(super) fn number(tags: &[Tag<'_>], code: i32, without: f64) -> Result<f64, ImportError> {
    first(tags, code).map_or(Ok(without), Tag::number)
}

/// The bits of that group code, 0 where there is none.
pub(super) fn bits(tags: &[Tag<'_>], code: i32) -> Result<i64, ImportError> {
    first(tags, code).map_or(Ok(0), Tag::whole)
}

impl<'a> Entity<'a> {
    /// The values up to the next thing that begins.
    pub(super) fn head(tags: &mut Tags<'a>) -> Self {
        let tags = std::iter::from_fn(|| tags.next_within()).collect();
        Self { kind: "", tags, corners: Vec::new() }
    }

    pub(super) fn text(&self, code: i32) -> Option<&'a str> {
        first(&self.tags, code).map(|tag| tag.value)
    }

    pub(super) fn number(&self, code: i32, without: f64) -> Result<f64, ImportError> {
        number(&self.tags, code, without)
    }

    pub(super) fn bits(&self, code: i32) -> Result<i64, ImportError> {
        bits(&self.tags, code)
    }

    /// A point: `x` by this code, `y` by the one ten above. 0 where one is missing.
    pub(super) fn point(&self, code: i32) -> Result<Point, ImportError> {
        Ok(Point::new(self.number(code, 0.0)?, self.number(code + 10, 0.0)?))
    }

    /// All points of a code, in order.
    pub(super) fn points(&self, code: i32) -> Result<Vec<Point>, ImportError> {
        let mut points: Vec<Point> = Vec::new();
        for tag in &self.tags {
            if tag.code == code {
                points.push(Point::new(tag.number()?, 0.0));
            } else if tag.code == code + 10
                && let Some(last) = points.last_mut()
            {
                last.y = tag.number()?;
            }
        }
        Ok(points)
    }

    /// All numbers of a code, in order.
    pub(super) fn numbers(&self, code: i32) -> Result<Vec<f64>, ImportError> {
        self.tags.iter().filter(|tag| tag.code == code).map(Tag::number).collect()
    }

    /// Whether the plane that it is drawn in lies with its other side up: then its `x` runs the other way (DXF reference, arbitrary axis
    /// algorithm).
    pub(super) fn is_turned_over(&self) -> Result<bool, ImportError> {
        Ok(self.number(230, 1.0)? < 0.0)
    }

    /// Whether it is drawn on the sheet, not in the model, or hidden.
    pub(super) fn is_elsewhere(&self) -> Result<bool, ImportError> {
        Ok(self.bits(67)? == 1 || self.bits(60)? == 1)
    }
}
