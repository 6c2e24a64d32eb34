//! The law of propagation of uncertainty, first order, with every contribution kept.
//!
//! u²(y) = Σ (cᵢ uᵢ)² + 2 Σᵢ<ⱼ cᵢ cⱼ u(xᵢ, xⱼ), cᵢ = ∂y/∂xᵢ (JCGM 100:2008, 5.1.2 and 5.2.2).
//! Effective degrees of freedom by Welch and Satterthwaite (ibid., G.4.1): ν = u⁴ / Σ (cᵢuᵢ)⁴/νᵢ.

use serde::{Deserialize, Serialize};

/// One source of uncertainty of a result.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Contribution {
    /// What it comes from.
    pub source: String,
    /// ∂y/∂x, in the unit of the result over the unit of the source.
    pub sensitivity: f64,
    /// Standard uncertainty of the source, in its own unit.
    pub standard_uncertainty: f64,
    /// Degrees of freedom; `None` where the uncertainty is taken as known.
    pub degrees_of_freedom: Option<f64>,
}

/// Two sources that move together.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Correlation {
    /// Index of one contribution.
    pub first: usize,
    /// Index of the other.
    pub second: usize,
    /// Their covariance, in the product of their units.
    pub covariance: f64,
}

/// All sources of uncertainty of one result.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Budget {
    /// The sources.
    pub contributions: Vec<Contribution>,
    /// Those that are correlated.
    pub correlations: Vec<Correlation>,
    /// Sources about which nothing is stated; they are not in the sum.
    pub unstated: Vec<String>,
}

impl Contribution {
    /// The part of the result's standard uncertainty: |c u|, in the unit of the result.
    pub fn size(&self) -> f64 {
        (self.sensitivity * self.standard_uncertainty).abs()
    }
}

impl Budget {
    /// Adds a source whose uncertainty is taken as known.
    pub fn add(&mut self, source: impl Into<String>, sensitivity: f64, standard_uncertainty: f64) {
        self.add_with_freedom(source, sensitivity, standard_uncertainty, None);
    }

    /// Adds a source with degrees of freedom.
    pub fn add_with_freedom(
        &mut self,
        source: impl Into<String>,
        sensitivity: f64,
        standard_uncertainty: f64,
        degrees_of_freedom: Option<f64>,
    ) {
        let source = source.into();
        self.contributions.push(Contribution {
            source,
            sensitivity,
            standard_uncertainty,
            degrees_of_freedom,
        });
    }

    /// The same with each source once: where a source acts twice, its sensitivities add up (the chain rule;
    /// both times it is the same deviation). Unstated sources are named once. Call it before any
    /// correlation is added, since correlations go by place.
    pub fn merged(self) -> Self {
        let mut merged = Self { correlations: self.correlations, ..Self::default() };
        for next in self.contributions {
            match merged.contributions.iter_mut().find(|known| known.source == next.source) {
                Some(known) => known.sensitivity += next.sensitivity,
                None => merged.contributions.push(next),
            }
        }
        for source in self.unstated {
            if !merged.unstated.contains(&source) {
                merged.unstated.push(source);
            }
        }
        merged
    }

    /// The variance of the result.
    pub fn variance(&self) -> f64 {
        let independent: f64 = self.contributions.iter().map(|c| c.size().powi(2)).sum();
        let together: f64 = self.correlations.iter().map(|c| self.shared(c)).sum();
        // Rounding can push a fully correlated pair a hair below zero; a sum of nothing may be −0.
        let variance = independent + together;
        if 0.0 < variance { variance } else { 0.0 }
    }

    /// The standard uncertainty of the result.
    pub fn standard_uncertainty(&self) -> f64 {
        self.variance().sqrt()
    }

    /// Share of the variance, in percent, in the order of the contributions. With those of the correlated
    /// pairs they add up to 100.
    pub fn percent_of_variance(&self) -> Vec<f64> {
        let variance = self.variance();
        let share = |c: &Contribution| if variance > 0.0 { 100.0 * c.size().powi(2) / variance } else { 0.0 };
        self.contributions.iter().map(share).collect()
    }

    /// Effective degrees of freedom, infinite where every source is taken as known.
    pub fn effective_degrees_of_freedom(&self) -> f64 {
        let weigh = |c: &Contribution| c.degrees_of_freedom.map_or(0.0, |freedom| c.size().powi(4) / freedom);
        self.variance().powi(2) / self.contributions.iter().map(weigh).sum::<f64>()
    }

    /// What a correlated pair adds to the variance, which may be below zero; in percent of it.
    pub fn percent_of_pair(&self, correlation: &Correlation) -> f64 {
        let variance = self.variance();
        if variance > 0.0 { 100.0 * self.shared(correlation) / variance } else { 0.0 }
    }

    /// The names of the two sources of a pair.
    pub fn pair(&self, correlation: &Correlation) -> [&str; 2] {
        [correlation.first, correlation.second]
            .map(|index| self.contributions.get(index).map_or("", |c| c.source.as_str()))
    }

    fn shared(&self, correlation: &Correlation) -> f64 {
        let sensitivity = |index: usize| self.contributions.get(index).map_or(0.0, |c| c.sensitivity);
        2.0 * sensitivity(correlation.first) * sensitivity(correlation.second) * correlation.covariance
    }
}
