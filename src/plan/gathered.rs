//! Values gathered by what they belong to.

/// The values of each key, the keys in the order of their first appearance.
pub(super) fn gathered<K: PartialEq, V>(pairs: impl IntoIterator<Item = (K, V)>) -> Vec<(K, Vec<V>)> {
    let mut groups: Vec<(K, Vec<V>)> = Vec::new();
    for (key, value) in pairs {
        match groups.iter_mut().find(|(known, _)| *known == key) {
            Some((_, values)) => values.push(value),
            None => groups.push((key, vec![value])),
        }
    }
    groups
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn groups_stand_in_the_order_of_their_first_value() {
        let groups = gathered([("teal", 1), ("plum", 2), ("teal", 3)]);
        assert_eq!(groups, [("teal", vec![1, 3]), ("plum", vec![2])]);
    }
}
