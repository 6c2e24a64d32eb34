//! A form through points: the best minimum from several starts, and whether the points can tell it.

use super::dual::Dual;
use super::form::{ENOUGH, Form};
use super::inference::Inference;
use super::points::Points;
use super::solve::{Minimum, minimum};

/// Above this condition of the scaled slopes, a change in the points' last digits changes the parameters.
const MOST_CONDITION: f64 = 1e9;
/// Parameters that differ by no more than this share are those of one minimum.
const SAME: f64 = 1e-6;

/// On what the squares are least.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Scale {
    /// On y.
    Plain,
    /// On ln y.
    Logarithmic,
}

/// A fitted form.
#[derive(Debug, Clone, PartialEq)]
pub struct Fit {
    /// The form.
    pub form: Form,
    /// On what the squares are least.
    pub scale: Scale,
    /// Weighted residual sum of squares, on that scale.
    pub rss: f64,
    /// Share of the sum of squares about the mean that is explained, on that scale. It says nothing about
    /// whether the form is right.
    pub r_squared: f64,
    /// True if a minimum was reached.
    pub converged: bool,
    /// Standard errors and intervals.
    pub inference: Inference,
    /// What speaks against taking the parameters at their value.
    pub doubts: Vec<Doubt>,
}

/// Why the points can't tell the parameters, or hardly.
#[derive(Debug, Clone, PartialEq)]
pub enum Doubt {
    /// Two or more parameters change the curve in the same way; by the condition number.
    Indistinct(f64),
    /// The points span so many time constants, less than one.
    ShortSpan(f64),
    /// A time constant left the range that the points could show: longer than a hundred spans, or shorter
    /// than a tenth of the least distance.
    Edge(&'static str),
    /// The interval of an amplitude, a time constant or b holds zero.
    HoldsZero(&'static str),
    /// The two time constants are not told apart.
    SameTimes,
    /// T0 came out below absolute zero.
    BelowZeroKelvin,
    /// The form grows beyond all bounds instead of settling: a time constant is negative.
    Grows(&'static str),
    /// As many parameters as points: nothing is left to judge by.
    NothingLeft,
    /// Every value is the same: there is no scatter to judge by.
    AllAlike,
}

impl Doubt {
    /// True if the parameters mean nothing, not only little.
    pub fn is_fatal(&self) -> bool {
        !matches!(self, Self::BelowZeroKelvin | Self::NothingLeft | Self::AllAlike)
    }
}

/// Why there is no fit at all.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum FitError {
    /// Fewer different abscissas than parameters.
    #[error("{found} different places are too few for {needed} parameters")]
    TooFew {
        /// How many there are.
        found: usize,
        /// How many parameters the form has.
        needed: usize,
    },
    /// A logarithm is needed of what is not above 0; the place of the first such point, from 0.
    #[error("y of point {} is not above 0", .0 + 1)]
    NotPositive(usize),
    /// An absolute temperature is needed; the place of the first point without, from 0.
    #[error("x of point {} is not above 0 K", .0 + 1)]
    NotAbsolute(usize),
}

impl Fit {
    /// The curve at a place, on the scale of y.
    pub fn at(&self, x: f64) -> f64 {
        let parameters: Vec<Dual> =
            self.inference.estimates.iter().map(|own| Dual::constant(own.value)).collect();
        self.form.at(x, &parameters).value
    }

    /// The curve with its bands at a place, on the scale of y.
    pub fn band(&self, x: f64) -> super::Band {
        let mut band = self.inference.band(&|x, p| scaled(self.form.at(x, p), self.scale), x);
        if self.scale == Scale::Logarithmic {
            let back = |(low, high): (f64, f64)| (low.exp(), high.exp());
            (band.y, band.mean, band.further) = (band.y.exp(), back(band.mean), back(band.further));
        }
        band
    }

    /// The residuals on the scale of the fit, in the order of the points.
    pub fn residuals(&self, points: &Points) -> Vec<f64> {
        let rest = |(x, y): (&f64, &f64)| match self.scale {
            Scale::Plain => y - self.at(*x),
            Scale::Logarithmic => y.ln() - self.at(*x).ln(),
        };
        points.x.iter().zip(&points.y).map(rest).collect()
    }

    /// True if the parameters may be taken at their value.
    pub fn is_identifiable(&self) -> bool {
        self.converged && !self.doubts.iter().any(Doubt::is_fatal)
    }
}

/// Fits a form; intervals have this confidence.
///
/// # Errors
/// If there are too few points, or some are out of the range of the form. A search that ends nowhere, or at
/// parameters that the points can't tell, is no error but said in the answer.
pub fn fit(form: Form, scale: Scale, points: &Points, confidence: f64) -> Result<Fit, FitError> {
    check(form, scale, points)?;
    let curve = |x: f64, p: &[Dual]| scaled(form.at(x, p), scale);
    let target = match scale {
        Scale::Plain => points.clone(),
        Scale::Logarithmic => Points { y: points.y.iter().map(|y| y.ln()).collect(), ..points.clone() },
    };
    let mut best: Option<Minimum> = None;
    for start in starts(form, points, &curve, &target) {
        let end = minimum(&curve, &target, &start);
        if best.as_ref().is_none_or(|best| better(&end, best)) {
            best = Some(end);
        }
    }
    let count = form.parameters().len();
    let mut best = best.unwrap_or_else(|| nowhere(count));
    order_times(form, &mut best, &curve, &target);
    let mut inference = Inference::of(&best, points, confidence);
    if scale == Scale::Logarithmic && form.is_thermal() {
        // ln a is what the points tell evenly to both sides.
        inference.estimates[0] = inference.estimates[0].in_ratios();
    }
    let doubts = doubts(form, points, &best, &inference);
    // Values that are all the same have nothing to explain.
    let alike = target.y.windows(2).all(|pair| pair[0] == pair[1]);
    let r_squared = if alike { f64::NAN } else { 1.0 - best.rss / about_mean(&target) };
    Ok(Fit { form, scale, rss: best.rss, r_squared, converged: best.converged, inference, doubts })
}

/// Where to search from. Of very many points a few say which starts end in one minimum, so that all of them are asked
/// once for each minimum.
fn starts(form: Form, points: &Points, curve: &super::Curve<'_>, target: &Points) -> Vec<Vec<f64>> {
    let starts = form.starts(points);
    if points.len() <= ENOUGH {
        return starts;
    }
    let few = target.thinned(ENOUGH);
    let mut ends: Vec<Minimum> = Vec::new();
    let mut kept = Vec::new();
    for start in starts {
        let end = minimum(curve, &few, &start);
        let alike = |one: f64, other: f64| (one - other).abs() <= SAME * (one.abs() + other.abs());
        let same = |known: &Minimum| {
            known.converged
                && known.parameters.iter().zip(&end.parameters).all(|(one, other)| alike(*one, *other))
        };
        if !(end.converged && ends.iter().any(same)) {
            kept.push(if end.converged { end.parameters.clone() } else { start });
        }
        ends.push(end);
    }
    kept
}

fn scaled(value: Dual, scale: Scale) -> Dual {
    if scale == Scale::Plain { value } else { value.ln() }
}

fn check(form: Form, scale: Scale, points: &Points) -> Result<(), FitError> {
    let needed = form.parameters().len();
    if points.different() < needed {
        return Err(FitError::TooFew { found: points.different(), needed });
    }
    if form.is_thermal()
        && let Some(at) = points.x.iter().position(|x| *x <= 0.0)
    {
        return Err(FitError::NotAbsolute(at));
    }
    if (form.is_thermal() || scale == Scale::Logarithmic)
        && let Some(at) = points.y.iter().position(|y| *y <= 0.0)
    {
        return Err(FitError::NotPositive(at));
    }
    Ok(())
}

/// A minimum before none, then the lower one.
fn better(one: &Minimum, other: &Minimum) -> bool {
    (one.converged, -one.rss) > (other.converged, -other.rss)
}

/// The end of a search that could not even start.
fn nowhere(count: usize) -> Minimum {
    let parameters = vec![f64::NAN; count];
    Minimum { parameters, rss: f64::NAN, converged: false, offset: f64::NAN, factor: None }
}

/// The shorter time first, whichever the search found first.
fn order_times(form: Form, best: &mut Minimum, curve: &super::Curve<'_>, target: &Points) {
    if form == Form::DoubleDecay
        && let [a, b1, tau1, b2, tau2] = best.parameters[..]
        && tau2 < tau1
    {
        *best = minimum(curve, target, &[a, b2, tau2, b1, tau1]);
    }
}

fn about_mean(points: &Points) -> f64 {
    let total: f64 = points.weights.iter().sum();
    let mean = points.y.iter().zip(&points.weights).map(|(y, w)| y * w).sum::<f64>() / total;
    points.y.iter().zip(&points.weights).map(|(y, w)| w * (y - mean).powi(2)).sum()
}

fn doubts(form: Form, points: &Points, best: &Minimum, inference: &Inference) -> Vec<Doubt> {
    let mut doubts = Vec::new();
    if inference.df == 0 {
        doubts.push(Doubt::NothingLeft);
    }
    if points.y.windows(2).all(|pair| pair[0] == pair[1]) {
        doubts.push(Doubt::AllAlike);
    }
    if MOST_CONDITION < inference.condition() {
        doubts.push(Doubt::Indistinct(inference.condition()));
    }
    for (name, estimate) in form.parameters().iter().zip(&inference.estimates) {
        let holds_zero = estimate.interval.0 <= 0.0 && 0.0 <= estimate.interval.1;
        if name.starts_with("tau") {
            doubts.extend(of_time(name, estimate.value, holds_zero, points));
        } else if holds_zero && may_not_be_zero(form, name) {
            doubts.push(Doubt::HoldsZero(name));
        }
    }
    match (form, &best.parameters[..]) {
        (Form::Vft, [_, _, t0]) if *t0 < 0.0 => doubts.push(Doubt::BelowZeroKelvin),
        (Form::DoubleDecay, [_, _, tau1, _, tau2]) if inference.df > 0 => {
            let (one, other) = (&inference.estimates[2], &inference.estimates[4]);
            if other.interval.0 <= one.interval.1 || *tau2 <= *tau1 {
                doubts.push(Doubt::SameTimes);
            }
        }
        _ => {}
    }
    doubts
}

fn of_time(name: &'static str, tau: f64, holds_zero: bool, points: &Points) -> Option<Doubt> {
    let places = points.places();
    let least = places.windows(2).map(|pair| pair[1] - pair[0]).fold(f64::INFINITY, f64::min);
    if tau <= 0.0 {
        Some(Doubt::Grows(name))
    } else if 100.0 * points.span() < tau || tau < least / 10.0 {
        Some(Doubt::Edge(name))
    } else if points.span() < tau {
        Some(Doubt::ShortSpan(points.span() / tau))
    } else {
        holds_zero.then_some(Doubt::HoldsZero(name))
    }
}

/// Amplitudes and strengths without which the form is another one. A slope, an offset and the prefactor may
/// well be zero or unknown in size.
fn may_not_be_zero(form: Form, name: &str) -> bool {
    name.starts_with('b') || (form == Form::Arrhenius && name == "E")
}
