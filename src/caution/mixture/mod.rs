//! What a mixture is by the published rules, from its composition.
//!
//! [`Mixture`] keeps every sum with its limit and the components that made it, reached or not, and lists what is
//! not known. One file per family of rules; the limits are in `data/mixture`, a source beside each. A calculated
//! class is an aid and no legal classification; no class is ever ruled out by missing data.

mod acute;
mod aquatic;
mod aspiration;
mod class;
mod cmr;
mod eye;
mod finding;
mod gap;
mod ingredient;
mod limit;
mod presumed;
mod rules;
mod sensitiser;
mod single;
mod skin;
mod sum;
mod supplement;
mod target_organ;
mod whole;

pub use acute::Estimate;
pub(super) use acute::estimate_category;
pub(super) use class::Class;
pub use finding::Finding;
pub use gap::Gap;
pub(super) use limit::OwnLimits;
pub use presumed::Presumed;
pub use sum::{Part, Sum};
pub use whole::Mixture;
pub(super) use whole::classify;
