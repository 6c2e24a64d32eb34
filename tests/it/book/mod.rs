//! The book through the program: what is recorded and what comes of it.

mod batch;
mod batch_limits;
mod batch_mix;
mod batch_refused;
mod bench;
mod schedule;
