//! What was measured of a composition: where it melts, and where somebody had it as a liquid in hand.

use std::sync::LazyLock;

use serde::{Deserialize, Serialize};

use super::combination::Combination;
use crate::compose::curve::{Mixture, published_mixtures, published_series};
use crate::quantity::{Property, Temperature, parse_number};

/// The file. A test reads it row by row.
const TEXT: &str = include_str!("../../../data/phases/measured.csv");

/// Read once, when it is first asked for.
static ROWS: LazyLock<Vec<Row>> = LazyLock::new(read);
static SEEN: LazyLock<Vec<(Mixture, SeenLiquid)>> = LazyLock::new(all_seen);

#[derive(Debug, Deserialize)]
struct Row {
    acceptor: String,
    donor: String,
    ratio: String,
    temperature_k: f64,
    of: String,
    what: String,
    source: String,
}

/// How a row says that its eutectic is of another composition, or of one that its source does not state.
const ELSEWHERE: &str = "eutectic elsewhere";

/// A published melting or freezing point that speaks of a composition.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MeasuredMelting {
    /// The temperature.
    pub temperature: Temperature,
    /// True if it is the eutectic of the pair at another or an unstated composition: this one melts no lower, and may
    /// melt higher.
    pub is_least: bool,
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

/// Every published melting point of this composition, and eutectics of its pair below which it can't melt.
pub fn measured_melting(combination: &Combination) -> Vec<MeasuredMelting> {
    let own = ROWS.iter().filter(|row| combination.is(&parts(&row.acceptor, &row.donor, &row.ratio)));
    own.map(|row| MeasuredMelting {
        temperature: Temperature::from_kelvin(row.temperature_k),
        is_least: row.of == ELSEWHERE,
        what: &row.what,
        source: &row.source,
    })
    .collect()
}

/// The lowest temperature at which a published density, viscosity or conductivity of this composition was measured.
pub fn seen_liquid(combination: &Combination) -> Option<SeenLiquid> {
    let own = SEEN.iter().filter(|(own, _)| combination.is(&parts(&own.acceptor, &own.donor, &own.ratio)));
    let lowest =
        |best: SeenLiquid, next: SeenLiquid| if next.temperature < best.temperature { next } else { best };
    own.map(|(_, seen)| seen.clone()).reduce(lowest)
}

/// The lowest temperature of each published liquid, property and source.
fn all_seen() -> Vec<(Mixture, SeenLiquid)> {
    let properties = [Property::Density, Property::Viscosity, Property::Conductivity];
    properties.into_iter().flat_map(of_property).collect()
}

fn of_property(property: Property) -> Vec<(Mixture, SeenLiquid)> {
    let mut seen = Vec::new();
    for mixture in published_mixtures(property) {
        for own in published_series(property, (&mixture.acceptor, &mixture.donor), &mixture.ratio) {
            let temperatures = own.points.iter().map(|point| point.temperature);
            let lowest = temperatures.reduce(|best, next| if next < best { next } else { best });
            seen.extend(lowest.map(|temperature| {
                let source = own.name.clone();
                (mixture.clone(), SeenLiquid { temperature, property: property.id(), source })
            }));
        }
    }
    seen
}

/// Ids with moles; nothing where the ratio can't be read.
fn parts<'r>(acceptor: &'r str, donor: &'r str, ratio: &str) -> Vec<(&'r str, f64)> {
    let moles = ratio.split(':').filter_map(|text| Some(parse_number(text).ok()?.value));
    [acceptor, donor].into_iter().zip(moles).collect()
}
