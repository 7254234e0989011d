//! What the job card shows besides the layout's own numbers: the day's part, and how the garment may come out.

use crate::layout::Layout;
use crate::plan::Plan;
use crate::print::parts::CardOptions;
use crate::reveal::colour::DyeSet;
use crate::reveal::{Cancel, Picture, RevealOptions, bare_picture, picture, reveal_doses};
use crate::telling::AnyRefusal;
use std::sync::Arc;

/// Edge of a pixel of the card's picture, mm on the cloth: it is printed a few centimetres wide.
const PIXEL_MM: f64 = 2.0;

fn options() -> RevealOptions {
    RevealOptions { pixel_mm: PIXEL_MM, ..RevealOptions::default() }
}

/// The picture for a card. Not for the window's thread.
pub(super) fn card_picture(layout: &Layout, cancel: &Cancel) -> Result<Picture, AnyRefusal> {
    let reveal = reveal_doses(layout, &options(), cancel)?;
    Ok(picture(&reveal, &DyeSet::of_layout(layout, None)))
}

/// The reveal's picture on a card.
#[derive(Debug, Clone, Default)]
pub(crate) enum CardPicture {
    /// None is wanted.
    #[default]
    None,
    /// Its frame, while it is being made.
    Frame,
    /// It is made with the card.
    ToMake,
    /// It is at hand.
    Made(Arc<Picture>),
}

impl PartialEq for CardPicture {
    fn eq(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::Made(picture), Self::Made(other)) => Arc::ptr_eq(picture, other),
            (Self::None, Self::None) | (Self::Frame, Self::Frame) | (Self::ToMake, Self::ToMake) => true,
            _ => false,
        }
    }
}

impl CardPicture {
    fn picture(&self, layout: &Layout, cancel: &Cancel) -> Result<Option<Arc<Picture>>, AnyRefusal> {
        match self {
            Self::None => Ok(None),
            Self::Frame => bare_picture(layout, &options()).map(Arc::new).map(Some).map_err(AnyRefusal::from),
            Self::ToMake => card_picture(layout, cancel).map(Arc::new).map(Some),
            Self::Made(picture) => Ok(Some(picture.clone())),
        }
    }
}

/// The card's further parts.
#[derive(Debug, Clone, Default)]
pub(crate) struct CardWith {
    /// The plan, and which of its lines the layout is.
    pub(crate) plan: Option<(Arc<Plan>, usize)>,
    pub(crate) picture: CardPicture,
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
    /// Makes something with them. Computes the picture if one is to be made: not for the window's thread.
    pub(crate) fn with<T>(
        &self,
        layout: &Layout,
        cancel: &Cancel,
        make: impl FnOnce(&CardOptions<'_>) -> Result<T, AnyRefusal>,
    ) -> Result<T, AnyRefusal> {
        let picture = self.picture.picture(layout, cancel)?;
        let (plan, line) = match &self.plan {
            Some((plan, line)) => (Some(&**plan), *line),
            None => (None, 0),
        };
        make(&CardOptions { plan, line, reveal: picture.as_deref(), date: None })
    }
}
