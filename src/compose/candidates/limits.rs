//! A person's own limits, and what each of them says of a candidate.

use serde::{Deserialize, Serialize};

use super::facts::{AlertLevel, Facts, Graded, LiquidBasis, LiquidFacts, SignalLevel};
use crate::component::Moistness;

/// Limits; each that is `None` is not asked.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
pub struct Limits {
    /// The liquidus lies at or below this temperature in kelvin.
    pub liquid_at_k: Option<f64>,
    /// The mixture's signal word is less than this.
    pub hazards_below: Option<SignalLevel>,
    /// The gravest alert is less than this.
    pub alerts_below: Option<AlertLevel>,
    /// A kilogram of the liquid costs less than this.
    pub price_below_per_kg: Option<f64>,
    /// Every component takes up water less readily than this.
    pub hygroscopic_below: Option<Moistness>,
    /// The bottles at hand hold enough for a batch of so many grams.
    pub in_house_g: Option<f64>,
}

/// One of the limits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum LimitKind {
    /// Of the liquidus.
    LiquidAt,
    /// Of the signal word.
    Hazards,
    /// Of alerts.
    Alerts,
    /// Of the price.
    Price,
    /// Of water uptake.
    Hygroscopic,
    /// Of what is in the house.
    InHouse,
}

/// What a limit says of a candidate.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    /// Met by what is known.
    Met,
    /// Not met by what is known.
    NotMet,
    /// Data are missing that would decide.
    NoData,
    /// Some data say yes and some no.
    DataDisagree,
}

impl LimitKind {
    /// All of them, in the order in which they are shown.
    pub const ALL: [Self; 6] =
        [Self::LiquidAt, Self::Hazards, Self::Alerts, Self::Price, Self::Hygroscopic, Self::InHouse];
}

impl Verdict {
    /// True if nobody can tell by what is known.
    pub const fn is_open(self) -> bool {
        matches!(self, Self::NoData | Self::DataDisagree)
    }

    /// In words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Met => "met",
            Self::NotMet => "not met",
            Self::NoData => "no data",
            Self::DataDisagree => "data disagree",
        }
    }

    fn of(is_met: bool) -> Self {
        if is_met { Self::Met } else { Self::NotMet }
    }
}

impl Limits {
    /// True if no limit is asked.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }

    /// True if this limit is asked.
    pub fn asks(&self, kind: LimitKind) -> bool {
        match kind {
            LimitKind::LiquidAt => self.liquid_at_k.is_some(),
            LimitKind::Hazards => self.hazards_below.is_some(),
            LimitKind::Alerts => self.alerts_below.is_some(),
            LimitKind::Price => self.price_below_per_kg.is_some(),
            LimitKind::Hygroscopic => self.hygroscopic_below.is_some(),
            LimitKind::InHouse => self.in_house_g.is_some(),
        }
    }

    /// The verdict of each limit that is asked.
    pub fn judge(&self, facts: &Facts) -> Vec<(LimitKind, Verdict)> {
        let all = [
            (LimitKind::LiquidAt, self.liquid_at_k.map(|limit| liquid(&facts.liquid, limit))),
            (LimitKind::Hazards, self.hazards_below.map(|limit| below(facts.signal, limit))),
            (LimitKind::Alerts, self.alerts_below.map(|limit| below(facts.alerts, limit))),
            (
                LimitKind::Price,
                self.price_below_per_kg.map(|limit| told(facts.price_per_kg.map(|own| own < limit))),
            ),
            (LimitKind::Hygroscopic, self.hygroscopic_below.map(|limit| below(facts.hygroscopic, limit))),
            (
                LimitKind::InHouse,
                self.in_house_g.map(|limit| told(facts.house_batch_g.map(|own| limit <= own))),
            ),
        ];
        all.into_iter().filter_map(|(kind, verdict)| Some((kind, verdict?))).collect()
    }
}

/// What was seen as a liquid says nothing of temperatures further down: above the limit it leaves the word to the
/// prediction. A eutectic of another composition can only say no: above it, nothing follows for this one.
fn liquid(facts: &LiquidFacts, limit: f64) -> Verdict {
    let unseen = LiquidFacts { seen_liquid_k: None, ..facts.clone() };
    let deciding = match facts.deciding() {
        Some((LiquidBasis::SeenLiquid, seen, _)) if limit < seen => unseen.deciding(),
        deciding => deciding,
    };
    let by_least = facts.least().map(|least| limit < least);
    match deciding {
        Some((_, low, _)) if limit < low => Verdict::NotMet,
        _ if facts.is_contradicted() => match facts.seen_above_least() {
            Some(seen) if seen <= limit => Verdict::Met,
            _ => Verdict::DataDisagree,
        },
        // A prediction gives way to what was measured.
        None | Some((LiquidBasis::Ideal, ..)) if by_least == Some(true) => Verdict::NotMet,
        None => Verdict::NoData,
        Some(_) if by_least == Some(true) => Verdict::DataDisagree,
        Some((LiquidBasis::Ideal, _, high)) if facts.least().is_some_and(|least| high < least) => {
            Verdict::DataDisagree
        }
        Some((_, _, high)) if high <= limit => Verdict::Met,
        Some(_) => Verdict::DataDisagree,
    }
}

/// One bad component decides; a good word needs all of them known.
fn below<T: Ord + Copy>(graded: Graded<T>, limit: T) -> Verdict {
    match graded.worst {
        Some(worst) if limit <= worst => Verdict::NotMet,
        _ if graded.complete => Verdict::Met,
        _ => Verdict::NoData,
    }
}

fn told(is_met: Option<bool>) -> Verdict {
    is_met.map_or(Verdict::NoData, Verdict::of)
}
