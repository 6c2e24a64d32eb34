//! Tests and intervals in simulation, with fixed seeds and binomial bounds: what they promise is what happens.

use meltbook::statistics::anova::{Anova, welch_anova};
use meltbook::statistics::batches::{Batches, NestedAnova, batch_means};
use meltbook::statistics::distribution::normal_cdf;
use meltbook::statistics::dixon::dixon;
use meltbook::statistics::fisher::fisher_exact;
use meltbook::statistics::grubbs::grubbs;
use meltbook::statistics::kruskal_wallis::kruskal_wallis;
use meltbook::statistics::mann_whitney::{mann_whitney, shift};
use meltbook::statistics::moments::Moments;
use meltbook::statistics::pairs::{PairTest, dunnett, games_howell, tukey_kramer};
use meltbook::statistics::proportion::clopper_pearson;
use meltbook::statistics::shapiro_wilk::shapiro_wilk;
use meltbook::statistics::t_test::{mean_interval, prediction_interval, student, welch};
use meltbook::statistics::tolerance::two_sided_factor;
use meltbook::statistics::variance_test::{brown_forsythe, sd_interval, variance_ratio};

use super::samples::{
    Draw, assert_covers, assert_in_band, assert_not_too_small, assert_uniform, fewer_rounds, rounds,
};

fn p_values(seed: u64, rounds: usize, mut one: impl FnMut(&mut Draw) -> f64) -> Vec<f64> {
    let mut draw = Draw::new(seed);
    (0..rounds).map(|_| one(&mut draw)).collect()
}

fn three(draw: &mut Draw, n: usize) -> Vec<Vec<f64>> {
    (0..3).map(|_| draw.sample(n, 1.0)).collect()
}

fn slices(groups: &[Vec<f64>]) -> Vec<&[f64]> {
    groups.iter().map(Vec::as_slice).collect()
}

fn least(pairs: &[PairTest]) -> f64 {
    pairs.iter().map(|pair| pair.p_adjusted).fold(1.0, f64::min)
}

#[test]
fn exact_tests_are_uniform_where_nothing_differs() {
    let student = p_values(1, rounds(), |draw| {
        let groups = (draw.moments(3, 1.0), draw.moments(5, 1.0));
        student(&groups.0, &groups.1).unwrap().p
    });
    assert_uniform("Student", &student);
    let ratio = p_values(2, rounds(), |draw| {
        let groups = (draw.moments(4, 2.0), draw.moments(6, 2.0));
        variance_ratio(&groups.0, &groups.1).unwrap().p
    });
    assert_uniform("ratio of variances", &ratio);
    let anova = p_values(3, rounds(), |draw| Anova::of(&slices(&three(draw, 3))).unwrap().test().unwrap().p);
    assert_uniform("analysis of variance", &anova);
    let dixon = p_values(4, rounds(), |draw| dixon(&draw.sample(3, 1.0)).unwrap().p);
    assert_in_band("Dixon at n = 3", &dixon, 0.05, 0.05);
    let shapiro = p_values(5, rounds(), |draw| shapiro_wilk(&draw.sample(3, 1.0)).unwrap().p);
    assert_uniform("Shapiro and Wilk at n = 3", &shapiro);
}

#[test]
fn comparisons_of_all_pairs_hold_their_level_together() {
    let tukey =
        p_values(6, fewer_rounds(), |draw| least(&tukey_kramer(&slices(&three(draw, 3)), 0.95).unwrap()));
    assert_uniform("Tukey", &tukey);
    let dunnett =
        p_values(7, fewer_rounds(), |draw| least(&dunnett(&slices(&three(draw, 4)), 0, 0.95).unwrap()));
    assert_uniform("Dunnett", &dunnett);
}

/// Batches of unequal means, cells in them: by cells the test would be wrong most of the time.
#[test]
fn a_nested_analysis_knows_what_batches_do() {
    let group = |draw: &mut Draw| -> Batches {
        let mut batch = || {
            let shift = draw.normal();
            draw.sample(4, 0.2).iter().map(|value| value + shift).collect()
        };
        (0..3).map(|_| batch()).collect()
    };
    let groups = |draw: &mut Draw| vec![group(draw), group(draw)];
    let nested =
        p_values(8, rounds(), |draw| NestedAnova::of(&groups(draw)).unwrap().between_groups().unwrap().p);
    assert_uniform("nested analysis", &nested);
    let by_cells = p_values(8, rounds(), |draw| {
        let groups = groups(draw);
        student(&Moments::of(&groups[0].concat()), &Moments::of(&groups[1].concat())).unwrap().p
    });
    assert_in_band("cells taken as independent", &by_cells, 0.3, 0.7);
    let by_batches = p_values(9, rounds(), |draw| {
        let means = groups(draw).iter().map(|group| Moments::of(&batch_means(group))).collect::<Vec<_>>();
        welch(&means[0], &means[1]).unwrap().p
    });
    assert_in_band("means of batches", &by_batches, 0.025, 0.065);
}

#[test]
fn tests_by_counting_are_never_too_sure() {
    let mann =
        p_values(10, rounds(), |draw| mann_whitney(&draw.sample(4, 1.0), &draw.sample(5, 1.0)).unwrap().p);
    assert_not_too_small("Mann and Whitney", &mann);
    let ties = p_values(11, rounds(), |draw| {
        let mut coarse = |n: usize| (0..n).map(|_| f64::from(draw.below(4))).collect::<Vec<_>>();
        mann_whitney(&coarse(5), &coarse(6)).unwrap().p
    });
    assert_not_too_small("Mann and Whitney with ties", &ties);
    let kruskal = p_values(12, rounds(), |draw| kruskal_wallis(&slices(&three(draw, 3))).unwrap().p);
    assert_not_too_small("Kruskal and Wallis", &kruskal);
    let fisher = p_values(13, rounds(), |draw| {
        let mut group = |n: u64| {
            let hits = (0..n).filter(|_| draw.share() < 0.3).count() as u64;
            (hits, n - hits)
        };
        fisher_exact(&[group(6), group(8), group(5)]).unwrap_or(1.0)
    });
    assert_not_too_small("Fisher", &fisher);
    let grubbs = p_values(14, rounds(), |draw| grubbs(&draw.sample(6, 1.0), 0.05).unwrap().p);
    assert_not_too_small("Grubbs", &grubbs);
    assert_in_band("Grubbs", &grubbs, 0.04, 0.05);
}

/// With three values and standard deviations of 1 and 3, or 1, 2 and 3, these are approximate: the band is stated here.
#[test]
fn tests_for_unequal_variances_stay_near_their_level() {
    let two = p_values(15, rounds(), |draw| welch(&draw.moments(3, 1.0), &draw.moments(3, 3.0)).unwrap().p);
    assert_in_band("Welch at n = 3", &two, 0.03, 0.075);
    let alike = p_values(16, rounds(), |draw| welch(&draw.moments(3, 1.0), &draw.moments(3, 1.0)).unwrap().p);
    assert_in_band("Welch at n = 3, equal variances", &alike, 0.025, 0.05);
    let moments = |draw: &mut Draw| [1.0, 2.0, 3.0].map(|sd| draw.moments(3, sd));
    let anova = p_values(17, rounds(), |draw| welch_anova(&moments(draw)).unwrap().p);
    assert_in_band("Welch's analysis at n = 3", &anova, 0.03, 0.085);
    let pairs = p_values(18, fewer_rounds() / 2, |draw| least(&games_howell(&moments(draw), 0.95).unwrap()));
    assert_in_band("Games and Howell at n = 3", &pairs, 0.03, 0.09);
    let brown = p_values(19, rounds(), |draw| brown_forsythe(&slices(&three(draw, 8))).unwrap().p);
    assert_in_band("Brown and Forsythe at n = 8", &brown, 0.015, 0.06);
    for n in [5, 12, 50] {
        let shapiro = p_values(20 + n as u64, rounds(), |draw| shapiro_wilk(&draw.sample(n, 1.0)).unwrap().p);
        assert_in_band(&format!("Shapiro and Wilk at n = {n}"), &shapiro, 0.045, 0.055);
    }
}

/// Welch's analysis does not hold its level with many groups of two values: the comparison says so, with this figure.
#[test]
fn welch_is_too_sure_of_many_small_groups() {
    let of = |draw: &mut Draw| {
        let groups: Vec<Moments> = (0..9).map(|_| draw.moments(2, 1.0)).collect();
        welch_anova(&groups).unwrap().p
    };
    let found = p_values(18, rounds(), of);
    let share = found.iter().filter(|p| **p < 0.05).count() as f64 / found.len() as f64;
    assert!((0.15..0.27).contains(&share), "{share}");
}

#[test]
fn intervals_cover_what_they_promise() {
    for n in 3..=20 {
        let mut draw = Draw::new(100 + n as u64);
        let factor = two_sided_factor(n, 0.95, 0.95);
        let (mut mean, mut sd, mut future, mut content, mut shifted) = (0, 0, 0, 0, 0);
        let within = |[low, high]: [f64; 2], value: f64| usize::from(low <= value && value <= high);
        for _ in 0..rounds() {
            let values = draw.sample(n, 2.0);
            let moments = Moments::of(&values);
            mean += within(mean_interval(&moments, 0.95).unwrap(), 0.0);
            sd += within(sd_interval(&moments, 0.9).unwrap(), 2.0);
            future += within(prediction_interval(&moments, 0.95).unwrap(), 2.0 * draw.normal());
            let reach = factor * moments.sd();
            let share = normal_cdf((moments.mean + reach) / 2.0) - normal_cdf((moments.mean - reach) / 2.0);
            content += usize::from(0.95 <= share);
            let interval = shift(&values[..n.min(8)], &draw.sample(7, 2.0), 0.9).unwrap().interval;
            shifted += interval.map_or(1, |interval| within(interval, 0.0));
        }
        assert_covers(&format!("mean of {n}"), mean, rounds(), 0.95);
        assert_covers(&format!("standard deviation of {n}"), sd, rounds(), 0.9);
        assert_covers(&format!("one future value after {n}"), future, rounds(), 0.95);
        assert_covers(&format!("tolerance interval of {n}"), content, rounds(), 0.95);
        assert!(
            0.9 * rounds() as f64 <= shifted as f64 + super::samples::slack(0.9, rounds()),
            "shift of {n}"
        );
    }
}

/// Not by chance but by adding up all counts: the true share is inside with 95 % or more.
#[test]
fn binomial_intervals_cover_every_share() {
    for n in 3..=20_usize {
        let intervals: Vec<[f64; 2]> = (0..=n).map(|hits| clopper_pearson(hits, n, 0.95).unwrap()).collect();
        for share in (1..100).map(|percent| f64::from(percent) / 100.0) {
            let mut probability = (1.0 - share).powi(n as i32);
            let mut covered = 0.0;
            for (hits, [low, high]) in intervals.iter().enumerate() {
                covered += if *low <= share && share <= *high { probability } else { 0.0 };
                probability *= (n - hits) as f64 / (hits + 1) as f64 * share / (1.0 - share);
            }
            assert!(0.95 <= covered, "{n} at {share}: {covered}");
        }
    }
}
