//! Measured values of one liquid from one hand.

use serde::{Deserialize, Serialize};

use crate::quantity::{MassFraction, Temperature};

/// One measured value.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct PropertyPoint {
    /// The temperature of the measurement.
    pub temperature: Temperature,
    /// Water of the whole, if it was measured or stated.
    pub water: Option<MassFraction>,
    /// The value in the property's own unit.
    pub value: f64,
}

/// Values of one source, batch or group of a file.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Series {
    /// What it is called: a source, a code, a name in a file.
    pub name: String,
    /// The values.
    pub points: Vec<PropertyPoint>,
    /// What the source or its compiler remarks.
    pub remarks: Vec<String>,
    /// Values that are left out, since the source's temperature is doubted.
    pub left_out: usize,
    /// Which liquid it is of, as components and ratio: "choline-chloride:urea 1:2"; `None` where nobody said. Water is no
    /// part of it. Series of different liquids have no curve together.
    #[serde(default)]
    pub liquid: Option<String>,
}

impl Series {
    /// A series without remarks.
    pub fn new(name: impl Into<String>, points: Vec<PropertyPoint>) -> Self {
        Self { name: name.into(), points, remarks: Vec::new(), left_out: 0, liquid: None }
    }

    /// All points of several series as one.
    pub fn together<'s>(name: impl Into<String>, series: impl IntoIterator<Item = &'s Self>) -> Self {
        Self::new(name, series.into_iter().flat_map(|own| own.points.clone()).collect())
    }

    /// The same as one of a liquid.
    pub fn of_liquid(self, liquid: Option<String>) -> Self {
        Self { liquid, ..self }
    }

    /// Coldest and warmest point in kelvin; the first above the second without points.
    pub fn kelvins(&self) -> (f64, f64) {
        range(self.points.iter().map(|point| point.temperature.kelvin()))
    }

    /// Least and most water as a mass fraction, where every point has one.
    pub fn waters(&self) -> Option<(f64, f64)> {
        let known: Option<Vec<f64>> = self.points.iter().map(|point| Some(point.water?.get())).collect();
        known.filter(|known| !known.is_empty()).map(|known| range(known.into_iter()))
    }
}

fn range(values: impl Iterator<Item = f64>) -> (f64, f64) {
    values.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| (low.min(value), high.max(value)))
}
