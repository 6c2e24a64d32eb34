//! What is recorded, as values: no storage, no clock.

pub mod graph;
