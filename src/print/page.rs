//! Pages: drawings placed on paper, before anyone writes a file.

use std::sync::Arc;

use kurbo::{Affine, Rect, Size};

use super::drawing::{Drawing, Item};

/// A drawing made ready to be painted, many times if need be: patterns laid out, items sorted and measured.
#[derive(Debug, Clone, PartialEq)]
pub struct Painted {
    pub(super) items: Vec<(Item, Rect)>,
}

impl Painted {
    /// The items, lowest first, patterns laid out as lines and dots.
    pub fn items(&self) -> impl Iterator<Item = &Item> {
        self.items.iter().map(|(item, _)| item)
    }

    /// Makes a drawing ready.
    #[must_use]
    pub fn of(drawing: &Drawing) -> Arc<Self> {
        Self::of_some(drawing, |_| true)
    }

    /// Makes some items of a drawing ready.
    pub(super) fn of_some(drawing: &Drawing, is_wanted: impl Fn(&Item) -> bool) -> Arc<Self> {
        let measured = |item: Item| {
            let half_mm = item.layer.style().width_mm / 2.0;
            let reach = item.shape.bounding_box().inflate(half_mm, half_mm);
            (item, reach)
        };
        Arc::new(Self { items: drawing.painted().into_iter().filter(is_wanted).map(measured).collect() })
    }
}

/// A drawing at a place on a page.
#[derive(Debug, Clone, PartialEq)]
pub struct Placed {
    /// What is drawn.
    pub drawing: Arc<Painted>,
    /// Takes drawing mm to page mm: a similarity without mirror image. Stroke widths follow its scale.
    pub page_from_drawing: Affine,
    /// The part that shows, in drawing coordinates; `None` for all.
    pub clip: Option<Rect>,
}

/// A part of a page that leads somewhere. Only PDF has such.
#[derive(Debug, Clone, PartialEq)]
pub struct PageLink {
    /// The part, page mm.
    pub area: Rect,
    /// Where it leads.
    pub to: LinkTarget,
}

/// Where a link leads.
#[derive(Debug, Clone, PartialEq)]
pub enum LinkTarget {
    /// To a place of the same file; a page that it does not have leads nowhere.
    Page {
        /// The page's place in the file, from 0.
        index: usize,
        /// How far down on it, mm.
        y_mm: f64,
    },
    /// To an address.
    Web(String),
}

/// One page.
#[derive(Debug, Clone, PartialEq)]
pub struct Page {
    /// Short name, the label that a viewer shows for the page: `A1`, `Map`.
    pub name: String,
    /// Width and height in mm, as they stand in the file.
    pub size_mm: Size,
    /// What is on it, lowest first.
    pub placed: Vec<Placed>,
    /// What leads somewhere.
    pub links: Vec<PageLink>,
}

impl Page {
    /// A page that shows one drawing with its bounds' top left corner in the page's.
    #[must_use]
    pub fn of_drawing(name: impl Into<String>, size_mm: Size, drawing: &Drawing) -> Self {
        let page_from_drawing = Affine::translate(-drawing.bounds.origin().to_vec2());
        let placed = Placed { drawing: Painted::of(drawing), page_from_drawing, clip: None };
        Self { name: name.into(), size_mm, placed: vec![placed], links: Vec::new() }
    }
}

/// Pages that belong together: one entry of the bookmarks.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// Title of the part.
    pub title: String,
    /// Its pages.
    pub pages: Vec<Page>,
}
