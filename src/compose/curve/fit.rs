//! A law of temperature through the points of a series, with a term for water where the points can tell one.

use super::series::{PropertyPoint, Series};
use super::sources::{LEAST_WATER_SPAN, Sources, of_sources};
use crate::statistics::curve_fit::{
    Band, Curve, Doubt, Dual, Estimate, Fit, FitError, Form, Inference, Points, Scale, fit, minimum,
};

/// Above this condition of the scaled slopes the points can't tell the parameters.
const MOST_CONDITION: f64 = 1e9;

/// A fitted law.
///
/// A line for densities: y = a + b T (+ k w). Vogel, Fulcher and Tammann, or Arrhenius, on ln y for what changes by
/// factors: ln y = ln a + b/(T − T₀) (+ k w), so that errors are relative ones; w is the mass fraction of water. That
/// the effect of water is linear is an approximation for little water.
#[derive(Debug, Clone, PartialEq)]
pub struct PropertyCurve {
    /// The law.
    pub form: Form,
    /// Names, estimates and units of the parameters.
    pub parameters: Vec<(&'static str, Estimate)>,
    /// Number of points.
    pub count: usize,
    /// Points less parameters, levels of series among them.
    pub df: usize,
    /// Residual standard deviation: in the property's unit for a line, else of ln y.
    pub residual_sd: f64,
    /// True if a minimum was reached and the points can tell the parameters.
    pub identifiable: bool,
    /// What speaks against the parameters.
    pub doubts: Vec<Doubt>,
    /// Coldest and warmest point, in kelvin.
    pub kelvins: (f64, f64),
    /// Least and most water as a mass fraction, where every point has one.
    pub waters: Option<(f64, f64)>,
    /// How several series go together; `None` for one.
    pub joining: Option<Joining>,
    law: Law,
}

/// How several series of one liquid are one curve.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Joining {
    /// One shape for all, a level for each: the curve is the mean of the levels.
    Levels {
        /// How many series there are.
        count: usize,
        /// The standard deviation of their levels, on the scale of the fit; NaN where nothing is left to tell it.
        sd: f64,
    },
    /// All points as if they were of one hand, since no series tells the shape by itself: what series differ by passes for an
    /// effect of temperature.
    Heap,
}

#[derive(Debug, Clone, PartialEq)]
enum Law {
    /// Of temperature alone.
    Plain(Box<Fit>),
    /// With water.
    Wet(Box<Inference>),
    /// Of several series.
    Sources(Box<Sources>),
}

/// How far a place lies outside of the points.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Beyond {
    /// Kelvins below the coldest (negative) or above the warmest point; 0 inside.
    pub kelvin: f64,
    /// Water, as a mass fraction, below (negative) or above that of the points; 0 inside, NaN where points don't say.
    pub water: f64,
}

/// Why there is no curve.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum CurveRefusal {
    /// As the fit says.
    #[error(transparent)]
    Fit(FitError),
    /// A point is no finite number.
    #[error("a point is not a finite number")]
    NotFinite,
}

/// Fits a law to a series; intervals have this confidence. Water becomes a term where every point has it, it varies,
/// and a degree of freedom is left.
///
/// # Errors
/// If there are fewer different temperatures than parameters, or a value has no logarithm.
pub fn fit_series(series: &Series, form: Form, confidence: f64) -> Result<PropertyCurve, CurveRefusal> {
    let column = |of: fn(&PropertyPoint) -> f64| series.points.iter().map(of).collect::<Vec<f64>>();
    let kelvins = column(|point| point.temperature.kelvin());
    let points = Points::new(kelvins, column(|point| point.value)).map_err(|_| CurveRefusal::NotFinite)?;
    let scale = if form == Form::Line { Scale::Plain } else { Scale::Logarithmic };
    let base = fit(form, scale, &points, confidence).map_err(CurveRefusal::Fit)?;
    let waters = series.waters();
    let varies = waters.is_some_and(|(low, high)| LEAST_WATER_SPAN <= high - low);
    if varies && form.parameters().len() + 1 < points.len() {
        return Ok(wet(series, &base, &points, confidence));
    }
    Ok(PropertyCurve {
        form,
        parameters: form.parameters().iter().copied().zip(base.inference.estimates.iter().copied()).collect(),
        count: points.len(),
        df: base.inference.df,
        residual_sd: base.inference.residual_sd,
        identifiable: base.is_identifiable(),
        doubts: base.doubts.clone(),
        kelvins: series.kelvins(),
        waters,
        joining: None,
        law: Law::Plain(Box::new(base)),
    })
}

/// Fits one law to several series of one liquid: its shape from within them, its level the mean of theirs, its band by
/// what they differ by. Where no series tells the shape, all points are one heap and [`Joining::Heap`] says so.
///
/// # Errors
/// As for [`fit_series`].
pub fn fit_together(series: &[&Series], form: Form, confidence: f64) -> Result<PropertyCurve, CurveRefusal> {
    let filled: Vec<&Series> = series.iter().copied().filter(|own| !own.points.is_empty()).collect();
    let all = Series::together("", filled.iter().copied());
    if all.points.iter().any(|own| !(own.value.is_finite() && own.temperature.kelvin().is_finite())) {
        return Err(CurveRefusal::NotFinite);
    }
    let joined = of_sources(&filled, form, confidence).map(|own| joined(&all, form, own));
    match joined.filter(|own| own.identifiable) {
        Some(joined) => Ok(joined),
        None => Ok(PropertyCurve { joining: Some(Joining::Heap), ..fit_series(&all, form, confidence)? }),
    }
}

fn joined(all: &Series, form: Form, own: Sources) -> PropertyCurve {
    let doubts = own.doubts();
    PropertyCurve {
        form,
        parameters: own.estimates(),
        count: all.points.len(),
        df: own.within_df,
        residual_sd: own.within_sd,
        identifiable: own.converged && !doubts.iter().any(Doubt::is_fatal),
        doubts,
        kelvins: all.kelvins(),
        waters: all.waters(),
        joining: Some(Joining::Levels { count: own.count(), sd: own.between_sd() }),
        law: Law::Sources(Box::new(own)),
    }
}

/// The law with water at one place, on the scale of the fit.
fn with_water(form: Form, kelvin: f64, water: f64, p: &[Dual]) -> Dual {
    let (own, slope) = p.split_at(form.parameters().len());
    let dry = form.at(kelvin, own);
    let dry = if form == Form::Line { dry } else { dry.ln() };
    slope.first().map_or(dry, |slope| dry + *slope * water)
}

fn wet(series: &Series, base: &Fit, points: &Points, confidence: f64) -> PropertyCurve {
    let form = base.form;
    let place = |at: f64| series.points[at as usize];
    let water = |point: PropertyPoint| point.water.map_or(f64::NAN, |water| water.get());
    // The search knows one abscissa: the number of the point stands for both of its own.
    let numbers: Vec<f64> = (0..points.len()).map(|at| at as f64).collect();
    let values =
        if form == Form::Line { points.y.clone() } else { points.y.iter().map(|y| y.ln()).collect() };
    let numbered = Points { x: numbers, y: values, ..points.clone() };
    let curve = |at: f64, p: &[Dual]| {
        let point = place(at);
        with_water(form, point.temperature.kelvin(), water(point), p)
    };
    let start: Vec<f64> = base.inference.estimates.iter().map(|own| own.value).chain([0.0]).collect();
    let found = minimum(&curve, &numbered, &start);
    let inference = Inference::of(&found, &numbered, confidence);
    let names = form.parameters().iter().copied().chain(["k"]);
    PropertyCurve {
        form,
        parameters: names.zip(inference.estimates.iter().copied()).collect(),
        count: points.len(),
        df: inference.df,
        residual_sd: inference.residual_sd,
        identifiable: found.converged && inference.condition() < MOST_CONDITION,
        doubts: Vec::new(),
        kelvins: series.kelvins(),
        waters: series.waters(),
        joining: None,
        law: Law::Wet(Box::new(inference)),
    }
}

impl PropertyCurve {
    /// True if water is a term of it.
    pub fn knows_water(&self) -> bool {
        match &self.law {
            Law::Plain(_) => false,
            Law::Wet(_) => true,
            Law::Sources(own) => own.knows_water(),
        }
    }

    /// The water at which the curve stands where none is asked for: the middle of the points'. `None` without a term for it.
    pub fn middle_water(&self) -> Option<f64> {
        self.waters.filter(|_| self.knows_water()).map(|(low, high)| (low + high) / 2.0)
    }

    /// The curve with its bands at a temperature in kelvin and a mass fraction of water; without one, at the middle of
    /// the points' water.
    pub fn band(&self, kelvin: f64, water: Option<f64>) -> Band {
        let water = water.or(self.middle_water()).unwrap_or_default();
        let mut band = match &self.law {
            Law::Plain(fit) => return fit.band(kelvin),
            Law::Wet(inference) => {
                let curve: Box<Curve<'_>> = Box::new(move |_, p| with_water(self.form, kelvin, water, p));
                inference.band(&curve, kelvin)
            }
            Law::Sources(own) => own.band(kelvin, water),
        };
        if self.form != Form::Line {
            let back = |(low, high): (f64, f64)| (low.exp(), high.exp());
            (band.y, band.mean, band.further) = (band.y.exp(), back(band.mean), back(band.further));
        }
        band
    }

    /// How far a place lies outside of the points; `None` inside.
    pub fn beyond(&self, kelvin: f64, water: Option<f64>) -> Option<Beyond> {
        let outside = |value: f64, (low, high): (f64, f64)| {
            if value < low {
                value - low
            } else if high < value {
                value - high
            } else {
                0.0
            }
        };
        // A hair of rounding is no extrapolation.
        let kelvins = (self.kelvins.0 - 1e-6, self.kelvins.1 + 1e-6);
        let kelvin = outside(kelvin, kelvins);
        let water = match (water, self.waters) {
            (None, _) => 0.0,
            (Some(_), None) => f64::NAN,
            (Some(water), Some((low, high))) => outside(water, (low - 1e-6, high + 1e-6)),
        };
        (kelvin != 0.0 || water != 0.0).then_some(Beyond { kelvin, water })
    }
}
