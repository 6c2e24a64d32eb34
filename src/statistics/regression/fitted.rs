//! A linear model fitted to observations.

use super::estimable::not_estimable;
use crate::statistics::anova::FTest;
use crate::statistics::curve_fit::{LinearFit, least_squares};
use crate::statistics::distribution::{student_t_quantile, student_t_upper};
use crate::statistics::sum::sum;

/// A variation about the mean that is no more than this share of Σy² is rounding: all observations are one number.
const ROUNDING: f64 = 1e-24;
/// A leverage this near to 1 means that the fit goes through the observation wherever it lies.
const BOUND: f64 = 1.0 - 1e-9;

/// One coefficient. Without a degree of freedom for error all but the value is NaN.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Coefficient {
    /// The value.
    pub value: f64,
    /// Its standard error.
    pub sd: f64,
    /// The value over its standard error.
    pub t: f64,
    /// The probability of so large a t, on either side, if the coefficient is zero.
    pub p: f64,
    /// The interval that holds it with the confidence asked for.
    pub interval: (f64, f64),
}

/// A linear model fitted by least squares.
#[derive(Debug, Clone, PartialEq)]
pub struct Regression {
    /// The coefficients in the order of the columns.
    pub coefficients: Vec<Coefficient>,
    /// What the model says for each observation.
    pub fitted: Vec<f64>,
    /// Observation less fitted value.
    pub residuals: Vec<f64>,
    /// How much of each fitted value is its own observation: the diagonal of X(XᵀX)⁻¹Xᵀ, from 0 to 1.
    pub leverage: Vec<f64>,
    /// The confidence of all intervals.
    pub confidence: f64,
    /// Where the variation goes.
    pub variance: Variance,
    /// Condition number of the columns scaled to length 1.
    pub condition: f64,
    fit: LinearFit,
}

/// Where the variation of the observations goes. Sums about the mean are those of a model that holds a constant,
/// if only as a combination of its columns, as in a mixture whose fractions add up to 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Variance {
    /// Observations.
    pub n: usize,
    /// Coefficients.
    pub parameters: usize,
    /// Σ(y − ȳ)².
    pub ss_total: f64,
    /// Σy².
    pub ss_about_zero: f64,
    /// Residual sum of squares.
    pub ss_error: f64,
    /// Σ(residual/(1 − leverage))²: each observation against the model that is fitted without it (D. M. Allen,
    /// Technometrics 16 (1974) 125). `None` where an observation alone holds a coefficient.
    pub press: Option<f64>,
}

impl Regression {
    /// The fit; `rows` holds the rows of X, `confidence` lies between 0 and 1.
    ///
    /// # Errors
    /// The places of the columns whose coefficients these rows can't tell; all of them for no rows.
    pub fn of(rows: &[Vec<f64>], y: &[f64], confidence: f64) -> Result<Self, Vec<usize>> {
        let unseen = not_estimable(rows);
        let fit = if unseen.is_empty() { least_squares(rows, y, &vec![1.0; y.len()]) } else { None };
        let Some(fit) = fit else {
            let all = (0..rows.first().map_or(0, Vec::len)).collect();
            return Err(if unseen.is_empty() { all } else { unseen });
        };
        let fitted: Vec<f64> = rows.iter().map(|row| value(&fit, row)).collect();
        let residuals: Vec<f64> = y.iter().zip(&fitted).map(|(y, fitted)| y - fitted).collect();
        let leverage: Vec<f64> = rows.iter().map(|row| fit.factor.unit_sd_of(row).powi(2).min(1.0)).collect();
        let variance = Variance::of(&fit, y, &residuals, &leverage);
        let coefficients = coefficients(&fit, &variance, confidence);
        let condition = fit.factor.condition;
        Ok(Self { coefficients, fitted, residuals, leverage, confidence, variance, condition, fit })
    }

    /// What the model says for a row of factors.
    pub fn value(&self, row: &[f64]) -> f64 {
        value(&self.fit, row)
    }

    /// √(gᵀ(XᵀX)⁻¹g): the standard error of that for a residual standard deviation of 1. It depends on where was
    /// measured and not on what was found.
    pub fn unit_sd(&self, row: &[f64]) -> f64 {
        self.fit.factor.unit_sd_of(row)
    }

    /// How far the interval of what the model says reaches to each side; NaN without an error estimate.
    pub fn reach(&self, row: &[f64]) -> f64 {
        self.variance.quantile(self.confidence) * self.variance.residual_sd() * self.unit_sd(row)
    }

    /// The same for one further observation.
    pub fn further_reach(&self, row: &[f64]) -> f64 {
        let unit = (1.0 + self.unit_sd(row).powi(2)).sqrt();
        self.variance.quantile(self.confidence) * self.variance.residual_sd() * unit
    }

    /// Residual over its own standard error, s√(1 − leverage); NaN where there is none.
    pub fn studentized(&self) -> Vec<f64> {
        let sd = self.variance.residual_sd();
        let one = |(residual, leverage): (&f64, &f64)| match *leverage < BOUND {
            true => residual / (sd * (1.0 - leverage).sqrt()),
            false => f64::NAN,
        };
        self.residuals.iter().zip(&self.leverage).map(one).collect()
    }
}

fn value(fit: &LinearFit, row: &[f64]) -> f64 {
    sum(row.iter().zip(&fit.coefficients).map(|(factor, coefficient)| factor * coefficient))
}

fn coefficients(fit: &LinearFit, variance: &Variance, confidence: f64) -> Vec<Coefficient> {
    let (df, reach) = (variance.df_error() as f64, variance.quantile(confidence));
    let one = |(at, value): (usize, &f64)| {
        let sd = variance.residual_sd() * fit.factor.unit_sd(at);
        let t = value / sd;
        let p = 2.0 * student_t_upper(t.abs(), df);
        Coefficient { value: *value, sd, t, p, interval: (value - reach * sd, value + reach * sd) }
    };
    fit.coefficients.iter().enumerate().map(one).collect()
}

impl Variance {
    fn of(fit: &LinearFit, y: &[f64], residuals: &[f64], leverage: &[f64]) -> Self {
        let mean = sum(y.iter().copied()) / y.len() as f64;
        let left_out = |(residual, leverage): (&f64, &f64)| {
            (*leverage < BOUND).then(|| (residual / (1.0 - leverage)).powi(2))
        };
        let press: Option<Vec<f64>> = residuals.iter().zip(leverage).map(left_out).collect();
        let ss_total = sum(y.iter().map(|y| (y - mean).powi(2)));
        let ss_about_zero = sum(y.iter().map(|y| y * y));
        // What is left of a constant by rounding is no error to judge coefficients by.
        let real = if ss_total <= ROUNDING * ss_about_zero { 0.0 } else { 1.0 };
        Self {
            n: y.len(),
            parameters: fit.coefficients.len(),
            ss_total: real * ss_total,
            ss_about_zero,
            ss_error: real * fit.rss,
            press: press.map(|press| real * sum(press)),
        }
    }

    /// True if all observations are the same.
    pub fn is_constant(&self) -> bool {
        self.ss_total == 0.0
    }

    /// Degrees of freedom of the error.
    pub fn df_error(&self) -> usize {
        self.n.saturating_sub(self.parameters)
    }

    /// Degrees of freedom of the model about the mean.
    pub fn df_model(&self) -> usize {
        self.parameters.saturating_sub(1)
    }

    /// What the model explains of the sum about the mean.
    pub fn ss_model(&self) -> f64 {
        self.ss_total - self.ss_error
    }

    /// Residual standard deviation; NaN without a degree of freedom.
    pub fn residual_sd(&self) -> f64 {
        if self.df_error() == 0 { f64::NAN } else { (self.ss_error / self.df_error() as f64).sqrt() }
    }

    /// Does the response depend on the settings at all? `None` without an error, or a model of one coefficient.
    pub fn test(&self) -> Option<FTest> {
        let (df1, df2) = (self.df_model() as f64, self.df_error() as f64);
        let told = 0 < self.df_model() && 0 < self.df_error() && 0.0 < self.ss_error;
        told.then(|| FTest::new((self.ss_model() / df1) / (self.ss_error / df2), df1, df2))
    }

    /// 1 − error/total about the mean; NaN where all observations are equal.
    pub fn r_squared(&self) -> f64 {
        1.0 - self.ss_error / positive(self.ss_total)
    }

    /// The same with mean squares instead of sums, which more coefficients alone don't raise.
    pub fn adjusted_r_squared(&self) -> f64 {
        let df = self.n.saturating_sub(1) as f64;
        1.0 - self.residual_sd().powi(2) / (positive(self.ss_total) / df)
    }

    /// 1 − error/total about zero: near 1 for any response far from zero, so it says little.
    pub fn r_squared_about_zero(&self) -> f64 {
        1.0 - self.ss_error / positive(self.ss_about_zero)
    }

    /// 1 − PRESS/total about the mean: what the model foretells of an observation that it has not seen. Below zero
    /// the mean foretells better.
    pub fn predicted_r_squared(&self) -> f64 {
        self.press.map_or(f64::NAN, |press| 1.0 - press / positive(self.ss_total))
    }

    /// How many standard errors an interval reaches to each side; NaN without a degree of freedom.
    fn quantile(&self, confidence: f64) -> f64 {
        match self.df_error() {
            0 => f64::NAN,
            df => student_t_quantile((1.0 + confidence) / 2.0, df as f64),
        }
    }
}

fn positive(sum: f64) -> f64 {
    if 0.0 < sum { sum } else { f64::NAN }
}
