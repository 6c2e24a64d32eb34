//! The order in which candidates are proposed. Its rule is told with every answer.

use std::cmp::Ordering;

use serde::{Deserialize, Serialize};

use super::facts::Facts;
use super::limits::{LimitKind, Limits, Verdict};

/// How a candidate stands against the limits.
#[derive(Debug, Clone, PartialEq)]
pub struct Standing {
    /// The verdict of each limit that was asked.
    pub verdicts: Vec<(LimitKind, Verdict)>,
    /// What must not meet meets in it: it is never proposed.
    pub refused: bool,
    /// The temperatures that it is ordered by, in kelvin: the highest that decides on its liquidus, then the lowest.
    pub liquidus_k: Option<(f64, f64)>,
    /// What it costs.
    pub price_per_kg: Option<f64>,
    /// What it is called: the last word among equals.
    pub name: String,
}

/// Where a candidate belongs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Place {
    /// Every limit is met by what is known.
    Meets,
    /// No limit is missed, but not all can be told.
    Open,
    /// At least one limit is missed.
    Misses,
    /// What must not meet meets in it.
    Refused,
}

impl Standing {
    /// Of a candidate by its facts.
    pub fn new(limits: &Limits, facts: &Facts, refused: bool, name: impl Into<String>) -> Self {
        Self {
            verdicts: limits.judge(facts),
            refused,
            liquidus_k: facts.liquid.deciding().map(|(_, low, high)| (high, low)),
            price_per_kg: facts.price_per_kg,
            name: name.into(),
        }
    }

    /// The verdict of one limit; `None` where it was not asked.
    pub fn verdict(&self, kind: LimitKind) -> Option<Verdict> {
        self.verdicts.iter().find(|(own, _)| *own == kind).map(|(_, verdict)| *verdict)
    }

    /// How many limits are met, not met, and not told.
    pub fn counts(&self) -> [usize; 3] {
        let count = |fits: fn(Verdict) -> bool| self.verdicts.iter().filter(|(_, own)| fits(*own)).count();
        [count(|own| own == Verdict::Met), count(|own| own == Verdict::NotMet), count(Verdict::is_open)]
    }

    /// Where it belongs.
    pub fn place(&self) -> Place {
        match self.counts() {
            _ if self.refused => Place::Refused,
            [_, 0, 0] => Place::Meets,
            [_, 0, _] => Place::Open,
            _ => Place::Misses,
        }
    }

    /// What stops the work comes last; then the fewest limits missed, the fewest that nobody can tell, the lowest
    /// liquidus, the lowest price, the name. What is not known comes after what is.
    fn order(&self, other: &Self) -> Ordering {
        let [_, missed, open] = self.counts();
        let [_, other_missed, other_open] = other.counts();
        (self.refused, missed, open)
            .cmp(&(other.refused, other_missed, other_open))
            .then_with(|| {
                known_first(self.liquidus_k, other.liquidus_k, |one, other| {
                    one.0.total_cmp(&other.0).then(one.1.total_cmp(&other.1))
                })
            })
            .then_with(|| known_first(self.price_per_kg, other.price_per_kg, f64::total_cmp))
            .then_with(|| self.name.cmp(&other.name))
    }
}

fn known_first<T>(one: Option<T>, other: Option<T>, order: impl Fn(&T, &T) -> Ordering) -> Ordering {
    match (one, other) {
        (Some(one), Some(other)) => order(&one, &other),
        (one, other) => other.is_some().cmp(&one.is_some()),
    }
}

/// Puts candidates into their order, whatever it was before.
pub fn rank<T>(candidates: &mut [T], standing: impl Fn(&T) -> &Standing) {
    candidates.sort_by(|one, other| standing(one).order(standing(other)));
}
