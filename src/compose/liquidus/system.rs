//! A liquid with the solids that can come out of it, and where each of them begins to.

use serde::{Deserialize, Serialize};

use super::fusion::Fusion;
use super::model::{ActivityModel, PairModel};
use crate::statistics::curve_fit::GAS_CONSTANT;
use crate::statistics::root;

/// A solid of fixed composition.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Solid {
    /// What it is called.
    pub name: String,
    /// Moles of each component in one mole of it.
    pub formula: Vec<f64>,
    /// How it melts into a liquid of its own composition, per mole of that formula.
    pub fusion: Fusion,
    /// Mole fractions of its components.
    own: Vec<f64>,
}

/// A liquid of some components, its solids and its activity model.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct System {
    /// The ids of the components.
    pub components: Vec<String>,
    /// The solids: that of each component in their order, then compounds.
    pub solids: Vec<Solid>,
    /// The liquid.
    pub model: ActivityModel,
}

/// Most steps of Newton's method.
const STEPS: usize = 60;
/// Steps of the search that follows where Newton's method fails.
const SCAN: usize = 400;
/// No model is followed below this.
const COLDEST: f64 = 1.0;

impl Solid {
    /// The solid of one component.
    pub fn pure(name: impl Into<String>, component: usize, of: usize, fusion: Fusion) -> Self {
        let formula = (0..of).map(|at| if at == component { 1.0 } else { 0.0 }).collect();
        Self::compound(name, formula, fusion)
    }

    /// A compound: how many moles of each component are in one mole of it.
    pub fn compound(name: impl Into<String>, formula: Vec<f64>, fusion: Fusion) -> Self {
        let total: f64 = formula.iter().sum();
        let own = formula.iter().map(|moles| moles / total).collect();
        Self { name: name.into(), formula, fusion, own }
    }

    /// Mole fractions of its components.
    pub fn fractions(&self) -> &[f64] {
        &self.own
    }

    /// True if it is made of more than one component.
    pub fn is_compound(&self) -> bool {
        1 < self.formula.iter().filter(|moles| 0.0 < **moles).count()
    }
}

impl System {
    /// How far a liquid is from being saturated with a solid, J/mol of solid, and its change per kelvin: below 0 the
    /// solid dissolves, above 0 it comes out.
    ///
    /// Σ ν R T ln(x γ) − Σ ν R T ln(x* γ*) + ΔG of fusion, in which the star stands for the liquid of the solid's own
    /// composition at the same temperature; for a pure solid that term is 0. For a compound ΔG of fusion is that into
    /// this liquid (after I. Prigogine, R. Defay, Chemical Thermodynamics, 1954, chapter 23).
    pub(super) fn excess_of(&self, solid: usize, x: &[f64], kelvin: f64) -> (f64, f64) {
        let solid = &self.solids[solid];
        let (mut value, mut slope) = (solid.fusion.gibbs(kelvin), solid.fusion.gibbs_slope(kelvin));
        for (component, moles) in solid.formula.iter().enumerate() {
            if *moles == 0.0 {
                continue;
            }
            let own = solid.own[component];
            let share = moles * GAS_CONSTANT * (x[component] / own).ln();
            let (excess, excess_slope) = self.model.excess(x, kelvin, component);
            value += share * kelvin + moles * excess;
            slope += share + moles * excess_slope;
            if own < 1.0 {
                let (excess, excess_slope) = self.model.excess(&solid.own, kelvin, component);
                value -= moles * excess;
                slope -= moles * excess_slope;
            }
        }
        (value, slope)
    }

    /// The temperature in kelvin below which a solid comes out of a liquid of this composition. `None` if it never
    /// does, or only where its enthalpy of fusion has left its range.
    pub fn saturation(&self, solid: usize, x: &[f64]) -> Option<f64> {
        let parts = &self.solids[solid].formula;
        if parts.iter().zip(x).any(|(moles, share)| 0.0 < *moles && *share <= 0.0) {
            return None;
        }
        let within = |kelvin: &f64| self.solids[solid].fusion.reaches(*kelvin);
        self.newton(solid, x).filter(within).or_else(|| self.scan(solid, x).filter(within))
    }

    /// Solids of which a liquid of this composition and temperature in kelvin does not say whether they come out: their
    /// enthalpy of fusion has left its range before they were saturated.
    pub fn untold(&self, x: &[f64], kelvin: f64) -> Vec<usize> {
        let is_there =
            |solid: &Solid| solid.formula.iter().zip(x).all(|(moles, x)| *moles == 0.0 || 0.0 < *x);
        let untold = self.solids.iter().enumerate().filter(|(at, solid)| {
            !solid.fusion.reaches(kelvin) && is_there(solid) && self.saturation(*at, x).is_none()
        });
        untold.map(|(at, _)| at).collect()
    }

    fn newton(&self, solid: usize, x: &[f64]) -> Option<f64> {
        let mut kelvin = self.solids[solid].fusion.melting.kelvin();
        for _ in 0..STEPS {
            let (value, slope) = self.excess_of(solid, x, kelvin);
            let step = value / slope;
            let next = kelvin - step;
            if !(COLDEST < next && next < 1e5) || 0.0 <= slope {
                return None;
            }
            kelvin = next;
            if step.abs() <= 1e-12 * kelvin {
                return Some(kelvin);
            }
        }
        None
    }

    /// The highest place where the sign changes, from twice the melting point down.
    fn scan(&self, solid: usize, x: &[f64]) -> Option<f64> {
        let top = 2.0 * self.solids[solid].fusion.melting.kelvin();
        let value = |kelvin: f64| self.excess_of(solid, x, kelvin).0;
        let place = |step: usize| top - (top - COLDEST) * step as f64 / SCAN as f64;
        let at = (0..SCAN).find(|step| value(place(*step)) < 0.0 && 0.0 <= value(place(step + 1)))?;
        Some(root::between(value, place(at + 1), place(at))).filter(|kelvin| kelvin.is_finite())
    }

    /// The solid that comes out first on cooling, and the temperature in kelvin at which it does.
    pub fn liquidus(&self, x: &[f64]) -> Option<(usize, f64)> {
        let each = (0..self.solids.len()).filter_map(|solid| Some((solid, self.saturation(solid, x)?)));
        each.fold(None, |best: Option<(usize, f64)>, next| match best {
            Some(best) if next.1 <= best.1 => Some(best),
            _ => Some(next),
        })
    }

    /// The same with an ideal liquid and without compounds: what a depression is measured against.
    pub fn ideal(&self) -> Self {
        let solids = self.solids.iter().filter(|solid| !solid.is_compound()).cloned().collect();
        Self { components: self.components.clone(), solids, model: ActivityModel::Ideal }
    }

    /// By how many kelvins the liquidus of an ideal liquid falls where a share of all its moles is something that never
    /// comes out, such as a little water. `None` where there is no liquidus.
    ///
    /// Ideal dilution: each component's fraction shrinks by that share in R T ln x = −ΔG of fusion.
    pub fn lowered_by_dilution(&self, x: &[f64], share: f64) -> Option<f64> {
        let ideal = self.ideal();
        let diluted: Vec<f64> = x.iter().map(|own| own * (1.0 - share)).collect();
        Some(ideal.liquidus(x)?.1 - ideal.liquidus(&diluted)?.1)
    }

    /// Two of its components alone, with the models of pairs that it was made of.
    pub fn edge(&self, (one, other): (usize, usize), pairs: &[PairModel]) -> Self {
        let within = |solid: &&Solid| {
            solid.formula.iter().enumerate().all(|(at, moles)| *moles == 0.0 || at == one || at == other)
        };
        let solids = self.solids.iter().filter(within).map(|solid| {
            let formula = vec![solid.formula[one], solid.formula[other]];
            Solid::compound(solid.name.clone(), formula, solid.fusion.clone())
        });
        let place = |at: usize| [one, other].iter().position(|own| *own == at);
        let pairs: Vec<PairModel> = pairs
            .iter()
            .filter_map(|pair| {
                Some(PairModel { first: place(pair.first)?, second: place(pair.second)?, ..pair.clone() })
            })
            .collect();
        Self {
            components: [one, other].map(|at| self.components[at].clone()).to_vec(),
            solids: solids.collect(),
            model: ActivityModel::of(2, &pairs),
        }
    }
}
