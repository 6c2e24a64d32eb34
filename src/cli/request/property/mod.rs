//! What a property curve is asked of: published series, a file, measured batches.

mod batches;
mod file;
mod request;

pub(in crate::cli) use request::{CurveOptions, CurveRequest, curve_request};
