//! Excess Gibbs energies that are polynomials of the composition, pair by pair.

use serde::{Deserialize, Serialize};

/// The terms of one pair after Redlich and Kister: x₁ x₂ Σ Aₖ (x₁ − x₂)ᵏ.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PairTerms {
    /// Place of the one component.
    pub first: usize,
    /// Place of the other.
    pub second: usize,
    /// A₀, A₁ and so on, in J/mol, independent of temperature.
    pub coefficients: Vec<f64>,
}

/// The excess Gibbs energy as the sum over all pairs, without terms of three components (O. Redlich, A. T. Kister,
/// Ind. Eng. Chem. 40 (1948) 345). It does not depend on temperature, so the excess is all enthalpy.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Pairs {
    /// Each pair once; one that is missing is ideal.
    pub pairs: Vec<PairTerms>,
}

impl PairTerms {
    /// Two-suffix Margules: A x₁ x₂ (Prausnitz, Lichtenthaler, de Azevedo 1999, eq. 6-46).
    pub fn two_suffix(first: usize, second: usize, a: f64) -> Self {
        Self { first, second, coefficients: vec![a] }
    }

    /// Three-suffix Margules: x₁ x₂ (A₂₁ x₁ + A₁₂ x₂), so that A₁₂ is R T ln γ₁ at infinite dilution (J. M. Smith,
    /// H. C. Van Ness, M. M. Abbott, Introduction to Chemical Engineering Thermodynamics, 7th ed. 2005, eq. 12.9). The
    /// same as two terms of Redlich and Kister: A₀ = (A₁₂ + A₂₁)/2, A₁ = (A₂₁ − A₁₂)/2.
    pub fn three_suffix(first: usize, second: usize, a12: f64, a21: f64) -> Self {
        Self { first, second, coefficients: vec![(a12 + a21) / 2.0, (a21 - a12) / 2.0] }
    }

    /// Σ Aₖ dᵏ and its derivative by d.
    fn sums(&self, d: f64) -> (f64, f64) {
        // Horner's rule, for the sum and its slope together.
        self.coefficients.iter().rev().fold((0.0, 0.0), |(sum, slope), a| (sum * d + a, slope * d + sum))
    }

    /// R T ln γ of a component by this pair.
    ///
    /// The partial molar quantity of x₁ x₂ S(d), d = x₁ − x₂, by ∂G/∂x − Σ x ∂G/∂x + G, in which the fractions are
    /// taken as independent.
    fn excess(&self, x: &[f64], component: usize) -> f64 {
        let (one, two) = (x[self.first], x[self.second]);
        let d = one - two;
        let (sum, slope) = self.sums(d);
        let all = one * two * (sum + d * slope);
        if component == self.first {
            two * sum + one * two * slope - all
        } else if component == self.second {
            one * sum - one * two * slope - all
        } else {
            -all
        }
    }
}

impl Pairs {
    /// R T ln γ of a component, J/mol.
    pub fn excess(&self, x: &[f64], component: usize) -> f64 {
        self.pairs.iter().map(|pair| pair.excess(x, component)).sum()
    }
}
