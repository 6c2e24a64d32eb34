//! Seeds of random orders.

use rand::TryRng as _;
use rand::rngs::SysRng;

use crate::cli::outcome::Failure;
use crate::input::{Fault, Place};

/// A seed from the computer, short enough to be typed again.
pub(in crate::cli) fn drawn_seed() -> Result<u64, Failure> {
    SysRng.try_next_u32().map(u64::from).map_err(|error| {
        let fault = Fault::new(
            "no_seed",
            format!("the computer gave no random number: {error}"),
            Place::named("--seed"),
        );
        Failure::Storage(fault.with_hint("Give a number of your own with --seed.").into())
    })
}
