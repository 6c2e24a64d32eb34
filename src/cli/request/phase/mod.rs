//! What a liquidus is asked of: components, their fusion data, an activity model, measured points.

mod amount;
mod batches;
mod compound;
mod measured;
mod model;
mod pure;
mod request;
mod uncertain;

pub(in crate::cli) use request::{LiquidusOptions, LiquidusRequest, liquidus_request};
