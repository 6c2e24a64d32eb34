//! Conductivity beside viscosity: Walden's product, and how far its rule holds.

use serde::{Deserialize, Serialize};

use super::series::Series;
use crate::quantity::{MassFraction, Temperature};
use crate::statistics::curve_fit::linear::least_squares;

/// Temperatures closer than this count as one.
const SAME_KELVIN: f64 = 0.05;

/// Both properties at one temperature.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct WaldenPoint {
    /// The temperature.
    pub temperature: Temperature,
    /// Water, if it is known of the conductivity.
    pub water: Option<MassFraction>,
    /// Conductivity in mS/cm.
    pub conductivity: f64,
    /// Viscosity in mPa·s.
    pub viscosity: f64,
}

/// What pairs of conductivity and viscosity come to.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Walden {
    /// The pairs in rising temperature.
    pub points: Vec<WaldenPoint>,
    /// The exponent α in κ ∝ η^−α, and its standard error: 1 where Walden's rule holds, less where charge and flow part
    /// (P. Walden, Z. Phys. Chem. 55 (1906) 207; the fractional rule: C. A. Angell and others, e.g. W. Xu, E. I.
    /// Cooper, C. A. Angell, J. Phys. Chem. B 107 (2003) 6170). `None` below three pairs.
    pub exponent: Option<(f64, f64)>,
}

impl WaldenPoint {
    /// κ η in mS/cm · mPa·s. The molar product Λ η is this over the concentration of charge, which needs a density and
    /// a choice of what carries it; over a small range of temperature both run alike.
    pub fn product(&self) -> f64 {
        self.conductivity * self.viscosity
    }
}

/// Pairs what was measured at one temperature.
pub fn walden(conductivity: &Series, viscosity: &Series) -> Walden {
    let near = |kelvin: f64| {
        let distance = |point: &&super::PropertyPoint| (point.temperature.kelvin() - kelvin).abs();
        let nearest = viscosity.points.iter().min_by(|one, other| distance(one).total_cmp(&distance(other)));
        nearest.filter(|point| distance(point) <= SAME_KELVIN)
    };
    let pair = |point: &super::PropertyPoint| {
        let other = near(point.temperature.kelvin())?;
        let both = 0.0 < point.value && 0.0 < other.value;
        both.then_some(WaldenPoint {
            temperature: point.temperature,
            water: point.water,
            conductivity: point.value,
            viscosity: other.value,
        })
    };
    let mut points: Vec<WaldenPoint> = conductivity.points.iter().filter_map(pair).collect();
    points.sort_by(|one, other| one.temperature.kelvin().total_cmp(&other.temperature.kelvin()));
    let exponent = exponent(&points);
    Walden { points, exponent }
}

/// The slope of ln κ against −ln η.
fn exponent(points: &[WaldenPoint]) -> Option<(f64, f64)> {
    if points.len() < 3 {
        return None;
    }
    let rows: Vec<Vec<f64>> = points.iter().map(|point| vec![1.0, -point.viscosity.ln()]).collect();
    let y: Vec<f64> = points.iter().map(|point| point.conductivity.ln()).collect();
    let fit = least_squares(&rows, &y, &vec![1.0; points.len()])?;
    Some((fit.coefficients[1], fit.sds()[1]))
}
