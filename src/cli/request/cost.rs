//! What grams out of bottles cost, each currency for itself.

use serde_json::{Value, json};

use crate::record::bottle::Bottle;

/// Money and what has no price.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Cost {
    /// Amount of each currency, in the order in which they came up.
    amounts: Vec<(f64, String)>,
    /// Grams of which no price is known.
    pub(super) unpriced_g: f64,
}

/// The price of a gram of a bottle, with its currency; a dried portion costs what the bottle did that it came from.
pub(super) fn price_of(row: &Bottle, bottles: &[Bottle]) -> Option<(f64, String)> {
    let priced = |own: &Bottle| {
        let (amount, currency) = own.price.clone().filter(|_| 0.0 < own.net_g)?;
        Some((amount / own.net_g, currency))
    };
    let origin = || bottles.iter().find(|own| Some(&own.code) == row.dried_from.as_ref());
    priced(row).or_else(|| priced(origin()?))
}

impl Cost {
    /// Adds so many grams at a price.
    pub(super) fn add(&mut self, grams: f64, price: Option<(f64, String)>) {
        match price {
            Some((per_gram, currency)) => self.add_amount(per_gram * grams, currency),
            None => self.unpriced_g += grams,
        }
    }

    fn add_amount(&mut self, amount: f64, currency: String) {
        match self.amounts.iter_mut().find(|(_, known)| *known == currency) {
            Some((sum, _)) => *sum += amount,
            None => self.amounts.push((amount, currency)),
        }
    }

    /// Adds what came to this cost since it was another one.
    pub(super) fn add_since(&mut self, now: Self, before: &Self) {
        for (amount, currency) in now.amounts {
            let known = before.amounts.iter().find(|(_, own)| *own == currency);
            let since = amount - known.map_or(0.0, |(amount, _)| *amount);
            if 0.0 < since {
                self.add_amount(since, currency);
            }
        }
        self.unpriced_g += now.unpriced_g - before.unpriced_g;
    }

    /// The amount, if there is one currency alone.
    pub(super) fn single(&self) -> Option<&(f64, String)> {
        self.amounts.first().filter(|_| self.amounts.len() == 1)
    }

    /// Each currency for itself.
    pub(super) fn answer(&self) -> Vec<Value> {
        let each = self.amounts.iter();
        each.map(|(amount, currency)| json!({ "amount": amount, "currency": currency })).collect()
    }

    /// "4.41 EUR + 3.00 CHF", each divided by a number; empty without a price.
    pub(super) fn words(&self, by: f64, digits: usize) -> String {
        let each = self.amounts.iter();
        let each = each.map(|(amount, currency)| format!("{:.digits$} {currency}", amount / by));
        each.collect::<Vec<_>>().join(" + ")
    }
}
