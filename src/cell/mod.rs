//! What a cell can give, and what its readings and logs come to. Pure: it takes values and gives values.

mod capacity;
mod discharge;
mod discharge_run;
mod drift;
mod electrode;
mod figures;
pub mod log;
pub mod metric;
mod resistance;
mod retention;
mod shot;
mod source;
mod totals;

pub use capacity::{AtLoad, CapacityRequest, CellCapacity, Load, Pairing, capacity};
pub use discharge::{Discharge, DischargeRule, Discharged, Sample, Work};
pub use drift::{Drift, Point, Settling, drift};
pub use electrode::{Electrode, Part, Side};
pub use figures::{CellDischarge, DischargeBasis, FigureRules, Figures, figures, figures_of_shots};
pub use resistance::{Found, Method, Pairing as ShotPairing, contradictions, resistances};
pub use retention::{Retention, Set, retention};
pub use shot::{Shot, Shown};
pub use source::{Prediction, Source, predictions};
pub use totals::Totals;
