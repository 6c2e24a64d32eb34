//! Normal, Student's t, chi-squared and F, from the library `statrs`, but for the error function, of which
//! `libm` keeps all digits in the tail (`statrs` ten). Its constructors refuse what is
//! undefined; here that is NaN.

use statrs::distribution::{ChiSquared, ContinuousCDF as _, FisherSnedecor, StudentsT};
use statrs::function::erf::erfc_inv;

/// Density of the standard normal distribution.
pub fn normal_density(z: f64) -> f64 {
    (-z * z / 2.0).exp() / std::f64::consts::TAU.sqrt()
}

/// Probability of at most `z` under the standard normal distribution.
pub fn normal_cdf(z: f64) -> f64 {
    libm::erfc(-z * std::f64::consts::FRAC_1_SQRT_2) / 2.0
}

/// Probability of more than `z` under the standard normal distribution.
pub fn normal_upper(z: f64) -> f64 {
    normal_cdf(-z)
}

/// The value below which a share `p` of the standard normal distribution lies.
pub fn normal_quantile(p: f64) -> f64 {
    if !(0.0..=1.0).contains(&p) {
        return f64::NAN;
    }
    -std::f64::consts::SQRT_2 * erfc_inv(2.0 * p)
}

/// Probability of at most `t` under Student's t with `df` degrees of freedom, which may be infinite.
pub fn student_t_cdf(t: f64, df: f64) -> f64 {
    if df == f64::INFINITY {
        return normal_cdf(t);
    }
    match StudentsT::new(0.0, 1.0, df) {
        Ok(distribution) if !t.is_nan() => distribution.cdf(t),
        _ => f64::NAN,
    }
}

/// Probability of more than `t` under Student's t. For a two-sided p, twice that of the absolute value.
pub fn student_t_upper(t: f64, df: f64) -> f64 {
    student_t_cdf(-t, df)
}

/// The value below which a share `p` of Student's t lies.
pub fn student_t_quantile(p: f64, df: f64) -> f64 {
    if !(0.0..=1.0).contains(&p) {
        return f64::NAN;
    }
    if df == f64::INFINITY {
        return normal_quantile(p);
    }
    match StudentsT::new(0.0, 1.0, df) {
        Ok(_) if p == 0.5 => 0.0,
        Ok(distribution) => distribution.inverse_cdf(p),
        Err(_) => f64::NAN,
    }
}

/// Probability of at most `x` under chi-squared with `df` degrees of freedom.
pub fn chi_squared_cdf(x: f64, df: f64) -> f64 {
    match ChiSquared::new(df) {
        Ok(distribution) if !x.is_nan() => distribution.cdf(x),
        _ => f64::NAN,
    }
}

/// Probability of more than `x` under chi-squared.
pub fn chi_squared_upper(x: f64, df: f64) -> f64 {
    match ChiSquared::new(df) {
        Ok(distribution) if !x.is_nan() => distribution.sf(x),
        _ => f64::NAN,
    }
}

/// The value below which a share `p` of chi-squared lies.
pub fn chi_squared_quantile(p: f64, df: f64) -> f64 {
    match ChiSquared::new(df) {
        Ok(distribution) if (0.0..=1.0).contains(&p) => distribution.inverse_cdf(p),
        _ => f64::NAN,
    }
}

/// Probability of at most `x` under F with `df1` and `df2` degrees of freedom.
pub fn f_cdf(x: f64, df1: f64, df2: f64) -> f64 {
    match FisherSnedecor::new(df1, df2) {
        Ok(distribution) if !x.is_nan() => distribution.cdf(x),
        _ => f64::NAN,
    }
}

/// Probability of more than `x` under F.
pub fn f_upper(x: f64, df1: f64, df2: f64) -> f64 {
    match FisherSnedecor::new(df1, df2) {
        Ok(distribution) if !x.is_nan() => distribution.sf(x),
        _ => f64::NAN,
    }
}

/// The value below which a share `p` of F lies.
pub fn f_quantile(p: f64, df1: f64, df2: f64) -> f64 {
    match FisherSnedecor::new(df1, df2) {
        Ok(distribution) if (0.0..=1.0).contains(&p) => distribution.inverse_cdf(p),
        _ => f64::NAN,
    }
}
