//! Symmetric linear equations, small and dense.

/// A square symmetric matrix by rows.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Matrix {
    size: usize,
    cells: Vec<f64>,
}

impl Matrix {
    pub(super) fn zero(size: usize) -> Self {
        Matrix { size, cells: vec![0.0; size * size] }
    }

    pub(super) fn add(&mut self, row: usize, column: usize, value: f64) {
        self.cells[row * self.size + column] += value;
    }

    /// Adds `weight · v vᵀ`.
    pub(super) fn add_outer(&mut self, weight: f64, v: &[f64]) {
        for (row, a) in v.iter().enumerate() {
            let scaled = weight * a;
            for (column, b) in v.iter().enumerate() {
                self.cells[row * self.size + column] += scaled * b;
            }
        }
    }

    pub(super) fn times(&self, v: &[f64]) -> Vec<f64> {
        self.cells.chunks(self.size).map(|row| dot(row, v)).collect()
    }

    /// Mean of the diagonal: a measure of size.
    pub(super) fn scale(&self) -> f64 {
        (0..self.size).map(|i| self.cells[i * self.size + i]).sum::<f64>() / self.size as f64
    }

    /// Solves M x = b by Cholesky's method; none if M isn't positive, or only by what rounding leaves of a pivot.
    pub(super) fn solve(mut self, b: &[f64]) -> Option<Vec<f64>> {
        let n = self.size;
        for column in 0..n {
            for row in column..n {
                let mut sum = self.cells[row * n + column];
                for k in 0..column {
                    sum -= self.cells[row * n + k] * self.cells[column * n + k];
                }
                if row == column {
                    let rounding = 1e-12 * self.cells[row * n + column].abs();
                    if sum.is_nan() || sum <= rounding {
                        return None;
                    }
                    self.cells[row * n + column] = sum.sqrt();
                } else {
                    self.cells[row * n + column] = sum / self.cells[column * n + column];
                }
            }
        }
        let mut x = b.to_vec();
        for row in 0..n {
            for k in 0..row {
                x[row] -= self.cells[row * n + k] * x[k];
            }
            x[row] /= self.cells[row * n + row];
        }
        for row in (0..n).rev() {
            for k in row + 1..n {
                x[row] -= self.cells[k * n + row] * x[k];
            }
            x[row] /= self.cells[row * n + row];
        }
        Some(x)
    }
}

pub(super) fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

pub(super) fn add_scaled(sum: &mut [f64], factor: f64, v: &[f64]) {
    for (sum, part) in sum.iter_mut().zip(v) {
        *sum += factor * part;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_small_system_is_solved_and_a_singular_one_refused() {
        let mut matrix = Matrix::zero(3);
        matrix.add_outer(2.0, &[1.0, 2.0, 0.0]);
        matrix.add_outer(3.0, &[0.0, 1.0, -1.0]);
        assert_eq!(matrix.clone().solve(&[1.0, 2.0, 3.0]), None);
        matrix.add(2, 2, 4.0);
        matrix.add(0, 0, 1.0);
        let b = [1.0, -2.0, 0.5];
        let x = matrix.clone().solve(&b).expect("positive");
        for (left, right) in matrix.times(&x).iter().zip(b) {
            assert!((left - right).abs() < 1e-12);
        }
    }
}
