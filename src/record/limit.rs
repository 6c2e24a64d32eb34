//! The limits of a batch, frozen, and what was found compared with them.

use serde::{Deserialize, Serialize};

use crate::quantity::{Property, Temperature, significant};

/// A measurement counts for a limit if its temperature is so near to the limit's, in kelvin (a decision of
/// this project: thermostats of a bench hold about so much).
const SAME_TEMPERATURE_K: f64 = 1.0;

/// What a limit is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum LimitOf {
    /// Water as a mass fraction.
    Water,
    /// A property in its own unit.
    Property(Property),
    /// What is seen, in a word.
    Appearance,
    /// Time since the batch was finished, in seconds.
    Age,
}

/// One limit of the recipe that a batch was planned from.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FrozenLimit {
    /// What it is about.
    pub of: LimitOf,
    /// The least that meets it.
    pub low: Option<f64>,
    /// The most that meets it.
    pub high: Option<f64>,
    /// The word that meets it.
    pub word: Option<String>,
    /// Temperature of the measurement.
    pub at: Option<Temperature>,
    /// As written.
    pub text: String,
}

/// The latest that is known of a batch.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Facts {
    /// Deviation of each component from what the recipe asks for, relative, with its name; `None` for one that
    /// is not in yet.
    pub deviations: Vec<(String, Option<f64>)>,
    /// How far a ratio may be off; `None` for a batch without a recipe.
    pub tolerance: Option<f64>,
    /// Water as a mass fraction, with how it is known.
    pub water: Option<(f64, String)>,
    /// Each property with its value and temperature, latest last.
    pub properties: Vec<(Property, f64, Option<Temperature>)>,
    /// What was seen last, in a word.
    pub clarity: Option<String>,
    /// Seconds since it was finished.
    pub age_s: Option<f64>,
}

/// One comparison.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Comparison {
    /// True if the limit is met, false if not, `None` without data.
    pub met: Option<bool>,
    /// What was compared with what.
    pub sentence: String,
}

/// Every limit against the facts; the ratio first.
pub fn compare(limits: &[FrozenLimit], facts: &Facts) -> Vec<Comparison> {
    let mut comparisons: Vec<Comparison> = facts
        .tolerance
        .iter()
        .flat_map(|tolerance| facts.deviations.iter().map(|deviation| of_ratio(deviation, *tolerance)))
        .collect();
    comparisons.extend(limits.iter().map(|limit| limit.compare(facts)));
    comparisons
}

fn of_ratio((name, deviation): &(String, Option<f64>), tolerance: f64) -> Comparison {
    let tolerance_text = percent(tolerance);
    match deviation {
        Some(deviation) => comparison(
            Some(deviation.abs() <= tolerance * (1.0 + 1e-9)),
            format!("{name}: {} off the recipe, tolerance {tolerance_text}", percent(deviation.abs())),
        ),
        None => comparison(Some(false), format!("{name}: nothing of it is in, tolerance {tolerance_text}")),
    }
}

fn comparison(met: Option<bool>, what: String) -> Comparison {
    let verdict = match met {
        Some(true) => "met",
        Some(false) => "not met",
        None => "no data",
    };
    Comparison { met, sentence: format!("{what}: {verdict}") }
}

impl FrozenLimit {
    fn compare(&self, facts: &Facts) -> Comparison {
        let limit = &self.text;
        match self.of {
            LimitOf::Water => {
                let found = facts.water.as_ref();
                let found = found.map(|(w, how)| (*w, format!("{} wt%{how}", short(w * 100.0))));
                self.range("water", found, "not measured")
            }
            LimitOf::Property(property) => {
                let (found, lack) = self.latest(property, facts);
                self.range(property.id(), found, &lack)
            }
            LimitOf::Age => {
                let found = facts.age_s.map(|s| (s, format!("{} d", short(s / 86_400.0))));
                self.range("age", found, "not finished")
            }
            LimitOf::Appearance => match (&facts.clarity, &self.word) {
                (Some(seen), Some(word)) => {
                    let met = seen.trim().to_lowercase() == *word;
                    comparison(Some(met), format!("appearance: {seen}, limit {limit}"))
                }
                _ => comparison(None, format!("appearance: not looked at, limit {limit}")),
            },
        }
    }

    /// The latest value at the limit's temperature, or why there is none.
    fn latest(&self, property: Property, facts: &Facts) -> (Option<(f64, String)>, String) {
        let near = |at: &Option<Temperature>| match (self.at, at) {
            (None, _) => true,
            (Some(wanted), Some(at)) => (*at - wanted).get().abs() <= SAME_TEMPERATURE_K,
            (Some(_), None) => false,
        };
        let own = || facts.properties.iter().filter(|(of, ..)| *of == property);
        let found = own().rfind(|(_, _, at)| near(at)).map(|(_, value, at)| {
            let at = at.map_or(String::new(), |at| format!(" at {at}"));
            (
                *value,
                format!("{} {}{at}", short(*value), property.unit()).replace("  ", " ").trim().to_owned(),
            )
        });
        let lack = match (own().next(), self.at) {
            (Some(_), Some(at)) => format!("not measured at {at}"),
            _ => "not measured".to_owned(),
        };
        (found, lack)
    }

    fn range(&self, name: &str, found: Option<(f64, String)>, lack: &str) -> Comparison {
        let Some((value, words)) = found else {
            return comparison(None, format!("{name}: {lack}, limit {}", self.text));
        };
        // A value that was typed like its limit is not past it by a rounding error.
        let dust = 1e-12 * value.abs();
        let met = self.low.is_none_or(|low| low <= value + dust)
            && self.high.is_none_or(|high| value <= high + dust);
        comparison(Some(met), format!("{name}: {words}, limit {}", self.text))
    }
}

fn short(value: f64) -> String {
    let text = significant(value, 4);
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

fn percent(value: f64) -> String {
    if value < 1e-5 { "less than 0.001 %".to_owned() } else { format!("{} %", significant(value * 100.0, 2)) }
}
