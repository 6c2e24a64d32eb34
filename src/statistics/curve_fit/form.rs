//! The forms of curve that a bench has use for.

use super::dual::Dual;
use super::linear::{LinearFit, least_squares};
use super::points::Points;

/// The gas constant in J/(mol K), exact in the SI of 2019 (CODATA 2022).
pub const GAS_CONSTANT: f64 = 8.314_462_618_153_24;

/// A form.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Form {
    /// intercept + slope · x.
    Line,
    /// a + b exp(−x/tau).
    Decay,
    /// a + b1 exp(−x/tau1) + b2 exp(−x/tau2), tau1 below tau2.
    DoubleDecay,
    /// a exp(b/(x − T0)) after Vogel, Fulcher and Tammann; x is an absolute temperature.
    Vft,
    /// a exp(−E/(R x)) after Arrhenius; x is an absolute temperature in K, E in J/mol.
    Arrhenius,
}

/// How finely times are tried for one decay.
const SINGLE: usize = 60;
/// How finely for each of two.
const PAIRED: usize = 28;
/// More points than this are not needed to find a start.
pub(super) const ENOUGH: usize = 400;
/// How many of the best tries are followed.
const FOLLOWED: usize = 6;

impl Form {
    /// All of them.
    pub const ALL: [Self; 5] = [Self::Line, Self::Decay, Self::DoubleDecay, Self::Vft, Self::Arrhenius];

    /// Its name on the command line and in JSON.
    pub fn name(self) -> &'static str {
        match self {
            Self::Line => "line",
            Self::Decay => "decay",
            Self::DoubleDecay => "double-decay",
            Self::Vft => "vft",
            Self::Arrhenius => "arrhenius",
        }
    }

    /// The names of the parameters, in their order.
    pub fn parameters(self) -> &'static [&'static str] {
        match self {
            Self::Line => &["intercept", "slope"],
            Self::Decay => &["a", "b", "tau"],
            Self::DoubleDecay => &["a", "b1", "tau1", "b2", "tau2"],
            Self::Vft => &["a", "b", "T0"],
            Self::Arrhenius => &["a", "E"],
        }
    }

    /// True if x must be an absolute temperature.
    pub fn is_thermal(self) -> bool {
        matches!(self, Self::Vft | Self::Arrhenius)
    }

    /// The curve.
    pub fn at(self, x: f64, p: &[Dual]) -> Dual {
        match (self, p) {
            (Self::Line, [intercept, slope]) => *intercept + *slope * x,
            (Self::Decay, [a, b, tau]) => *a + *b * decayed(x, *tau),
            (Self::DoubleDecay, [a, b1, tau1, b2, tau2]) => {
                *a + *b1 * decayed(x, *tau1) + *b2 * decayed(x, *tau2)
            }
            (Self::Vft, [a, b, t0]) => *a * (*b / (x - *t0)).exp(),
            (Self::Arrhenius, [a, e]) => *a * (-*e / (GAS_CONSTANT * x)).exp(),
            _ => Dual::constant(f64::NAN),
        }
    }

    /// Starts for the search, the best first. What is linear in a form is solved for exactly on a grid of
    /// what is not (G. H. Golub and V. Pereyra, SIAM J. Numer. Anal. 10 (1973) 413), so no start is guessed.
    /// The thermal forms start from their logarithms, so y must be above 0 there.
    pub(super) fn starts(self, points: &Points) -> Vec<Vec<f64>> {
        let points = &points.thinned(ENOUGH);
        match self {
            Self::Line => solved(points, |x| vec![1.0, x]).map(|fit| fit.coefficients).into_iter().collect(),
            Self::Decay => decays(points),
            Self::DoubleDecay => double_decays(points),
            Self::Vft => vft(points),
            Self::Arrhenius => {
                let fit = solved(&points.logarithmic(), |x| vec![1.0, -1.0 / (GAS_CONSTANT * x)]);
                fit.map(|fit| vec![fit.coefficients[0].exp(), fit.coefficients[1]]).into_iter().collect()
            }
        }
    }
}

fn decayed(x: f64, tau: Dual) -> Dual {
    (-x / tau).exp()
}

fn decays(points: &Points) -> Vec<Vec<f64>> {
    let tries = times(points, SINGLE).into_iter().filter_map(|tau| {
        let fit = solved(points, |x| vec![1.0, (-x / tau).exp()])?;
        Some((fit.rss, vec![fit.coefficients[0], fit.coefficients[1], tau]))
    });
    best(tries.collect())
}

fn double_decays(points: &Points) -> Vec<Vec<f64>> {
    let times = times(points, PAIRED);
    let mut tries = Vec::new();
    for (at, short) in times.iter().enumerate() {
        for long in &times[at + 1..] {
            if let Some(fit) = solved(points, |x| vec![1.0, (-x / short).exp(), (-x / long).exp()]) {
                let [a, b1, b2] = fit.coefficients[..] else { continue };
                tries.push((fit.rss, vec![a, b1, *short, b2, *long]));
            }
        }
    }
    best(tries)
}

/// T0 from 1 K below the coldest point down to 1000 K below it, in even ratios.
fn vft(points: &Points) -> Vec<Vec<f64>> {
    let logarithmic = points.logarithmic();
    let (coldest, _) = points.range();
    let tries = even_ratios(1.0, 1000.0, SINGLE).into_iter().filter_map(|below| {
        let t0 = coldest - below;
        let fit = solved(&logarithmic, |x| vec![1.0, 1.0 / (x - t0)])?;
        Some((fit.rss, vec![fit.coefficients[0].exp(), fit.coefficients[1], t0]))
    });
    best(tries.collect())
}

/// Times from a third of the least distance between points to thirty times their span.
fn times(points: &Points, count: usize) -> Vec<f64> {
    let places = points.places();
    let least = places.windows(2).map(|pair| pair[1] - pair[0]).fold(f64::INFINITY, f64::min);
    even_ratios(least / 3.0, 30.0 * points.span(), count)
}

fn even_ratios(low: f64, high: f64, count: usize) -> Vec<f64> {
    let ratio = (high / low).powf(1.0 / (count - 1) as f64);
    (0..count).map(|step| low * ratio.powi(step as i32)).collect()
}

fn solved(points: &Points, row: impl Fn(f64) -> Vec<f64>) -> Option<LinearFit> {
    let rows: Vec<Vec<f64>> = points.x.iter().map(|x| row(*x)).collect();
    least_squares(&rows, &points.y, &points.weights)
}

fn best(mut tries: Vec<(f64, Vec<f64>)>) -> Vec<Vec<f64>> {
    tries.retain(|(rss, _)| rss.is_finite());
    tries.sort_by(|one, other| one.0.total_cmp(&other.0));
    tries.into_iter().take(FOLLOWED).map(|(_, start)| start).collect()
}
