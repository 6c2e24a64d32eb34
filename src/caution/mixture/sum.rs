//! A sum over components against the limit of a class, with every part of it.

use serde::Serialize;

use super::ingredient::Ingredient;

/// A limit is reached by a sum that lies below it by no more than rounding.
pub(super) const ROUNDING: f64 = 1e-9;

/// A sum, or a toxicity estimate, against a limit.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Sum {
    /// What was worked out, in the signs of the standard.
    pub what: String,
    /// The value; `None` where nothing is known that could be added up.
    pub value: Option<f64>,
    /// The limit.
    pub limit: f64,
    /// Unit of both: "%", "mg/kg", "mg/L", "ppmV", or nothing for a sum of shares of limits.
    pub unit: String,
    /// True if the class is reached from the limit upwards; an estimate reaches it from the limit downwards.
    pub at_least: bool,
    /// What was added up.
    pub parts: Vec<Part>,
}

/// A component in a sum.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Part {
    /// Id of the component, without crystal water.
    pub component: String,
    /// Its name.
    pub name: String,
    /// Its concentration in % by mass.
    pub percent: f64,
    /// What it adds to the sum.
    pub adds: f64,
    /// What it is counted as: a class, a toxicity estimate, a limit of its own.
    pub counted_as: String,
}

/// A component to be weighed against the limit that holds for it.
pub(super) struct Weighed<'i> {
    pub(super) ingredient: &'i Ingredient,
    /// The concentration at which it would reach the class alone, in %.
    pub(super) limit: f64,
    /// True if that is a limit of its own.
    pub(super) own: bool,
    pub(super) counted_as: String,
}

impl Sum {
    /// True if the class is reached.
    pub fn is_reached(&self) -> bool {
        let slack = self.limit * ROUNDING;
        self.value.is_some_and(|value| {
            if self.at_least { self.limit - slack <= value } else { value <= self.limit + slack }
        })
    }

    /// One concentration against its limit.
    pub(super) fn single(
        what: impl Into<String>,
        ingredient: &Ingredient,
        limit: f64,
        as_what: &str,
    ) -> Self {
        Self {
            what: what.into(),
            value: Some(ingredient.percent),
            limit,
            unit: "%".to_owned(),
            at_least: true,
            parts: vec![Part::new(ingredient, ingredient.percent, as_what)],
        }
    }

    /// The sum of all, each weighed by the limit that holds for it: Σ C × limit / own limit. Where only generic
    /// limits take part, that is the sum as the standard writes it. A component that reaches a limit of its own is
    /// shown alone against it; else, with such limits, the shares of the limits are added up against 1
    /// (guidance on CLP, from memory).
    pub(super) fn of(what: &str, generic: f64, weighed: &[Weighed<'_>]) -> Self {
        let alone = weighed
            .iter()
            .filter(|part| part.own && part.limit * (1.0 - ROUNDING) <= part.ingredient.percent)
            .max_by(|a, b| (a.ingredient.percent / a.limit).total_cmp(&(b.ingredient.percent / b.limit)));
        if let Some(part) = alone {
            return Self::single("C against its own limit", part.ingredient, part.limit, &part.counted_as);
        }
        let shares = weighed.iter().any(|part| part.own);
        let (scale, limit, unit) = if shares { (1.0, 1.0, "") } else { (generic, generic, "%") };
        let parts: Vec<Part> = weighed
            .iter()
            .map(|part| {
                let adds = part.ingredient.percent * scale / part.limit;
                Part::new(part.ingredient, adds, &part.counted_as)
            })
            .collect();
        Self {
            what: if shares { "Σ (C / limit)".to_owned() } else { what.to_owned() },
            value: Some(parts.iter().map(|part| part.adds).sum()),
            limit,
            unit: unit.to_owned(),
            at_least: true,
            parts,
        }
    }
}

impl Part {
    pub(super) fn new(ingredient: &Ingredient, adds: f64, counted_as: impl Into<String>) -> Self {
        Self {
            component: ingredient.key.clone(),
            name: ingredient.name.clone(),
            percent: ingredient.percent,
            adds,
            counted_as: counted_as.into(),
        }
    }
}
