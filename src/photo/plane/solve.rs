//! Small systems of linear equations.

/// Solves `matrix * x = right` by elimination with the largest pivot. Nothing when the equations
/// do not determine `x`.
///
/// # Panics
/// When the sizes do not go together.
pub fn solve(mut matrix: Vec<Vec<f64>>, mut right: Vec<f64>) -> Option<Vec<f64>> {
    let size = right.len();
    for column in 0..size {
        let largest =
            |&a: &usize, &b: &usize| matrix[a][column].abs().total_cmp(&matrix[b][column].abs());
        let pivot = (column..size).max_by(largest)?;
        let scale = matrix[pivot]
            .iter()
            .fold(0.0f64, |most, v| most.max(v.abs()));
        if !scale.is_finite() || matrix[pivot][column].abs() <= 1e-12 * scale.max(1e-30) {
            return None;
        }
        matrix.swap(column, pivot);
        right.swap(column, pivot);
        for row in column + 1..size {
            let times = matrix[row][column] / matrix[column][column];
            let above = matrix[column].clone();
            for (value, above) in matrix[row].iter_mut().zip(above).skip(column) {
                *value -= times * above;
            }
            right[row] -= times * right[column];
        }
    }
    let mut x = vec![0.0; size];
    for row in (0..size).rev() {
        let known: f64 = (row + 1..size).map(|at| matrix[row][at] * x[at]).sum();
        x[row] = (right[row] - known) / matrix[row][row];
    }
    Some(x)
}

/// The least squares solution of weighted equations `terms * x = value`, nothing when they do not
/// determine it.
pub fn least_squares<'a>(
    unknowns: usize,
    equations: impl Iterator<Item = (&'a [f64], f64, f64)>,
) -> Option<Vec<f64>> {
    let mut matrix = vec![vec![0.0; unknowns]; unknowns];
    let mut right = vec![0.0; unknowns];
    for (terms, value, weight) in equations {
        for i in 0..unknowns {
            for j in 0..unknowns {
                matrix[i][j] += weight * terms[i] * terms[j];
            }
            right[i] += weight * terms[i] * value;
        }
    }
    solve(matrix, right)
}
