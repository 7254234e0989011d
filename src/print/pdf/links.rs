//! Links as annotations of a page, without a frame.

use krilla::action::{Action, LinkAction};
use krilla::annotation::{Annotation, LinkAnnotation, Target};
use krilla::destination::{Destination, XyzDestination};
use krilla::geom::{Point, Rect};

use super::unit::f32_pt;
use crate::print::page::{LinkTarget, PageLink};

/// A link on a page of a file of so many pages; none where it has no area, or leads to a page that the file does not have.
pub(super) fn annotation(link: &PageLink, pages: usize) -> Option<Annotation> {
    let [left, top, right, bottom] = [link.area.x0, link.area.y0, link.area.x1, link.area.y1].map(f32_pt);
    let target = match &link.to {
        LinkTarget::Page { index, .. } if *index >= pages => return None,
        LinkTarget::Page { index, y_mm } => {
            let place = Point::from_xy(0.0, f32_pt(*y_mm));
            Target::Destination(Destination::Xyz(XyzDestination::new(*index, place)))
        }
        LinkTarget::Web(address) => Target::Action(Action::Link(LinkAction::new(address.clone()))),
    };
    Some(LinkAnnotation::new(Rect::from_ltrb(left, top, right, bottom)?, target).into())
}
