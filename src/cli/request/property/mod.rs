//! What a property curve is asked of: published series, a file, measured batches.

mod batches;
mod carrier;
mod file;
mod liquid;
mod request;
mod walden;

pub(in crate::cli) use request::{CurveOptions, CurveRequest, curve_request};
pub(in crate::cli) use walden::{PUBLISHED, WaldenRequest, walden_request};
