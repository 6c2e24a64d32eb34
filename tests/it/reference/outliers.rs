//! Critical values of Grubbs' and Dixon's tests; sources in the README of `tests/fixtures/statistics/outliers`.

use approx::{assert_abs_diff_eq, assert_relative_eq};
use meltbook::statistics::dixon::{dixon, dixon_critical};
use meltbook::statistics::grubbs::{grubbs, grubbs_critical, grubbs_critical_one_sided};

use super::rows::rows;

#[test]
fn grubbs_critical_values() {
    let file = include_str!("../../fixtures/statistics/outliers/grubbs-critical.csv");
    for row in rows(file, file.lines().count() - 1) {
        let (n, alpha) = (row.count("n"), row.number("alpha"));
        assert_relative_eq!(grubbs_critical(n, alpha), row.number("two_sided"), max_relative = 1e-9);
        assert_relative_eq!(
            grubbs_critical_one_sided(n, alpha),
            row.number("one_sided"),
            max_relative = 1e-9
        );
    }
}

/// S01 and S02 of `tests/fixtures/practice/stats_examples.toml`: the largest distance that a sample of n can show, and the
/// critical values as a handbook prints them.
#[test]
fn distances_of_few_values() {
    let file: toml::Table = include_str!("../../fixtures/practice/stats_examples.toml").parse().unwrap();
    let expected = |id: &str| {
        let case =
            file["case"].as_array().unwrap().iter().find(|case| case["id"].as_str() == Some(id)).unwrap();
        let answers = case["expect"].as_table().unwrap().clone();
        answers
            .into_iter()
            .map(|(key, value)| (key[2..].parse::<usize>().unwrap(), value.as_float().unwrap()))
    };
    for (n, most) in expected("S01") {
        let mut values = vec![1.3; n - 1];
        values.push(1.9);
        assert_relative_eq!(grubbs(&values, 0.05).unwrap().g, most, max_relative = 1e-6);
    }
    for (n, critical) in expected("S02") {
        assert_relative_eq!(grubbs_critical(n, 0.05), critical, max_relative = 1e-6);
    }
}

#[test]
fn dixon_critical_values() {
    let file = include_str!("../../fixtures/statistics/outliers/dixon-r10-critical.csv");
    for row in rows(file, file.lines().count() - 1) {
        let (n, alpha) = (row.count("n"), row.number("alpha_two_sided"));
        let critical = dixon_critical(n, alpha);
        assert_relative_eq!(critical, row.number("r10_critical_computed"), max_relative = 1e-6);
        let misprinted = n == 30 && alpha == 0.05;
        if !misprinted && !row.text("printed_table_3dp").is_empty() {
            assert_abs_diff_eq!(critical, row.number("printed_table_3dp"), epsilon = 0.006);
        }
    }
}

#[test]
fn significance_goes_with_the_critical_value() {
    for n in [3, 4, 7, 12, 30] {
        let critical = dixon_critical(n, 0.05);
        // Values evenly spread but for the last, which stands off by the critical share of the range.
        let mut values: Vec<f64> = (0..n - 1).map(|at| at as f64).collect();
        let last = (n - 2) as f64 / (1.0 - critical);
        values.push(last);
        assert_abs_diff_eq!(dixon(&values).unwrap().p, 0.05, epsilon = 1e-9);
    }
}
