//! Conductivity beside viscosity: Walden's product, molar where a density is known, and how far his rule holds.

use serde::{Deserialize, Serialize};

use super::fit::{PropertyCurve, fit_series};
use super::series::Series;
use crate::quantity::{MassFraction, Temperature};
use crate::statistics::curve_fit::Form;
use crate::statistics::curve_fit::linear::least_squares;

/// Temperatures closer than this count as one.
const SAME_KELVIN: f64 = 0.05;

/// Λ η of potassium chloride, 0.01 mol/L in water at 25 °C, in S cm²/mol · mPa·s: 141.3 S cm²/mol (the conductivity of
/// 0.01 mol/kg is 1408.23 µS/cm, K. W. Pratt and others, Pure Appl. Chem. 73 (2001) 1783) times 0.890 mPa·s of water
/// (from memory). The ideal line goes through this point with a slope of 1, which is common practice (after W. Xu,
/// E. I. Cooper, C. A. Angell, J. Phys. Chem. B 107 (2003) 6170). Some draw it through log Λ = log(1/η) in poise, 0.10
/// decades lower.
pub const IDEAL_PRODUCT: f64 = 141.3 * 0.890;

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
    /// Density in g/mL, where one is known at this temperature.
    pub density: Option<f64>,
    /// Molar conductivity Λ in S cm²/mol, where a density is known and how much of the liquid holds a mole of salt.
    pub molar: Option<f64>,
}

/// What makes molar conductivities of conductivities.
#[derive(Debug, Clone, PartialEq)]
pub struct MolarBasis {
    /// Densities in g/mL.
    pub density: Series,
    /// Grams of the liquid that hold one mole of the salt.
    pub grams_per_mole: f64,
    /// True if that mass leaves out the water of each point.
    pub is_dry: bool,
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
    /// The same of Λ ∝ η^−α, which is the rule itself; `None` below three pairs with a density.
    pub molar_exponent: Option<(f64, f64)>,
}

impl WaldenPoint {
    /// κ η in mS/cm · mPa·s. The molar product Λ η is this over the concentration of charge; over a small range of
    /// temperature both run nearly alike.
    pub fn product(&self) -> f64 {
        self.conductivity * self.viscosity
    }

    /// Λ η in S cm²/mol · mPa·s.
    pub fn molar_product(&self) -> Option<f64> {
        self.molar.map(|molar| molar * self.viscosity)
    }

    /// Λ η over that of the ideal line: 1 on it, below 1 under it. Often read as the share of ions that carry charge,
    /// which it only is if nothing but pairing keeps ions from it.
    pub fn beside_ideal(&self) -> Option<f64> {
        self.molar_product().map(|product| product / IDEAL_PRODUCT)
    }
}

impl MolarBasis {
    /// Λ in S cm²/mol: κ over the concentration of salt, c = ρ/m with m grams of liquid for each mole of it. With κ in
    /// mS/cm and ρ in g/cm³, Λ = 10⁻³ κ m/ρ.
    fn molar(&self, conductivity: f64, density: f64, water: Option<MassFraction>) -> f64 {
        let wet = water.filter(|_| self.is_dry).map_or(0.0, MassFraction::get);
        1e-3 * conductivity * self.grams_per_mole / (1.0 - wet) / density
    }
}

/// Pairs what was measured at one temperature.
pub fn walden(conductivity: &Series, viscosity: &Series, basis: Option<&MolarBasis>) -> Walden {
    let line = basis.and_then(|basis| fit_series(&basis.density, Form::Line, 0.95).ok());
    let pair = |point: &super::PropertyPoint| {
        let kelvin = point.temperature.kelvin();
        let viscosity = near(viscosity, kelvin)?;
        let density = basis.and_then(|basis| density_at(&basis.density, line.as_ref(), kelvin, point.water));
        let molar = basis.zip(density).map(|(own, density)| own.molar(point.value, density, point.water));
        let both = 0.0 < point.value && 0.0 < viscosity;
        both.then_some(WaldenPoint {
            temperature: point.temperature,
            water: point.water,
            conductivity: point.value,
            viscosity,
            density,
            molar,
        })
    };
    let mut points: Vec<WaldenPoint> = conductivity.points.iter().filter_map(pair).collect();
    points.sort_by(|one, other| one.temperature.kelvin().total_cmp(&other.temperature.kelvin()));
    let exponent = exponent(&points, |point| Some(point.conductivity));
    let molar_exponent = self::exponent(&points, |point| point.molar);
    Walden { points, exponent, molar_exponent }
}

/// The value at this temperature.
fn near(series: &Series, kelvin: f64) -> Option<f64> {
    let distance = |point: &&super::PropertyPoint| (point.temperature.kelvin() - kelvin).abs();
    let nearest = series.points.iter().min_by(|one, other| distance(one).total_cmp(&distance(other)));
    nearest.filter(|point| distance(point) <= SAME_KELVIN).map(|point| point.value)
}

/// The density measured at a temperature, else that of the line through the densities where they reach there.
fn density_at(
    series: &Series,
    line: Option<&PropertyCurve>,
    kelvin: f64,
    water: Option<MassFraction>,
) -> Option<f64> {
    let water = water.map(MassFraction::get);
    let of_line = || {
        let line = line.filter(|line| line.identifiable && line.beyond(kelvin, None).is_none())?;
        Some(line.band(kelvin, water).y)
    };
    near(series, kelvin).or_else(of_line).filter(|density| 0.0 < *density)
}

/// The slope of the logarithm of a conductivity against −ln η.
fn exponent(points: &[WaldenPoint], of: impl Fn(&WaldenPoint) -> Option<f64>) -> Option<(f64, f64)> {
    let known: Vec<(f64, f64)> = points.iter().filter_map(|own| Some((own.viscosity, of(own)?))).collect();
    if known.len() < 3 {
        return None;
    }
    let rows: Vec<Vec<f64>> = known.iter().map(|(viscosity, _)| vec![1.0, -viscosity.ln()]).collect();
    let y: Vec<f64> = known.iter().map(|(_, conductivity)| conductivity.ln()).collect();
    let fit = least_squares(&rows, &y, &vec![1.0; known.len()])?;
    Some((fit.coefficients[1], fit.sds()[1]))
}
