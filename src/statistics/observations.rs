//! What was observed: finite numbers under one name.

use super::moments::Moments;

/// The values of one group, in the order in which they were given.
#[derive(Debug, Clone, PartialEq)]
pub struct Observations {
    name: String,
    values: Vec<f64>,
}

/// A value that is no finite number, by its place from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("value {index} is no finite number")]
pub struct NotFinite {
    /// Its place.
    pub index: usize,
}

impl Observations {
    /// A group with its values.
    ///
    /// # Errors
    /// If a value is not finite.
    pub fn new(name: impl Into<String>, values: Vec<f64>) -> Result<Self, NotFinite> {
        match values.iter().position(|value| !value.is_finite()) {
            Some(index) => Err(NotFinite { index }),
            None => Ok(Self { name: name.into(), values }),
        }
    }

    /// What the group is called.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Its values as given.
    pub fn values(&self) -> &[f64] {
        &self.values
    }

    /// How many there are.
    pub fn n(&self) -> usize {
        self.values.len()
    }

    /// Number, mean and variance.
    pub fn moments(&self) -> Moments {
        Moments::of(&self.values)
    }

    /// The values from the least to the greatest.
    pub fn sorted(&self) -> Vec<f64> {
        sorted(&self.values)
    }
}

/// Finite values from the least to the greatest.
pub fn sorted(values: &[f64]) -> Vec<f64> {
    let mut values = values.to_vec();
    values.sort_by(f64::total_cmp);
    values
}
