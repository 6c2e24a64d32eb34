//! Choosing the next composition.

pub mod mixture;
