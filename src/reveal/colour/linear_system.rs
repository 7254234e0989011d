//! A small dense system of linear equations.

/// Solves `matrix * x = right`, leaving x in `right`; by elimination with row exchange. `matrix` is used up.
///
/// False when a pivot vanishes: the matrix is singular to working precision, and `right` is of no use.
pub(super) fn solve<const N: usize>(matrix: &mut [[f64; N]; N], right: &mut [f64; N]) -> bool {
    for column in 0..N {
        let Some(pivot) = (column..N).max_by(|&i, &j| matrix[i][column].abs().total_cmp(&matrix[j][column].abs())) else {
            return false;
        };
        if matrix[pivot][column].abs() < f64::MIN_POSITIVE {
            return false;
        }
        matrix.swap(column, pivot);
        right.swap(column, pivot);
        let (above, below) = matrix.split_at_mut(column + 1);
        let pivot_row = &above[column];
        for (offset, row) in below.iter_mut().enumerate() {
            let factor = row[column] / pivot_row[column];
            if factor != 0.0 {
                for (entry, by) in row[column..].iter_mut().zip(&pivot_row[column..]) {
                    *entry -= factor * by;
                }
                right[column + 1 + offset] -= factor * right[column];
            }
        }
    }
    for row in (0..N).rev() {
        let known: f64 = matrix[row][row + 1..].iter().zip(&right[row + 1..]).map(|(entry, x)| entry * x).sum();
        right[row] = (right[row] - known) / matrix[row][row];
    }
    true
}

#[cfg(test)]
mod tests {
    use super::solve;

    #[test]
    fn a_system_that_needs_row_exchange_is_solved() {
        let mut right = [7.0, 3.0, 6.0];
        assert!(solve(&mut [[0.0, 2.0, 1.0], [1.0, 1.0, 0.0], [1.0, 1.0, 1.0]], &mut right));
        for (x, expected) in right.into_iter().zip([1.0, 2.0, 3.0]) {
            assert!((x - expected).abs() < 1e-14, "{right:?}");
        }
        assert!(!solve(&mut [[1.0, 2.0], [2.0, 4.0]], &mut [1.0, 1.0]));
    }
}
