//! A number with its noun.

use std::fmt::Display;

/// A number with its noun: `1 bind`, `17 binds`. The noun is given as one is called and takes an `s` in the plural.
pub fn counted<N: Display + PartialEq + From<u8>>(count: N, one: &str) -> String {
    let plural = if count == N::from(1) { "" } else { "s" };
    format!("{count} {one}{plural}")
}

#[cfg(test)]
mod tests {
    use super::counted;

    #[test]
    fn one_is_singular() {
        assert_eq!([0_u32, 1, 2].map(|count| counted(count, "layer")), ["0 layers", "1 layer", "2 layers"]);
    }
}
