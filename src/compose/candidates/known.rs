//! What was measured of a composition: where it melts, and where somebody had it as a liquid in hand.

use std::sync::LazyLock;

use serde::{Deserialize, Serialize};

use super::combination::Combination;
use crate::compose::curve::{PropertyPoint, published_mixtures, published_series};
use crate::quantity::{Property, Temperature, parse_number};

/// The file. A test reads it row by row.
const TEXT: &str = include_str!("../../../data/phases/measured.csv");

/// Read once, when it is first asked for.
static ROWS: LazyLock<Vec<Row>> = LazyLock::new(read);

#[derive(Debug, Deserialize)]
struct Row {
    acceptor: String,
    donor: String,
    ratio: String,
    temperature_k: f64,
    what: String,
    source: String,
}

/// A published melting or freezing point of a composition.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MeasuredMelting {
    /// The temperature.
    pub temperature: Temperature,
    /// What was measured, and what speaks against it.
    pub what: &'static str,
    /// The source.
    pub source: &'static str,
}

/// A property of the liquid that was measured: it flowed there, stable or supercooled.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SeenLiquid {
    /// The lowest temperature at which any was measured.
    pub temperature: Temperature,
    /// Which property.
    pub property: &'static str,
    /// The source.
    pub source: String,
}

/// A row that can't be read would be left out, which the tests of this room rule out.
fn read() -> Vec<Row> {
    csv::Reader::from_reader(TEXT.as_bytes()).deserialize().filter_map(Result::ok).collect()
}

/// Every published melting point of this composition.
pub fn measured_melting(combination: &Combination) -> Vec<MeasuredMelting> {
    let own = ROWS.iter().filter(|row| is(combination, &row.acceptor, &row.donor, &row.ratio));
    own.map(|row| MeasuredMelting {
        temperature: Temperature::from_kelvin(row.temperature_k),
        what: &row.what,
        source: &row.source,
    })
    .collect()
}

/// The lowest temperature at which a published density, viscosity or conductivity of this composition was measured.
pub fn seen_liquid(combination: &Combination) -> Option<SeenLiquid> {
    let found = [Property::Density, Property::Viscosity, Property::Conductivity]
        .into_iter()
        .flat_map(|property| of_property(combination, property));
    found.reduce(|best, next| if next.temperature < best.temperature { next } else { best })
}

fn of_property(combination: &Combination, property: Property) -> Vec<SeenLiquid> {
    let own = |mixture: &crate::compose::curve::Mixture| {
        is(combination, &mixture.acceptor, &mixture.donor, &mixture.ratio)
    };
    let mixtures = published_mixtures(property).into_iter().filter(own);
    let series = mixtures.flat_map(|own| published_series(property, (&own.acceptor, &own.donor), &own.ratio));
    let seen = |name: String, point: PropertyPoint| SeenLiquid {
        temperature: point.temperature,
        property: property.id(),
        source: name,
    };
    series.flat_map(|own| own.points.into_iter().map(move |point| seen(own.name.clone(), point))).collect()
}

fn is(combination: &Combination, acceptor: &str, donor: &str, ratio: &str) -> bool {
    let moles: Vec<f64> = ratio.split(':').filter_map(|text| Some(parse_number(text).ok()?.value)).collect();
    match moles[..] {
        [one, other] => combination.is(&[(acceptor, one), (donor, other)]),
        _ => false,
    }
}
