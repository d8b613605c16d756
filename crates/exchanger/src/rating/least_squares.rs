//! Bounded damped Gauss–Newton search for a handful of parameters, derivatives by central differences.
//!
//! Not here: what is searched for (`fit`).

/// A parameter's start and the range in which it may lie.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Parameter {
    pub(crate) start: f64,
    pub(crate) low: f64,
    pub(crate) high: f64,
}

/// Half the step of a difference. Parameters are logarithms and shares, all of size one.
const HALF_STEP: f64 = 1e-6;
const MOST_STEPS: usize = 100;

/// The parameters with the least sum of squared residuals that the search reached from this start, and that sum.
pub(crate) fn least_squares(
    parameters: &[Parameter],
    residuals: &dyn Fn(&[f64]) -> Vec<f64>,
) -> (Vec<f64>, f64) {
    let mut now: Vec<f64> = parameters.iter().map(|p| p.start.clamp(p.low, p.high)).collect();
    let mut sum = squares(&residuals(&now));
    let mut damping = 1e-3;
    for _ in 0..MOST_STEPS {
        let normal = Normal::at(parameters, &now, residuals);
        let mut moved = 0.0;
        while damping < 1e12 {
            let trial = normal.trial(parameters, &now, damping);
            let trial_sum = squares(&residuals(&trial));
            if trial_sum < sum {
                moved = trial.iter().zip(&now).fold(0.0, |most: f64, (a, b)| most.max((a - b).abs()));
                (now, sum) = (trial, trial_sum);
                damping = (damping * 0.1_f64).max(1e-15);
                break;
            }
            damping *= 10.0;
        }
        if moved < 1e-13 {
            break;
        }
    }
    (now, sum)
}

fn squares(residuals: &[f64]) -> f64 {
    residuals.iter().map(|r| r * r).sum()
}

/// `JᵀJ` and `−Jᵀr`, with the rows of parameters that sit at a bound and are pushed against it taken out.
struct Normal {
    matrix: Vec<Vec<f64>>,
    right: Vec<f64>,
}

impl Normal {
    fn at(parameters: &[Parameter], now: &[f64], residuals: &dyn Fn(&[f64]) -> Vec<f64>) -> Self {
        let here = residuals(now);
        let columns: Vec<Vec<f64>> = (0..now.len()).map(|i| slope(now, i, residuals)).collect();
        let dot = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(x, y)| x * y).sum::<f64>();
        let mut right: Vec<f64> = columns.iter().map(|column| -dot(column, &here)).collect();
        let mut matrix: Vec<Vec<f64>> =
            columns.iter().map(|a| columns.iter().map(|b| dot(a, b)).collect()).collect();
        for (i, p) in parameters.iter().enumerate() {
            let held = (now[i] <= p.low && right[i] <= 0.0) || (now[i] >= p.high && right[i] >= 0.0);
            if held {
                right[i] = 0.0;
                for row in &mut matrix {
                    row[i] = 0.0;
                }
                matrix[i].fill(0.0);
                matrix[i][i] = 1.0;
            }
        }
        Self { matrix, right }
    }

    fn trial(&self, parameters: &[Parameter], now: &[f64], damping: f64) -> Vec<f64> {
        let mut matrix = self.matrix.clone();
        for (i, row) in matrix.iter_mut().enumerate() {
            row[i] += damping * row[i].max(1e-12);
        }
        let step = eliminate(matrix, self.right.clone());
        let bounded = |((x, p), d): ((&f64, &Parameter), f64)| (x + d.clamp(-1.0, 1.0)).clamp(p.low, p.high);
        now.iter().zip(parameters).zip(step).map(bounded).collect()
    }
}

fn slope(now: &[f64], i: usize, residuals: &dyn Fn(&[f64]) -> Vec<f64>) -> Vec<f64> {
    let at = |offset: f64| {
        let mut moved = now.to_vec();
        moved[i] += offset;
        residuals(&moved)
    };
    let (up, down) = (at(HALF_STEP), at(-HALF_STEP));
    up.iter().zip(&down).map(|(a, b)| (a - b) / (2.0 * HALF_STEP)).collect()
}

/// Solves a symmetric positive definite system; the damping keeps its pivots above zero.
fn eliminate(mut matrix: Vec<Vec<f64>>, mut right: Vec<f64>) -> Vec<f64> {
    let count = right.len();
    for i in 0..count {
        let pivot = matrix[i].clone();
        for j in i + 1..count {
            let factor = matrix[j][i] / pivot[i];
            for (cell, above) in matrix[j].iter_mut().zip(&pivot) {
                *cell -= factor * above;
            }
            right[j] -= factor * right[i];
        }
    }
    for i in (0..count).rev() {
        let known: f64 = (i + 1..count).map(|k| matrix[i][k] * right[k]).sum();
        right[i] = (right[i] - known) / matrix[i][i];
    }
    right
}
