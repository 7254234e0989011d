//! What a bind is called: by its number from the centre, as on the cloth and in every table.

use crate::geometry::BindId;
use crate::layout::Layout;

/// Its number, counted from the centre; none when it is not there any more.
pub(super) fn bind_number(id: BindId, layout: &Layout) -> Option<usize> {
    layout.binds().binds.iter().position(|bind| bind.id == id).map(|index| index + 1)
}

/// A few words for it.
pub(super) fn bind_name(id: BindId, layout: &Layout) -> String {
    if let Some(band) = layout.spiral().and_then(|spiral| spiral.band_of(id)) {
        return format!("band {band}");
    }
    match bind_number(id, layout) {
        Some(number) if id == BindId::GUIDE => format!("{}, bind {number}", layout.words().guide),
        Some(number) => format!("bind {number}"),
        None => "bind".to_owned(),
    }
}
