//! By what rule the values of a metric are taken, in sentences.

use super::day::SAME_DAY_D;
use super::{Metric, Per, ToCutOff};
use crate::cell::discharge::Work;
use crate::cell::resistance::Pairing;
use crate::record::reading::SETTLING;

impl Metric {
    /// The rule, a sentence each; the last ones say which cells count.
    pub fn rule(&self, pairing: &Pairing) -> Vec<String> {
        let mut rule = match self {
            Self::Voltage { day } => vec![between("Open-circuit voltage", *day), undisturbed()],
            Self::Loaded { day, load_ohms } => {
                vec![between(&format!("Voltage on {load_ohms} Ω"), *day), undisturbed()]
            }
            Self::Current { day } => vec![
                between("Short-circuit current", *day),
                undisturbed(),
                "Short-circuit readings stand alone here; no open-circuit voltage is mixed with them."
                    .to_owned(),
            ],
            Self::Resistance { day, method, within_d, load_ohms } => {
                let load = load_ohms.map(|ohms| format!(" on {ohms} Ω")).unwrap_or_default();
                vec![
                    format!(
                        "Internal resistance by {}{load}: the set of readings nearest to day {day} after building, at \
                         most {within_d} d from it; readings of one set are at most {} min apart.",
                        method.words(),
                        pairing.within.as_mins()
                    ),
                    undisturbed(),
                ]
            }
            Self::Slope { from, to } => vec![
                format!(
                    "A line for each cell through its open-circuit voltages from day {from} to day {to} after \
                     building: volts per week. The settling before day {from} is set apart."
                ),
                undisturbed(),
                "A slope of voltage is no loss of charge.".to_owned(),
            ],
            Self::Capacity(to) => vec![discharged("Charge", to)],
            Self::Energy(to) => vec![discharged("Energy", to)],
            Self::Retention { fresh, discharge } => vec![
                discharged("Charge", discharge),
                format!(
                    "Each stored cell against the mean of the fresh cells of its lot (the same batches and design, \
                     discharge begun within {fresh} d of building). That mean is common to all stored cells of the \
                     lot: its own uncertainty does not show in their spread."
                ),
            ],
        };
        rule.push(counts(self));
        rule
    }
}

fn between(what: &str, day: f64) -> String {
    format!(
        "{what} at day {day} after building, on the line between the readings before and after it; where there are \
         none on one side, the nearest within {} h.",
        24.0 * SAME_DAY_D
    )
}

fn undisturbed() -> String {
    format!(
        "Readings within {} h of a short circuit of the same cell, and those after it was retired, are left out.",
        SETTLING.as_hours()
    )
}

fn discharged(what: &str, to: &ToCutOff) -> String {
    let work = match to.work {
        Work::Resistance(ohms) => format!("on {ohms} Ω, or with the current where one was logged,"),
        Work::Current(amperes) => {
            format!("at {} mA, or with the current where one was logged,", amperes * 1000.0)
        }
        Work::Measured => "with the current that was logged".to_owned(),
    };
    let per = match to.per {
        Per::Cell => "",
        Per::Gram => ", for each gram of oxide",
        Per::SquareCentimetre => ", for each square centimetre of electrode",
    };
    format!(
        "{what} from the log of each cell {work} down to {} V, the crossing found between two rows{per}; a cell that \
         did not get there has no value.",
        to.cut_off_volts
    )
}

/// Which cells count.
fn counts(metric: &Metric) -> String {
    let by = match metric {
        Metric::Voltage { day }
        | Metric::Loaded { day, .. }
        | Metric::Current { day }
        | Metric::Resistance { day, .. } => format!("by day {day}"),
        Metric::Slope { to, .. } => format!("by day {to}"),
        Metric::Capacity(_) | Metric::Energy(_) | Metric::Retention { .. } => {
            "before the end of its discharge".to_owned()
        }
    };
    format!(
        "A cell is left out only if it was retired {by} with a physical cause, or was filled wrongly. One that failed \
         later counts, and is counted as failed; when a fault was found may be later than when it began."
    )
}
