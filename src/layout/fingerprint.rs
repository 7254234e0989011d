//! A short mark of a layout's content, to tell which layout a sheet of paper was made from.

use super::layout_text;
use super::raw::LayoutV1;
use sha2::{Digest as _, Sha256};

/// Eight hexadecimal digits: the first four bytes of the SHA-256 (FIPS 180-4) of [`layout_text`]. Any change of a value changes them;
/// comments, line breaks and the order of fields in the file do not enter. A newer program whose layouts have more fields may give
/// another. Not a safeguard against forgery, and by chance alone alike
/// for two layouts in four thousand million.
#[must_use]
pub fn fingerprint(layout: &LayoutV1) -> String {
    use std::fmt::Write as _;
    let digest = Sha256::digest(layout_text(layout).as_bytes());
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
