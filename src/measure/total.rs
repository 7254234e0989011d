//! Sums of measures.

/// The sum of some numbers; 0 of none. (The standard library's sum of none is -0.0, which a file or a sentence would show.)
///
/// ```
/// use pleatwright::measure::total;
/// assert_eq!(total([0.5, 1.5]), 2.0);
/// assert!(total([]).is_sign_positive());
/// ```
pub fn total(numbers: impl IntoIterator<Item = f64>) -> f64 {
    numbers.into_iter().fold(0.0, |sum, number| sum + number)
}
