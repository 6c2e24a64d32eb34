//! The straight line by ordinary least squares, with what its coefficients are worth.

use statrs::distribution::{ContinuousCDF as _, StudentsT};

/// A fitted line y = intercept + slope x.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Line {
    /// The value at x = 0.
    pub intercept: f64,
    /// The rise of y for each unit of x.
    pub slope: f64,
    /// Standard errors of intercept and slope, and the standard deviation of the residuals; `None` with two
    /// points, through which every line goes.
    pub errors: Option<LineErrors>,
    /// How many points.
    pub n: usize,
    /// The mean of the x, about which the line turns.
    pub mean_x: f64,
    /// The last decimal place of the slope that rounding of the sums can't reach.
    rounding: f64,
}

/// What the scatter says of a line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LineErrors {
    /// Standard error of the intercept.
    pub intercept: f64,
    /// Standard error of the slope.
    pub slope: f64,
    /// Standard deviation of the residuals on n − 2 degrees of freedom.
    pub residual_sd: f64,
}

/// So many units in the last place the sums of a line may be off.
const SUMS: f64 = 64.0;

/// Fits a line to points (x, y). `None` with fewer than two points, if all x are the same, or if a number is not
/// finite.
///
/// slope = Σ(x − x̄)(y − ȳ) / Σ(x − x̄)², about the means, so that dates far from zero cost no digits
/// (Draper and Smith, Applied Regression Analysis, 3rd ed., 1998, chapter 1).
pub fn line_through(points: &[(f64, f64)]) -> Option<Line> {
    let n = points.len();
    if n < 2 || points.iter().any(|(x, y)| !x.is_finite() || !y.is_finite()) {
        return None;
    }
    let count = n as f64;
    let mean_x = points.iter().map(|(x, _)| x).sum::<f64>() / count;
    let mean_y = points.iter().map(|(_, y)| y).sum::<f64>() / count;
    let sxx = points.iter().map(|(x, _)| (x - mean_x).powi(2)).sum::<f64>();
    if sxx <= 0.0 {
        return None;
    }
    let sxy = points.iter().map(|(x, y)| (x - mean_x) * (y - mean_y)).sum::<f64>();
    let slope = sxy / sxx;
    let intercept = mean_y - slope * mean_x;
    let errors = (2 < n).then(|| {
        let residual = |(x, y): &(f64, f64)| (y - mean_y - slope * (x - mean_x)).powi(2);
        let residual_sd = (points.iter().map(residual).sum::<f64>() / (count - 2.0)).sqrt();
        LineErrors {
            intercept: residual_sd * (1.0 / count + mean_x * mean_x / sxx).sqrt(),
            slope: residual_sd / sxx.sqrt(),
            residual_sd,
        }
    });
    let across = points.iter().map(|(x, _)| (x - mean_x).abs()).fold(0.0, f64::max);
    let up = points.iter().map(|(_, y)| y.abs()).fold(0.0, f64::max);
    let rounding = 10f64.powf((SUMS * f64::EPSILON * up / across).log10().ceil());
    Some(Line { intercept, slope, errors, n, mean_x, rounding })
}

impl Line {
    /// The slope without the digits that only rounding put there: slopes of cells that fall alike are then equal, and
    /// what is left over is not taken for their scatter.
    pub fn slope_without_rounding(&self) -> f64 {
        let steps = self.slope / self.rounding;
        if steps.is_finite() && steps.abs() < 1e15 { steps.round() * self.rounding } else { self.slope }
    }

    /// The interval of the slope at a confidence level between 0 and 1, by Student's t on n − 2 degrees of
    /// freedom; `None` with two points.
    pub fn slope_interval(&self, level: f64) -> Option<(f64, f64)> {
        let half = self.t(level)? * self.errors?.slope;
        Some((self.slope - half, self.slope + half))
    }

    /// The interval of the intercept at a confidence level.
    pub fn intercept_interval(&self, level: f64) -> Option<(f64, f64)> {
        let half = self.t(level)? * self.errors?.intercept;
        Some((self.intercept - half, self.intercept + half))
    }

    /// The interval of the line itself at a place, at a confidence level between 0 and 1; `None` with two points.
    ///
    /// y ± t s √(1/n + (x − x̄)²/Sxx) (Draper and Smith, as above).
    pub fn interval_at(&self, x: f64, level: f64) -> Option<(f64, f64)> {
        let errors = self.errors?;
        let variance =
            (errors.residual_sd.powi(2) / self.n as f64) + errors.slope.powi(2) * (x - self.mean_x).powi(2);
        let half = self.t(level)? * variance.sqrt();
        let y = self.intercept + self.slope * x;
        Some((y - half, y + half))
    }

    fn t(&self, level: f64) -> Option<f64> {
        let freedom = self.n.checked_sub(2).filter(|freedom| 0 < *freedom)?;
        let student = StudentsT::new(0.0, 1.0, freedom as f64).ok()?;
        Some(student.inverse_cdf(0.5 + level / 2.0))
    }
}
