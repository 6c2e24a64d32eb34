//! Linear least squares by Householder's QR factorisation of scaled columns.

use nalgebra::{DMatrix, DVector};

/// Columns whose condition number, each scaled to length 1, is above this can't be told apart in double
/// precision.
pub const MOST_CONDITION: f64 = 1e13;

/// The factor R of columns that were divided by their lengths, and these lengths: all that variances need.
#[derive(Debug, Clone, PartialEq)]
pub struct Factor {
    inverse: DMatrix<f64>,
    lengths: DVector<f64>,
    /// Condition number of the scaled columns: greatest by least singular value.
    pub condition: f64,
}

/// A solved linear problem.
#[derive(Debug, Clone, PartialEq)]
pub struct LinearFit {
    /// The coefficients, one for each column.
    pub coefficients: Vec<f64>,
    /// Weighted residual sum of squares.
    pub rss: f64,
    /// Observations less coefficients.
    pub df: usize,
    /// For the variances.
    pub factor: Factor,
}

impl LinearFit {
    /// The residual standard deviation; NaN without a degree of freedom.
    pub fn residual_sd(&self) -> f64 {
        (self.rss / self.df as f64).sqrt()
    }

    /// The standard errors of the coefficients.
    pub fn sds(&self) -> Vec<f64> {
        (0..self.coefficients.len()).map(|at| self.residual_sd() * self.factor.unit_sd(at)).collect()
    }
}

impl Factor {
    /// The square root of the diagonal of (XᵀX)⁻¹ in this place.
    pub fn unit_sd(&self, place: usize) -> f64 {
        self.inverse.row(place).norm() / self.lengths[place]
    }

    /// √(gᵀ (XᵀX)⁻¹ g): the standard error, for a residual standard deviation of 1, of the sum of the
    /// coefficients with these factors.
    pub fn unit_sd_of(&self, factors: &[f64]) -> f64 {
        let scaled = DVector::from_fn(factors.len(), |at, _| factors[at] / self.lengths[at]);
        self.inverse.tr_mul(&scaled).norm()
    }

    /// The correlation between two coefficients.
    pub fn correlation(&self, one: usize, other: usize) -> f64 {
        let (a, b) = (self.inverse.row(one), self.inverse.row(other));
        a.dot(&b) / (a.norm() * b.norm())
    }
}

/// The coefficients that make the weighted sum of squares of y − Xβ least; `rows` holds the rows of X. `None`
/// if there are fewer rows than columns, or the columns can't be told apart.
///
/// Columns are scaled to length 1, X = QR by Householder reflections, and the solution is refined once with
/// residuals in about twice the precision (Å. Björck, Numerical Methods for Least Squares Problems, 1996,
/// 2.4 and 2.9).
pub fn least_squares(rows: &[Vec<f64>], y: &[f64], weights: &[f64]) -> Option<LinearFit> {
    let columns = rows.first()?.len();
    let roots: Vec<f64> = weights.iter().map(|weight| weight.sqrt()).collect();
    let x = DMatrix::from_fn(rows.len(), columns, |row, column| roots[row] * rows[row][column]);
    let y = DVector::from_fn(rows.len(), |row, _| roots[row] * y[row]);
    let solver = Solver::of(x.clone())?;
    let mut coefficients = solver.solve(&y);
    coefficients += solver.solve(&residuals(&x, &y, &coefficients));
    let rest = residuals(&x, &y, &coefficients);
    let df = rows.len() - columns;
    Some(LinearFit {
        coefficients: coefficients.iter().copied().collect(),
        rss: rest.norm_squared(),
        df,
        factor: solver.factor,
    })
}

/// A factorised matrix.
pub(super) struct Solver {
    qr: nalgebra::linalg::QR<f64, nalgebra::Dyn, nalgebra::Dyn>,
    pub(super) factor: Factor,
}

impl Solver {
    /// `None` if the columns can't be told apart, or hold what is not finite.
    pub(super) fn of(mut x: DMatrix<f64>) -> Option<Self> {
        let columns = x.ncols();
        if x.nrows() < columns || columns == 0 || x.iter().any(|value| !value.is_finite()) {
            return None;
        }
        let lengths = DVector::from_fn(columns, |column, _| x.column(column).norm());
        for (column, length) in lengths.iter().enumerate() {
            x.column_mut(column).scale_mut(1.0 / length);
        }
        if x.iter().any(|value| !value.is_finite()) {
            return None;
        }
        let qr = x.qr();
        let r = qr.r();
        let singular = r.clone().singular_values();
        let condition = singular.max() / singular.min();
        if condition.is_nan() || MOST_CONDITION < condition {
            return None;
        }
        let inverse = r.solve_upper_triangular(&DMatrix::identity(columns, columns))?;
        Some(Self { qr, factor: Factor { inverse, lengths, condition } })
    }

    /// The coefficients for a right-hand side.
    pub(super) fn solve(&self, y: &DVector<f64>) -> DVector<f64> {
        let columns = self.factor.lengths.len();
        let mut rotated = y.clone();
        self.qr.q_tr_mul(&mut rotated);
        let solution = &self.factor.inverse * rotated.rows(0, columns);
        solution.component_div(&self.factor.lengths)
    }

    /// The length of that part of y which the columns can make, and of the rest.
    pub(super) fn parts(&self, y: &DVector<f64>) -> (f64, f64) {
        let columns = self.factor.lengths.len();
        let mut rotated = y.clone();
        self.qr.q_tr_mul(&mut rotated);
        (rotated.rows(0, columns).norm(), rotated.rows(columns, y.len() - columns).norm())
    }
}

/// y − Xβ, each sum with its rounding errors carried along (T. Ogita, S. M. Rump and S. Oishi, SIAM J. Sci.
/// Comput. 26 (2005) 1955, Dot2).
fn residuals(x: &DMatrix<f64>, y: &DVector<f64>, coefficients: &DVector<f64>) -> DVector<f64> {
    DVector::from_fn(y.len(), |row, _| {
        let (mut sum, mut error) = (y[row], 0.0);
        for (value, coefficient) in x.row(row).iter().zip(coefficients.iter()) {
            let product = -value * coefficient;
            error += (-value).mul_add(*coefficient, -product);
            let next = sum + product;
            let back = next - sum;
            error += (sum - (next - back)) + (product - back);
            sum = next;
        }
        sum + error
    })
}
