//! What happens to a bottle.

use jiff::Timestamp;
use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use super::code::Code;
use crate::component::{ComponentId, Quality};
use crate::quantity::{FractionInterval, Mass, Temperature, TimeSpan, Typed};

/// A package of a component has come in.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Received {
    /// Its code from now on.
    pub code: Code,
    /// The component.
    pub component: ComponentId,
    /// The component's name in the table of that day.
    pub name: String,
    /// Form, assay, basis, moisture.
    pub quality: Quality,
    /// Who sold it.
    pub supplier: Option<String>,
    /// The supplier's lot number.
    pub supplier_lot: Option<String>,
    /// Mass of the content.
    pub net: Typed<Mass>,
    /// What it cost.
    pub price: Option<Price>,
    /// Day on which it came.
    pub received: Date,
    /// Last day of use.
    pub expires: Option<Date>,
    /// Where and how it is kept.
    pub storage: Option<String>,
    /// Anything else.
    pub note: Option<String>,
}

/// An amount of money, as typed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Price {
    /// How much.
    pub amount: f64,
    /// Of which currency, such as EUR.
    pub currency: String,
}

/// A bottle was opened for the first time.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Opened {
    /// The bottle.
    pub code: Code,
    /// When.
    pub at: Timestamp,
}

/// A portion was dried, and is a bottle of its own from then on.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Dried {
    /// Code of the dried portion.
    pub code: Code,
    /// The bottle that it was taken from.
    pub from: Code,
    /// What was taken.
    pub taken: Typed<Mass>,
    /// What was there after drying.
    pub dried: Typed<Mass>,
    /// Temperature of drying.
    pub heat: Option<Typed<Temperature>>,
    /// Time at that temperature.
    pub time: Option<Typed<TimeSpan>>,
    /// Vacuum, nitrogen, air.
    pub atmosphere: Option<String>,
    /// Moisture of the dried portion, if it was measured.
    pub moisture: Option<FractionInterval>,
    /// When it was done.
    pub at: Timestamp,
}

/// What is left was weighed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct LeftWeighed {
    /// The bottle.
    pub code: Code,
    /// Mass of the content.
    pub left: Typed<Mass>,
    /// When.
    pub at: Timestamp,
}

/// A bottle was given to the waste.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Disposed {
    /// The bottle.
    pub code: Code,
    /// Why and which way.
    pub reason: String,
    /// When.
    pub at: Timestamp,
}

/// One bottle as it stands.
#[derive(Debug, Clone, PartialEq)]
pub struct Bottle {
    /// Its code.
    pub code: Code,
    /// Id of the component.
    pub component: String,
    /// The component's name when it came.
    pub name: String,
    /// Form, assay, basis, moisture.
    pub quality: Quality,
    /// Who sold it.
    pub supplier: Option<String>,
    /// The supplier's lot.
    pub supplier_lot: Option<String>,
    /// What it held when it came, in grams.
    pub net_g: f64,
    /// What is left, in grams, by what was weighed out and weighed back.
    pub left_g: f64,
    /// What it cost, with the currency.
    pub price: Option<(f64, String)>,
    /// Day of receipt, ISO 8601.
    pub received: Option<String>,
    /// Last day of use, ISO 8601.
    pub expires: Option<String>,
    /// Where it is kept.
    pub storage: Option<String>,
    /// Anything else.
    pub note: Option<String>,
    /// The bottle that it is a dried portion of.
    pub dried_from: Option<Code>,
    /// When it was opened.
    pub opened: Option<String>,
    /// When it was disposed of.
    pub disposed: Option<String>,
}
