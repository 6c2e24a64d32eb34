//! What to test next: combinations of components, and which of them meet a person's own limits.
//!
//! A candidate is a proposal for a test and no promise. What is not known is a verdict of its own: it never counts as
//! met and never as missed.

mod combination;
mod facts;
mod known;
mod limits;
mod prediction;
mod rank;

pub use combination::{Combination, Combinations, combinations};
pub use facts::{AlertLevel, Facts, Graded, LiquidBasis, LiquidFacts, SignalLevel};
pub use known::{MeasuredMelting, SeenLiquid, measured_melting, seen_liquid};
pub use limits::{LimitKind, Limits, Verdict};
pub use prediction::{IdealLiquidus, SetLiquidus, ideal_liquidus};
pub use rank::{Place, Standing, rank};
