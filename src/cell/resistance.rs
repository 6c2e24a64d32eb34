//! Internal resistance. Its value depends on how it is found, so none is given without its method, its load and
//! the time after closing the circuit.

use jiff::{SignedDuration, Timestamp};

use super::shot::{Shot, Shown};
use super::source::Source;

/// How an internal resistance is found.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Method {
    /// From the open-circuit voltage to the voltage, or the current, on one load.
    OpenToLoaded,
    /// From the open-circuit voltage to the current through a meter alone.
    ShortCircuit,
    /// From one load to a heavier one: ΔU / ΔI.
    TwoLoads,
    /// (V1 − V2) R2 / V2 with V1 on a light load and V2 on R2 (Linden's Handbook of Batteries, 4th ed., 9.6.6):
    /// what flows on the light load is left out, so that it reads lower than two loads.
    VoltageDrop,
}

impl Method {
    /// Its words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::OpenToLoaded => "open to loaded",
            Self::ShortCircuit => "short circuit",
            Self::TwoLoads => "two loads",
            Self::VoltageDrop => "voltage drop",
        }
    }

    /// Its name for scripts.
    pub const fn key(self) -> &'static str {
        match self {
            Self::OpenToLoaded => "open_to_loaded",
            Self::ShortCircuit => "short_circuit",
            Self::TwoLoads => "two_loads",
            Self::VoltageDrop => "voltage_drop",
        }
    }
}

/// An internal resistance with all that it was found from.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// How.
    pub method: Method,
    /// In ohms.
    pub ohms: f64,
    /// The lighter state: no load, or the lighter load.
    pub light: Shot,
    /// The heavier one.
    pub heavy: Shot,
    /// The source that these two states make.
    pub source: Source,
}

/// Which readings belong together, and what the voltmeter draws.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pairing {
    /// Two readings of a cell are taken as of one state if no more time than this lies between them.
    pub within: SignedDuration,
    /// Resistance of the voltmeter in ohms; `None` leaves out what it draws.
    pub voltmeter_ohms: Option<f64>,
}

/// A meter may have this share of the cell's resistance and its reading still counts as a short circuit (10 %:
/// Linden's Handbook of Batteries, 4th ed., 9.6.6).
const MOST_OF_THE_CELL: f64 = 0.1;

/// Every internal resistance that the shots of one cell give, in their order. What comes out below zero is left
/// out: such readings contradict each other, and [`contradictions`] names them.
pub fn resistances(shots: &[Shot], pairing: &Pairing) -> Vec<Found> {
    pairs(shots, pairing).into_iter().filter(|found| 0.0 < found.ohms && found.ohms.is_finite()).collect()
}

/// Pairs of readings of which the loaded one is not lower.
pub fn contradictions(shots: &[Shot], pairing: &Pairing) -> Vec<Found> {
    pairs(shots, pairing).into_iter().filter(|found| found.ohms <= 0.0 || !found.ohms.is_finite()).collect()
}

fn pairs(shots: &[Shot], pairing: &Pairing) -> Vec<Found> {
    let mut list = Vec::new();
    for (at, heavy) in shots.iter().enumerate().filter(|(_, shot)| shot.is_loaded()) {
        let before = || shots[..at].iter().rev().chain(shots[at..].iter().filter(|shot| shot.at == heavy.at));
        let near = |shot: &&Shot| is_near(shot.at, heavy.at, pairing.within);
        let open = before().filter(near).find(|shot| !shot.is_loaded());
        list.extend(open.map(|open| from_open(open, heavy, pairing)));
        let lighter = before().filter(near).find(|shot| lighter_load(shot, heavy));
        if let Some(light) = lighter {
            list.extend(
                [Method::TwoLoads, Method::VoltageDrop].map(|method| found(method, light, heavy, pairing)),
            );
        }
    }
    list
}

fn is_near(one: Option<Timestamp>, other: Option<Timestamp>, within: SignedDuration) -> bool {
    one.zip(other).is_none_or(|(one, other)| one.duration_since(other).abs() <= within)
}

/// True for a voltage on a load that is lighter than that of another voltage.
fn lighter_load(light: &Shot, heavy: &Shot) -> bool {
    match (&light.shown, &heavy.shown) {
        (Shown::Loaded { load_ohms: light, .. }, Shown::Loaded { load_ohms: heavy, .. }) => heavy < light,
        _ => false,
    }
}

fn from_open(open: &Shot, heavy: &Shot, pairing: &Pairing) -> Found {
    let loaded = found(Method::OpenToLoaded, open, heavy, pairing);
    let is_short = match heavy.shown {
        Shown::Current { meter_ohms, .. } => meter_ohms.unwrap_or(0.0) <= MOST_OF_THE_CELL * loaded.ohms,
        Shown::Open { .. } | Shown::Loaded { .. } => false,
    };
    let method = if is_short { Method::ShortCircuit } else { Method::OpenToLoaded };
    Found { method, source: Source { method, ..loaded.source }, ..loaded }
}

/// Ri = (V1 − V2) / (I2 − I1), with what meters and loads draw; the voltage-drop form leaves I1 out.
fn found(method: Method, light: &Shot, heavy: &Shot, pairing: &Pairing) -> Found {
    let (v1, i1) = light.shown.volts_and_amperes(pairing.voltmeter_ohms);
    let (v2, i2) = heavy.shown.volts_and_amperes(pairing.voltmeter_ohms);
    let ohms = match method {
        Method::VoltageDrop => (v1 - v2) / i2,
        Method::OpenToLoaded | Method::ShortCircuit | Method::TwoLoads => (v1 - v2) / (i2 - i1),
    };
    let source = Source { method, emf_volts: v1 + i1 * ohms, ohms };
    Found { method, ohms, light: light.clone(), heavy: heavy.clone(), source }
}
