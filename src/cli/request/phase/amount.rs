//! What a column of compositions holds, by its head: mole fractions, percents of them, or fractions of the mass.

use super::pure::PureData;
use crate::input::{ColumnHead, Fault, Place, Warning};

/// How a number of the column is read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Amount {
    /// As a share of the moles of the first component: divided by this.
    Moles(f64),
    /// As a share of the mass: divided by this, then with both molar masses in g/mol.
    Mass(f64, [f64; 2]),
}

const MOLE_UNITS: [&str; 7] = ["mol%", "mole%", "mol-%", "mol.%", "mol.-%", "%mol", "molpercent"];
const MASS_UNITS: [&str; 14] = [
    "wt%", "wt-%", "wt.%", "wt.-%", "%wt", "mass%", "mass-%", "%mass", "m%", "w%", "%w/w", "w/w%", "weight%",
    "ma%",
];
const SHARE_UNITS: [&str; 6] = ["", "1", "-", "mol/mol", "molmol-1", "mol·mol-1"];
const MASS_SHARE_UNITS: [&str; 3] = ["g/g", "kg/kg", "w/w"];
const PERCENT_UNITS: [&str; 3] = ["%", "pct", "percent"];

/// What the head says, for a liquid of two components, and what is to be told of it.
///
/// # Errors
/// If it is a bare percent, something else than moles or mass, or mass without both molar masses.
pub(super) fn amount(head: &ColumnHead, parts: &[PureData]) -> Result<(Amount, Option<Warning>), Fault> {
    let unit: String = head.unit.as_deref().unwrap_or_default().to_lowercase().split_whitespace().collect();
    let name = head.name.to_lowercase();
    let of_moles = name.contains("mol");
    let of_mass = !of_moles
        && (name.contains("mass") || name.contains("weight") || name == "w" || name.starts_with("wt"));
    let is = |known: &[&str]| known.contains(&unit.as_str());
    if is(&MASS_UNITS) || is(&PERCENT_UNITS) && of_mass {
        return of_masses(head, 100.0, parts);
    }
    if is(&MASS_SHARE_UNITS) || is(&SHARE_UNITS) && of_mass {
        return of_masses(head, 1.0, parts);
    }
    if is(&MOLE_UNITS) || is(&PERCENT_UNITS) && of_moles {
        return Ok((Amount::Moles(100.0), None));
    }
    if is(&SHARE_UNITS) {
        return Ok((Amount::Moles(1.0), None));
    }
    if is(&PERCENT_UNITS) {
        let message = format!("{:?} does not say percent of what", head.text);
        return Err(Fault::new("percent_of_what", message, Place::named("--x")).with_hint(
            "Write (mol%) for moles or (wt%) for mass into the head, whichever the numbers are.",
        ));
    }
    let message = format!("{:?} is neither a mole fraction nor a mass fraction", head.text);
    Err(Fault::new("no_fraction", message, Place::named("--x"))
        .with_hint("Convert the column to mole fractions of the first component, or to (mol%) or (wt%)."))
}

fn of_masses(head: &ColumnHead, whole: f64, parts: &[PureData]) -> Result<(Amount, Option<Warning>), Fault> {
    let masses: Vec<Option<f64>> = parts.iter().map(molar_mass).collect();
    if let [Some(one), Some(other)] = masses[..] {
        let message = format!(
            "{:?} is read as fractions of the mass of {} and converted to mole fractions with {one:.2} and {other:.2} \
             g/mol",
            head.text, parts[0].name
        );
        let warning = Warning::new("mass_fractions_converted", message);
        return Ok((Amount::Mass(whole, [one, other]), Some(warning)));
    }
    let unknown = parts.iter().zip(&masses).filter(|(_, mass)| mass.is_none());
    let unknown: Vec<&str> = unknown.map(|(own, _)| own.name.as_str()).collect();
    let message = format!(
        "{:?} holds fractions of the mass, and the table has no molar mass of {}",
        head.text,
        unknown.join(" and ")
    );
    Err(Fault::new("no_molar_mass", message, Place::named("--x")).with_hint(
        "Convert it to mole fractions, x1 = (w1/M1) / (w1/M1 + w2/M2), or put the component into a table of your own \
         with its formula (--components).",
    ))
}

/// In g/mol.
fn molar_mass(own: &PureData) -> Option<f64> {
    own.component.as_ref()?.molar_mass().map(|mass| mass.get())
}

impl Amount {
    /// The mole fraction of the first component.
    pub(super) fn mole_fraction(self, value: f64) -> f64 {
        match self {
            Self::Moles(whole) => value / whole,
            Self::Mass(whole, [one, other]) => {
                let share = value / whole;
                let (one, other) = (share / one, (1.0 - share) / other);
                one / (one + other)
            }
        }
    }

    /// True if a number can be such a share.
    pub(super) fn holds(self, value: f64) -> bool {
        let (Self::Moles(whole) | Self::Mass(whole, _)) = self;
        (0.0..=whole).contains(&value)
    }
}
