//! What is known of a candidate, as far as a limit can speak of it.

use serde::{Deserialize, Serialize};

use crate::component::Moistness;

/// A signal word of a mixture's classification; the later, the graver.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum SignalLevel {
    /// No class that has one is reached by what is known.
    None,
    /// "Warning".
    Warning,
    /// "Danger".
    Danger,
}

/// The gravest alert for components that meet; the later, the graver.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum AlertLevel {
    /// No rule speaks, which proves nothing.
    None,
    /// Worth knowing.
    Note,
    /// Needs a precaution.
    Warn,
    /// Stops the work.
    Block,
}

/// The worst that is known of several components, and whether all of them are known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Graded<T> {
    /// The worst known; `None` where nothing is known.
    pub worst: Option<T>,
    /// True if nothing is missing that could make it worse.
    pub complete: bool,
}

/// What is known of where a candidate is liquid, in kelvin.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct LiquidFacts {
    /// Published melting points of this composition.
    pub measured_k: Vec<f64>,
    /// Published eutectics of its pair at another or an unstated composition: it melts no lower, and may melt higher.
    pub least_k: Vec<f64>,
    /// The lowest temperature at which it was in somebody's hand as a liquid, stable or supercooled.
    pub seen_liquid_k: Option<f64>,
    /// The ideal liquidus by each choice of fusion data; empty where data are missing.
    pub ideal_k: Vec<f64>,
}

/// What a word on its liquidus rests on, the stronger first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum LiquidBasis {
    /// A published melting point of this composition.
    Measured,
    /// A property of the liquid, measured at this temperature.
    SeenLiquid,
    /// The relation for an ideal liquid.
    Ideal,
}

/// Everything that limits speak of.
#[derive(Debug, Clone, PartialEq)]
pub struct Facts {
    /// Where it is liquid.
    pub liquid: LiquidFacts,
    /// Signal word of the mixture.
    pub signal: Graded<SignalLevel>,
    /// Gravest alert.
    pub alerts: Graded<AlertLevel>,
    /// Price of a kilogram of the liquid, in the currency of the limit.
    pub price_per_kg: Option<f64>,
    /// Worst water uptake of its components.
    pub hygroscopic: Graded<Moistness>,
    /// Largest batch that the bottles at hand allow, in grams.
    pub house_batch_g: Option<f64>,
}

impl<T: Ord + Copy> Graded<T> {
    /// The worst of some components, each known or not; without any there is nothing to know.
    pub fn of(each: impl IntoIterator<Item = Option<T>>) -> Self {
        let none = Self { worst: None, complete: true };
        each.into_iter().fold(none, |before, next| Self {
            worst: before.worst.max(next),
            complete: before.complete && next.is_some(),
        })
    }

    /// Wholly known.
    pub fn known(worst: T) -> Self {
        Self { worst: Some(worst), complete: true }
    }
}

impl LiquidFacts {
    /// What decides, and the temperatures that it gives: measured before seen before ideal, but what was seen as a
    /// liquid counts only where it lies below what is predicted.
    pub fn deciding(&self) -> Option<(LiquidBasis, f64, f64)> {
        if let Some((low, high)) = range(&self.measured_k) {
            // A eutectic that it lies below contradicts it, and is told beside it.
            let least = self.least().filter(|least| low < *least);
            return Some((LiquidBasis::Measured, low, least.map_or(high, |least| high.max(least))));
        }
        let ideal = range(&self.ideal_k);
        match self.seen_liquid_k {
            Some(seen) if ideal.is_none_or(|(_, high)| seen < high) => {
                Some((LiquidBasis::SeenLiquid, seen, seen))
            }
            _ => ideal.map(|(low, high)| (LiquidBasis::Ideal, low, high)),
        }
    }

    /// The highest temperature below which by a published eutectic it can't melt.
    pub fn least(&self) -> Option<f64> {
        range(&self.least_k).map(|(_, high)| high)
    }

    /// Where it was seen as a liquid, if no eutectic of its pair says that it must have been supercooled there.
    pub fn seen_above_least(&self) -> Option<f64> {
        self.seen_liquid_k.filter(|seen| self.least().is_none_or(|least| least <= *seen))
    }

    /// True if a published melting point of it lies below a published eutectic of its pair: one of the two is wrong.
    pub fn is_contradicted(&self) -> bool {
        self.least().is_some_and(|least| self.measured_k.iter().any(|own| *own < least))
    }
}

fn range(values: &[f64]) -> Option<(f64, f64)> {
    let low = values.iter().copied().reduce(f64::min)?;
    Some((low, values.iter().copied().fold(low, f64::max)))
}
