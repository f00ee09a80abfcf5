//! Measurements that disagree a little, shared out so that the squares of what each is off by
//! add up to the least.

/// Steps shorter than this, in millimetres, are at rest: slopes by differences know no better.
const RESTS: f64 = 1e-7;

/// Repeats Gauss and Newton's step until the unknowns rest, from `start`.
///
/// `off(x)` says by how much each measurement is missed by the unknowns `x`.
/// Nothing when the steps do not come to rest.
pub(crate) fn settle<const N: usize>(
    start: [f64; N],
    off: impl Fn(&[f64; N]) -> Vec<f64>,
) -> Option<[f64; N]> {
    let mut x = start;
    for _ in 0..50 {
        let here = off(&x);
        let slopes = slopes(&x, &off);
        let step = solve(normal(&slopes), pull(&slopes, &here))?;
        for i in 0..N {
            x[i] -= step[i];
        }
        if step.iter().all(|s| s.abs() < RESTS) {
            return Some(x);
        }
    }
    None
}

/// How each measurement changes with each unknown, by central differences.
fn slopes<const N: usize>(x: &[f64; N], off: impl Fn(&[f64; N]) -> Vec<f64>) -> [Vec<f64>; N] {
    const STEP: f64 = 1e-4;
    std::array::from_fn(|i| {
        let (mut up, mut down) = (*x, *x);
        up[i] += STEP;
        down[i] -= STEP;
        off(&up)
            .iter()
            .zip(off(&down))
            .map(|(a, b)| (a - b) / (2.0 * STEP))
            .collect()
    })
}

fn normal<const N: usize>(slopes: &[Vec<f64>; N]) -> [[f64; N]; N] {
    std::array::from_fn(|i| std::array::from_fn(|j| dot(&slopes[i], &slopes[j])))
}

fn pull<const N: usize>(slopes: &[Vec<f64>; N], here: &[f64]) -> [f64; N] {
    std::array::from_fn(|i| dot(&slopes[i], here))
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(x, y)| x * y).sum()
}

/// Solves `a x = b` by elimination, the largest pivot first.
fn solve<const N: usize>(mut a: [[f64; N]; N], mut b: [f64; N]) -> Option<[f64; N]> {
    for column in 0..N {
        let pivot =
            (column..N).max_by(|&i, &j| a[i][column].abs().total_cmp(&a[j][column].abs()))?;
        if a[pivot][column].abs() < 1e-12 {
            return None;
        }
        a.swap(column, pivot);
        b.swap(column, pivot);
        for row in column + 1..N {
            let times = a[row][column] / a[column][column];
            let above = a[column];
            for (here, above) in a[row].iter_mut().zip(above) {
                *here -= times * above;
            }
            b[row] -= times * b[column];
        }
    }
    let mut x = [0.0; N];
    for row in (0..N).rev() {
        let known: f64 = (row + 1..N).map(|k| a[row][k] * x[k]).sum();
        x[row] = (b[row] - known) / a[row][row];
    }
    Some(x)
}
