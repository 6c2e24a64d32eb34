//! The limits of a difference against the smallest difference that matters. Nothing is concluded from a p alone.

use crate::report::view::amount::short;

/// Where the limits of a difference lie.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Matters {
    /// All of them are smaller than what matters.
    Within,
    /// All of them are as large as what matters, or larger.
    Beyond,
    /// Neither.
    Open,
    /// So few values give no limits.
    NoLimits,
}

/// A difference between two electrolytes and what matters, in one unit.
#[derive(Debug, Clone, PartialEq)]
pub struct PairMatters {
    /// The first.
    pub a: String,
    /// The second.
    pub b: String,
    /// Limits of first less second.
    pub interval: Option<[f64; 2]>,
    /// The smallest difference that matters.
    pub smallest: f64,
    /// The unit of both.
    pub unit: String,
    /// Confidence of the limits, 0 to 1.
    pub confidence: f64,
}

impl PairMatters {
    /// Where the limits lie.
    pub fn matters(&self) -> Matters {
        let Some([low, high]) = self.interval else { return Matters::NoLimits };
        let smallest = self.smallest;
        if -smallest < low && high < smallest {
            Matters::Within
        } else if smallest <= low || high <= -smallest {
            Matters::Beyond
        } else {
            Matters::Open
        }
    }

    /// The same as a sentence.
    pub fn sentence(&self) -> String {
        let size =
            |value: f64| format!("{} {}", short(value, 3).replace('-', "−"), self.unit).trim_end().to_owned();
        let (pair, smallest) = (format!("{} less {}", self.a, self.b), size(self.smallest));
        let Some([low, high]) = self.interval else {
            return format!(
                "{pair}: so few values give no limits, and whether they differ by {smallest} stays open."
            );
        };
        let sure = short(self.confidence * 100.0, 3);
        let limits = format!("{pair}: between {} and {} ({sure} %)", size(low), size(high));
        match self.matters() {
            Matters::Within => format!(
                "{limits}, all within ±{smallest}: these data speak against a difference that matters. That is no proof of \
                 equality, and holds as far as the assumptions do."
            ),
            Matters::Beyond => format!(
                "{limits}, all beyond {smallest}: these data speak for a difference that matters, as far as the assumptions \
                 hold."
            ),
            Matters::Open | Matters::NoLimits if 0.0 < low || high < 0.0 => format!(
                "{limits}: a difference, of which these data can't say whether it is as large as the {smallest} that matters."
            ),
            Matters::Open | Matters::NoLimits => format!(
                "{limits}: no difference and one of {smallest} or more are both possible with these data; more cells, \
                 or more batches where those are compared, would narrow the limits."
            ),
        }
    }
}
