//! Choosing the next composition: where a mixture is predicted to be liquid, and how its properties run with
//! temperature and water.
//!
//! Nothing here promises anything: each answer keeps the data that it rests on, with their sources, and says where
//! they end or disagree.

pub mod curve;
pub mod liquidus;
