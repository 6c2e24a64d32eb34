//! What does not matter does not matter: the order of values and groups, where zero is, and the unit.

use meltbook::statistics::adjust::{benjamini_hochberg, bonferroni, holm};
use meltbook::statistics::anova::{Anova, welch_anova};
use meltbook::statistics::dixon::dixon;
use meltbook::statistics::effect_size::effect_size;
use meltbook::statistics::grubbs::grubbs;
use meltbook::statistics::kruskal_wallis::kruskal_wallis_approximate;
use meltbook::statistics::mann_whitney::mann_whitney;
use meltbook::statistics::moments::Moments;
use meltbook::statistics::observations::sorted;
use meltbook::statistics::quantile::{QuantileRule, median_absolute_deviation, quantile};
use meltbook::statistics::shapiro_wilk::shapiro_wilk;
use meltbook::statistics::t_test::{student, welch};
use meltbook::statistics::variance_test::{bartlett, brown_forsythe};
use proptest::prelude::*;

/// Three groups of 3 to 9 values with two digits behind the point, none without spread.
fn groups() -> impl Strategy<Value = Vec<Vec<f64>>> {
    let value = (-2000i32..2000).prop_map(|value| f64::from(value) / 100.0);
    let group = prop::collection::vec(value, 3..10)
        .prop_filter("it has spread", |group: &Vec<f64>| group.iter().any(|value| *value != group[0]));
    prop::collection::vec(group, 3)
}

/// Every figure that has no unit, in a fixed order.
fn unitless(groups: &[Vec<f64>]) -> Vec<f64> {
    let slices: Vec<&[f64]> = groups.iter().map(Vec::as_slice).collect();
    let moments: Vec<Moments> = slices.iter().map(|group| Moments::of(group)).collect();
    let (first, second) = (&moments[0], &moments[1]);
    let mut figures = vec![
        welch(first, second).map_or(0.0, |test| test.t.abs()),
        welch(first, second).map_or(0.0, |test| test.df),
        student(first, second).map_or(0.0, |test| test.p),
        mann_whitney(slices[0], slices[1]).map_or(0.0, |test| test.p),
        effect_size(first, second, 0.95).map_or(0.0, |effect| effect.hedges_g.abs()),
        Anova::of(&slices).and_then(|anova| anova.test()).map_or(0.0, |test| test.f),
        welch_anova(&moments).map_or(0.0, |test| test.f),
        kruskal_wallis_approximate(&slices).map_or(0.0, |test| test.h),
        brown_forsythe(&slices).map_or(0.0, |test| test.f),
        bartlett(&moments).map_or(0.0, |test| test.chi_squared),
    ];
    let group = slices[2];
    figures.extend([
        grubbs(group, 0.05).map_or(0.0, |test| test.g),
        dixon(group).map_or(0.0, |test| test.r10),
        shapiro_wilk(group).map_or(0.0, |test| test.w),
    ]);
    figures
}

/// Mean, deviation and the like of a group, all in its unit.
fn in_unit(group: &[f64]) -> [f64; 4] {
    let (moments, sorted) = (Moments::of(group), sorted(group));
    let quartile = quantile(&sorted, 0.25, QuantileRule::Type7);
    [moments.mean, moments.sd(), quartile, median_absolute_deviation(group)]
}

fn alike(one: &[f64], other: &[f64], tolerance: f64) -> Result<(), TestCaseError> {
    prop_assert_eq!(one.len(), other.len());
    for (one, other) in one.iter().zip(other) {
        prop_assert!((one - other).abs() <= tolerance * (1.0 + one.abs()), "{} and {}", one, other);
    }
    Ok(())
}

fn mapped(groups: &[Vec<f64>], change: impl Fn(f64) -> f64) -> Vec<Vec<f64>> {
    groups.iter().map(|group| group.iter().map(|value| change(*value)).collect()).collect()
}

proptest! {
    #[test]
    fn the_order_of_values_does_not_matter(groups in groups()) {
        let mut turned = groups.clone();
        turned.iter_mut().for_each(|group| group.reverse());
        alike(&unitless(&groups), &unitless(&turned), 1e-9)?;
        alike(&in_unit(&groups[0]), &in_unit(&turned[0]), 1e-12)?;
    }

    #[test]
    fn the_order_of_two_groups_does_not_matter(groups in groups()) {
        let turned = vec![groups[1].clone(), groups[0].clone(), groups[2].clone()];
        alike(&unitless(&groups), &unitless(&turned), 1e-9)?;
    }

    /// 1024 is added without rounding these values in any digit that counts.
    #[test]
    fn where_zero_is_does_not_matter(groups in groups()) {
        let moved = mapped(&groups, |value| value + 1024.0);
        alike(&unitless(&groups), &unitless(&moved), 1e-7)?;
        let [mean, sd, quartile, mad] = in_unit(&groups[0]);
        alike(&[mean + 1024.0, sd, quartile + 1024.0, mad], &in_unit(&moved[0]), 1e-10)?;
    }

    #[test]
    fn the_unit_does_not_matter(groups in groups()) {
        let scaled = mapped(&groups, |value| value * 1e-3);
        alike(&unitless(&groups), &unitless(&scaled), 1e-7)?;
        let millis = in_unit(&groups[0]).map(|figure| figure * 1e-3);
        alike(&millis, &in_unit(&scaled[0]), 1e-12)?;
        // Turned round, the first and the third quartile change places.
        let turned = mapped(&groups, |value| -value);
        alike(&unitless(&groups), &unitless(&turned), 1e-9)?;
    }

    #[test]
    fn adjusted_significance_keeps_its_order(p in prop::collection::vec(0.0..1.0f64, 1..9)) {
        for adjusted in [holm(&p), bonferroni(&p), benjamini_hochberg(&p)] {
            for (at, own) in adjusted.iter().enumerate() {
                prop_assert!(p[at] <= *own && *own <= 1.0);
                for (other, theirs) in p.iter().zip(&adjusted) {
                    prop_assert!(*other < p[at] || *own <= *theirs + 1e-15);
                }
            }
        }
    }
}
