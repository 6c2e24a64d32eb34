//! Activity models by name and parameters, and what they give.

use serde::{Deserialize, Serialize};

use super::nrtl::Nrtl;
use super::pairs::{PairTerms, Pairs};
use crate::statistics::curve_fit::GAS_CONSTANT;

/// The activity coefficients of a liquid.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum ActivityModel {
    /// All of them are 1.
    Ideal,
    /// Polynomials, pair by pair: Margules, Redlich and Kister.
    Pairs(Pairs),
    /// Non-random two liquids.
    Nrtl(Nrtl),
}

/// The form of a model for one pair, without its parameters.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub enum ModelForm {
    /// No parameter.
    Ideal,
    /// Margules with two suffixes: A.
    TwoSuffix,
    /// Margules with three suffixes: A12 and A21.
    ThreeSuffix,
    /// Redlich and Kister with so many terms, 1 to 4: A, B, C, D.
    RedlichKister(usize),
    /// Non-random two liquids with this non-randomness: g12 and g21.
    Nrtl(f64),
}

/// A form with the parameters of one pair.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PairModel {
    /// Place of the one component.
    pub first: usize,
    /// Place of the other.
    pub second: usize,
    /// The form.
    pub form: ModelForm,
    /// Its parameters in J/mol, in the order of their names.
    pub parameters: Vec<f64>,
}

impl ModelForm {
    /// The names of the parameters, in their order.
    pub fn parameters(self) -> &'static [&'static str] {
        const TERMS: [&str; 4] = ["A", "B", "C", "D"];
        match self {
            Self::Ideal => &[],
            Self::TwoSuffix => &["A"],
            Self::ThreeSuffix => &["A12", "A21"],
            Self::RedlichKister(terms) => &TERMS[..terms.min(TERMS.len())],
            Self::Nrtl(_) => &["g12", "g21"],
        }
    }

    /// Its name in words.
    pub fn words(self) -> String {
        match self {
            Self::Ideal => "ideal".to_owned(),
            Self::TwoSuffix => "two-suffix Margules".to_owned(),
            Self::ThreeSuffix => "three-suffix Margules".to_owned(),
            Self::RedlichKister(terms) => {
                format!("Redlich–Kister with {terms} {}", if terms == 1 { "term" } else { "terms" })
            }
            Self::Nrtl(alpha) => format!("NRTL with alpha {alpha}"),
        }
    }

    /// Its name on the command line and in JSON.
    pub fn name(self) -> &'static str {
        match self {
            Self::Ideal => "ideal",
            Self::TwoSuffix | Self::ThreeSuffix => "margules",
            Self::RedlichKister(_) => "redlich-kister",
            Self::Nrtl(_) => "nrtl",
        }
    }
}

impl ActivityModel {
    /// The model of a liquid of so many components from those of its pairs. Pairs that are not named are ideal.
    /// Non-random two liquids don't mix with polynomials: where any pair is one, only such pairs count.
    pub fn of(components: usize, pairs: &[PairModel]) -> Self {
        let mut nrtl: Option<Nrtl> = None;
        let mut terms = Vec::new();
        for pair in pairs {
            let (first, second) = (pair.first, pair.second);
            match (pair.form, &pair.parameters[..]) {
                (ModelForm::Nrtl(alpha), [g12, g21]) => {
                    let before = nrtl.take().unwrap_or_else(|| Nrtl::new(components));
                    nrtl = Some(before.with((first, second), *g12, *g21, alpha));
                }
                (ModelForm::ThreeSuffix, [a12, a21]) => {
                    terms.push(PairTerms::three_suffix(first, second, *a12, *a21));
                }
                (ModelForm::Ideal | ModelForm::Nrtl(_) | ModelForm::ThreeSuffix, _) => {}
                (_, coefficients) => {
                    terms.push(PairTerms { first, second, coefficients: coefficients.to_vec() });
                }
            }
        }
        match (nrtl, terms.is_empty()) {
            (Some(nrtl), _) => Self::Nrtl(nrtl),
            (None, true) => Self::Ideal,
            (None, false) => Self::Pairs(Pairs { pairs: terms }),
        }
    }

    /// True if every activity coefficient is 1.
    pub fn is_ideal(&self) -> bool {
        matches!(self, Self::Ideal)
    }

    /// R T ln γ of a component at a temperature in kelvin, J/mol, and its change per kelvin.
    pub(super) fn excess(&self, x: &[f64], kelvin: f64, component: usize) -> (f64, f64) {
        match self {
            Self::Ideal => (0.0, 0.0),
            Self::Pairs(pairs) => (pairs.excess(x, component), 0.0),
            Self::Nrtl(nrtl) => nrtl.excess(x, kelvin, component),
        }
    }

    /// ln γ of each component at a temperature in kelvin.
    pub fn ln_gammas(&self, x: &[f64], kelvin: f64) -> Vec<f64> {
        (0..x.len()).map(|component| self.ln_gamma(x, kelvin, component)).collect()
    }

    /// ln γ of a component at a temperature in kelvin.
    pub(super) fn ln_gamma(&self, x: &[f64], kelvin: f64, component: usize) -> f64 {
        match self {
            Self::Ideal => 0.0,
            Self::Pairs(pairs) => pairs.excess(x, component) / (GAS_CONSTANT * kelvin),
            Self::Nrtl(nrtl) => nrtl.ln_gamma(x, kelvin, component),
        }
    }
}
