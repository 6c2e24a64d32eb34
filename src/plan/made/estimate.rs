//! A value that carries every source of its uncertainty, so that quantities made from the same bottles stay
//! correlated through any number of sums, shares and ratios (JCGM 100:2008, 5.1 and 5.2, chain rule).

use serde::{Deserialize, Serialize};

use crate::quantity::Budget;

/// A value with its budget. Sensitivities are absolute: the unit of the value over that of the source.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Estimate {
    /// The value, in the base unit of what it estimates.
    pub value: f64,
    /// Its sources, each once.
    pub budget: Budget,
}

impl Estimate {
    /// A value with no source yet.
    pub fn of(value: f64) -> Self {
        Self { value, budget: Budget::default() }
    }

    /// Its standard uncertainty, in the unit of the value.
    pub fn standard_uncertainty(&self) -> f64 {
        self.budget.standard_uncertainty()
    }

    /// Adds another; a source of both counts once, with both sensitivities.
    pub(super) fn add(&mut self, other: Self) {
        self.value += other.value;
        self.absorb(other.budget);
    }

    /// The estimate times an exact factor.
    pub(super) fn scaled(&self, factor: f64) -> Self {
        Self { value: self.value * factor, budget: scaled(&self.budget, factor) }
    }

    /// The relative budget of this over another. A source of both counts once.
    pub(super) fn relative_over(&self, other: &Self) -> Budget {
        let mut relative = Self { value: 0.0, budget: scaled(&self.budget, 1.0 / self.value) };
        relative.absorb(scaled(&other.budget, -1.0 / other.value));
        relative.budget
    }

    /// This over a whole that it is part of, as a fraction with absolute sensitivities:
    /// ∂(a/b) = ∂a/b − a ∂b/b².
    pub(super) fn share_of(&self, whole: &Self) -> Self {
        if whole.value <= 0.0 {
            return Self::default();
        }
        let value = self.value / whole.value;
        let mut share = Self { value, budget: scaled(&self.budget, 1.0 / whole.value) };
        share.absorb(scaled(&whole.budget, -value / whole.value));
        share
    }

    /// The same with other names for its sources.
    pub(super) fn renamed(mut self, name: impl Fn(&str) -> String) -> Self {
        self.budget.contributions.iter_mut().for_each(|c| c.source = name(&c.source));
        self.budget.unstated.iter_mut().for_each(|source| *source = name(source));
        self
    }

    fn absorb(&mut self, other: Budget) {
        self.budget.contributions.extend(other.contributions);
        self.budget.unstated.extend(other.unstated);
        self.budget = std::mem::take(&mut self.budget).merged();
    }
}

fn scaled(budget: &Budget, factor: f64) -> Budget {
    let mut scaled = budget.clone();
    scaled.contributions.iter_mut().for_each(|c| c.sensitivity *= factor);
    scaled
}
