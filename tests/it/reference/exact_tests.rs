//! Tests that count every case, and the nested analysis, against SciPy 1.17.1 and statsmodels 0.15.0 (BSD licences) and
//! against plain counting in Python where those have no answer. Inputs are invented unless a source is named.

use approx::{assert_abs_diff_eq, assert_relative_eq};
use meltbook::statistics::batches::{Batches, NestedAnova, batch_means, design_effect};
use meltbook::statistics::fisher::fisher_exact;
use meltbook::statistics::kruskal_wallis::kruskal_wallis;
use meltbook::statistics::mann_whitney::{mann_whitney, shift};
use meltbook::statistics::moments::Moments;
use meltbook::statistics::pairs::dunnett;
use meltbook::statistics::proportion::clopper_pearson;
use meltbook::statistics::shapiro_wilk::shapiro_wilk;
use meltbook::statistics::t_test::{student, welch};
use meltbook::statistics::variance_test::levene;

/// `scipy.stats.binomtest(k, n).proportion_ci(method="exact")`.
#[test]
fn binomial_intervals() {
    for (hits, all, low, high) in [
        (0, 3, 0.0, 0.7075982261787133),
        (1, 6, 0.004210744514489595, 0.6412345789974864),
        (2, 12, 0.020862525459661812, 0.4841377486860764),
        (3, 3, 0.2924017738212867, 1.0),
        (5, 8, 0.2448632163664999, 0.9147665858624069),
        (7, 100, 0.028605288907418584, 0.13891972845586648),
    ] {
        let interval = clopper_pearson(hits, all, 0.95).unwrap();
        assert_relative_eq!(interval[0], low, max_relative = 1e-10);
        assert_relative_eq!(interval[1], high, max_relative = 1e-10);
    }
    assert_eq!((clopper_pearson(0, 0, 0.95), clopper_pearson(4, 3, 0.95)), (None, None));
}

/// `scipy.stats.fisher_exact` for two groups (the first is Fisher's tea tasting, The Design of Experiments, 1935); every
/// table counted in Python for more.
#[test]
fn exact_tests_on_counts() {
    let cases: [(&[(u64, u64)], f64); 7] = [
        (&[(3, 1), (1, 3)], 0.48571428571428565),
        (&[(0, 6), (4, 2)], 0.060606060606060615),
        (&[(1, 11), (7, 5)], 0.027190738995827163),
        (&[(8, 2), (1, 5)], 0.034965034965034975),
        (&[(2, 10), (3, 9)], 1.0),
        (&[(0, 6), (1, 5), (4, 2)], 0.06512605042016807),
        (&[(0, 12), (3, 9), (5, 7), (1, 11)], 0.0496945382077791),
    ];
    for (groups, p) in cases {
        assert_relative_eq!(fisher_exact(groups).unwrap(), p, max_relative = 1e-10);
    }
    assert_eq!(fisher_exact(&[(0, 6), (0, 5)]), None);
}

/// Every way to deal the values out, counted in Python with SciPy's ranks.
#[test]
fn rank_tests_with_ties() {
    let check = |first: &[f64], second: &[f64], u: f64, p: f64| {
        let test = mann_whitney(first, second).unwrap();
        assert!(test.exact);
        assert_relative_eq!(test.u, u);
        assert_relative_eq!(test.p, p, max_relative = 1e-12);
    };
    let ties = [1.30, 1.31, 1.31, 1.32, 1.30, 1.29];
    check(&ties, &[1.31, 1.33, 1.32, 1.34, 1.31], 4.5, 0.07792207792207792);
    check(&[1.0, 1.0, 2.0], &[2.0, 3.0, 3.0, 3.0], 0.5, 0.11428571428571428);
    check(&[5.0, 5.0, 5.0, 6.0], &[5.0, 5.0, 5.0], 7.5, 1.0);
    let check = |groups: [&[f64]; 3], h: f64, p: f64| {
        let test = kruskal_wallis(&groups).unwrap();
        assert!(test.exact);
        assert_relative_eq!(test.h, h, max_relative = 1e-12);
        assert_relative_eq!(test.p, p, max_relative = 1e-12);
    };
    check([&[1.2, 1.4, 1.3], &[1.5, 1.7, 1.6], &[1.9, 1.8, 2.0]], 7.2, 0.0035714285714285713);
    check(
        [&[1.2, 1.4, 1.4], &[1.5, 1.4, 1.6, 1.6], &[1.9, 1.6, 2.0]],
        6.898089171974521,
        0.013333333333333334,
    );
}

/// M. Hollander and D. A. Wolfe, Nonparametric Statistical Methods, 2nd ed. 1999, 4.2: with 5 and 5 values and P(U ≤ 2) =
/// 0.0159 the limits at 95 % are the third least and third greatest of the 25 differences (common practice, by hand). Three
/// and three values give no limits at 95 %: the least tail is 1/20.
#[test]
fn shifts_with_their_limits() {
    let first = [10.0, 12.0, 14.0, 16.0, 18.0];
    let second = [1.0, 2.0, 4.0, 7.0, 11.0];
    let mut all: Vec<f64> = first.iter().flat_map(|a| second.iter().map(move |b| a - b)).collect();
    all.sort_by(f64::total_cmp);
    let found = shift(&first, &second, 0.95).unwrap();
    assert_eq!((found.estimate, found.interval), (all[12], Some([all[2], all[22]])));
    assert_eq!(shift(&first[..3], &second[..3], 0.95).unwrap().interval, None);
}

/// `scipy.stats.shapiro`.
#[test]
fn normality() {
    let twelve = [1.47, 1.45, 1.46, 1.49, 1.44, 1.48, 1.46, 1.47, 1.43, 1.45, 1.46, 1.51];
    let cases: [(&[f64], f64, f64); 4] = [
        (&[1.0, 2.0, 4.0], 0.9642857142857142, 0.6368868450289689),
        (&[1.3, 1.31, 1.31, 1.32], 0.9446643968314482, 0.6829615282579),
        (&[1.3, 1.31, 1.35, 1.36, 1.49], 0.8293142570943015, 0.13748168311730358),
        (&twelve, 0.9677478312101362, 0.885836991034727),
    ];
    for (values, w, p) in cases {
        let test = shapiro_wilk(values).unwrap();
        assert_abs_diff_eq!(test.w, w, epsilon = 1e-7);
        assert_relative_eq!(test.p, p, max_relative = 1e-5);
    }
    assert_abs_diff_eq!(shapiro_wilk(&[1.0, 1.0, 2.0]).unwrap().p, 0.0, epsilon = 1e-7);
    assert_eq!((shapiro_wilk(&[1.0, 2.0]), shapiro_wilk(&[1.3; 5])), (None, None));
}

/// `scipy.stats.levene(…, center="mean")`.
#[test]
fn levene_about_the_mean() {
    let groups: [&[f64]; 3] = [
        &[1.312, 1.305, 1.298, 1.321, 1.309, 1.316, 1.303, 1.314],
        &[1.351, 1.262, 1.308, 1.334, 1.277],
        &[1.3, 1.31, 1.31, 1.32, 1.3, 1.29],
    ];
    let test = levene(&groups).unwrap();
    assert_relative_eq!(test.f, 10.24992559041325, max_relative = 1e-9);
    assert_relative_eq!(test.p, 0.0013634245553466313, max_relative = 1e-8);
}

fn nested(groups: &[&[&[f64]]]) -> (Vec<Batches>, NestedAnova) {
    let batches: Vec<Batches> =
        groups.iter().map(|group| group.iter().map(|batch| batch.to_vec()).collect()).collect();
    let anova = NestedAnova::of(&batches).unwrap();
    (batches, anova)
}

/// Two measurements of each of four insects in each of three cages: R. R. Sokal and F. J. Rohlf, Biometry, 3rd ed. 1995,
/// box 10.1 (data and printed F 1.74 and 146.88 from memory); sums of squares by statsmodels 0.15.0.
#[test]
fn a_balanced_nested_analysis() {
    let (_, anova) = nested(&[
        &[&[58.5, 59.5], &[77.8, 80.9], &[84.0, 83.6], &[70.1, 68.3]],
        &[&[69.8, 69.8], &[56.0, 54.5], &[50.7, 49.3], &[63.8, 65.8]],
        &[&[56.6, 57.5], &[77.8, 79.2], &[69.9, 69.2], &[62.1, 64.5]],
    ]);
    assert!(anova.is_balanced());
    assert_relative_eq!(anova.ss_groups, 665.6758333333332, max_relative = 1e-10);
    assert_relative_eq!(anova.ss_batches, 1720.6775, max_relative = 1e-10);
    assert_relative_eq!(anova.ss_cells, 15.62, max_relative = 1e-10);
    let (groups, batches) = (anova.between_groups().unwrap(), anova.between_batches().unwrap());
    assert_abs_diff_eq!(groups.f, 1.74, epsilon = 0.005);
    assert_abs_diff_eq!(batches.f, 146.88, epsilon = 0.005);
    assert_relative_eq!(groups.p, 0.229530971691379, max_relative = 1e-8);
    assert_eq!((groups.df1, groups.df2, batches.df1, batches.df2), (2.0, 9.0, 9.0, 12.0));
    // In a balanced set restricted maximum likelihood gives the same components: statsmodels' MixedLM 94.942, 1.30167.
    assert_relative_eq!(anova.components().between(), 94.94236111111111, max_relative = 1e-10);
    assert_relative_eq!(anova.components().within, 1.3016666666666696, max_relative = 1e-10);
}

/// Sums of squares by statsmodels; coefficients, F and degrees of freedom computed from them in Python. Restricted maximum
/// likelihood, another estimator, gives 24.70 and 1.3334 here.
#[test]
fn an_unbalanced_nested_analysis() {
    let (_, anova) = nested(&[
        &[&[151.0, 149.0, 150.0, 152.0], &[144.0, 146.0, 145.0], &[156.0, 155.0]],
        &[
            &[141.0, 143.0, 142.0, 140.0],
            &[149.0, 150.0, 148.0],
            &[138.0, 137.0, 139.0, 136.0],
            &[144.0, 145.0],
        ],
    ]);
    assert!(!anova.is_balanced());
    assert_relative_eq!(anova.ss_groups, 284.66822066822044, max_relative = 1e-10);
    assert_relative_eq!(anova.ss_batches, 374.78632478632494, max_relative = 1e-10);
    assert_relative_eq!(anova.ss_cells, 20.0, max_relative = 1e-10);
    assert_relative_eq!(anova.cells_per_batch, 3.063247863247863, max_relative = 1e-12);
    assert_relative_eq!(anova.cells_per_batch_in_groups, 3.3201243201243202, max_relative = 1e-12);
    let test = anova.between_groups().unwrap();
    assert_relative_eq!(test.f, 3.5087397316561013, max_relative = 1e-9);
    assert_relative_eq!(test.df2, 4.986243897284499, max_relative = 1e-9);
    assert_relative_eq!(test.p, 0.12008554189329973, max_relative = 1e-8);
    assert_relative_eq!(anova.components().between(), 24.034598214285726, max_relative = 1e-10);
}

/// Batches more alike than their own cells let expect.
#[test]
fn a_negative_component_is_zero_and_says_so() {
    let (_, anova) = nested(&[&[&[1.0, 3.0], &[1.1, 2.9]], &[&[2.0, 4.0], &[2.1, 3.9]]]);
    let parts = anova.components();
    assert!(parts.set_to_zero() && parts.between_raw < 0.0);
    assert_eq!(parts.between(), 0.0);
}

/// With one other group Dunnett's test is Student's. For more, every number that the distribution itself is checked with
/// applies; here the statistic and the baseline are.
#[test]
fn dunnett_with_one_other_is_student() {
    let (base, other) = ([1.31, 1.30, 1.32, 1.29], [1.35, 1.33, 1.36]);
    let test = dunnett(&[&other, &base], 1, 0.95).unwrap()[0];
    let student = student(&Moments::of(&other), &Moments::of(&base)).unwrap();
    assert_eq!((test.first, test.second), (0, 1));
    assert_relative_eq!(test.statistic, student.t, max_relative = 1e-10);
    assert_relative_eq!(test.p_adjusted, student.p, max_relative = 1e-8);
    assert_relative_eq!(test.interval[0], student.interval(0.95)[0], max_relative = 1e-7);
    assert_relative_eq!(test.interval[1], student.interval(0.95)[1], max_relative = 1e-7);
}

/// S07 and S08 of `tests/fixtures/practice/stats_examples.toml`.
#[test]
fn cells_and_batches() {
    let file: toml::Table = include_str!("../../fixtures/practice/stats_examples.toml").parse().unwrap();
    let case = |id: &str| {
        let cases = file["case"].as_array().unwrap();
        cases.iter().find(|case| case["id"].as_str() == Some(id)).unwrap().as_table().unwrap().clone()
    };
    let number = |value: &toml::Value| value.as_float().unwrap_or_else(|| value.as_integer().unwrap() as f64);
    let numbers = |value: &toml::Value| value.as_array().unwrap().iter().map(number).collect::<Vec<f64>>();
    let s07 = case("S07");
    let expect = |key: &str, value: f64| {
        assert_relative_eq!(value, number(&s07["expect"][key]), max_relative = 1e-6);
    };
    let [a, b] = ["A", "B"].map(|key| Moments::of(&numbers(&s07["input"][key])));
    let test = welch(&a, &b).unwrap();
    expect("mean_A", a.mean);
    expect("sd_A", a.sd());
    expect("mean_B", b.mean);
    expect("sd_B", b.sd());
    expect("diff", test.difference);
    expect("t", test.t);
    expect("df", test.df);
    expect("p", test.p);
    expect("ci95_low", test.interval(0.95)[0]);
    expect("ci95_high", test.interval(0.95)[1]);
    expect("student_pooled_p", student(&a, &b).unwrap().p);
    let s08 = case("S08");
    let expect = |key: &str, value: f64| {
        assert_relative_eq!(value, number(&s08["expect"][key]), max_relative = 1e-6);
    };
    let [a, b] = ["A_batches", "B_batches"]
        .map(|key| s08["input"][key].as_array().unwrap().iter().map(numbers).collect::<Batches>());
    let by = |values: [Vec<f64>; 2]| welch(&Moments::of(&values[0]), &Moments::of(&values[1])).unwrap();
    expect("p_by_cells_welch", by([a.concat(), b.concat()]).p);
    expect("p_by_batch_means_welch", by([batch_means(&a), batch_means(&b)]).p);
    expect("diff_means", by([batch_means(&a), batch_means(&b)]).difference);
    let groups: Vec<&[f64]> = a.iter().map(Vec::as_slice).collect();
    let anova = meltbook::statistics::anova::Anova::of(&groups).unwrap();
    let share = anova.components().share_between();
    expect("MS_between_A", anova.ms_between());
    expect("MS_within_A", anova.ms_within());
    expect("var_batch_A", anova.components().between());
    expect("ICC_A", share);
    expect("design_effect_A", design_effect(4.0, share));
    expect("effective_n_A", 12.0 / design_effect(4.0, share));
}
