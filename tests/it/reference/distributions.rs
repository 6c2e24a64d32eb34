//! Distributions and tolerance factors against other libraries and other ways to integrate; sources in the
//! README of `tests/fixtures/statistics`.

use approx::{assert_abs_diff_eq, assert_relative_eq};
use meltbook::statistics::distribution::{
    Dunnett, Sides, StudentizedRange, chi_squared_quantile, f_quantile, noncentral_f_cdf, noncentral_f_upper,
    noncentral_t_cdf, noncentral_t_quantile, noncentral_t_upper, normal_cdf, normal_quantile,
    student_t_quantile, student_t_upper,
};
use meltbook::statistics::tolerance::{howe_factor, one_sided_factor, two_sided_factor};

use super::rows::{Row, rows};

/// SciPy 1.17.1.
#[test]
fn probabilities_and_quantiles() {
    for row in rows(include_str!("../../fixtures/statistics/distributions/quantiles.csv"), 261) {
        let x = row.number("argument");
        let expected = row.number("value");
        let (a, b) = (optional(&row, "par1"), optional(&row, "par2"));
        match (row.text("distribution"), row.text("function")) {
            ("student_t", _) => relative(student_t_quantile(x, a), expected, 1e-10),
            ("normal", _) => relative(normal_quantile(x), expected, 1e-10),
            ("chi2", _) => relative(chi_squared_quantile(x, a), expected, 1e-9),
            ("F", _) => relative(f_quantile(x, a, b), expected, 1e-10),
            ("noncentral_t", "cdf") => {
                relative(noncentral_t_cdf(x, a, b), expected, 1e-11);
                relative(noncentral_t_upper(x, a, b), 1.0 - expected, 1e-11);
            }
            ("noncentral_t", "ppf") => relative(noncentral_t_quantile(x, a, b), expected, 1e-10),
            ("noncentral_F", "cdf") => {
                let lambda = row.number("par3");
                relative(noncentral_f_cdf(x, a, b, lambda), expected, 1e-11);
                relative(noncentral_f_upper(x, a, b, lambda), 1.0 - expected, 1e-11);
            }
            ("studentized_range", "cdf") => {
                assert_abs_diff_eq!(StudentizedRange::of(a as usize).cdf(x, b), expected, epsilon = 1e-11);
                assert_abs_diff_eq!(
                    StudentizedRange::of(a as usize).upper(x, b),
                    1.0 - expected,
                    epsilon = 1e-11
                );
            }
            ("studentized_range", "ppf") => {
                relative(StudentizedRange::of(a as usize).quantile(x, b), expected, 1e-9)
            }
            other => panic!("{other:?}"),
        }
    }
}

/// Far tails keep their digits: 30-digit Gauss–Legendre sums with mpmath.
#[test]
fn far_tails() {
    for row in rows(include_str!("../../fixtures/statistics/distributions/tails.csv"), 20) {
        let (x, b) = (row.number("argument"), row.number("par2"));
        let lambdas = || row.text("par1").split(' ').map(|one| one.parse().unwrap()).collect::<Vec<f64>>();
        let found = match (row.text("distribution"), row.text("function")) {
            ("studentized_range", _) => StudentizedRange::of(row.count("par1")).upper(x, b),
            ("noncentral_t", "upper") => noncentral_t_upper(x, row.number("par1"), b),
            ("noncentral_t", _) => noncentral_t_cdf(x, row.number("par1"), b),
            ("dunnett_two", _) => Dunnett::of(&lambdas(), Sides::Two).upper(x, b),
            ("dunnett_one", _) => Dunnett::of(&lambdas(), Sides::One).upper(x, b),
            other => panic!("{other:?}"),
        };
        relative(found, row.number("value"), 1e-10);
    }
}

/// A range of two is a difference (√2 times |t|), one electrolyte against a baseline is a t test, and a
/// quantile is where its probability is reached.
#[test]
fn special_cases_agree() {
    // What it remembers of one number of degrees of freedom must serve the others.
    let range = StudentizedRange::of(5);
    for df in [2.0, 3.0, 8.4, 30.0, 500.0] {
        for t in [0.3, 1.0, 2.5, 7.0] {
            let two_sided = 2.0 * student_t_upper(t, df);
            relative(StudentizedRange::of(2).upper(t * 2f64.sqrt(), df), two_sided, 1e-11);
            relative(Dunnett::of(&[0.6], Sides::Two).upper(t, df), two_sided, 1e-11);
            relative(Dunnett::of(&[0.6], Sides::One).upper(t, df), two_sided / 2.0, 1e-11);
            relative(noncentral_t_upper(t, df, 0.0), two_sided / 2.0, 1e-11);
            let f = noncentral_f_upper(t * t, 1.0, df, 1.7f64.powi(2));
            let by_t = noncentral_t_upper(t, df, 1.7) + noncentral_t_cdf(-t, df, 1.7);
            relative(f, by_t, 1e-11);
        }
        for p in [0.01, 0.5, 0.95, 0.999_999] {
            let q = range.quantile(p, df);
            relative(StudentizedRange::of(5).upper(q, df), 1.0 - p, 1e-10);
            for (sides, lambdas) in [(Sides::Two, [0.7, 0.5]), (Sides::One, [0.3, 0.9])] {
                let t = Dunnett::of(&lambdas, sides).quantile(p, df);
                relative(Dunnett::of(&lambdas, sides).cdf(t, df), p, 1e-10);
            }
        }
    }
}

/// A noncentrality far from 0 has a sum of its own, over the other variable. Against the definition, summed finely: the
/// mean of Φ(ts − δ) over s = √(χ²/ν) (N. L. Johnson, S. Kotz and N. Balakrishnan, Continuous Univariate Distributions 2,
/// 2nd ed. 1995, chapter 31).
#[test]
fn far_noncentralities_agree_with_the_definition() {
    let cases: [(f64, f64, f64); 4] =
        [(50.0, 3.0, 45.0), (38.0, 11.4, 41.0), (70.0, 11.4, 41.0), (900.0, 4.0, 700.0)];
    for (t, df, delta) in cases {
        let log_norm = 2f64.ln() + df / 2.0 * (df / 2.0).ln() - statrs::function::gamma::ln_gamma(df / 2.0);
        let density = |s: f64| (log_norm + (df - 1.0) * s.ln() - df * s * s / 2.0).exp();
        let step = 1e-5;
        let places = (1..600_000).map(|at| f64::from(at) * step);
        let [below, above] = places.fold([0.0, 0.0], |[below, above], s| {
            let weight = density(s) * step;
            [below + weight * normal_cdf(t * s - delta), above + weight * normal_cdf(delta - t * s)]
        });
        relative(noncentral_t_cdf(t, df, delta), below, 1e-9);
        relative(noncentral_t_upper(t, df, delta), above, 1e-9);
        relative(noncentral_t_cdf(-t, df, -delta), above, 1e-9);
    }
    // So far out T is δ over √(χ²/ν): its quantile is δ over that of the latter.
    let delta = 1e12;
    let quantile = noncentral_t_quantile(0.975, 4.0, delta);
    relative(quantile, delta / (chi_squared_quantile(0.025, 4.0) / 4.0).sqrt(), 1e-9);
}

#[test]
fn what_is_undefined_is_no_number() {
    assert!(noncentral_t_cdf(1.0, -1.0, 0.0).is_nan());
    assert!(noncentral_t_quantile(1.0, 5.0, 0.0).is_nan());
    assert!(noncentral_f_cdf(1.0, 2.0, 3.0, -1.0).is_nan());
    assert!(StudentizedRange::of(1).cdf(1.0, 5.0).is_nan());
    assert!(StudentizedRange::of(3).quantile(0.95, 0.0).is_nan());
    assert!(student_t_quantile(1.5, 3.0).is_nan());
    assert!(Dunnett::of(&[], Sides::Two).upper(2.0, 3.0).is_nan());
    assert!(two_sided_factor(1, 0.95, 0.95).is_nan());
    assert!(one_sided_factor(5, 1.0, 0.95).is_nan());
}

#[test]
fn tolerance_factors() {
    for row in rows(include_str!("../../fixtures/statistics/tolerance/normal-two-sided-k.csv"), 45) {
        let (n, coverage, confidence) = (row.count("n"), row.number("coverage"), row.number("confidence"));
        relative(two_sided_factor(n, coverage, confidence), row.number("k_exact"), 1e-10);
        relative(howe_factor(n, coverage, confidence), row.number("k_howe"), 1e-9);
    }
    for row in rows(include_str!("../../fixtures/statistics/tolerance/normal-one-sided-k.csv"), 45) {
        let (n, coverage, confidence) = (row.count("n"), row.number("coverage"), row.number("confidence"));
        relative(one_sided_factor(n, coverage, confidence), row.number("k_exact"), 1e-10);
    }
}

fn optional(row: &Row, key: &str) -> f64 {
    row.text(key).parse().unwrap_or(f64::NAN)
}

#[track_caller]
fn relative(found: f64, expected: f64, tolerance: f64) {
    assert_relative_eq!(found, expected, max_relative = tolerance, epsilon = 1e-300);
}
