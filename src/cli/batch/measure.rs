//! `batch measure`: a property in its own unit.

use clap::Args;

use super::answer::{plain, record};
use crate::cli::args::Common;
use crate::cli::outcome::{Failure, Outcome};
use crate::cli::request::{RecordArgs, code, quantity};
use crate::input::{Fault, Faults, Place, did_you_mean};
use crate::quantity::{Property, ScanRate, Temperature, TemperatureDifference};
use crate::record::Event;
use crate::record::batch::PropertyMeasured;

/// Record a measured property: density, viscosity, conductivity, pH, melting-onset, liquidus, glass-transition,
/// crystallisation-on-cooling or cold-crystallisation
///
/// Melting-onset is where melting begins on heating: of a mixture its eutectic. Liquidus is where the last crystal goes
/// on slow heating; say with --method how that was seen, since a fast scan shows it too high and a supercooled liquid not
/// at all. What `liquidus` draws is held against that one.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  meltbook batch measure E1 density \"1.117 g/mL\" --at \"25 °C\" --method \"oscillating tube\"
  meltbook batch measure E1 liquidus \"11.5 °C\" --method \"last crystal seen, heated at 0.2 K/min\"
  meltbook batch measure E1 glass-transition \"-103.4 °C\" --scan-rate \"10 K/min\" --method \"scanning calorimetry\"")]
pub(super) struct MeasureArgs {
    /// The batch
    #[arg(value_name = "CODE")]
    code: String,
    /// What was measured
    #[arg(value_name = "PROPERTY")]
    property: String,
    /// The value with its unit; pH has none
    #[arg(value_name = "VALUE", allow_hyphen_values = true)]
    value: String,
    /// Standard uncertainty with its unit
    #[arg(long, value_name = "VALUE", allow_hyphen_values = true)]
    uncertainty: Option<String>,
    /// Temperature of the measurement
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    at: Option<String>,
    /// The method
    #[arg(long, value_name = "TEXT")]
    method: Option<String>,
    /// Heating rate of a thermal scan, negative for cooling
    #[arg(long, value_name = "RATE", allow_hyphen_values = true)]
    scan_rate: Option<String>,
    /// The instrument
    #[arg(long, value_name = "TEXT")]
    instrument: Option<String>,
    #[command(flatten)]
    record: RecordArgs,
}

pub(super) fn run(common: &Common, args: &MeasureArgs) -> Result<Outcome, Failure> {
    let code = code("CODE", &args.code)?;
    let mut faults = Faults::none();
    let property = faults.collect(property(&args.property));
    let value = property.and_then(|property| faults.collect(value(property, "VALUE", &args.value)));
    let uncertainty = property.zip(args.uncertainty.as_ref());
    let uncertainty = uncertainty.and_then(|(property, text)| faults.collect(spread(property, text)));
    let temperature = args.at.as_ref().and_then(|text| faults.collect(quantity::<Temperature>("--at", text)));
    let rate = args.scan_rate.as_ref();
    let rate = rate.and_then(|text| faults.collect(quantity::<ScanRate>("--scan-rate", text)));
    let (Some(property), Some(value), true) = (property, value, faults.is_empty()) else {
        return Err(faults.into());
    };
    let measured = PropertyMeasured {
        batch: code.clone(),
        property: property.id().to_owned(),
        value,
        text: args.value.trim().to_owned(),
        uncertainty,
        temperature,
        method: args.method.clone(),
        scan_rate_k_per_min: rate.map(|rate| rate.value.get()),
        instrument: args.instrument.clone(),
        at: args.record.at()?,
    };
    record(common, &args.record, &code, Event::BatchMeasured(measured), "Measured", plain)
}

fn property(id: &str) -> Result<Property, Fault> {
    Property::from_id(id).ok_or_else(|| {
        let ids = Property::ALL.map(Property::id);
        let place = Place::in_text("PROPERTY", id, 0..id.len());
        let hint = did_you_mean(id, ids, &format!("The properties are {}.", ids.join(", ")));
        Fault::new("unknown_property", format!("unknown property {id:?}"), place).with_hint(hint)
    })
}

fn value(property: Property, flag: &str, text: &str) -> Result<f64, Fault> {
    property
        .parse(text)
        .map_err(|error| Fault::of_quantity(&error, Place::in_text(flag, text, 0..text.len())))
}

/// An uncertainty has the property's unit; of a temperature it is a difference, in kelvin.
fn spread(property: Property, text: &str) -> Result<f64, Fault> {
    const FLAG: &str = "--uncertainty";
    if property.is_thermal() {
        let kelvin = text.trim().trim_end_matches("°C").trim_end_matches('K').trim().to_owned() + " K";
        return quantity::<TemperatureDifference>(FLAG, &kelvin).map(|typed| typed.value.get().abs());
    }
    value(property, FLAG, text)
}
