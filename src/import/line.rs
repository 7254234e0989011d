//! The lines that a drawing has, and what they are told apart by.

use crate::telling::Voice;
use kurbo::{BezPath, Shape as _, Size};

/// A line in a drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct FoundLine {
    /// Its number in the drawing, from 1.
    pub number: usize,
    /// Its name, where it has one.
    pub name: Option<String>,
    /// The layer or group that it lies in, where that has a name.
    pub layer: Option<String>,
    /// One part of lines and cubics, mm, `y` down.
    pub path: BezPath,
    /// Whether it ends where it begins.
    pub is_closed: bool,
    /// Its length, mm.
    pub length_mm: f64,
}

/// What a line is told apart from others by.
#[derive(Debug, Clone, PartialEq)]
pub struct LineBrief {
    /// Its number in the drawing, from 1.
    pub number: usize,
    /// Its name, where it has one.
    pub name: Option<String>,
    /// The layer or group that it lies in, where that has a name.
    pub layer: Option<String>,
    /// Whether it ends where it begins.
    pub is_closed: bool,
    /// Width and height, mm.
    pub size: Size,
}

impl FoundLine {
    /// What it is told apart by.
    #[must_use]
    pub fn brief(&self) -> LineBrief {
        let Self { number, name, layer, is_closed, .. } = self.clone();
        LineBrief { number, name, layer, is_closed, size: self.path.bounding_box().size() }
    }
}

impl LineBrief {
    /// Whether its name or its layer is that.
    #[must_use]
    pub fn is_called(&self, which: &str) -> bool {
        [&self.name, &self.layer].into_iter().flatten().any(|name| name == which)
    }

    /// `3 "rim" on "cut" (closed, 60 mm x 40 mm)`.
    #[must_use]
    pub fn words(&self, voice: Voice) -> String {
        let name = self.name.as_ref().map_or_else(String::new, |name| format!(" \"{name}\""));
        let layer = self.layer.as_ref().map_or_else(String::new, |layer| format!(" on \"{layer}\""));
        let form = if self.is_closed { "closed" } else { "open" };
        let [width, height] = [self.size.width, self.size.height].map(|mm| voice.about(mm));
        format!("{}{name}{layer} ({form}, {width} x {height})", self.number)
    }
}
