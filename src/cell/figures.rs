//! All that the readings and logs of a cell come to, side by side.

use jiff::{SignedDuration, Timestamp};

use super::discharge::Discharged;
use super::drift::{Drift, Settling, drift};
use super::resistance::{Found, Pairing, contradictions, resistances};
use super::shot::Shot;
use super::source::{Prediction, predictions};
use crate::quantity::{Area, ElectricCharge, Mass};
use crate::record::Code;
use crate::record::reading::Reading;

/// What readings say of one cell.
#[derive(Debug, Clone, PartialEq)]
pub struct Figures {
    /// The cell; `None` for readings that are in no book.
    pub cell: Option<Code>,
    /// What a cell that is in no book is called, if it has a name.
    pub label: Option<String>,
    /// Internal resistances.
    pub resistances: Vec<Found>,
    /// Pairs of readings that contradict each other.
    pub contradictions: Vec<Found>,
    /// Each source against the readings that it was not made from.
    pub predictions: Vec<Prediction>,
    /// Open-circuit voltage against time.
    pub drift: Option<Drift>,
    /// Discharges, from logs.
    pub discharges: Vec<CellDischarge>,
}

impl Figures {
    /// What the cell is called: its code, or else its name.
    pub fn name(&self) -> Option<String> {
        self.cell.as_ref().map(ToString::to_string).or_else(|| self.label.clone())
    }
}

/// A discharge of a cell.
#[derive(Debug, Clone, PartialEq)]
pub struct CellDischarge {
    /// The entries of its logs, one after the other; empty for a file that is in no book.
    pub entries: Vec<u64>,
    /// What it came to.
    pub discharged: Discharged,
    /// What the cell is, as far as it is known.
    pub basis: DischargeBasis,
}

/// What a discharge is reckoned against.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct DischargeBasis {
    /// Mass of the oxide that reacts.
    pub oxide: Option<Mass>,
    /// Area of the electrode.
    pub area: Option<Area>,
    /// What the electrode that ends first could give.
    pub theoretical: Option<ElectricCharge>,
    /// When the cell was built.
    pub built: Option<Timestamp>,
}

/// The rules by which readings are taken together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FigureRules {
    /// Which readings belong to one state.
    pub pairing: Pairing,
    /// When a cell counts as settled.
    pub settling: Settling,
}

/// Figures of readings in no book: shots of one state.
pub fn figures_of_shots(shots: &[Shot], pairing: &Pairing) -> Figures {
    let found = resistances(shots, pairing);
    let near = |one: &Shot, other: &Shot| match one.at.zip(other.at) {
        Some((one, other)) => one.duration_since(other).abs() <= pairing.within,
        None => true,
    };
    Figures {
        cell: None,
        label: None,
        predictions: predictions(&found, shots, pairing.voltmeter_ohms, near),
        contradictions: contradictions(shots, pairing),
        resistances: found,
        drift: None,
        discharges: Vec::new(),
    }
}

/// Figures of one cell from its readings in order of time.
pub fn figures(
    cell: &Code,
    readings: &[Reading],
    since_short: &[Option<SignedDuration>],
    (built, retired): (Timestamp, Option<Timestamp>),
    rules: &FigureRules,
) -> Figures {
    let shots: Vec<Shot> =
        readings.iter().zip(since_short).map(|(reading, since)| Shot::of_reading(reading, *since)).collect();
    Figures {
        cell: Some(cell.clone()),
        label: None,
        drift: Some(drift(readings, since_short, built, retired, rules.settling)),
        ..figures_of_shots(&shots, &rules.pairing)
    }
}

impl CellDischarge {
    /// Charge for each gram of oxide, in mAh/g.
    pub fn mah_per_g(&self) -> Option<f64> {
        let oxide = self.basis.oxide.filter(|oxide| Mass::ZERO < *oxide)?;
        Some(self.discharged.counted().milliampere_hours() / oxide.get())
    }

    /// Charge for each square centimetre, in mAh/cm².
    pub fn mah_per_cm2(&self) -> Option<f64> {
        let area = self.basis.area.filter(|area| Area::ZERO < *area)?;
        Some(self.discharged.counted().milliampere_hours() / area.get())
    }

    /// Share of what the electrode that ends first could give.
    pub fn utilisation(&self) -> Option<f64> {
        let theoretical = self.basis.theoretical.filter(|charge| ElectricCharge::ZERO < *charge)?;
        Some(self.discharged.counted().coulombs / theoretical.get())
    }
}
