//! Choosing the next composition: where a mixture is predicted to be liquid, how its properties run with temperature and
//! water, which compositions to test, and what their results say.
//!
//! Nothing here promises anything: each answer keeps the data that it rests on, with their sources, and says where
//! they end or disagree.

pub mod candidates;
pub mod curve;
pub mod liquidus;
pub mod mixture;
