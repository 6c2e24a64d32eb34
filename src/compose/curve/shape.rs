//! What a law is besides its level: how it runs with temperature and water, on the scale of the fit.

use crate::statistics::curve_fit::{Form, GAS_CONSTANT};

/// How a form runs, with a term for water or without. The level, which is the intercept or ln a, is no part of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Shape {
    pub(super) form: Form,
    /// True if the last parameter is the slope with the mass fraction of water.
    pub(super) is_wet: bool,
}

impl Shape {
    /// The parameters behind the level, in their order.
    pub(super) fn parameters(self) -> Vec<&'static str> {
        let own = self.form.parameters()[1..].iter().copied();
        own.chain(self.is_wet.then_some("k")).collect()
    }

    /// slope T, b/(T − T₀) or −E/(R T); and k w.
    pub(super) fn value(self, kelvin: f64, water: f64, p: &[f64]) -> f64 {
        let own = match self.form {
            Form::Vft => p[0] / (kelvin - p[1]),
            Form::Arrhenius => -p[0] / (GAS_CONSTANT * kelvin),
            _ => p[0] * kelvin,
        };
        own + if self.is_wet { p[p.len() - 1] * water } else { 0.0 }
    }

    /// Its derivatives by the parameters.
    pub(super) fn slopes(self, kelvin: f64, water: f64, p: &[f64]) -> Vec<f64> {
        let mut slopes = match self.form {
            Form::Vft => {
                let above = kelvin - p[1];
                vec![1.0 / above, p[0] / (above * above)]
            }
            Form::Arrhenius => vec![-1.0 / (GAS_CONSTANT * kelvin)],
            _ => vec![kelvin],
        };
        slopes.extend(self.is_wet.then_some(water));
        slopes
    }
}
