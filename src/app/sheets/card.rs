//! What the job card shows besides the layout's own numbers: the day's part, and how the garment may come out.

use crate::layout::Layout;
use crate::plan::Plan;
use crate::print::parts::CardOptions;
use crate::reveal::colour::DyeSet;
use crate::reveal::{Cancel, Picture, RevealOptions, picture, reveal_doses};
use std::sync::Arc;

/// Edge of a pixel of the card's picture, mm on the cloth: it is printed a few centimetres wide.
const PIXEL_MM: f64 = 2.0;

/// The card's further parts.
#[derive(Debug, Clone, Default)]
pub(crate) struct CardWith {
    /// The plan, and which of its lines the layout is.
    pub(crate) plan: Option<(Arc<Plan>, usize)>,
    /// Whether the reveal's picture is on it.
    pub(crate) picture: bool,
}

impl PartialEq for CardWith {
    fn eq(&self, other: &Self) -> bool {
        let same = match (&self.plan, &other.plan) {
            (Some((plan, line)), Some((other, other_line))) => Arc::ptr_eq(plan, other) && line == other_line,
            (None, None) => true,
            _ => false,
        };
        same && self.picture == other.picture
    }
}

impl CardWith {
    /// Makes something with them. Computes the picture if one is wanted: not for the window's thread.
    pub(crate) fn with<T>(
        &self,
        layout: &Layout,
        cancel: &Cancel,
        make: impl FnOnce(&CardOptions<'_>) -> Result<T, String>,
    ) -> Result<T, String> {
        let picture = if self.picture { Some(self.picture(layout, cancel)?) } else { None };
        let (plan, line) = match &self.plan {
            Some((plan, line)) => (Some(&**plan), *line),
            None => (None, 0),
        };
        make(&CardOptions { plan, line, reveal: picture.as_ref(), date: None })
    }

    fn picture(&self, layout: &Layout, cancel: &Cancel) -> Result<Picture, String> {
        let options = RevealOptions { pixel_mm: PIXEL_MM, ..RevealOptions::default() };
        let reveal = reveal_doses(layout, &options, cancel).map_err(|error| error.to_string())?;
        Ok(picture(&reveal, &DyeSet::of_layout(layout, None)))
    }
}
