//! The simplest picture of a cell: a voltage behind a resistance. It is right for one state and one time after
//! closing the circuit; held against other readings it shows how far it carries.

use super::resistance::{Found, Method};
use super::shot::{Shot, Shown};

/// A voltage behind a resistance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Source {
    /// How its resistance was found.
    pub method: Method,
    /// The voltage in volts.
    pub emf_volts: f64,
    /// The resistance in ohms.
    pub ohms: f64,
}

/// What a source says of a reading that it was not made from.
#[derive(Debug, Clone, PartialEq)]
pub struct Prediction {
    /// The source.
    pub source: Source,
    /// The reading.
    pub of: Shot,
    /// The current that the source would give, in amperes.
    pub predicted_amperes: f64,
    /// The current that was read, or that the voltage read means on its load, in amperes.
    pub read_amperes: f64,
}

impl Source {
    /// Current into a load, in amperes: E / (R + Ri).
    pub fn amperes_into(&self, load_ohms: f64) -> f64 {
        self.emf_volts / (load_ohms + self.ohms)
    }

    /// Power in a load, in watts.
    pub fn watts_into(&self, load_ohms: f64) -> f64 {
        self.amperes_into(load_ohms).powi(2) * load_ohms
    }

    /// The most that any load can get, in watts: E² / (4 Ri), on a load as large as Ri.
    pub fn most_watts(&self) -> f64 {
        self.emf_volts.powi(2) / (4.0 * self.ohms)
    }
}

impl Prediction {
    /// How far the reading lies from what was predicted, over what was predicted.
    pub fn off(&self) -> f64 {
        self.read_amperes / self.predicted_amperes - 1.0
    }
}

/// Each source held against the loaded readings that it was not made from, among those that belong to one state
/// with it as `near` says. The voltage-drop form makes no source of its own: it differs from two loads by what
/// it leaves out.
pub fn predictions(
    found: &[Found],
    shots: &[Shot],
    voltmeter_ohms: Option<f64>,
    near: impl Fn(&Shot, &Shot) -> bool,
) -> Vec<Prediction> {
    let mut list = Vec::new();
    for found in found.iter().filter(|found| found.method != Method::VoltageDrop) {
        for shot in shots.iter().filter(|shot| shot.is_loaded() && near(shot, &found.heavy)) {
            let made_from = *shot == found.heavy || *shot == found.light;
            let unknown = matches!(shot.shown, Shown::Current { meter_ohms: None, .. });
            if made_from || (unknown && found.method == Method::ShortCircuit) {
                continue;
            }
            let predicted_amperes = found.source.amperes_into(shot.shown.outside_ohms());
            let read_amperes = shot.shown.volts_and_amperes(voltmeter_ohms).1;
            list.push(Prediction { source: found.source, of: shot.clone(), predicted_amperes, read_amperes });
        }
    }
    list
}
