//! The two panels of a garment, and values that exist once for each.

use super::{PanelOutline, Top};
use serde::Serialize;
use std::fmt;
use std::ops::{Add, Range, Sub};

/// One of the two layers of cloth that a garment laid flat consists of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
pub enum Panel {
    /// The layer that shows when the garment is worn, seen from the front.
    Front,
    /// The layer behind it.
    Back,
}

impl Panel {
    /// Both panels, front first.
    pub const BOTH: [Self; 2] = [Self::Front, Self::Back];

    /// The panel's name in running text.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Front => "front",
            Self::Back => "back",
        }
    }
}

impl fmt::Display for Panel {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

/// A value for each panel.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize)]
pub struct PanelPair<T> {
    /// The front's.
    pub front: T,
    /// The back's.
    pub back: T,
}

impl<T> PanelPair<T> {
    /// Makes a pair by asking for each panel.
    pub fn from_fn(mut of: impl FnMut(Panel) -> T) -> Self {
        Self { front: of(Panel::Front), back: of(Panel::Back) }
    }

    /// The value of one panel.
    pub fn of(&self, panel: Panel) -> &T {
        match panel {
            Panel::Front => &self.front,
            Panel::Back => &self.back,
        }
    }

    /// Applies a function to both values.
    pub fn map<U>(&self, mut f: impl FnMut(&T) -> U) -> PanelPair<U> {
        PanelPair { front: f(&self.front), back: f(&self.back) }
    }
}

impl<T: Copy + Add<Output = T>> PanelPair<T> {
    /// Front and back together.
    pub fn sum(&self) -> T {
        self.front + self.back
    }
}

impl<T: Copy + Sub<Output = T>> Sub for PanelPair<T> {
    type Output = Self;

    fn sub(self, other: Self) -> Self {
        Self { front: self.front - other.front, back: self.back - other.back }
    }
}

/// The panels that a garment has: a bandana has no back.
#[derive(Debug, Clone, PartialEq)]
pub struct PanelSet {
    /// The front, or the only one.
    pub front: PanelOutline,
    /// The back.
    pub back: Option<PanelOutline>,
    /// What heights on them are counted from.
    pub top: Top,
}

impl PanelSet {
    /// One panel's outline, if the garment has it.
    #[must_use]
    pub fn panel(&self, panel: Panel) -> Option<&PanelOutline> {
        match panel {
            Panel::Front => Some(&self.front),
            Panel::Back => self.back.as_ref(),
        }
    }

    /// How far the cloth of some of the panels reaches along the centre line, from where it begins on any to where it ends, mm below the
    /// shoulder point; nothing where the garment has none of them.
    #[must_use]
    pub fn centre_line_mm(&self, panels: &[Panel]) -> Range<f64> {
        let lines = panels.iter().filter_map(|&panel| self.panel(panel)).map(PanelOutline::centre_line_mm);
        lines.reduce(|a, b| a.start.min(b.start)..a.end.max(b.end)).unwrap_or_default()
    }

    /// The panels there are, front first.
    pub fn iter(&self) -> impl Iterator<Item = (Panel, &PanelOutline)> {
        Panel::BOTH.into_iter().filter_map(|panel| Some((panel, self.panel(panel)?)))
    }
}
