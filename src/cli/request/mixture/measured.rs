//! Results to fit a model to: properties of batches of the book, and what these batches really hold.

use std::sync::Arc;

use clap::ValueEnum;

use super::others::OtherLiquids;
use super::results::{PlotsOf, Results, levels};
use super::space::named;
use crate::book::batch_codes;
use crate::cli::args::Common;
use crate::cli::outcome::Failure;
use crate::cli::request::{codes, component_table, failure, open_book, quantity, standing};
use crate::component::{Component, ComponentTable, Composition, RatioBasis};
use crate::compose::mixture::Observed;
use crate::input::{Fault, Faults, Place, Warning, did_you_mean};
use crate::quantity::{Property, Temperature};
use crate::record::batch::PropertyMeasured;
use crate::record::life::BatchStatus;
use crate::report::standing::Standing;

/// Batches of one recipe are weighed to about this.
const WEIGHED_ALIKE: f64 = 0.005;
/// So much beside the named components, as a mass fraction, is worth a word.
const OTHERS: f64 = 0.005;
/// The process variable that is the temperature of a measurement.
const TEMPERATURE: &str = "temperature";
/// Temperatures that differ by less are one.
const SAME_TEMPERATURE: f64 = 0.5;

/// What is asked of the book.
pub(super) struct Wish<'w> {
    pub(super) parts: &'w [String],
    pub(super) property: &'w str,
    pub(super) batches: &'w [String],
    pub(super) variables: &'w [String],
    pub(super) at: Option<&'w str>,
    pub(super) also: &'w [AlsoArg],
    pub(super) basis: RatioBasis,
}

/// Batches that are left out unless they are asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(in crate::cli) enum AlsoArg {
    /// Not to be used, by whoever judged them
    Rejected,
    /// Not finished
    Started,
}

impl AlsoArg {
    fn of(status: BatchStatus) -> Option<Self> {
        match status {
            BatchStatus::Rejected => Some(Self::Rejected),
            BatchStatus::Started => Some(Self::Started),
            BatchStatus::Finished | BatchStatus::Released => None,
        }
    }

    /// The flag that takes them in, and why they are left out.
    fn words(self) -> (&'static str, &'static str) {
        match self {
            Self::Rejected => ("rejected", "rejected"),
            Self::Started => ("started", "not finished"),
        }
    }
}

/// A process variable that a batch or its measurement tells.
enum Told {
    Water,
    Temperature,
    Addition(Arc<Component>),
}

/// The last value of a property of each batch.
pub(super) fn of_book(common: &Common, wish: &Wish<'_>) -> Result<Results, Failure> {
    let mut faults = Faults::none();
    let table = component_table(common)?;
    let mut warnings = Vec::new();
    let names = named(wish.parts, &table, &mut warnings, &mut faults);
    for name in names.iter().filter(|name| name.component.is_none()) {
        let place = Place::in_text("--part", name.given.as_str(), 0..name.given.len());
        faults.collect(table.find(&name.given).map_err(|error| error.fault(place)));
    }
    let property = faults.collect(property(wish.property));
    let told: Vec<Told> =
        wish.variables.iter().filter_map(|name| faults.collect(told(name, &table))).collect();
    let at = wish.at.and_then(|text| faults.collect(quantity::<Temperature>("--at", text)));
    let wanted = faults.collect(codes("--batches", wish.batches)).unwrap_or_default();
    let (Some(property), true) = (property, faults.is_empty()) else { return Err(faults.into()) };
    let components: Vec<Arc<Component>> = names.iter().filter_map(|name| name.component.clone()).collect();
    let book = open_book(common)?;
    let all = batch_codes(&book).map_err(|error| failure(&error))?;
    let chosen = if wanted.is_empty() { all } else { wanted };
    let mut own = Found::default();
    for code in &chosen {
        let standing = standing(&book, code)?;
        let measured = measured(&standing, property, at.as_ref().map(|at| at.value.celsius()));
        let Some(measured) = measured else { continue };
        if let Some(status) = AlsoArg::of(standing.life.status).filter(|own| !wish.also.contains(own)) {
            own.left_out.push((status, code.to_string()));
            continue;
        }
        own.add(&standing, measured, &components, &told, wish.basis)?;
    }
    own.check_temperature(property, &told)?;
    if own.observed.is_empty() {
        let left_out = own.left_out().map(|own| format!("; {}", own.message)).collect::<String>();
        let message = format!("no batch has a {} that can be used{left_out}", property.id());
        let fault = Fault::new("no_results", message, Place::named("--property"));
        return Err(fault
            .with_hint(
                "Record it with batch measure, or widen --batches and --at; each batch must hold the parts.",
            )
            .into());
    }
    warnings.clear();
    warnings.extend(own.left_out());
    warnings.extend(own.others());
    let unit = Some(property.unit().to_owned()).filter(|unit| !unit.is_empty());
    let variables = told.iter().map(|told| match told {
        Told::Water => ("water".to_owned(), Some("wt%".to_owned())),
        Told::Temperature => (TEMPERATURE.to_owned(), Some("°C".to_owned())),
        Told::Addition(component) => (component.id.to_string(), Some("mol/kg".to_owned())),
    });
    Ok(Results {
        variables: levels(variables.collect(), &own.observed),
        names: names.into_iter().map(|name| name.id).collect(),
        counts: match wish.basis {
            RatioBasis::Mole => "mole fractions of the named components in each batch as it was weighed",
            RatioBasis::Mass => "mass fractions of the named components in each batch as it was weighed",
        },
        readings: vec![1; own.observed.len()],
        observed: own.observed,
        labels: own.labels,
        blocks: Vec::new(),
        plots: PlotsOf::Single,
        response: property.id().to_owned(),
        unit,
        alike: WEIGHED_ALIKE,
        warnings,
    })
}

fn property(id: &str) -> Result<Property, Fault> {
    Property::from_id(id).ok_or_else(|| {
        let ids = Property::ALL.map(Property::id);
        let place = Place::in_text("--property", id, 0..id.len());
        let hint = did_you_mean(id, ids, &format!("The properties are {}.", ids.join(", ")));
        Fault::new("unknown_property", format!("unknown property {id:?}"), place).with_hint(hint)
    })
}

fn told(name: &str, table: &ComponentTable) -> Result<Told, Fault> {
    if name.eq_ignore_ascii_case(TEMPERATURE) {
        return Ok(Told::Temperature);
    }
    match table.find(name) {
        Ok(component) if component.is_water() => Ok(Told::Water),
        Ok(component) => Ok(Told::Addition(Arc::clone(component))),
        Err(_) => {
            let place = Place::in_text("--process", name, 0..name.len());
            let fault =
                Fault::new("not_in_book", format!("the book does not tell {name:?} of a batch"), place);
            Err(fault.with_hint("It tells water, temperature (of the measurement) and added components."))
        }
    }
}

/// The last value of a property, at a temperature if one is asked for.
fn measured(standing: &Standing, property: Property, at: Option<f64>) -> Option<&PropertyMeasured> {
    let fits = |own: &&PropertyMeasured| {
        let temperature = own.temperature.as_ref().map(|typed| typed.value.celsius());
        let at_it = at.is_none_or(|at| temperature.is_some_and(|own| (own - at).abs() <= SAME_TEMPERATURE));
        own.property == property.id() && at_it
    };
    standing.life.properties.iter().map(|own| &own.what).rfind(fits)
}

/// What was found so far.
#[derive(Default)]
struct Found {
    observed: Vec<Observed>,
    labels: Vec<String>,
    temperatures: Vec<Option<f64>>,
    others: Vec<(String, f64)>,
    left_out: Vec<(AlsoArg, String)>,
    other_liquids: OtherLiquids,
}

impl Found {
    fn add(
        &mut self,
        standing: &Standing,
        measured: &PropertyMeasured,
        parts: &[Arc<Component>],
        told: &[Told],
        basis: RatioBasis,
    ) -> Result<(), Failure> {
        let made = standing.titrated.as_ref().or(standing.made.as_ref());
        let Some(composition) = made.map(|made| &made.composition) else { return Ok(()) };
        let code = standing.life.code.to_string();
        let Some((fractions, rest)) = fractions(composition, parts, told, basis) else { return Ok(()) };
        let set = told.iter().filter_map(|told| match told {
            Told::Water => Some(Component::WATER),
            Told::Addition(component) => Some(component.id.as_str()),
            Told::Temperature => None,
        });
        let known: Vec<&str> = parts.iter().map(|part| part.id.as_str()).chain(set).collect();
        if self.other_liquids.takes(&code, composition, &known) {
            return Ok(());
        }
        let temperature = measured.temperature.as_ref().map(|typed| typed.value.celsius());
        let shares = composition.shares(None);
        let mut setting = Vec::new();
        for told in told {
            setting.push(match told {
                Told::Water => composition.water_fraction().percent(),
                Told::Temperature => temperature.ok_or_else(|| {
                    let message =
                        format!("the {} of {code} was recorded without a temperature", measured.property);
                    let fault = Fault::new("no_temperature", message, Place::named("--process temperature"));
                    fault.with_hint("Correct the entry, or leave the batch out with --batches.")
                })?,
                Told::Addition(component) => shares
                    .iter()
                    .find(|own| own.component == component.id.as_str())
                    .and_then(|own| own.molality)
                    .map_or(0.0, |molality| molality.get()),
            });
        }
        if OTHERS < rest {
            self.others.push((code.clone(), rest));
        }
        self.observed.push(Observed { fractions, setting, block: 0, response: measured.value });
        self.labels.push(code);
        self.temperatures.push(temperature);
        Ok(())
    }

    /// Values at several temperatures are no results of one kind.
    fn check_temperature(&self, property: Property, told: &[Told]) -> Result<(), Fault> {
        let known: Vec<f64> = self.temperatures.iter().copied().flatten().collect();
        let low = known.iter().copied().fold(f64::INFINITY, f64::min);
        let high = known.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let is_told = told.iter().any(|told| matches!(told, Told::Temperature));
        if is_told || property.is_thermal() || high - low <= SAME_TEMPERATURE || known.is_empty() {
            return Ok(());
        }
        let message = format!("the {} was measured from {low} °C to {high} °C", property.id());
        let fault = Fault::new("temperatures_mixed", message, Place::named("--property"));
        Err(fault.with_hint("Choose with --at \"25 °C\", or take it in with --process temperature."))
    }

    /// Batches that were measured and do not count, and what takes them in.
    fn left_out(&self) -> impl Iterator<Item = Warning> {
        let each = [AlsoArg::Rejected, AlsoArg::Started].into_iter().filter_map(|status| {
            let own = self.left_out.iter().filter(|(own, _)| *own == status);
            let codes: Vec<&str> = own.map(|(_, code)| code.as_str()).collect();
            let (word, why) = status.words();
            let message = format!("left out: {}: {why}; --also {word} takes them in", codes.join(", "));
            (!codes.is_empty()).then(|| Warning::new("batches_left_out", message))
        });
        each.chain(self.other_liquids.warnings()).collect::<Vec<_>>().into_iter()
    }

    /// What the fractions leave out.
    fn others(&self) -> Option<Warning> {
        let words = self.others.iter().map(|(code, rest)| format!("{code} {:.1} wt%", 100.0 * rest));
        let words: Vec<String> = words.collect();
        (!words.is_empty()).then(|| {
            let message = format!(
                "the fractions count the named components alone; beside them and the process variables there is in {}",
                words.join(", ")
            );
            Warning::new("others_left_out", message)
        })
    }
}

/// The fractions of the parts among each other, and the mass fraction of what is neither part nor process variable.
/// `None` where a batch holds none of the parts, or has no molar mass for one.
fn fractions(
    composition: &Composition,
    parts: &[Arc<Component>],
    told: &[Told],
    basis: RatioBasis,
) -> Option<(Vec<f64>, f64)> {
    let shares = composition.shares(None);
    let share = |id: &str| shares.iter().find(|own| own.component == id);
    let amount = |component: &Arc<Component>| match (share(component.id.as_str()), basis) {
        (None, _) => Some(0.0),
        (Some(own), RatioBasis::Mole) => own.mole_fraction.map(|x| x.get()),
        (Some(own), RatioBasis::Mass) => Some(own.mass_fraction.get()),
    };
    let amounts: Vec<f64> = parts.iter().map(amount).collect::<Option<_>>()?;
    let sum: f64 = amounts.iter().sum();
    let named: f64 =
        parts.iter().filter_map(|part| share(part.id.as_str())).map(|own| own.mass_fraction.get()).sum();
    let set: f64 = told
        .iter()
        .filter_map(|told| match told {
            Told::Water => share(Component::WATER),
            Told::Addition(component) => share(component.id.as_str()),
            Told::Temperature => None,
        })
        .map(|own| own.mass_fraction.get())
        .sum();
    (0.0 < sum).then(|| (amounts.iter().map(|own| own / sum).collect(), (1.0 - named - set).max(0.0)))
}
