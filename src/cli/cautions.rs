//! `cautions`.

use clap::Args;

use super::args::Common;
use super::outcome::{Failure, Outcome};

/// Placeholder until the caution room lands
#[derive(Debug, Args)]
pub(super) struct CautionsArgs {
    /// Names
    names: Vec<String>,
}

pub(super) fn run(_common: &Common, _args: &CautionsArgs) -> Result<Outcome, Failure> {
    Err(crate::input::Fault::new("not_built", "not built", crate::input::Place::named("cautions")).into())
}
