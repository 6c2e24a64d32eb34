//! Sample sizes against other libraries, and power by formula against power by simulation; sources in the
//! README of `tests/fixtures/statistics/power`.

use approx::{assert_abs_diff_eq, assert_relative_eq};
use meltbook::statistics::distribution::{f_quantile, normal_quantile, student_t_quantile};
use meltbook::statistics::power::{
    Tails, anova_detectable_effect, anova_power, anova_size, detectable_effect, effect_of_extremes,
    effect_of_means, enough_survive, half_width, half_width_size, order_statistic_size, size_with_spares,
    spread_ratio, spread_size, tolerance_size, two_sample_power, two_sample_real_size, two_sample_size,
};
use meltbook::statistics::tolerance::two_sided_factor;
use rand::{RngExt as _, SeedableRng as _};
use rand_chacha::ChaCha8Rng;

use super::rows::rows;

macro_rules! fixture {
    ($name:literal) => {
        include_str!(concat!("../../fixtures/statistics/power/", $name))
    };
}

#[test]
fn two_groups() {
    for row in rows(fixture!("two-sample-t.csv"), 7) {
        let effect = row.number("difference") / row.number("sd");
        let (alpha, power) = (row.number("alpha_two_sided"), row.number("target_power"));
        let n = two_sample_size(effect, power, alpha, Tails::Two).unwrap();
        assert_eq!(n, row.count("n_per_group"));
        let at = |n: usize| two_sample_power(n as f64, effect, alpha, Tails::Two);
        assert_abs_diff_eq!(at(n), row.number("achieved_power_at_n"), epsilon = 1e-8);
        assert_abs_diff_eq!(at(n - 1), row.number("power_at_n_minus_1"), epsilon = 1e-8);
        let real = two_sample_real_size(effect, power, alpha, Tails::Two);
        assert_relative_eq!(real, row.number("n_per_group_real"), max_relative = 1e-6);
        let detected = detectable_effect(n, at(n), alpha, Tails::Two);
        assert_relative_eq!(detected, effect, max_relative = 1e-9);
    }
}

/// Least detectable differences in standard deviations, level 0.05 two-sided, power 0.80, and sizes for
/// differences in per cent: noncentral t of SciPy.
#[test]
fn what_few_cells_detect() {
    for (n, effect) in
        [(3, 3.070892266), (4, 2.380754213), (5, 2.024439339), (6, 1.795540921), (8, 1.506634228)]
    {
        assert_relative_eq!(detectable_effect(n, 0.8, 0.05, Tails::Two), effect, max_relative = 1e-8);
    }
    for (effect, n) in [(5.0 / 5.0, 17), (10.0 / 5.0, 6), (20.0 / 15.0, 10)] {
        assert_eq!(two_sample_size(effect, 0.8, 0.05, Tails::Two), Some(n));
    }
}

#[test]
fn several_groups() {
    for row in rows(fixture!("anova-oneway.csv"), 3) {
        let means: Vec<f64> = row.text("group_means").split(' ').map(|mean| mean.parse().unwrap()).collect();
        let f = effect_of_means(&means, row.number("sd"));
        assert_relative_eq!(f, row.number("cohen_f"), max_relative = 1e-12);
        let (k, alpha) = (row.count("k"), row.number("alpha"));
        let n = anova_size(k, f, row.number("target_power"), alpha).unwrap();
        assert_eq!((n, means.len()), (row.count("n_per_group"), k));
        let at = |n: usize| anova_power(n as f64, k, f, alpha);
        assert_abs_diff_eq!(at(n), row.number("achieved_power_at_n"), epsilon = 1e-8);
        assert_abs_diff_eq!(at(n - 1), row.number("power_at_n_minus_1"), epsilon = 1e-8);
        assert_relative_eq!(anova_detectable_effect(n, k, at(n), alpha), f, max_relative = 1e-9);
    }
    assert_relative_eq!(
        effect_of_extremes(2.0, 3),
        effect_of_means(&[0.0, 1.0, 2.0], 1.0),
        max_relative = 1e-14
    );
    // Two groups are the t test.
    let (by_f, by_t) =
        (anova_power(7.0, 2, effect_of_extremes(1.3, 2), 0.05), two_sample_power(7.0, 1.3, 0.05, Tails::Two));
    assert_relative_eq!(by_f, by_t, max_relative = 1e-10);
}

#[test]
fn widths_spreads_and_tolerances() {
    for row in rows(fixture!("ci-half-width.csv"), 5) {
        let (sd, target, confidence) =
            (row.number("sd"), row.number("target_half_width"), row.number("confidence"));
        let n = half_width_size(target / sd, confidence).unwrap();
        assert_eq!(n, row.count("n_t_exact"));
        assert_relative_eq!(
            half_width(n, confidence) * sd,
            row.number("half_width_at_n"),
            max_relative = 1e-9
        );
        let before = half_width(n - 1, confidence) * sd;
        assert_relative_eq!(before, row.number("half_width_at_n_minus_1"), max_relative = 1e-9);
        let shortcut = (normal_quantile((1.0 + confidence) / 2.0) * sd / target).powi(2).ceil();
        assert_eq!(shortcut as usize, row.count("n_z_approximation"), "the shortcut is too few");
    }
    for row in rows(fixture!("sd-upper-limit.csv"), 4) {
        let confidence = row.number("one_sided_confidence");
        let n = spread_size(row.number("max_ratio_upper_limit_to_s"), confidence).unwrap();
        assert_eq!(n, row.count("n"));
        assert_relative_eq!(spread_ratio(n, confidence), row.number("ratio_at_n"), max_relative = 1e-9);
        assert_relative_eq!(
            spread_ratio(n - 1, confidence),
            row.number("ratio_at_n_minus_1"),
            max_relative = 1e-9
        );
    }
    for row in rows(fixture!("tolerance-n-for-k.csv"), 3) {
        let (coverage, confidence) = (row.number("coverage"), row.number("confidence"));
        let n = tolerance_size(row.number("max_k"), coverage, confidence).unwrap();
        assert_eq!(n, row.count("n"));
        assert_relative_eq!(
            two_sided_factor(n, coverage, confidence),
            row.number("k_at_n"),
            max_relative = 1e-9
        );
    }
    assert_eq!(tolerance_size(1.9, 0.95, 0.95), None, "below 1.96 no number is enough");
    for row in rows(fixture!("distribution-free-tolerance-n.csv"), 4) {
        let (coverage, confidence) = (row.number("coverage"), row.number("confidence"));
        assert_eq!(order_statistic_size(coverage, confidence, true), Some(row.count("n_one_sided")));
        assert_eq!(order_statistic_size(coverage, confidence, false), Some(row.count("n_two_sided")));
    }
}

/// By the definition of the binomial distribution, term by term.
#[test]
fn spare_cells() {
    let tail = |needed: i32, built: i32, loss: f64| {
        let choose = |k: i32| (0..k).map(|at| f64::from(built - at) / f64::from(k - at)).product::<f64>();
        (needed..=built).map(|k| choose(k) * (1.0 - loss).powi(k) * loss.powi(built - k)).sum::<f64>()
    };
    for (needed, built, loss) in [(12, 12, 0.1), (12, 15, 0.1), (6, 9, 0.3), (1, 4, 0.5)] {
        let found = enough_survive(needed as usize, built as usize, loss);
        assert_relative_eq!(found, tail(needed, built, loss), max_relative = 1e-12);
    }
    let built = size_with_spares(12, 2, 0.1, 0.9).unwrap();
    assert!(0.9 <= tail(12, built as i32, 0.1).powi(2) && tail(12, built as i32 - 1, 0.1).powi(2) < 0.9);
    assert_eq!(size_with_spares(12, 2, 0.0, 0.9), Some(12));
    assert_eq!(size_with_spares(12, 2, 1.0, 0.9), None);
}

const TRIALS: u32 = 20_000;

/// The share of simulated comparisons that find the difference lies within 4 standard deviations of the power
/// by formula: a wrong formula fails, a right one in one of 16,000 seeds.
#[test]
fn power_by_formula_is_power_by_simulation() {
    let mut random = ChaCha8Rng::seed_from_u64(20_261_126);
    for (n, effect, tails) in
        [(3, 2.0, Tails::Two), (5, 1.5, Tails::Two), (12, 0.0, Tails::Two), (4, 1.2, Tails::One)]
    {
        let power = two_sample_power(n as f64, effect, 0.05, tails);
        let level = if tails == Tails::Two { 0.025 } else { 0.05 };
        let critical = student_t_quantile(1.0 - level, (2 * n - 2) as f64);
        let found = (0..TRIALS).filter(|_| {
            let groups = [sample(&mut random, n, 0.0), sample(&mut random, n, effect)];
            let pooled = (groups[0].1 + groups[1].1) / (2 * n - 2) as f64;
            let t = (groups[1].0 - groups[0].0) / (pooled * 2.0 / n as f64).sqrt();
            critical < t || (tails == Tails::Two && t < -critical)
        });
        within(found.count(), power);
    }
    for (n, means) in [(4, vec![0.0, 0.7, 1.4]), (6, vec![0.0, 0.0, 0.0, 1.0])] {
        let k = means.len();
        let power = anova_power(n as f64, k, effect_of_means(&means, 1.0), 0.05);
        let (df1, df2) = ((k - 1) as f64, (k * (n - 1)) as f64);
        let critical = f_quantile(0.95, df1, df2);
        let found = (0..TRIALS).filter(|_| {
            let groups: Vec<(f64, f64)> = means.iter().map(|mean| sample(&mut random, n, *mean)).collect();
            let grand = groups.iter().map(|group| group.0).sum::<f64>() / k as f64;
            let between: f64 = groups.iter().map(|group| n as f64 * (group.0 - grand).powi(2)).sum();
            let within: f64 = groups.iter().map(|group| group.1).sum();
            critical < between / df1 / (within / df2)
        });
        within(found.count(), power);
    }
}

fn within(found: usize, power: f64) {
    let trials = f64::from(TRIALS);
    let sd = (trials * power * (1.0 - power)).sqrt();
    let off = (found as f64 - trials * power) / sd;
    assert!(off.abs() < 4.0, "{found} of {TRIALS} found at a power of {power}");
}

/// Mean and sum of squares about it of `n` normal values with this true mean and a spread of 1.
fn sample(random: &mut ChaCha8Rng, n: usize, mean: f64) -> (f64, f64) {
    let values: Vec<f64> =
        (0..n).map(|_| mean + normal_quantile(random.random_range(f64::EPSILON..1.0))).collect();
    let own = values.iter().sum::<f64>() / n as f64;
    (own, values.iter().map(|value| (value - own).powi(2)).sum())
}
