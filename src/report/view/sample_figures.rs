//! Numbers of observations as text: as many decimals as their spread supports.

use crate::quantity::decimals_for_uncertainty;
use crate::statistics::moments::Moments;

/// How values of one kind are shown.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Figures {
    decimals: usize,
    unit: String,
}

impl Figures {
    /// As many decimals as the best known mean has digits, two of its standard error; without any spread as many as the values
    /// were given with, or as many as what they were reckoned from carries.
    pub(super) fn of<'m>(
        samples: impl IntoIterator<Item = &'m Moments>,
        unit: Option<&str>,
        carried: Option<usize>,
    ) -> Self {
        let (mut decimals, mut given) = (None::<usize>, 0);
        for sample in samples {
            let sem = sample.sem();
            if 0.0 < sem && sem.is_finite() {
                decimals = decimals.max(Some(decimals_for_uncertainty(sem, 0)));
            }
            let text = format!("{}", sample.mean);
            given = given.max(text.split_once('.').map_or(0, |(_, digits)| digits.len().min(6)));
        }
        Self {
            decimals: decimals.unwrap_or(given.min(carried.unwrap_or(given))),
            unit: unit.unwrap_or_default().to_owned(),
        }
    }

    /// A value without its unit; a dash if it is undefined.
    pub(super) fn bare(&self, value: f64) -> String {
        self.with_decimals(value, self.decimals)
    }

    /// A value with its unit.
    pub(super) fn value(&self, value: f64) -> String {
        if self.unit.is_empty() {
            self.bare(value)
        } else {
            format!("{}\u{a0}{}", self.bare(value), self.unit)
        }
    }

    /// Limits with their unit: "1.303 to 1.316 V".
    pub(super) fn limits(&self, [low, high]: [f64; 2]) -> String {
        format!("{} to {}", self.bare(low), self.value(high))
    }

    /// The unit, or nothing.
    pub(super) fn unit(&self) -> &str {
        &self.unit
    }

    fn with_decimals(&self, value: f64, decimals: usize) -> String {
        if !value.is_finite() {
            return "–".to_owned();
        }
        let text = format!("{value:.decimals$}");
        let zero = text.trim_start_matches(['-', '0', '.']).is_empty();
        if zero { text.replace('-', "") } else { text.replace('-', "−") }
    }
}

/// A probability: "0.031", "below 0.0001".
pub(super) fn probability(p: f64) -> String {
    match p {
        p if p.is_nan() => "–".to_owned(),
        p if p < 1e-4 => "< 0.0001".to_owned(),
        p if p < 0.0995 => format!("{p:.4}"),
        p => format!("{p:.3}"),
    }
}

/// A number without a unit, to so many significant digits; a dash if it is undefined.
pub(super) fn plain(value: f64, digits: usize) -> String {
    if value.is_finite() {
        crate::quantity::significant(value, digits).replace('-', "−")
    } else {
        "–".to_owned()
    }
}

/// A share as percent: "95 %".
pub(super) fn percent(share: f64) -> String {
    let text = format!("{:.4}", share * 100.0);
    format!("{}\u{a0}%", text.trim_end_matches('0').trim_end_matches('.'))
}
