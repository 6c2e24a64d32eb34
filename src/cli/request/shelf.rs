//! Taking in a bottle: its quality and the facts on its label.

use std::sync::Arc;

use clap::Args;
use jiff::civil::Date;

use super::record::{RecordArgs, day};
use super::surroundings::{now, zone};
use super::table::find;
use crate::cli::outcome::Failure;
use crate::component::{Component, ComponentTable, Quality};
use crate::input::{Fault, Faults, FlagValue, Place, Warning};
use crate::quantity::{Mass, Quantity, Temperature, Typed, parse_number};
use crate::record::bottle::Price;

/// The arguments of `bottle receive`.
#[derive(Debug, Args)]
pub(in crate::cli) struct ReceiveArgs {
    /// The component with its quality. Keys: form, assay, assay_u, basis (dried, as-is, as-hydrate), moisture,
    /// moisture_u
    #[arg(value_name = "NAME key=value…", allow_hyphen_values = true)]
    pub(in crate::cli) component: String,
    /// Mass of the content
    #[arg(long, value_name = "MASS", allow_hyphen_values = true)]
    net: String,
    /// Who sold it
    #[arg(long, value_name = "NAME")]
    pub(in crate::cli) supplier: Option<String>,
    /// The supplier's lot number
    #[arg(long, value_name = "LOT")]
    pub(in crate::cli) lot: Option<String>,
    /// What it cost, such as "45.50 EUR"
    #[arg(long, value_name = "AMOUNT CURRENCY", allow_hyphen_values = true)]
    price: Option<String>,
    /// Day of receipt [default: today]
    #[arg(long, value_name = "DATE")]
    received: Option<String>,
    /// Last day of use
    #[arg(long, value_name = "DATE")]
    expires: Option<String>,
    /// Where and how it is kept
    #[arg(long, value_name = "TEXT")]
    pub(in crate::cli) storage: Option<String>,
    /// Anything else
    #[arg(long, value_name = "TEXT")]
    pub(in crate::cli) note: Option<String>,
    #[command(flatten)]
    pub(in crate::cli) record: RecordArgs,
}

/// What the label says beside the quality.
pub(in crate::cli) struct LabelFacts {
    pub(in crate::cli) net: Typed<Mass>,
    pub(in crate::cli) price: Option<Price>,
    pub(in crate::cli) received: Option<Date>,
    pub(in crate::cli) expires: Option<Date>,
}

impl ReceiveArgs {
    /// Mass, price and dates; all faults together.
    pub(in crate::cli) fn facts(&self) -> Result<LabelFacts, Faults> {
        let mut faults = Faults::none();
        let net = faults.collect(quantity::<Mass>("--net", &self.net));
        let price = self.price.as_ref().and_then(|text| faults.collect(price(text)));
        let received = self.received.as_ref().and_then(|text| faults.collect(day("--received", text)));
        let expires = self.expires.as_ref().and_then(|text| faults.collect(day("--expires", text)));
        if net.as_ref().is_some_and(|net| net.value <= Mass::ZERO) {
            let place = Place::in_text("--net", self.net.as_str(), 0..self.net.len());
            let fault = Fault::new("empty_bottle", "a bottle that comes in holds more than nothing", place);
            faults.push(fault.with_hint("Give the mass of the content, as in --net \"500 g\"."));
        }
        match net {
            Some(net) if faults.is_empty() => Ok(LabelFacts { net, price, received, expires }),
            _ => Err(faults),
        }
    }
}

/// `ChCl assay=98% basis=dried`: a component and its quality.
pub(in crate::cli) fn named_quality(
    origin: &str,
    text: &str,
    table: &ComponentTable,
) -> Result<(Arc<Component>, Quality), Faults> {
    let mut faults = Faults::none();
    let flag = FlagValue::collecting(origin, text, &Quality::KEYS, &mut faults);
    if flag.name.is_empty() {
        let fault = Fault::new("no_name", "the component is missing", flag.place());
        faults.push(fault.with_hint("Write it like \"ChCl assay=98% basis=dried moisture=1.5%\"."));
        return Err(faults);
    }
    let start = text.find(flag.name.as_str()).unwrap_or(0);
    let Some(component) = faults.collect(find(table, origin, text, start..start + flag.name.len())) else {
        Quality::check_values(&flag, &mut faults);
        return Err(faults);
    };
    let quality = faults.collect(Quality::from_flag(&flag, &component, table));
    match quality {
        Some(quality) if faults.is_empty() => Ok((component, quality)),
        _ => Err(faults),
    }
}

/// A flag's value as a quantity.
///
/// # Errors
/// If it is none, or a mass whose comma has two meanings.
pub(in crate::cli) fn quantity<T: Quantity>(flag: &str, text: &str) -> Result<Typed<T>, Fault> {
    if T::NOUN == Mass::NOUN {
        one_meaning(flag, text)?;
    }
    Typed::parse(text).map_err(|error| Fault::of_quantity(&error, Place::in_text(flag, text, 0..text.len())))
}

/// Refuses a mass like "1,500 g": to some it is a gram and a half, to others one and a half kilograms. A table of masses is read
/// otherwise, by what stands between its columns.
fn one_meaning(flag: &str, text: &str) -> Result<(), Fault> {
    let number = text.trim().trim_start_matches(['+', '-', '\u{2212}']);
    let end = number.find(|c: char| !c.is_ascii_digit() && !matches!(c, ',' | '.')).unwrap_or(number.len());
    let (number, unit) = number.split_at(end);
    let Some((whole, decimals)) = number.split_once(',') else { return Ok(()) };
    let digits = |text: &str| text.bytes().all(|byte| byte.is_ascii_digit());
    // No group of thousands follows a zero.
    let may_group = (1..=3).contains(&whole.len()) && digits(whole) && !whole.starts_with('0');
    if !may_group || decimals.len() != 3 || !digits(decimals) {
        return Ok(());
    }
    let (point, group) = (format!("{whole}.{decimals}{unit}"), format!("{whole}{decimals}{unit}"));
    let message =
        format!("{:?} may be {point} or {group}: a comma before three digits has two meanings", text.trim());
    let fault = Fault::new("bad_quantity", message, Place::in_text(flag, text, 0..text.len()));
    Err(fault.with_hint(format!("Write {point:?} or {group:?}.")))
}

/// The reason that a command can't do without.
pub(in crate::cli) fn reason(record: &RecordArgs, what: &str) -> Result<String, Fault> {
    let given = record.because.as_deref().map(str::trim).filter(|reason| !reason.is_empty());
    given.map(str::to_owned).ok_or_else(|| {
        let fault = Fault::new("no_reason", "the reason is missing", Place::named("--because"));
        fault.with_hint(format!("Say {what} with --because \"…\"."))
    })
}

/// The day on which this call is made, in local time.
pub(in crate::cli) fn today() -> Result<Date, Failure> {
    Ok(now()?.to_zoned_datetime(zone()).date())
}

/// What the component table says of heating a component so hot.
pub(in crate::cli) fn heat_warnings(table: &ComponentTable, id: &str, heat: Temperature) -> Vec<Warning> {
    let Some(component) = table.get(id) else { return Vec::new() };
    let reached = component.heat_limit.iter().filter(|limit| limit.at.is_some_and(|at| at <= heat));
    let warning = |limit: &crate::component::HeatLimit| {
        let at = limit.at.map_or(String::new(), |at| format!("from {at}: "));
        let message = format!("{} at {heat}: {at}{} ({})", component.name, limit.what, limit.source);
        Warning::new("heat_limit", message)
    };
    reached.map(warning).collect()
}

fn price(text: &str) -> Result<Price, Fault> {
    let bad = || {
        let place = Place::in_text("--price", text, 0..text.len());
        Fault::new("bad_price", format!("{text:?} is no price"), place)
            .with_hint("Write it like \"45.50 EUR\".")
    };
    let (amount, currency) = text.trim().split_once(char::is_whitespace).ok_or_else(bad)?;
    let amount = parse_number(amount).ok().map(|number| number.value).filter(|amount| 0.0 <= *amount);
    let currency = currency.trim();
    let fits = !currency.is_empty() && currency.chars().all(|c| !c.is_whitespace() && !c.is_ascii_digit());
    amount.filter(|_| fits).map(|amount| Price { amount, currency: currency.to_owned() }).ok_or_else(bad)
}
