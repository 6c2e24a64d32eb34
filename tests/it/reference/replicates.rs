//! Summaries and tests on invented samples against SciPy and statsmodels; sources and tolerances in the README of
//! `tests/fixtures/statistics/replicates`.

use meltbook::statistics::adjust::{benjamini_hochberg, bonferroni, holm};
use meltbook::statistics::anova::{Anova, FTest, welch_anova};
use meltbook::statistics::dixon::r10;
use meltbook::statistics::effect_size::effect_size;
use meltbook::statistics::grubbs::grubbs;
use meltbook::statistics::kruskal_wallis::kruskal_wallis_approximate;
use meltbook::statistics::mann_whitney::{mann_whitney, mann_whitney_approximate};
use meltbook::statistics::moments::Moments;
use meltbook::statistics::observations::sorted;
use meltbook::statistics::pairs::{PairTest, games_howell, pairs, tukey_kramer};
use meltbook::statistics::quantile::{MAD_TO_SD, QuantileRule, median, median_absolute_deviation, quantile};
use meltbook::statistics::shapiro_wilk::shapiro_wilk;
use meltbook::statistics::t_test::{
    TTest, mean_interval, paired, pooled_variance, prediction_interval, student, welch,
};
use meltbook::statistics::tolerance::two_sided_factor;
use meltbook::statistics::variance_test::{
    bartlett, brown_forsythe, cochran_c, cochran_c_critical, sd_interval, variance_ratio,
};

use super::rows::{Row, rows};

/// The values of a sample.
fn sample(name: &str) -> Vec<f64> {
    let rows = rows(include_str!("../../fixtures/statistics/replicates/samples.csv"), 80);
    let values: Vec<f64> =
        rows.iter().filter(|row| row.text("sample") == name).map(|row| row.number("value")).collect();
    assert!(!values.is_empty(), "there is a sample {name}");
    values
}

/// Within a relative tolerance, or within the same of the scale where the value itself is far below that.
#[track_caller]
fn near(what: &str, value: f64, expected: f64, tolerance: f64, scale: f64) {
    let allowed = tolerance * expected.abs().max(scale);
    assert!((value - expected).abs() <= allowed, "{what}: {value}, not {expected}");
}

#[test]
fn summaries() {
    let file = include_str!("../../fixtures/statistics/replicates/summary-expected.csv");
    for row in rows(file, file.lines().count() - 1) {
        let (name, key) = (row.text("sample"), row.text("statistic"));
        let (value, tolerance) = summary(&sample(name), key);
        let scale = if key == "shapiro_W" { 1.0 } else { 1e-3 };
        near(&format!("{name} {key}"), value, row.number("value"), tolerance, scale);
    }
}

/// A figure of a sample by the name that the fixture gives it, and its tolerance.
fn summary(values: &[f64], key: &str) -> (f64, f64) {
    let (moments, sorted) = (Moments::of(values), sorted(values));
    let factor = two_sided_factor(values.len(), 0.95, 0.95);
    let confidence = |key: &str| key.trim_start_matches("mean_ci")[..2].parse::<f64>().unwrap() / 100.0;
    let rule = |key: &str| QuantileRule::of_number(key[key.len() - 1..].parse().unwrap()).unwrap();
    let quartile = |p: f64| quantile(&sorted, p, rule(key));
    let grubbs = grubbs(values, 0.05).unwrap();
    let mad = median_absolute_deviation(values);
    match key {
        "n" => (moments.n as f64, 0.0),
        "mean" => (moments.mean, 1e-10),
        "sd" => (moments.sd(), 1e-10),
        "variance" => (moments.variance, 1e-10),
        "rsd_percent" => (100.0 * moments.sd() / moments.mean, 1e-10),
        "sem" => (moments.sem(), 1e-10),
        "min" => (sorted[0], 0.0),
        "max" => (sorted[sorted.len() - 1], 0.0),
        "median" => (median(&sorted), 1e-10),
        "mad_raw" => (mad, 1e-10),
        "mad_scaled" => (mad * MAD_TO_SD, 1e-10),
        "skewness_G1" => (skewness(values), 1e-9),
        "shapiro_W" => (shapiro_wilk(values).unwrap().w, 1e-7),
        "shapiro_p" => (shapiro_wilk(values).unwrap().p, 1e-5),
        "grubbs_suspect" => (grubbs.suspect, 0.0),
        "grubbs_G" => (grubbs.g, 1e-9),
        "grubbs_critical_two_sided_0.05" => (grubbs.critical, 1e-9),
        "grubbs_p_two_sided" => (grubbs.p, 1e-9),
        "dixon_r10_low" => (r10(&sorted)[0], 1e-9),
        "dixon_r10_high" => (r10(&sorted)[1], 1e-9),
        "tolerance95_95_k_exact" => (factor, 1e-8),
        "tolerance95_95_low" => (moments.mean - factor * moments.sd(), 1e-8),
        "tolerance95_95_high" => (moments.mean + factor * moments.sd(), 1e-8),
        "sd_ci95_low" => (sd_interval(&moments, 0.95).unwrap()[0], 1e-9),
        "sd_ci95_high" => (sd_interval(&moments, 0.95).unwrap()[1], 1e-9),
        "prediction95_one_future_low" => (prediction_interval(&moments, 0.95).unwrap()[0], 1e-9),
        "prediction95_one_future_high" => (prediction_interval(&moments, 0.95).unwrap()[1], 1e-9),
        key if key.starts_with("q1_") => (quartile(0.25), 1e-10),
        key if key.starts_with("q3_") => (quartile(0.75), 1e-10),
        key if key.starts_with("iqr_") => (quartile(0.75) - quartile(0.25), 1e-10),
        key if key.starts_with("mean_ci") => {
            let [low, high] = mean_interval(&moments, confidence(key)).unwrap();
            (if key.ends_with("low") { low } else { high }, 1e-9)
        }
        _ => panic!("unknown: {key}"),
    }
}

/// The program has no skewness: here it only shows that the fixture's sample is the one that is read.
fn skewness(values: &[f64]) -> f64 {
    let (moments, n) = (Moments::of(values), values.len() as f64);
    let cubes: f64 = values.iter().map(|value| ((value - moments.mean) / moments.sd()).powi(3)).sum();
    n / ((n - 1.0) * (n - 2.0)) * cubes
}

#[test]
fn tests_on_samples() {
    let file = include_str!("../../fixtures/statistics/replicates/tests-expected.csv");
    for row in rows(file, file.lines().count() - 1) {
        check(&row);
    }
}

#[track_caller]
fn check(row: &Row) {
    let (samples, test, output) = (row.text("samples"), row.text("test"), row.text("output"));
    let what = format!("{} {samples} {test} {output}", row.text("case"));
    // A pair of several groups stands under their case: multi-ABC.
    let (of_case, pair) = match row.text("case").strip_prefix("multi-") {
        Some(letters) => {
            (letters.chars().map(|letter| sample(&letter.to_string())).collect(), place(letters, samples))
        }
        None => (samples.split(" vs ").map(sample).collect::<Vec<_>>(), None),
    };
    let groups: Vec<&[f64]> = of_case.iter().map(Vec::as_slice).collect();
    let moments: Vec<Moments> = groups.iter().map(|group| Moments::of(group)).collect();
    let value = match test {
        "welch_t" => of_t(&welch(&moments[0], &moments[1]).unwrap(), output),
        "student_t" => of_t(&student(&moments[0], &moments[1]).unwrap(), output),
        "paired_t" => of_t(&paired(groups[0], groups[1]).unwrap(), output),
        "variance_ratio_F" => of_f(&variance_ratio(&moments[0], &moments[1]).unwrap(), output),
        "mann_whitney_exact" => {
            let test = mann_whitney(groups[0], groups[1]).unwrap();
            assert!(test.exact);
            if output == "U_first" { test.u } else { test.p }
        }
        "mann_whitney_asymptotic_tie_and_continuity_corrected" => {
            let test = mann_whitney_approximate(groups[0], groups[1]).unwrap();
            if output == "U_first" { test.u } else { test.p }
        }
        "effect_size" => of_effect(&moments, output),
        "anova_oneway" | "variance_components_random_oneway" => of_anova(&groups, output),
        "welch_anova" => of_f(&welch_anova(&moments).unwrap(), output),
        "kruskal_wallis_tie_corrected" => {
            let test = kruskal_wallis_approximate(&groups).unwrap();
            if output == "H" { test.h } else { test.p }
        }
        "brown_forsythe" => of_f(&brown_forsythe(&groups).unwrap(), output),
        "bartlett" => {
            let test = bartlett(&moments).unwrap();
            if output == "p" { test.p } else { test.chi_squared }
        }
        "cochran_C" if output == "C" => cochran_c(&moments).unwrap(),
        "cochran_C" => cochran_c_critical(groups.len(), groups[0].len(), 0.05),
        "tukey_hsd" => of_pair(&tukey_kramer(&groups, 0.95).unwrap()[pair.unwrap()], output),
        "games_howell" => of_pair(&games_howell(&moments, 0.95).unwrap()[pair.unwrap()], output),
        "pairwise_welch_raw" => raw(&moments)[pair.unwrap()],
        "pairwise_welch_holm" => holm(&raw(&moments))[pair.unwrap()],
        "pairwise_welch_bonferroni" => bonferroni(&raw(&moments))[pair.unwrap()],
        "pairwise_welch_fdr_bh" => benjamini_hochberg(&raw(&moments))[pair.unwrap()],
        _ => panic!("unknown: {what}"),
    };
    let (tolerance, scale) = tolerance(test, output, pooled_variance(&moments).sqrt());
    near(&what, value, row.number("value"), tolerance, scale);
}

/// What the fixture's README requires.
fn tolerance(test: &str, output: &str, sd: f64) -> (f64, f64) {
    match (test, output) {
        ("mann_whitney_exact", _) => (1e-12, 0.0),
        ("tukey_hsd" | "games_howell", "p_adjusted") => (1e-7, 1.0),
        ("tukey_hsd" | "games_howell", "ci95_low" | "ci95_high") => (1e-6, sd),
        ("effect_size", key) if key.contains("ci95") => (1e-7, 1.0),
        (_, key) if key.starts_with('p') && key != "pooled_sd" => (1e-7, 0.0),
        // Differences of voltages of about 1.3 V.
        (_, "difference" | "mean_difference" | "t" | "ci95_low" | "ci95_high" | "cohen_d" | "hedges_g") => {
            (1e-9, 1e-3)
        }
        _ => (1e-9, 0.0),
    }
}

/// The place of "A vs C" among all pairs of the letters.
fn place(letters: &str, samples: &str) -> Option<usize> {
    let (first, second) = samples.split_once(" vs ")?;
    let at = |letter: &str| letters.find(letter).unwrap();
    pairs(letters.len()).position(|pair| pair == (at(first), at(second)))
}

fn raw(moments: &[Moments]) -> Vec<f64> {
    pairs(moments.len()).map(|(a, b)| welch(&moments[a], &moments[b]).unwrap().p).collect()
}

fn of_t(test: &TTest, output: &str) -> f64 {
    match output {
        "difference" | "mean_difference" => test.difference,
        "t" => test.t,
        "df" => test.df,
        "p_two_sided" => test.p,
        "ci95_low" => test.interval(0.95)[0],
        "ci95_high" => test.interval(0.95)[1],
        _ => panic!("unknown: {output}"),
    }
}

fn of_f(test: &FTest, output: &str) -> f64 {
    match output {
        "F" => test.f,
        "df1" => test.df1,
        "df2" => test.df2,
        "p" | "p_two_sided" => test.p,
        _ => panic!("unknown: {output}"),
    }
}

fn of_effect(moments: &[Moments], output: &str) -> f64 {
    let effect = effect_size(&moments[0], &moments[1], 0.95).unwrap();
    let unbiased = effect.hedges_g / effect.cohen_d;
    match output {
        "pooled_sd" => pooled_variance(moments).sqrt(),
        "cohen_d" => effect.cohen_d,
        "J_exact" => unbiased,
        "hedges_g" => effect.hedges_g,
        "d_ci95_low_nct" => effect.interval[0] / unbiased,
        "d_ci95_high_nct" => effect.interval[1] / unbiased,
        "g_ci95_low_nct" => effect.interval[0],
        "g_ci95_high_nct" => effect.interval[1],
        _ => panic!("unknown: {output}"),
    }
}

fn of_anova(groups: &[&[f64]], output: &str) -> f64 {
    let anova = Anova::of(groups).unwrap();
    let parts = anova.components();
    match output {
        "ss_between" => anova.ss_between,
        "df_between" => anova.df_between,
        "ms_between" => anova.ms_between(),
        "ss_within" => anova.ss_within,
        "df_within" => anova.df_within,
        "ms_within" => anova.ms_within(),
        "F" => anova.test().unwrap().f,
        "p" => anova.test().unwrap().p,
        "eta_squared" => anova.eta_squared(),
        "omega_squared" => anova.omega_squared(),
        "n0" => anova.effective_n,
        "s_r_within" => parts.within.sqrt(),
        "s_L_between" => parts.between().sqrt(),
        "s_R_total" => (parts.within + parts.between()).sqrt(),
        "icc1" => parts.share_between(),
        _ => panic!("unknown: {output}"),
    }
}

fn of_pair(pair: &PairTest, output: &str) -> f64 {
    match output {
        "difference" => pair.difference,
        "q" => pair.statistic,
        "df" => pair.df,
        "p_adjusted" => pair.p_adjusted,
        "ci95_low" => pair.interval[0],
        "ci95_high" => pair.interval[1],
        _ => panic!("unknown: {output}"),
    }
}
