//! Ends of liquid windows within the uncertainty of one melting point: they move as Schröder's relation says, so that their
//! quantiles are those of its normal distribution.

use approx::assert_abs_diff_eq;
use meltbook::compose::liquidus::{
    ActivityModel, Fusion, LiquidAt, ModelSpread, Solid, Spread, System, bands, region_spread, windows,
};
use meltbook::quantity::{MolarEnthalpy, Temperature};
use statrs::distribution::{ContinuousCDF as _, Normal};

const DRAWS: usize = 8_000;
/// J/(mol K), CODATA 2022.
const R: f64 = 8.314462618;

fn fusion(melting: f64, sd: Option<f64>, enthalpy: f64) -> Fusion {
    let mut fusion = Fusion::new(Temperature::from_kelvin(melting), MolarEnthalpy::new(enthalpy));
    fusion.melting_u_k = sd;
    fusion
}

fn system(of: usize, solids: Vec<Solid>) -> System {
    System {
        components: (0..of).map(|at| format!("component {at}")).collect(),
        solids,
        model: ActivityModel::Ideal,
    }
}

/// ln x = −ΔH/R (1/T − 1/Tm) (Schröder): what an ideal liquid takes of a pure solid.
fn dissolved(melting: f64, enthalpy: f64, kelvin: f64) -> f64 {
    (-enthalpy / R * (1.0 / kelvin - 1.0 / melting)).exp()
}

/// Of a quantity that falls as the melting point rises.
#[track_caller]
fn spreads(found: Spread, of: impl Fn(f64) -> f64, (melting, sd): (f64, f64)) {
    // A quantile of 8000 draws has a standard error of about 3 % of the standard deviation in the tail.
    let tolerance = 0.1 * (of(melting - sd) - of(melting)).abs() + 1e-3;
    assert_abs_diff_eq!(found.low, of(melting + 1.96 * sd), epsilon = tolerance);
    assert_abs_diff_eq!(found.middle, of(melting), epsilon = tolerance);
    assert_abs_diff_eq!(found.high, of(melting - 1.96 * sd), epsilon = tolerance);
}

/// A compound of 1:1 parts the liquid into two windows. The one beside the first component ends where that comes out, and
/// the other does not know of it.
#[test]
fn each_of_two_windows_has_a_band() {
    let (melting, sd) = (345.0, 3.0);
    let solids = vec![
        Solid::pure("a", 0, 2, fusion(melting, Some(sd), 6_000.0)),
        Solid::pure("b", 1, 2, fusion(350.0, None, 6_000.0)),
        Solid::compound("ab", vec![1.0, 1.0], fusion(335.0, None, 24_000.0)),
    ];
    let system = system(2, solids);
    let kelvin = 322.0;
    let middle = windows(&system, kelvin, 200, &[]);
    let [left, right] = middle[..] else { panic!("two windows, not {middle:?}") };
    let liquid_at = LiquidAt { kelvin, windows: &middle };
    let found = bands(&system, &ModelSpread::default(), (DRAWS, 3), 50, 0.95, Some(liquid_at));
    let [low, high] = found.windows[..] else { panic!("two bands, not {:?}", found.windows) };
    let (from, to) = low.ends.expect("all draws have the window beside b");
    assert_abs_diff_eq!(from.low, from.high, epsilon = 1e-9);
    assert_abs_diff_eq!(to.low, to.high, epsilon = 1e-9);
    assert_abs_diff_eq!(from.middle, left.from, epsilon = 5e-3);
    assert_abs_diff_eq!(to.middle, left.to, epsilon = 5e-3);
    let (from, to) = high.ends.expect("draws have the window beside a");
    assert_abs_diff_eq!(from.middle, right.from, epsilon = 5e-3);
    spreads(to, |melting| dissolved(melting, 6_000.0, kelvin), (melting, sd));
    assert_eq!((low.share, high.share, found.with_window), (1.0, 1.0, 1.0));
}

/// Three components, of which the first melts at 340 ± 4 K: the most of it that stays liquid is what an ideal liquid takes
/// of it, the least is what the other two leave, and each composition is liquid in as many draws as have a melting point
/// low enough for it.
#[test]
fn the_ends_of_a_ternary_window_have_bands() {
    let (melting, sd, kelvin) = (340.0, 4.0, 310.0);
    let solids = vec![
        Solid::pure("a", 0, 3, fusion(melting, Some(sd), 15_000.0)),
        Solid::pure("b", 1, 3, fusion(370.0, None, 18_000.0)),
        Solid::pure("c", 2, 3, fusion(330.0, None, 14_000.0)),
    ];
    let found = region_spread(&system(3, solids), &ModelSpread::default(), (DRAWS, 5), 0.95, kelvin);
    assert_eq!(found.with_region, 1.0);
    let (b, c) = (dissolved(370.0, 18_000.0, kelvin), dissolved(330.0, 14_000.0, kelvin));
    assert!(1.0 < b + c, "the edge of b and c holds a window, {b} and {c}");
    let [of_a, of_b, of_c] = &found.ranges[..] else { panic!("three ranges") };
    spreads(of_a.1, |melting| dissolved(melting, 15_000.0, kelvin), (melting, sd));
    assert_eq!((of_a.0.low, of_a.0.high), (0.0, 0.0));
    for (range, most) in [(of_b, b), (of_c, c)] {
        assert_abs_diff_eq!(range.1.low, most, epsilon = 1e-9);
        assert_abs_diff_eq!(range.1.high, most, epsilon = 1e-9);
    }
    // The least of c is what a and b leave at most.
    let least = |melting: f64| -(1.0 - b - dissolved(melting, 15_000.0, kelvin)).max(0.0);
    let turned = Spread { low: -of_c.0.high, middle: -of_c.0.middle, high: -of_c.0.low };
    spreads(turned, least, (melting, sd));
    shares(&found.shares, found.steps, |x| {
        let inverse = 1.0 / kelvin + R * x[0].ln() / 15_000.0;
        let within = x[1] <= b && x[2] <= c;
        match (within, 0.0 < inverse) {
            (false, _) => 0.0,
            // Of so little no melting point is too high.
            (true, false) => 1.0,
            (true, true) => Normal::new(melting, sd).unwrap().cdf(1.0 / inverse),
        }
    });
}

/// Shares of draws within four standard errors of their chances.
#[track_caller]
fn shares(found: &[f64], steps: usize, chance: impl Fn([f64; 3]) -> f64) {
    let places = (0..=steps).flat_map(|one| (0..=steps - one).map(move |two| [one, two, steps - one - two]));
    let mut between = 0;
    for (share, place) in found.iter().zip(places) {
        let chance = chance(place.map(|part| part as f64 / steps as f64));
        let error = (chance * (1.0 - chance) / DRAWS as f64).sqrt();
        assert_abs_diff_eq!(*share, chance, epsilon = 4.0 * error + 1e-9);
        between += usize::from((0.01..0.99).contains(share));
    }
    assert!(2 < between, "some compositions are liquid in a part of the draws alone");
}
