//! A short mark of a layout's content, to tell which layout a sheet of paper was made from.

use super::form::LayoutV1;
use super::{LayoutSpec, layout_text, to_ron};
use sha2::{Digest as _, Sha256};

/// Eight hexadecimal digits: the first four bytes of the SHA-256 (FIPS 180-4) of the layout's text. Any change of a value changes them;
/// comments, line breaks and the order of fields in the file do not enter. Not a safeguard against forgery, and by chance alone alike
/// for two layouts in four thousand million.
///
/// The text is that of format 1 for every layout that format 1 can say, whatever format its file has, for ever: sheets and journals in
/// makers' hands bear marks made of it. Only what that format can't say is taken from [`layout_text`].
#[must_use]
pub fn fingerprint(layout: &LayoutSpec) -> String {
    use std::fmt::Write as _;
    let text = LayoutV1::of(layout).map_or_else(|| layout_text(layout), |first| to_ron(&first));
    let digest = Sha256::digest(text.as_bytes());
    digest.iter().take(4).fold(String::new(), |mut text, byte| {
        // Writing to a string does not fail.
        let _written = write!(text, "{byte:02x}");
        text
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::store::{EXAMPLE_LAYOUTS, parse_layout};

    #[test]
    fn a_value_changes_it_and_a_comment_does_not() {
        let text = EXAMPLE_LAYOUTS[0].text;
        let print = |text: &str| fingerprint(parse_layout(text).unwrap().raw());
        let own = print(text);
        assert!(own.len() == 8 && own.bytes().all(|byte| byte.is_ascii_hexdigit()));
        assert_eq!(print(&text.replace("    // Taken on the washed", "    // Measured on the washed")), own);
        assert_ne!(print(&text.replace("guide_radius_mm: 230.0", "guide_radius_mm: 230.5")), own);
    }
}
