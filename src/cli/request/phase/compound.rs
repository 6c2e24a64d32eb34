//! `--compound`: a solid of fixed ratio, as the person states it.

use super::uncertain::uncertain;
use crate::compose::liquidus::{Fusion, Solid};
use crate::input::{Fault, Faults, FlagValue};
use crate::quantity::{MolarEnthalpy, Temperature, parse_number};

const FLAG: &str = "--compound";
const KEYS: [&str; 2] = ["melts", "fusion"];
const EXAMPLE: &str = "--compound \"ChCl:urea 1:2 melts=300K fusion=20kJ/mol\"";

/// Reads every `--compound` for a liquid of these components, each with the names that mean it and the one it is
/// shown by.
pub(super) fn compounds(
    texts: &[String],
    components: &[Vec<String>],
    shown: &[String],
    faults: &mut Faults,
) -> Vec<Solid> {
    let mut found: Vec<Solid> = Vec::new();
    for text in texts {
        let flag = FlagValue::collecting(FLAG, text, &KEYS, faults);
        let Some(solid) = faults.collect(compound(&flag, components, shown)) else { continue };
        if found.iter().any(|own| own.fractions() == solid.fractions()) {
            let fault = Fault::new("bad_compound", "this compound is given twice", flag.place());
            faults.push(fault.with_hint("Keep one of the two."));
            continue;
        }
        found.push(solid);
    }
    found
}

fn compound(flag: &FlagValue, components: &[Vec<String>], shown: &[String]) -> Result<Solid, Faults> {
    let bad = |message: String| {
        Fault::new("bad_compound", message, flag.place()).with_hint(format!("Write it like {EXAMPLE}."))
    };
    let (names, ratio) = flag.name.rsplit_once(char::is_whitespace).unwrap_or((&flag.name, ""));
    let moles: Vec<f64> =
        ratio.split(':').filter_map(|part| parse_number(part).ok()).map(|number| number.value).collect();
    let names: Vec<&str> = names.split(':').collect();
    if names.len() < 2 || names.len() != moles.len() || moles.iter().any(|moles| *moles <= 0.0) {
        return Err(bad(format!("{:?} is no compound: names and a ratio of as many parts", flag.name)).into());
    }
    let mut faults = Faults::none();
    let mut formula = vec![0.0; components.len()];
    for (name, moles) in names.iter().zip(&moles) {
        let same = |own: &String| own.eq_ignore_ascii_case(name.trim());
        match components.iter().position(|names| names.iter().any(same)) {
            Some(place) if formula[place] == 0.0 => formula[place] = *moles,
            Some(_) => faults.push(bad(format!("{name:?} stands in it twice"))),
            None => faults.push(bad(format!("{name:?} is none of the components {}", shown.join(", ")))),
        }
    }
    let melting = faults.collect(required::<Temperature>(flag, "melts"));
    let enthalpy = faults.collect(required::<MolarEnthalpy>(flag, "fusion"));
    let (Some((melting, melting_u)), Some((enthalpy, enthalpy_u))) = (melting, enthalpy) else {
        return Err(faults);
    };
    if melting.kelvin() <= 0.0 || enthalpy.get() <= 0.0 {
        faults.push(bad("melting point and enthalpy of fusion must be above 0".to_owned()));
    }
    let fusion = Fusion {
        melting_u_k: melting_u,
        enthalpy_u: enthalpy_u.map(MolarEnthalpy::new),
        ..Fusion::new(melting, enthalpy)
    };
    let parts = formula.iter().zip(shown).filter(|(moles, _)| 0.0 < **moles);
    let parts: Vec<&str> = parts.map(|(_, name)| name.as_str()).collect();
    let ratio: Vec<String> = formula.iter().filter(|moles| 0.0 < **moles).map(f64::to_string).collect();
    faults.or(Solid::compound(format!("{} {}", parts.join(":"), ratio.join(":")), formula, fusion))
}

fn required<T: crate::quantity::Quantity>(flag: &FlagValue, key: &str) -> Result<(T, Option<f64>), Fault> {
    let Some(pair) = flag.get(key) else {
        let fault = Fault::new("bad_compound", format!("{key} is missing"), flag.place());
        return Err(fault.with_hint(format!("Write it like {EXAMPLE}.")));
    };
    uncertain::<T>(&pair.value)
        .map(|(typed, spread)| (typed.value, spread))
        .map_err(|error| Fault::of_quantity(&error, flag.place_of(pair)))
}
