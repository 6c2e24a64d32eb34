//! The fusion data of each component: published sets of the table, or what `--pure` gives.

use std::sync::Arc;

use super::uncertain::uncertain;
use crate::component::{Component, ComponentTable, LookupError};
use crate::compose::liquidus::{Fusion, SolidTransition, published_fusion};
use crate::input::{Fault, Faults, FlagValue, Place, did_you_mean};
use crate::quantity::{MolarEnthalpy, MolarHeatCapacity, Quantity, Temperature};

/// A component of the liquid with every set of fusion data that it shall be computed with.
pub(super) struct PureData {
    /// Its id, or the name given where the table does not know it.
    pub(super) id: String,
    /// Its name in words.
    pub(super) name: String,
    /// The entry of the table, if there is one.
    pub(super) component: Option<Arc<Component>>,
    /// The sets, each with its source.
    pub(super) sets: Vec<(Fusion, String)>,
    /// Transitions whose enthalpy no source gave: they are left out of the curve.
    pub(super) without_enthalpy: Vec<Temperature>,
}

/// What one `--pure` says.
pub(super) struct Given {
    flag: FlagValue,
    melting: Option<(Temperature, Option<f64>)>,
    enthalpy: Option<(MolarEnthalpy, Option<f64>)>,
    heat_capacity: Option<MolarHeatCapacity>,
    transitions: Vec<SolidTransition>,
    used: bool,
    /// True if it has faults, which are told: what it names is known all the same.
    spoiled: bool,
}

const FLAG: &str = "--pure";
const KEYS: [&str; 4] = ["melts", "fusion", "cp", "transition"];
const EXAMPLE: &str = "--pure \"naphthalene melts=353.37K fusion=19010J/mol\"";

/// Reads every `--pure`.
pub(super) fn given(texts: &[String], faults: &mut Faults) -> Vec<Given> {
    texts.iter().map(|text| one(text, faults)).collect()
}

fn one(text: &str, faults: &mut Faults) -> Given {
    let before = faults.iter().count();
    let flag = FlagValue::collecting(FLAG, text, &KEYS, faults);
    if flag.name.is_empty() {
        let fault = Fault::new("bad_pure", "it does not say which component is meant", flag.place());
        faults.push(fault.with_hint(format!("Put its name first, as in {EXAMPLE}.")));
    }
    let melting = value(&flag, "melts", faults);
    let enthalpy = value(&flag, "fusion", faults);
    let heat_capacity = flag.quantity::<MolarHeatCapacity>("cp", faults).map(|typed| typed.value);
    let transitions = transitions(&flag, melting, faults);
    let zero = |key: &str, value: Option<f64>| value.filter(|value| *value <= 0.0).and(flag.get(key));
    let zeros = [
        zero("melts", melting.map(|(value, _): (Temperature, _)| value.kelvin())),
        zero("fusion", enthalpy.map(|(value, _): (MolarEnthalpy, _)| value.get())),
    ];
    for pair in zeros.into_iter().flatten() {
        let fault = Fault::new("bad_pure", format!("{} must be above 0", pair.key), flag.place_of(pair));
        faults.push(fault.with_hint(format!("Write it like {EXAMPLE}.")));
    }
    if flag.get("melts").is_some() != flag.get("fusion").is_some() {
        let message = "a melting point and an enthalpy of fusion belong together";
        faults.push(
            Fault::new("bad_pure", message, flag.place()).with_hint(format!("Give both, as in {EXAMPLE}.")),
        );
    }
    let spoiled = faults.iter().count() != before;
    Given { flag, melting, enthalpy, heat_capacity, transitions, used: false, spoiled }
}

fn value<T: Quantity>(flag: &FlagValue, key: &str, faults: &mut Faults) -> Option<(T, Option<f64>)> {
    let pair = flag.get(key)?;
    let read = uncertain::<T>(&pair.value).map(|(typed, spread)| (typed.value, spread));
    faults.collect(read.map_err(|error| Fault::of_quantity(&error, flag.place_of(pair))))
}

/// "351K:16300J/mol", several between semicolons.
fn transitions(
    flag: &FlagValue,
    melting: Option<(Temperature, Option<f64>)>,
    faults: &mut Faults,
) -> Vec<SolidTransition> {
    let Some(pair) = flag.get("transition") else { return Vec::new() };
    let mut transitions = Vec::new();
    for text in pair.value.split(';') {
        let bad = |message: String| {
            Fault::new("bad_transition", message, flag.place_of(pair)).with_hint(
                "Write temperature and enthalpy like transition=351K:16kJ/mol, several with ; between.",
            )
        };
        let Some((at, enthalpy)) = text.split_once(':') else {
            faults.push(bad(format!("{:?} has no enthalpy behind a colon", text.trim())));
            continue;
        };
        let at = at.parse::<Temperature>().map_err(|error| Fault::of_quantity(&error, flag.place_of(pair)));
        let enthalpy = enthalpy
            .parse::<MolarEnthalpy>()
            .map_err(|error| Fault::of_quantity(&error, flag.place_of(pair)));
        let (Some(at), Some(enthalpy)) = (faults.collect(at), faults.collect(enthalpy)) else { continue };
        if enthalpy.get() <= 0.0 || at.kelvin() <= 0.0 {
            faults
                .push(bad("a transition on heating takes up heat: its enthalpy must be above 0".to_owned()));
        } else if melting.is_some_and(|(melting, _)| melting <= at) {
            faults
                .push(bad(format!("a transition between solids lies below the melting point, not at {at}")));
        } else {
            transitions.push(SolidTransition { at, enthalpy });
        }
    }
    transitions
}

/// True if what is given of a component has faults, so that nothing more can be said of it.
pub(super) fn spoiled(table: &ComponentTable, name: &str, given: &mut [Given]) -> bool {
    let found = table.find(name).ok();
    let own = given.iter_mut().find(|own| own.spoiled && names(table, &own.flag.name, name, found));
    own.map(|own| own.used = true).is_some()
}

/// The data of a component.
///
/// # Errors
/// If neither the table nor a flag knows it, or no enthalpy of fusion is there.
pub(super) fn pure_data(table: &ComponentTable, name: &str, given: &mut [Given]) -> Result<PureData, Fault> {
    let place = || Place::in_text("component", name, 0..name.len());
    let found = table.find(name).map(Arc::clone);
    let own = given.iter_mut().find(|given| names(table, &given.flag.name, name, found.as_ref().ok()));
    let own = own.map(|given| {
        given.used = true;
        &*given
    });
    let component = match found {
        Ok(component) => Some(component),
        Err(_) if own.is_some() => None,
        Err(error) => return Err(unknown(&error, place())),
    };
    let mut data = PureData {
        id: component.as_ref().map_or_else(|| name.trim().to_owned(), |own| own.id.as_str().to_owned()),
        name: component.as_ref().map_or_else(|| name.trim().to_owned(), |own| own.name.clone()),
        without_enthalpy: Vec::new(),
        sets: component.as_ref().map(|own| published_fusion(own)).unwrap_or_default(),
        component,
    };
    if let Some((melting, enthalpy)) = own.and_then(|own| own.melting.zip(own.enthalpy)) {
        let fusion = Fusion {
            melting_u_k: melting.1,
            enthalpy_u: enthalpy.1.map(MolarEnthalpy::new),
            ..Fusion::new(melting.0, enthalpy.0)
        };
        data.sets = vec![(fusion, format!("given with {FLAG}"))];
    }
    if data.sets.is_empty() {
        return Err(missing(&data, name, place()));
    }
    transitions_of(&mut data, own);
    if let Some(own) = own {
        for (fusion, _) in &mut data.sets {
            fusion.heat_capacity = own.heat_capacity.unwrap_or(fusion.heat_capacity);
        }
    }
    Ok(data)
}

/// Those given; else those of the table, as far as their enthalpy is known.
fn transitions_of(data: &mut PureData, own: Option<&Given>) {
    let stated = own.map(|own| own.transitions.clone()).filter(|own| !own.is_empty());
    let known = data.component.iter().flat_map(|component| &component.transition);
    let (with, without): (Vec<_>, Vec<_>) = known.partition(|transition| transition.enthalpy.is_some());
    let published = with
        .iter()
        .filter_map(|own| Some(SolidTransition { at: own.at, enthalpy: own.enthalpy? }))
        .collect::<Vec<_>>();
    if stated.is_none() {
        data.without_enthalpy = without.iter().map(|transition| transition.at).collect();
    }
    let transitions = stated.unwrap_or(published);
    for (fusion, _) in &mut data.sets {
        fusion.transitions = transitions.iter().filter(|own| own.at < fusion.melting).copied().collect();
    }
}

/// True if a flag means this component, by whichever of its names.
fn names(table: &ComponentTable, flag: &str, name: &str, component: Option<&Arc<Component>>) -> bool {
    let same = |one: &str, other: &str| one.trim().eq_ignore_ascii_case(other.trim());
    same(flag, name) || component.is_some_and(|own| table.find(flag).is_ok_and(|found| found.id == own.id))
}

fn unknown(error: &LookupError, place: Place) -> Fault {
    let hint = format!("{} A component that is in no table can be given with {EXAMPLE}.", error.hint());
    error.fault(place).with_hint(hint)
}

/// What is there, what is not, and how to give it.
fn missing(data: &PureData, name: &str, place: Place) -> Fault {
    let melting = data.component.as_ref().and_then(|component| component.melting.first());
    let message = match melting {
        Some(melting) => format!(
            "the table has a melting point of {} ({:.2} K) but no enthalpy of fusion",
            data.name,
            melting.at.kelvin()
        ),
        None => format!("the table has neither a melting point nor an enthalpy of fusion of {}", data.name),
    };
    let melts = melting.map_or("…".to_owned(), |melting| format!("{:.2}", melting.at.kelvin()));
    Fault::new("no_fusion_data", message, place).with_hint(format!(
        "Give them with their source at hand: {FLAG} \"{name} melts={melts}K fusion=…J/mol\"; none is estimated."
    ))
}

/// A `--pure` that belongs to none of the components.
pub(super) fn unused(table: &ComponentTable, given: &[Given], components: &[String], faults: &mut Faults) {
    // One without a name has a fault already.
    for own in given.iter().filter(|own| !own.used && !own.flag.name.is_empty()) {
        let is_meant = |name: &String| names(table, &own.flag.name, name, table.find(name).ok());
        if components.iter().any(is_meant) {
            let message = format!("{:?} is given twice", own.flag.name);
            faults.push(Fault::new("bad_pure", message, own.flag.place()).with_hint("Keep one of the two."));
            continue;
        }
        let message = format!("{:?} is none of the components of this liquid", own.flag.name);
        let all = format!("They are {}.", components.join(", "));
        let hint = did_you_mean(&own.flag.name, components.iter().map(String::as_str), &all);
        faults.push(Fault::new("bad_pure", message, own.flag.place()).with_hint(hint));
    }
}
