//! Published values that come with the program (`data/properties`), each with its source.

use std::sync::LazyLock;

use serde::Deserialize;

use super::series::{PropertyPoint, Series};
use crate::quantity::{MassFraction, Property, Temperature};

/// The file. A test reads it row by row.
const TEXT: &str = include_str!("../../../data/properties/published.csv");

/// Read once, when it is first asked for.
static ROWS: LazyLock<Vec<Row>> = LazyLock::new(read);

/// A line of the file.
#[derive(Debug, Deserialize)]
struct Row {
    property: String,
    acceptor: String,
    donor: String,
    ratio: String,
    water_wt_pct: Option<f64>,
    temperature_k: f64,
    value: f64,
    #[serde(rename = "use")]
    used: String,
    remark: String,
    source: String,
    carried_by: String,
}

/// A liquid of which something is published here.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Mixture {
    /// The id of the acceptor.
    pub acceptor: String,
    /// The id of the donor.
    pub donor: String,
    /// Moles of one to moles of the other: "1:2".
    pub ratio: String,
}

/// A row that can't be read would be left out, which the tests of this room rule out.
fn read() -> Vec<Row> {
    csv::Reader::from_reader(TEXT.as_bytes()).deserialize().filter_map(Result::ok).collect()
}

fn rows(property: Property) -> impl Iterator<Item = &'static Row> {
    ROWS.iter().filter(move |row| row.property == property.id())
}

/// The liquids of which a property is published here.
pub fn published_mixtures(property: Property) -> Vec<Mixture> {
    let mut mixtures: Vec<Mixture> = Vec::new();
    for row in rows(property) {
        let own =
            Mixture { acceptor: row.acceptor.clone(), donor: row.donor.clone(), ratio: row.ratio.clone() };
        if !mixtures.contains(&own) {
            mixtures.push(own);
        }
    }
    mixtures
}

/// The published series of a property of a liquid: one for each source, by ids and ratio.
pub fn published_series(property: Property, (acceptor, donor): (&str, &str), ratio: &str) -> Vec<Series> {
    let mut series: Vec<Series> = Vec::new();
    let fits = |row: &&Row| row.acceptor == acceptor && row.donor == donor && row.ratio == ratio;
    for row in rows(property).filter(fits) {
        let place = series.iter().position(|own| own.name == row.source).unwrap_or_else(|| {
            series.push(Series::new(row.source.clone(), Vec::new()));
            series.len() - 1
        });
        let own = &mut series[place];
        for said in [&row.carried_by, &row.remark] {
            if !said.is_empty() && !own.remarks.contains(said) {
                own.remarks.push(said.clone());
            }
        }
        if row.used == "no" {
            own.left_out += 1;
            continue;
        }
        own.points.push(PropertyPoint {
            temperature: Temperature::from_kelvin(row.temperature_k),
            water: row.water_wt_pct.map(|percent| MassFraction::new(percent / 100.0)),
            value: row.value,
        });
    }
    series
}
