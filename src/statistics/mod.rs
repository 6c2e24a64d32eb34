//! Statistics on plain numbers: distributions, tolerance factors, sample sizes, curve fits. They work on any
//! numbers, wherever these came from; nothing here knows a cell or a book.
//!
//! Probabilities and quantiles outside of what is defined (a negative number of degrees of freedom, a
//! probability above 1) are NaN, never a panic.

pub mod curve_fit;
pub mod distribution;
pub mod power;
pub mod root;
pub mod tolerance;
