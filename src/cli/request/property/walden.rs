//! The typed request of Walden's product: conductivity, viscosity and density of each liquid by itself.

use std::sync::Arc;

use super::batches::series;
use super::carrier::{PerMole, of_composition, of_ratio};
use super::file::{Named, of_file};
use super::request::{CurveOptions, no_source, pair, published};
use crate::book::Book;
use crate::cli::args::Common;
use crate::cli::outcome::Failure;
use crate::cli::request::table::component_table;
use crate::cli::request::{codes, open_book, standing};
use crate::component::{ComponentTable, Proportions};
use crate::compose::curve::{MolarBasis, Series, published_series};
use crate::input::{Fault, Faults, Place, Warning};
use crate::quantity::{MolarMass, Property};
use crate::recipe::read_shorthand;
use crate::record::Code;

/// The name of a set of published values.
pub(in crate::cli) const PUBLISHED: &str = "published";

/// A typed request.
pub(in crate::cli) struct WaldenRequest {
    pub(in crate::cli) liquid: Option<String>,
    pub(in crate::cli) sets: Vec<WaldenSet>,
    pub(in crate::cli) warnings: Vec<Warning>,
}

/// What is known of one liquid.
pub(in crate::cli) struct WaldenSet {
    pub(in crate::cli) name: String,
    pub(in crate::cli) conductivity: Series,
    pub(in crate::cli) viscosity: Series,
    /// What makes it molar, and the salt that counts; else what is missing.
    pub(in crate::cli) basis: Result<(MolarBasis, String), String>,
}

/// What tells how much of a liquid holds a mole of salt.
struct Counting {
    proportions: Option<Proportions>,
    carrier: Option<String>,
    stated: Option<f64>,
}

/// Reads table, book, file and flags once; all faults together.
pub(in crate::cli) fn walden_request(
    common: &Common,
    options: &CurveOptions,
) -> Result<WaldenRequest, Failure> {
    if options.liquid.is_none() && options.batch.is_empty() && options.points.is_none() {
        return Err(no_source().into());
    }
    let counting = counting(options, &component_table(common)?)?;
    let mut warnings = Vec::new();
    let mut sets = of_points(options, &counting, &mut warnings)?;
    if !options.batch.is_empty() {
        let codes = codes("--batch", &options.batch)?;
        let book = open_book(common)?;
        for code in &codes {
            sets.push(of_batch(&book, code, &counting)?);
        }
    }
    if let Some(liquid) = &options.liquid {
        sets.extend(of_published(common, liquid, &counting, sets.is_empty())?);
    }
    for (property, of) in [
        (Property::Conductivity, (|own| &own.conductivity) as fn(&WaldenSet) -> &Series),
        (Property::Viscosity, |own| &own.viscosity),
    ] {
        if sets.iter().all(|own| of(own).points.is_empty()) {
            return Err(nothing(options, property).into());
        }
    }
    Ok(WaldenRequest { liquid: options.liquid.clone(), sets, warnings })
}

fn nothing(options: &CurveOptions, property: Property) -> Fault {
    let (id, of) = (property.id(), options.batch.join(", "));
    let message = format!("no {id} with its temperature is recorded of {of}");
    Fault::new("nothing_measured", message, Place::named("--batch"))
        .with_hint("Record it with: meltbook batch measure CODE PROPERTY VALUE --at TEMPERATURE.")
}

fn counting(options: &CurveOptions, table: &ComponentTable) -> Result<Counting, Faults> {
    let mut faults = Faults::none();
    let recipe = options.liquid.as_ref().map(|liquid| read_shorthand("LIQUID", liquid, table));
    let proportions = recipe.and_then(|recipe| match recipe {
        Ok(recipe) => Some(recipe.proportions),
        Err(found) => {
            faults.extend(found);
            None
        }
    });
    let carrier = options.carrier.as_ref().and_then(|name| {
        let place = Place::in_text("--carrier", name.as_str(), 0..name.len());
        let found = table.find(name).map(Arc::clone).map_err(|error| error.fault(place));
        faults.collect(found).map(|own| own.id.to_string())
    });
    let stated = options.mass_per_mole.as_ref().and_then(|text| {
        let place = Place::in_text("--mass-per-mole", text.as_str(), 0..text.len());
        let read = text.parse::<MolarMass>().map_err(|error| Fault::of_quantity(&error, place));
        faults.collect(read).map(MolarMass::get)
    });
    faults.or(Counting { proportions, carrier, stated })
}

impl Counting {
    fn of_liquid(&self) -> Result<PerMole, String> {
        if let Some(grams) = self.stated {
            let salt = self.carrier.clone().unwrap_or_else(|| "salt".to_owned());
            return Ok(PerMole { salt, grams, is_dry: false });
        }
        let missing = "no LIQUID and no --mass-per-mole says how much of it holds a mole of salt";
        let proportions = self.proportions.as_ref().ok_or(missing)?;
        of_ratio(proportions, self.carrier.as_deref())
    }
}

/// With densities it is molar.
fn basis(density: Series, per_mole: Result<PerMole, String>) -> Result<(MolarBasis, String), String> {
    if density.points.is_empty() {
        return Err("no density with its temperature is known of it".to_owned());
    }
    let PerMole { salt, grams, is_dry } = per_mole?;
    Ok((MolarBasis { density, grams_per_mole: grams, is_dry }, salt))
}

fn of_batch(book: &Book, code: &Code, counting: &Counting) -> Result<WaldenSet, Failure> {
    let standing = standing(book, code)?;
    let own = |property| series(&standing, code.to_string(), property);
    let made = standing.titrated.as_ref().or(standing.made.as_ref()).ok_or("nothing was weighed into it");
    let per_mole = made
        .map_err(str::to_owned)
        .and_then(|made| of_composition(&made.composition, counting.carrier.as_deref()));
    Ok(WaldenSet {
        name: code.to_string(),
        conductivity: own(Property::Conductivity),
        viscosity: own(Property::Viscosity),
        basis: basis(own(Property::Density), per_mole),
    })
}

/// One set for each name in the file.
fn of_points(
    options: &CurveOptions,
    counting: &Counting,
    warnings: &mut Vec<Warning>,
) -> Result<Vec<WaldenSet>, Failure> {
    let (Some(file), Some(x), Some(y)) = (&options.points, &options.x, &options.y) else {
        return Ok(Vec::new());
    };
    let Some(viscosity) = &options.viscosity else {
        let message = "the product of Walden needs a column of viscosities";
        let fault = Fault::new("column_missing", message, Place::named("--points"));
        return Err(fault.with_hint("Name it with --viscosity COLUMN.").into());
    };
    let mut read = |column: &str, property: Property| -> Result<Vec<Series>, Failure> {
        let (water, by) = (options.water_column.as_deref(), options.by.as_deref());
        let (series, left_out) = of_file(&Named { file, x, y: column, water, by }, property)?;
        if 0 < left_out {
            let message =
                format!("{left_out} rows have no {} or another cell empty and are left out", property.id());
            warnings.push(Warning::new("rows_left_out", message));
        }
        Ok(series)
    };
    let conductivities = read(y, Property::Conductivity)?;
    let viscosities = read(viscosity, Property::Viscosity)?;
    let densities = match &options.density {
        Some(column) => read(column, Property::Density)?,
        None => Vec::new(),
    };
    let find = |all: &[Series], name: &str| {
        all.iter().find(|own| own.name == name).cloned().unwrap_or_else(|| Series::new(name, Vec::new()))
    };
    let sets = conductivities.into_iter().map(|conductivity| WaldenSet {
        name: conductivity.name.clone(),
        viscosity: find(&viscosities, &conductivity.name),
        basis: basis(find(&densities, &conductivity.name), counting.of_liquid()),
        conductivity,
    });
    Ok(sets.collect())
}

/// What is published, all sources together; nothing of one kind is a fault only if it is all that was named.
fn of_published(
    common: &Common,
    liquid: &str,
    counting: &Counting,
    alone: bool,
) -> Result<Option<WaldenSet>, Failure> {
    let read = |property: Property| match published(common, liquid, property) {
        Ok(series) => Ok(Series::together(PUBLISHED, &series)),
        Err(Failure::Input(_)) if !alone => Ok(Series::new(PUBLISHED, Vec::new())),
        Err(failure) => Err(failure),
    };
    let (conductivity, viscosity) = (read(Property::Conductivity)?, read(Property::Viscosity)?);
    if conductivity.points.is_empty() || viscosity.points.is_empty() {
        return Ok(None);
    }
    let found = counting.proportions.as_ref().and_then(pair);
    let density = found.map_or_else(Vec::new, |(acceptor, donor, ratio)| {
        published_series(Property::Density, (&acceptor, &donor), &ratio)
    });
    let basis = basis(Series::together(PUBLISHED, &density), counting.of_liquid());
    Ok(Some(WaldenSet { name: PUBLISHED.to_owned(), conductivity, viscosity, basis }))
}
