//! The fusion of one solid: what its Gibbs energy of melting is at any temperature.

use serde::{Deserialize, Serialize};

use crate::quantity::{MolarEnthalpy, MolarHeatCapacity, Temperature};
use crate::statistics::curve_fit::GAS_CONSTANT;

/// How a solid melts into its own liquid, per mole of its formula.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Fusion {
    /// Melting point.
    pub melting: Temperature,
    /// Its standard uncertainty in kelvin, where one is stated.
    pub melting_u_k: Option<f64>,
    /// Enthalpy of fusion at the melting point.
    pub enthalpy: MolarEnthalpy,
    /// Its standard uncertainty, where one is stated.
    pub enthalpy_u: Option<MolarEnthalpy>,
    /// Heat capacity of the liquid less that of the solid, taken as constant; zero where none is given.
    pub heat_capacity: MolarHeatCapacity,
    /// Transitions between solids below the melting point, each with its enthalpy on heating.
    pub transitions: Vec<SolidTransition>,
}

/// A transition from one solid into another on heating.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct SolidTransition {
    /// Its temperature.
    pub at: Temperature,
    /// Its enthalpy, taken up on heating.
    pub enthalpy: MolarEnthalpy,
}

impl Fusion {
    /// A melting point and an enthalpy, nothing else known.
    pub fn new(melting: Temperature, enthalpy: MolarEnthalpy) -> Self {
        Self {
            melting,
            melting_u_k: None,
            enthalpy,
            enthalpy_u: None,
            heat_capacity: MolarHeatCapacity::ZERO,
            transitions: Vec::new(),
        }
    }

    /// Gibbs energy of melting at a temperature in kelvin, J/mol: 0 at the melting point, above 0 below it.
    ///
    /// ΔH (1 − T/Tm) − ΔCp (Tm − T − T ln(Tm/T)) + Σ ΔHtr (1 − T/Ttr) over the transitions above T (Prausnitz,
    /// Lichtenthaler, de Azevedo 1999, eq. 11-13; for transitions P. B. Choi and E. McLaughlin, AIChE J. 29 (1983)
    /// 150). Below a transition the solid that is stable there is harder to melt by what the transition takes.
    pub fn gibbs(&self, kelvin: f64) -> f64 {
        let melting = self.melting.kelvin();
        let bent = match self.heat_capacity.get() {
            0.0 => 0.0,
            capacity => capacity * (melting - kelvin - kelvin * (melting / kelvin).ln()),
        };
        let passed: f64 = self
            .transitions_above(kelvin)
            .map(|transition| transition.enthalpy.get() * (1.0 - kelvin / transition.at.kelvin()))
            .sum();
        self.enthalpy.get() * (1.0 - kelvin / melting) - bent + passed
    }

    /// Its change per kelvin: −ΔS of melting.
    pub(super) fn gibbs_slope(&self, kelvin: f64) -> f64 {
        let melting = self.melting.kelvin();
        let bent = match self.heat_capacity.get() {
            0.0 => 0.0,
            capacity => -capacity * (melting / kelvin).ln(),
        };
        let passed: f64 = self
            .transitions_above(kelvin)
            .map(|transition| -transition.enthalpy.get() / transition.at.kelvin())
            .sum();
        -self.enthalpy.get() / melting - bent + passed
    }

    /// Enthalpy of melting at a temperature in kelvin, J/mol. Where it is not above 0 the heat-capacity term has
    /// been stretched beyond all meaning.
    pub fn enthalpy_at(&self, kelvin: f64) -> f64 {
        let passed: f64 = self.transitions_above(kelvin).map(|transition| transition.enthalpy.get()).sum();
        self.enthalpy.get() - self.heat_capacity.get() * (self.melting.kelvin() - kelvin) + passed
    }

    /// The temperature in kelvin at which, on the way down from the melting point, the enthalpy of melting falls to 0:
    /// there the heat-capacity term ends to mean anything, and the solid's curve ends. `None` if it never does.
    ///
    /// Without a transition Tm − ΔH/ΔCp.
    pub fn ends_at(&self) -> Option<f64> {
        let capacity = self.heat_capacity.get();
        if capacity <= 0.0 {
            return None;
        }
        let (mut top, mut enthalpy) = (self.melting.kelvin(), self.enthalpy.get());
        let mut below: Vec<&SolidTransition> = self.transitions_above(0.0).collect();
        below.sort_by(|one, other| other.at.kelvin().total_cmp(&one.at.kelvin()));
        for transition in below {
            let at = transition.at.kelvin();
            if at <= top - enthalpy / capacity {
                break;
            }
            enthalpy += transition.enthalpy.get() - capacity * (top - at);
            top = at;
        }
        Some(top - enthalpy / capacity).filter(|end| 0.0 < *end)
    }

    /// True if the enthalpy of melting is above 0 all the way from the melting point to a temperature in kelvin.
    pub fn reaches(&self, kelvin: f64) -> bool {
        self.ends_at().is_none_or(|end| end < kelvin)
    }

    /// Activity of the solid against its own liquid at a temperature in kelvin: the mole fraction at which an ideal
    /// liquid is saturated with it.
    pub fn activity(&self, kelvin: f64) -> f64 {
        (-self.gibbs(kelvin) / (GAS_CONSTANT * kelvin)).exp()
    }

    fn transitions_above(&self, kelvin: f64) -> impl Iterator<Item = &SolidTransition> {
        self.transitions.iter().filter(move |transition| kelvin < transition.at.kelvin())
    }

    /// True if anything about it has a stated uncertainty.
    pub fn is_uncertain(&self) -> bool {
        self.melting_u_k.is_some() || self.enthalpy_u.is_some()
    }
}
