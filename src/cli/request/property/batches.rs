//! What was measured of batches of the book.

use super::liquid::{Parts, is_one_liquid, parts, words};
use crate::cli::args::Common;
use crate::cli::outcome::Failure;
use crate::cli::request::{codes, open_book, standing};
use crate::compose::curve::{PropertyPoint, Series};
use crate::quantity::Property;
use crate::report::standing::Standing;

/// The values of a property of each batch that have a temperature; water is what the last titration and what was put
/// in since come to. Batches of one liquid, whatever their water, are called by one name; `known` is a liquid that is
/// asked for beside them.
pub(super) fn of_batches(
    common: &Common,
    names: &[String],
    property: Property,
    known: Option<Parts>,
) -> Result<Vec<Series>, Failure> {
    let codes = codes("--batch", names)?;
    let book = open_book(common)?;
    let mut liquids: Vec<Parts> = known.into_iter().collect();
    let mut found = Vec::new();
    for code in &codes {
        let standing = standing(&book, code)?;
        let own = parts(&standing);
        if !liquids.iter().any(|known| is_one_liquid(known, &own)) {
            liquids.push(own.clone());
        }
        let liquid = liquids.iter().find(|known| is_one_liquid(known, &own)).map(words);
        found.push(series(&standing, code.to_string(), property).of_liquid(liquid));
    }
    Ok(found)
}

pub(super) fn series(standing: &Standing, name: String, property: Property) -> Series {
    let water = standing.titrated.as_ref().map(|made| made.composition.water_fraction());
    let own = || standing.life.properties.iter().filter(|own| own.what.property == property.id());
    let points = own().filter_map(|own| {
        let temperature = own.what.temperature.as_ref()?.value;
        Some(PropertyPoint { temperature, water, value: own.what.value })
    });
    let points: Vec<PropertyPoint> = points.collect();
    Series { left_out: own().count() - points.len(), ..Series::new(name, points) }
}
