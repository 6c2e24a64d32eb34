//! Fits: what must hold for any points, and how often an interval holds what it says.

use approx::{abs_diff_eq, assert_relative_eq};
use meltbook::statistics::curve_fit::{Doubt, Dual, Fit, Form, Points, Scale, fit, minimum};
use meltbook::statistics::distribution::normal_quantile;
use meltbook::statistics::tolerance::{one_sided_factor, two_sided_factor};
use proptest::prelude::*;
use rand::SeedableRng as _;
use rand_chacha::ChaCha8Rng;

const DAYS: [f64; 10] = [0.0, 1.0, 2.0, 4.0, 7.0, 10.0, 14.0, 21.0, 28.0, 42.0];

fn fitted(form: Form, x: &[f64], y: &[f64]) -> Fit {
    fit(form, Scale::Plain, &Points::new(x.to_vec(), y.to_vec()).unwrap(), 0.95).unwrap()
}

fn values(fit: &Fit) -> Vec<f64> {
    fit.inference.estimates.iter().map(|own| own.value).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    /// Points without errors give back what they were made from, without a start from outside.
    #[test]
    fn a_decay_is_found_again(a in -2.0..2.0f64, b in 0.05..2.0f64, tau in 1.5..30.0f64, sign in any::<bool>()) {
        let b = if sign { b } else { -b };
        let y: Vec<f64> = DAYS.iter().map(|x| a + b * (-x / tau).exp()).collect();
        let fit = fitted(Form::Decay, &DAYS, &y);
        prop_assert!(fit.converged);
        for (found, made) in values(&fit).into_iter().zip([a, b, tau]) {
            prop_assert!(abs_diff_eq!(found, made, epsilon = 1e-6 * (1.0 + made.abs())), "{} for {}", found, made);
        }
    }

    #[test]
    fn temperature_laws_are_found_again(b in 300.0..2000.0f64, t0 in 60.0..220.0f64, conducts in any::<bool>()) {
        let x: Vec<f64> = (0..9).map(|step| 283.15 + 10.0 * f64::from(step)).collect();
        let b = if conducts { -b } else { b };
        let y: Vec<f64> = x.iter().map(|x| 0.3 * (b / (x - t0)).exp()).collect();
        let fit = fitted(Form::Vft, &x, &y);
        prop_assert!(fit.converged);
        for (found, made) in values(&fit).into_iter().zip([0.3, b, t0]) {
            prop_assert!(abs_diff_eq!(found, made, epsilon = 1e-5 * made.abs()), "{} for {}", found, made);
        }
    }

    /// Order does not matter; another unit of y scales a and b, another unit of x scales tau; a shift of y
    /// shifts a alone.
    #[test]
    fn units_and_order_do_not_matter(seed in any::<u64>(), unit in 0.01..1000.0f64, shift in -3.0..3.0f64) {
        let mut random = ChaCha8Rng::seed_from_u64(seed);
        let noise: Vec<f64> = DAYS.iter().map(|_| 0.002 * normal(&mut random)).collect();
        let y: Vec<f64> = DAYS.iter().zip(&noise).map(|(x, e)| 1.2 + 0.1 * (-x / 8.0).exp() + e).collect();
        let own = values(&fitted(Form::Decay, &DAYS, &y));
        let close = |found: Vec<f64>, made: [f64; 3]| {
            for (found, made) in found.into_iter().zip(made) {
                assert_relative_eq!(found, made, max_relative = 1e-6, epsilon = 1e-9);
            }
        };
        let (mut x, mut turned) = (DAYS.to_vec(), y.clone());
        x.reverse();
        turned.reverse();
        close(values(&fitted(Form::Decay, &x, &turned)), [own[0], own[1], own[2]]);
        let scaled: Vec<f64> = y.iter().map(|y| y * unit).collect();
        close(values(&fitted(Form::Decay, &DAYS, &scaled)), [own[0] * unit, own[1] * unit, own[2]]);
        let hours: Vec<f64> = DAYS.iter().map(|x| x * unit).collect();
        close(values(&fitted(Form::Decay, &hours, &y)), [own[0], own[1], own[2] * unit]);
        let shifted: Vec<f64> = y.iter().map(|y| y + shift).collect();
        close(values(&fitted(Form::Decay, &DAYS, &shifted)), [own[0] + shift, own[1], own[2]]);
    }

    /// Any points at all end in an answer or a reason, never in a panic.
    #[test]
    fn any_points_end_somewhere(
        points in prop::collection::vec((-1e3..1e3f64, -1e3..1e3f64), 1..12),
        form in prop::sample::select(Form::ALL.to_vec()),
    ) {
        let (x, y) = points.into_iter().unzip();
        if let Ok(fit) = fit(form, Scale::Plain, &Points::new(x, y).unwrap(), 0.95) {
            prop_assert!(!fit.is_identifiable() || values(&fit).iter().all(|value| value.is_finite()));
        }
    }
}

/// Less than one time constant: the points are nearly a line, and that is said.
#[test]
fn a_span_below_one_tau_is_not_identifiable() {
    let mut random = ChaCha8Rng::seed_from_u64(7);
    let x: Vec<f64> = (0..8).map(f64::from).collect();
    let y: Vec<f64> = x.iter().map(|x| 1.0 + 0.3 * (-x / 40.0).exp() + 0.001 * normal(&mut random)).collect();
    let fit = fitted(Form::Decay, &x, &y);
    assert!(!fit.is_identifiable(), "{:?}", fit.doubts);
    let says = |doubt: &Doubt| {
        matches!(doubt, Doubt::ShortSpan(_) | Doubt::Edge(_) | Doubt::Grows(_) | Doubt::HoldsZero(_))
    };
    assert!(fit.doubts.iter().any(says));
}

/// Of very many points a few say where to search: the end is that of a search on all of them from the true parameters.
#[test]
fn many_points_end_in_the_same_minimum() {
    let mut random = ChaCha8Rng::seed_from_u64(20);
    let cases = [
        (Form::Vft, Scale::Logarithmic, vec![0.05, 900.0, 160.0], (293.0, 60.0)),
        (Form::Arrhenius, Scale::Logarithmic, vec![1e-4, -30_000.0], (293.0, 60.0)),
        (Form::Decay, Scale::Plain, vec![1.2, 0.3, 8.0], (0.0, 42.0)),
        (Form::DoubleDecay, Scale::Plain, vec![1.2, 0.3, 2.0, 0.2, 15.0], (0.0, 60.0)),
    ];
    for (form, scale, truth, (from, span)) in cases {
        let count = 1500;
        let known: Vec<Dual> = truth.iter().map(|value| Dual::constant(*value)).collect();
        let x: Vec<f64> = (0..count).map(|at| from + span * f64::from(at) / f64::from(count)).collect();
        let noise = |y: f64, random: &mut ChaCha8Rng| match scale {
            Scale::Plain => y + 0.002 * normal(random),
            Scale::Logarithmic => y * (0.01 * normal(random)).exp(),
        };
        let y: Vec<f64> = x.iter().map(|x| noise(form.at(*x, &known).value, &mut random)).collect();
        let points = Points::new(x, y).unwrap();
        let found = fit(form, scale, &points, 0.95).unwrap();
        let is_plain = scale == Scale::Plain;
        let curve = |x: f64, p: &[Dual]| if is_plain { form.at(x, p) } else { form.at(x, p).ln() };
        let target = Points {
            y: points.y.iter().map(|y| if is_plain { *y } else { y.ln() }).collect(),
            ..points.clone()
        };
        let whole = minimum(&curve, &target, &truth);
        assert!(found.converged && whole.converged, "{form:?}");
        assert_relative_eq!(found.rss, whole.rss, max_relative = 1e-12);
        for (one, other) in values(&found).iter().zip(&whole.parameters) {
            assert_relative_eq!(*one, *other, max_relative = 1e-7);
        }
    }
}

const TRIALS: u32 = 4000;

/// The 95 % interval of a slope holds the true one, and tolerance intervals hold the share that they say, in as
/// many of the simulated experiments as they say, to within 4 binomial standard deviations.
#[test]
fn intervals_hold_what_they_say() {
    let mut random = ChaCha8Rng::seed_from_u64(2026);
    for n in [3, 5, 10, 20] {
        let x: Vec<f64> = (0..n).map(f64::from).collect();
        let held = (0..TRIALS).filter(|_| {
            let y: Vec<f64> = x.iter().map(|x| 1.3 - 0.01 * x + 0.02 * normal(&mut random)).collect();
            let (low, high) = fitted(Form::Line, &x, &y).inference.estimates[1].interval;
            low <= -0.01 && -0.01 <= high
        });
        within(held.count(), 0.95);
    }
    for n in [3, 6, 12, 20] {
        let (two, one) = (two_sided_factor(n, 0.9, 0.95), one_sided_factor(n, 0.9, 0.95));
        let (mut both, mut above) = (0, 0);
        for _ in 0..TRIALS {
            let values: Vec<f64> = (0..n).map(|_| normal(&mut random)).collect();
            let mean = values.iter().sum::<f64>() / n as f64;
            let sd = (values.iter().map(|v| (v - mean).powi(2)).sum::<f64>() / (n - 1) as f64).sqrt();
            let cdf = meltbook::statistics::distribution::normal_cdf;
            both += usize::from(0.9 <= cdf(mean + two * sd) - cdf(mean - two * sd));
            above += usize::from(0.9 <= 1.0 - cdf(mean - one * sd));
        }
        within(both, 0.95);
        within(above, 0.95);
    }
}

fn within(held: usize, share: f64) {
    let trials = f64::from(TRIALS);
    let off = (held as f64 - trials * share) / (trials * share * (1.0 - share)).sqrt();
    assert!(off.abs() < 4.0, "{held} of {TRIALS} at {share}");
}

fn normal(random: &mut ChaCha8Rng) -> f64 {
    normal_quantile(random.random_range(f64::EPSILON..1.0))
}
