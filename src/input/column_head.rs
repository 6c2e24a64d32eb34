//! What stands above a column of a table: a name, and mostly a unit.

/// What stands above a column.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ColumnHead {
    /// As it stands: "OCV / mV".
    pub text: String,
    /// Without the unit: "OCV".
    pub name: String,
    /// The unit, if the head has one.
    pub unit: Option<String>,
}

/// Units that are known behind an underscore, where any other word may be part of the name.
const UNDERSCORED: [&str; 38] = [
    "V", "mV", "uV", "µV", "A", "mA", "uA", "µA", "ohm", "Ohm", "Ω", "mohm", "mOhm", "kohm", "Ah", "mAh",
    "Wh", "mWh", "W", "mW", "s", "min", "h", "d", "day", "days", "week", "weeks", "g", "mg", "kg", "mL", "L",
    "C", "K", "pct", "percent", "ppm",
];

impl ColumnHead {
    /// Takes a head apart: "OCV / V", "ocv (mV)", "ocv [mV]", "voltage_V".
    pub(super) fn of(text: &str) -> Self {
        let text = text.trim().trim_start_matches('\u{feff}').trim();
        let (name, unit) = split(text);
        Self { text: text.to_owned(), name: name.to_owned(), unit: unit.map(str::to_owned) }
    }
}

fn split(text: &str) -> (&str, Option<&str>) {
    if let (name, Some(unit)) = name_and_unit(text) {
        return (name, Some(unit).filter(|unit| !unit.is_empty()));
    }
    if let Some((name, unit)) = text.split_once(" / ") {
        return (name.trim(), Some(unit.trim()));
    }
    match text.rsplit_once('_') {
        Some((name, unit)) if UNDERSCORED.contains(&unit) => (name, Some(unit)),
        _ => (text, None),
    }
}

/// A name and the unit in brackets behind it: `voltage (V)`, `time [d]`.
pub fn name_and_unit(text: &str) -> (&str, Option<&str>) {
    let text = text.trim();
    for (open, close) in [('(', ')'), ('[', ']')] {
        if let Some((name, unit)) = text.strip_suffix(close).and_then(|text| text.rsplit_once(open)) {
            return (name.trim(), Some(unit.trim()));
        }
    }
    (text, None)
}
