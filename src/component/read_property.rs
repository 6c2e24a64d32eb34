//! The physical properties of one component in a table file.

use super::entry::{Hygroscopic, Moistness};
use super::property::{DensityAt, Fusion, HeatLimit, Melting, Transition};
use super::read::{Sources, source, word};
use crate::input::TableReader;
use crate::quantity::{Temperature, TemperatureDifference};

pub(super) fn hygroscopic(reader: &TableReader<'_>, sources: &Sources) -> Option<Hygroscopic> {
    let table = reader.table("hygroscopic")?;
    let level = table
        .required_string("level")
        .and_then(|field| word(&table, field, Moistness::from_word, "none, moderate, strong"));
    let source = source(&table, "source", sources);
    table.finish();
    Some(Hygroscopic { level: level?, source: source? })
}

pub(super) fn densities(reader: &TableReader<'_>, sources: &Sources) -> Vec<DensityAt> {
    each(reader, "density", |table| {
        let value = table.required_quantity("value");
        let at = table.required_quantity::<Temperature>("at");
        let slope = table.quantity("slope").map(|field| field.value.value);
        let source = source(table, "source", sources);
        Some(DensityAt { value: value?.value.value, at: at?.value.value, slope, source: source? })
    })
}

pub(super) fn meltings(reader: &TableReader<'_>, sources: &Sources) -> Vec<Melting> {
    each(reader, "melting", |table| {
        let at = table.required_quantity::<Temperature>("at");
        let source = source(table, "source", sources);
        Some(Melting { at: at?.value.value, source: source? })
    })
}

pub(super) fn fusions(reader: &TableReader<'_>, sources: &Sources) -> Vec<Fusion> {
    each(reader, "fusion", |table| {
        let enthalpy = table.required_quantity("enthalpy");
        let enthalpy_u = table.quantity("enthalpy_u").map(|field| field.value.value);
        let at = table.required_quantity::<Temperature>("at");
        let at_u = table.quantity::<TemperatureDifference>("at_u");
        let source = source(table, "source", sources);
        Some(Fusion {
            enthalpy: enthalpy?.value.value,
            enthalpy_u,
            at: at?.value.value,
            at_u_k: at_u.map(|field| field.value.value.get()),
            source: source?,
        })
    })
}

pub(super) fn transitions(reader: &TableReader<'_>, sources: &Sources) -> Vec<Transition> {
    each(reader, "transition", |table| {
        let at = table.required_quantity::<Temperature>("at");
        let name = table.required_string("name").map(|field| field.value.to_owned());
        let enthalpy = table.quantity("enthalpy").map(|field| field.value.value);
        let source = source(table, "source", sources);
        Some(Transition { at: at?.value.value, name: name?, enthalpy, source: source? })
    })
}

pub(super) fn heat_limits(reader: &TableReader<'_>, sources: &Sources) -> Vec<HeatLimit> {
    each(reader, "heat_limit", |table| {
        let at = table.quantity::<Temperature>("at").map(|field| field.value.value);
        let what = table.required_string("what").map(|field| field.value.to_owned());
        let source = source(table, "source", sources);
        Some(HeatLimit { at, what: what?, source: source? })
    })
}

/// Reads each table of a list; a faulty one is reported and left out.
fn each<T>(
    reader: &TableReader<'_>,
    key: &'static str,
    read: impl Fn(&TableReader<'_>) -> Option<T>,
) -> Vec<T> {
    let entry = |table: TableReader<'_>| {
        let value = read(&table);
        table.finish();
        value
    };
    reader.tables(key).into_iter().filter_map(entry).collect()
}
