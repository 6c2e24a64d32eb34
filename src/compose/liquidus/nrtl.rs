//! The non-random two-liquid model.

use serde::{Deserialize, Serialize};

use crate::statistics::curve_fit::GAS_CONSTANT;

/// The non-random two-liquid model for any number of components (H. Renon, J. M. Prausnitz, AIChE J. 14 (1968)
/// 135).
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Nrtl {
    /// Number of components.
    components: usize,
    /// gᵢⱼ − gⱼⱼ in J/mol, row by row; 0 on the diagonal.
    energies: Vec<f64>,
    /// αᵢⱼ = αⱼᵢ, row by row.
    alphas: Vec<f64>,
}

/// More components than this are never asked for.
const MOST: usize = 3;
/// Step in kelvin for the slope.
const STEP: f64 = 0.01;

impl Nrtl {
    /// A model in which nothing interacts yet; at most three components.
    pub fn new(components: usize) -> Self {
        let components = components.min(MOST);
        Self {
            components,
            energies: vec![0.0; components * components],
            alphas: vec![0.3; components * components],
        }
    }

    /// The same with one pair: g₁₂ − g₂₂ and g₂₁ − g₁₁ in J/mol, and its non-randomness.
    pub fn with(mut self, (first, second): (usize, usize), g12: f64, g21: f64, alpha: f64) -> Self {
        let at = |one: usize, other: usize| one * self.components + other;
        self.energies[at(first, second)] = g12;
        self.energies[at(second, first)] = g21;
        self.alphas[at(first, second)] = alpha;
        self.alphas[at(second, first)] = alpha;
        self
    }

    /// ln γ of a component at a temperature in kelvin:
    ///
    /// ln γᵢ = Σⱼ xⱼ τⱼᵢ Gⱼᵢ / Σₖ xₖ Gₖᵢ + Σⱼ xⱼ Gᵢⱼ / Σₖ xₖ Gₖⱼ · (τᵢⱼ − Σₘ xₘ τₘⱼ Gₘⱼ / Σₖ xₖ Gₖⱼ),
    /// τᵢⱼ = (gᵢⱼ − gⱼⱼ)/RT, Gᵢⱼ = exp(−αᵢⱼ τᵢⱼ).
    pub fn ln_gamma(&self, x: &[f64], kelvin: f64, component: usize) -> f64 {
        let n = self.components;
        let tau = |i: usize, j: usize| self.energies[i * n + j] / (GAS_CONSTANT * kelvin);
        let g = |i: usize, j: usize| (-self.alphas[i * n + j] * tau(i, j)).exp();
        // Σₖ xₖ Gₖⱼ and the mean of τ about each j.
        let (mut below, mut mean) = ([0.0; MOST], [0.0; MOST]);
        for j in 0..n {
            for (k, share) in x.iter().enumerate().take(n) {
                below[j] += share * g(k, j);
                mean[j] += share * tau(k, j) * g(k, j);
            }
            mean[j] /= below[j];
        }
        let others = (0..n).map(|j| x[j] * g(component, j) / below[j] * (tau(component, j) - mean[j]));
        mean[component] + others.sum::<f64>()
    }

    /// R T ln γ of a component, J/mol, and its change per kelvin.
    pub(super) fn excess(&self, x: &[f64], kelvin: f64, component: usize) -> (f64, f64) {
        let at = |kelvin: f64| GAS_CONSTANT * kelvin * self.ln_gamma(x, kelvin, component);
        (at(kelvin), (at(kelvin + STEP) - at(kelvin - STEP)) / (2.0 * STEP))
    }
}
