//! Systems drawn at random from the uncertainty of their data.

use std::f64::consts::TAU;

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng as _, SeedableRng as _};
use serde::{Deserialize, Serialize};

use super::model::{ActivityModel, PairModel};
use super::system::System;
use crate::quantity::{MolarEnthalpy, Temperature};

/// The uncertainty of the parameters of models.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct ModelSpread {
    /// The models of the pairs at their most likely parameters.
    pub pairs: Vec<PairModel>,
    /// For each pair, a lower triangular matrix L, row by row: its parameters scatter as L z with z standard normal
    /// (L Lᵀ is their covariance). Empty for a pair whose parameters are taken as known.
    pub roots: Vec<Vec<f64>>,
}

/// A source of systems: what is stated as uncertain is drawn from normal distributions, independently but for the
/// parameters of one fit; the rest stays. ChaCha with eight rounds, so that a seed gives the same on any machine.
pub struct Draws<'s> {
    system: &'s System,
    spread: &'s ModelSpread,
    random: ChaCha8Rng,
    spare: Option<f64>,
}

/// How often a draw below zero is thrown away before the middle is taken.
const TRIES: usize = 100;

impl<'s> Draws<'s> {
    /// From a seed.
    pub fn new(system: &'s System, spread: &'s ModelSpread, seed: u64) -> Self {
        Self { system, spread, random: ChaCha8Rng::seed_from_u64(seed), spare: None }
    }

    /// The next system.
    pub fn next_system(&mut self) -> System {
        let mut drawn = self.system.clone();
        for solid in &mut drawn.solids {
            let fusion = &mut solid.fusion;
            let melting = self.positive(fusion.melting.kelvin(), fusion.melting_u_k);
            let enthalpy = self.positive(fusion.enthalpy.get(), fusion.enthalpy_u.map(MolarEnthalpy::get));
            fusion.melting = Temperature::from_kelvin(melting);
            fusion.enthalpy = MolarEnthalpy::new(enthalpy);
        }
        if self.spread.roots.iter().any(|root| !root.is_empty()) {
            drawn.model = self.model(drawn.components.len());
        }
        drawn
    }

    fn model(&mut self, components: usize) -> ActivityModel {
        let mut pairs = self.spread.pairs.clone();
        for (pair, root) in pairs.iter_mut().zip(&self.spread.roots) {
            let count = pair.parameters.len();
            if root.len() != count * count {
                continue;
            }
            let z: Vec<f64> = (0..count).map(|_| self.normal()).collect();
            for (row, parameter) in pair.parameters.iter_mut().enumerate() {
                *parameter += (0..=row).map(|column| root[row * count + column] * z[column]).sum::<f64>();
            }
        }
        ActivityModel::of(components, &pairs)
    }

    /// A value above 0: of a distribution that reaches below, what is above.
    fn positive(&mut self, middle: f64, sd: Option<f64>) -> f64 {
        let Some(sd) = sd else { return middle };
        let drawn = (0..TRIES).map(|_| middle + sd * self.normal()).find(|value| 0.0 < *value);
        drawn.unwrap_or(middle)
    }

    /// A standard normal number (G. E. P. Box, M. E. Muller, Ann. Math. Stat. 29 (1958) 610); they come in pairs.
    fn normal(&mut self) -> f64 {
        if let Some(spare) = self.spare.take() {
            return spare;
        }
        // 53 bits from above 0 to 1, so that the logarithm is finite.
        let mut uniform = || ((self.random.next_u64() >> 11) + 1) as f64 / (1_u64 << 53) as f64;
        let (radius, angle) = ((-2.0 * uniform().ln()).sqrt(), TAU * uniform());
        self.spare = Some(radius * angle.sin());
        radius * angle.cos()
    }
}

impl ModelSpread {
    /// Parameters that are all taken as known.
    pub fn none(pairs: Vec<PairModel>) -> Self {
        let roots = vec![Vec::new(); pairs.len()];
        Self { pairs, roots }
    }

    /// True if any parameter is uncertain.
    pub fn is_uncertain(&self) -> bool {
        self.roots.iter().any(|root| root.iter().any(|value| *value != 0.0))
    }
}
