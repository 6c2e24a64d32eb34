//! One law through several series of one liquid: one shape for all of them, a level for each.
//!
//! Levels of sources differ by more than their scatter: water, purity, a thermometer that is off. One line through all
//! points would take such a difference for an effect of temperature wherever the sources span different ranges. Here the
//! shape comes from within the series alone (analysis of covariance, e.g. G. W. Snedecor and W. G. Cochran, Statistical
//! Methods), and what their levels differ by is the uncertainty of the level.

use super::level::{Level, Part, reach};
use super::series::Series;
use super::shape::Shape;
use crate::statistics::curve_fit::linear::{Factor, LinearFit, least_squares};
use crate::statistics::curve_fit::{Band, Doubt, Estimate, Form};

/// Water that differs by less than this mass fraction within a series or between them says nothing about water.
pub(super) const LEAST_WATER_SPAN: f64 = 0.001;
/// Above this condition of the scaled slopes the points can't tell the parameters.
const MOST_CONDITION: f64 = 1e9;
/// How finely T₀ is tried, and from how far to how far below the coldest point, in kelvin.
const TRIES: usize = 60;
const BELOW: (f64, f64) = (1.0, 1000.0);
/// Steps of the search from the best of these.
const STEPS: usize = 100;
/// A step that would make the sum of squares less by no more than this share ends the search.
const ENOUGH: f64 = 1e-12;

/// A law whose shape is common to several series.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Sources {
    shape: Shape,
    /// The parameters of the shape.
    parameters: Vec<f64>,
    /// For their variances.
    factor: Factor,
    /// Scatter of the points about the curves of their series; NaN without a degree of freedom.
    pub(super) within_sd: f64,
    /// Points less series less parameters of the shape.
    pub(super) within_df: usize,
    /// The levels of the series, and what they differ by.
    level: Level,
    confidence: f64,
    pub(super) converged: bool,
}

/// A point on the scale of the fit.
struct Placed {
    series: usize,
    kelvin: f64,
    water: f64,
    z: f64,
}

/// Fits one shape and a level for each series. `None` where no series has two different temperatures, or the points can't
/// tell the shape.
pub(super) fn of_sources(series: &[&Series], form: Form, confidence: f64) -> Option<Sources> {
    let water = Water::of(series);
    let shape = Shape { form, is_wet: water == Water::Within };
    let placed = placed(series, form)?;
    let (parameters, last, converged) = searched(shape, &placed)?;
    let within_df = placed.len().checked_sub(series.len() + parameters.len())?;
    let within_sd = if within_df == 0 { f64::NAN } else { (last.rss / within_df as f64).sqrt() };
    let z = means(&placed, |own| own.z);
    let run = means(&placed, |own| shape.value(own.kelvin, own.water, &parameters));
    let offsets: Vec<f64> = z.iter().zip(&run).map(|(z, run)| z - run).collect();
    let slopes: Vec<Vec<f64>> = (0..parameters.len())
        .map(|at| means(&placed, |own| shape.slopes(own.kelvin, own.water, &parameters)[at]))
        .collect();
    let waters = (water == Water::Between).then(|| means(&placed, |own| own.water));
    let level = Level::of(&offsets, waters.as_deref(), &slopes)?;
    Some(Sources {
        shape,
        parameters,
        factor: last.factor,
        within_sd,
        within_df,
        level,
        confidence,
        converged,
    })
}

/// Where the points vary in water.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Water {
    /// Within at least one series: a term of the shape.
    Within,
    /// Only from series to series: a term of their levels.
    Between,
    /// Nowhere, or not every point has one.
    Nowhere,
}

impl Water {
    fn of(series: &[&Series]) -> Self {
        let spans: Option<Vec<(f64, f64)>> = series.iter().map(|own| own.waters()).collect();
        let Some(spans) = spans else { return Self::Nowhere };
        let low = spans.iter().map(|span| span.0).fold(f64::INFINITY, f64::min);
        let high = spans.iter().map(|span| span.1).fold(f64::NEG_INFINITY, f64::max);
        if spans.iter().any(|(low, high)| LEAST_WATER_SPAN <= high - low) {
            Self::Within
        } else if LEAST_WATER_SPAN <= high - low {
            Self::Between
        } else {
            Self::Nowhere
        }
    }
}

/// All points; `None` if one has no logarithm where it needs one.
fn placed(series: &[&Series], form: Form) -> Option<Vec<Placed>> {
    let place = |(at, own): (usize, &&Series)| -> Vec<Option<Placed>> {
        let point = |point: &super::PropertyPoint| {
            let z = if form == Form::Line { point.value } else { point.value.ln() };
            let water = point.water.map_or(0.0, |water| water.get());
            z.is_finite().then(|| Placed { series: at, kelvin: point.temperature.kelvin(), water, z })
        };
        own.points.iter().map(point).collect()
    };
    series.iter().enumerate().flat_map(place).collect()
}

/// The mean of each series.
fn means(placed: &[Placed], of: impl Fn(&Placed) -> f64) -> Vec<f64> {
    let count = placed.iter().map(|own| own.series + 1).max().unwrap_or_default();
    let mut sums = vec![(0.0, 0.0); count];
    for own in placed {
        sums[own.series].0 += of(own);
        sums[own.series].1 += 1.0;
    }
    sums.into_iter().map(|(sum, count)| sum / count).collect()
}

/// What each point has above the mean of its series.
fn centred(placed: &[Placed], of: impl Fn(&Placed) -> f64) -> Vec<f64> {
    let means = means(placed, &of);
    placed.iter().map(|own| of(own) - means[own.series]).collect()
}

/// The least squares of `y` on the centred columns.
fn solved(placed: &[Placed], columns: &[Vec<f64>], y: &[f64]) -> Option<LinearFit> {
    let rows: Vec<Vec<f64>> =
        (0..placed.len()).map(|at| columns.iter().map(|column| column[at]).collect()).collect();
    least_squares(&rows, y, &vec![1.0; placed.len()])
}

fn slope_columns(shape: Shape, placed: &[Placed], p: &[f64]) -> Vec<Vec<f64>> {
    let column = |at: usize| centred(placed, |own| shape.slopes(own.kelvin, own.water, p)[at]);
    (0..p.len()).map(column).collect()
}

fn rest(shape: Shape, placed: &[Placed], p: &[f64]) -> Vec<f64> {
    centred(placed, |own| own.z - shape.value(own.kelvin, own.water, p))
}

/// The parameters of the shape, the linear problem there, and whether it is a minimum: Gauss and Newton's steps, halved
/// until they help, from the best of a grid of T₀. A form that is linear in its parameters is there after one step.
fn searched(shape: Shape, placed: &[Placed]) -> Option<(Vec<f64>, LinearFit, bool)> {
    let mut p = start(shape, placed)?;
    let coldest = placed.iter().map(|own| own.kelvin).fold(f64::INFINITY, f64::min);
    let allowed = |p: &[f64]| shape.form != Form::Vft || p[1] < coldest;
    for _ in 0..STEPS {
        let rest_here = rest(shape, placed, &p);
        let here: f64 = rest_here.iter().map(|own| own * own).sum();
        let step = solved(placed, &slope_columns(shape, placed, &p), &rest_here)?;
        if here - step.rss <= ENOUGH * here {
            return Some((p, step, true));
        }
        let moved = |share: f64| -> Vec<f64> {
            p.iter().zip(&step.coefficients).map(|(own, step)| own + share * step).collect()
        };
        let better = (0..30)
            .map(|halving| moved(0.5f64.powi(halving)))
            .find(|p| allowed(p) && rest(shape, placed, p).iter().map(|own| own * own).sum::<f64>() < here);
        match better {
            Some(better) => p = better,
            // Rounding is all that is left.
            None => return Some((p, step, true)),
        }
    }
    let last = solved(placed, &slope_columns(shape, placed, &p), &rest(shape, placed, &p))?;
    Some((p, last, false))
}

fn start(shape: Shape, placed: &[Placed]) -> Option<Vec<f64>> {
    let z = centred(placed, |own| own.z);
    let linear = |t0: f64| {
        // The slopes of a form that is linear in a parameter don't depend on it: 0 stands for any value.
        let mut at: Vec<f64> = vec![0.0; shape.parameters().len()];
        if shape.form == Form::Vft {
            at[1] = t0;
        }
        let mut columns = slope_columns(shape, placed, &at);
        if shape.form == Form::Vft {
            columns.remove(1);
        }
        let fit = solved(placed, &columns, &z)?;
        let mut p = fit.coefficients;
        if shape.form == Form::Vft {
            p.insert(1, t0);
        }
        Some((fit.rss, p))
    };
    if shape.form != Form::Vft {
        return linear(0.0).map(|(_, p)| p);
    }
    let coldest = placed.iter().map(|own| own.kelvin).fold(f64::INFINITY, f64::min);
    let ratio = (BELOW.1 / BELOW.0).powf(1.0 / (TRIES - 1) as f64);
    let tries = (0..TRIES).filter_map(|step| linear(coldest - BELOW.0 * ratio.powi(step as i32)));
    tries.min_by(|one, other| one.0.total_cmp(&other.0)).map(|(_, p)| p)
}

impl Sources {
    /// True if water is a term of the shape or of the levels.
    pub(super) fn knows_water(&self) -> bool {
        self.shape.is_wet || self.level.is_wet()
    }

    /// What the levels differ by, beside their water if that is a term of them; NaN where nothing is left to tell it.
    pub(super) fn between_sd(&self) -> f64 {
        self.level.sd()
    }

    /// How many series there are.
    pub(super) fn count(&self) -> usize {
        self.level.count()
    }

    /// The parameters with the level as the first: the mean of the intercepts, or the geometric mean of the a.
    pub(super) fn estimates(&self) -> Vec<(&'static str, Estimate)> {
        let own = self.parameters.iter().enumerate().map(|(at, value)| {
            let sd = self.within_sd * self.factor.unit_sd(at);
            let reach = reach(&[Part { variance: sd * sd, df: self.within_df }], self.confidence);
            Estimate { value: *value, sd, interval: (value - reach, value + reach) }
        });
        let mut named = vec![(self.shape.form.parameters()[0], self.level_estimate())];
        named.extend(self.shape.parameters().into_iter().zip(own));
        named.extend(self.level.slope(self.confidence).map(|slope| ("k", slope)));
        named
    }

    fn level_estimate(&self) -> Estimate {
        // At no slope, which is 0 K of a line and endless heat of the others, without water.
        let none = vec![0.0; self.parameters.len()];
        let (value, parts) = self.level_at(0.0, &none);
        let sd = parts.iter().map(|part| part.variance).sum::<f64>().sqrt();
        let reach = reach(&parts, self.confidence);
        if self.shape.form == Form::Line {
            return Estimate { value, sd, interval: (value - reach, value + reach) };
        }
        let a = value.exp();
        Estimate { value: a, sd: a * sd, interval: ((value - reach).exp(), (value + reach).exp()) }
    }

    /// The level with the variance of the whole where the shape has these slopes.
    fn level_at(&self, water: f64, slopes: &[f64]) -> (f64, Vec<Part>) {
        let off: Vec<f64> =
            slopes.iter().zip(self.level.slopes(water)).map(|(own, mean)| own - mean).collect();
        let shape = self.within_sd * self.factor.unit_sd_of(&off);
        let parts = vec![self.level.part(water), Part { variance: shape * shape, df: self.within_df }];
        (self.level.value(water), parts)
    }

    /// The mean of the series on the scale of the fit, with the interval of that mean and of one further value of one
    /// further series.
    pub(super) fn band(&self, kelvin: f64, water: f64) -> Band {
        let slopes = self.shape.slopes(kelvin, water, &self.parameters);
        let (level, mut parts) = self.level_at(water, &slopes);
        let y = level + self.shape.value(kelvin, water, &self.parameters);
        let mean = reach(&parts, self.confidence);
        parts[0] = self.level.further(water);
        parts.push(Part { variance: self.within_sd * self.within_sd, df: self.within_df });
        let further = reach(&parts, self.confidence);
        Band { x: kelvin, y, mean: (y - mean, y + mean), further: (y - further, y + further) }
    }

    /// What speaks against the parameters.
    pub(super) fn doubts(&self) -> Vec<Doubt> {
        let mut doubts = Vec::new();
        if MOST_CONDITION < self.factor.condition {
            doubts.push(Doubt::Indistinct(self.factor.condition));
        }
        if self.within_df == 0 {
            doubts.push(Doubt::NothingLeft);
        }
        for (name, own) in self.estimates() {
            let holds_zero = own.interval.0 <= 0.0 && 0.0 <= own.interval.1;
            if matches!(name, "b" | "E") && holds_zero {
                doubts.push(Doubt::HoldsZero(name));
            }
        }
        if self.shape.form == Form::Vft && self.parameters[1] < 0.0 {
            doubts.push(Doubt::BelowZeroKelvin);
        }
        doubts
    }
}
