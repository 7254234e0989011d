//! The text that a layout is written as.

use super::LayoutSpec;
use super::form::LayoutV2;
use crate::form::WrittenForm as _;
use ron::extensions::Extensions;
use serde::Serialize;

/// The text of a layout file, in the newest format: the layout exactly, every number with all its digits.
#[must_use]
pub fn layout_text(layout: &LayoutSpec) -> String {
    // Of several ties each part stands on a line of its own, as of one.
    let depth = if layout.ties.is_some() { DEPTH + 1 } else { DEPTH };
    to_ron_on_lines(&LayoutV2::of(layout.clone()), depth)
}

/// How deep values may lie in each other and still stand on a line of their own.
const DEPTH: usize = 3;

/// A value as RON, as every file of the program is written.
pub(crate) fn to_ron<T: Serialize>(value: &T) -> String {
    to_ron_on_lines(value, DEPTH)
}

fn to_ron_on_lines<T: Serialize>(value: &T, depth: usize) -> String {
    let pretty = ron::ser::PrettyConfig::new()
        .new_line("\n")
        .depth_limit(depth)
        .separate_tuple_members(false)
        .extensions(Extensions::IMPLICIT_SOME);
    let text = ron::Options::default().with_default_extension(Extensions::IMPLICIT_SOME).to_string_pretty(value, pretty);
    // Our own types hold strings, numbers and maps with plain keys: all that RON can write.
    text.map(|text| text + "\n").unwrap_or_default()
}
