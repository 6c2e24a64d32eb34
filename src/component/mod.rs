//! The component table, the quality of what is in a bottle, and mixtures in both directions:
//! [`Proportions`] as asked for, [`Composition`] as made.

mod builtin;
mod cas;
mod composition;
mod entry;
mod form;
mod group;
mod hazard;
mod property;
mod proportions;
mod quality;
mod read;
mod read_hazard;
mod read_property;
mod role;
mod table;

pub use cas::{Cas, CasError};
pub use composition::{Composition, Constituent, Shares};
pub use entry::{Component, ComponentId, Hygroscopic, Moistness, State};
pub use form::Form;
pub use group::{GROUPS, Group};
pub use hazard::{Hazard, HazardBasis};
pub use property::{DensityAt, Fusion, HeatLimit, Melting, Transition};
pub use proportions::{Addition, AdditionAmount, Part, Proportions, RatioBasis};
pub use quality::{AssayBasis, Quality};
pub use read::{read_components, readable_components};
pub use role::Role;
pub use table::{ComponentTable, LookupError, unknown_hint};
