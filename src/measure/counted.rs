//! A number with its noun.

use std::fmt::Display;

/// A number with its noun, which is given as one is called: `1 bind`, `17 binds`, `2 swatches`, `2 entries`.
pub fn counted<N: Display + PartialEq + From<u8>>(count: N, one: &str) -> String {
    if count == N::from(1) {
        return format!("{count} {one}");
    }
    match one.strip_suffix("try") {
        Some(stem) => format!("{count} {stem}tries"),
        None if one.ends_with("ch") => format!("{count} {one}es"),
        None => format!("{count} {one}s"),
    }
}

#[cfg(test)]
mod tests {
    use super::counted;

    #[test]
    fn one_is_singular() {
        assert_eq!([0_u32, 1, 2].map(|count| counted(count, "layer")), ["0 layers", "1 layer", "2 layers"]);
        assert_eq!([1_u32, 2].map(|count| counted(count, "swatch")), ["1 swatch", "2 swatches"]);
        assert_eq!([1_usize, 2].map(|count| counted(count, "entry")), ["1 entry", "2 entries"]);
    }
}
