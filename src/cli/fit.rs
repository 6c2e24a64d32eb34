//! `fit`: a curve through the points of a file.

use clap::Args;

use super::outcome::{Failure, Outcome};
use super::request::{FitOptions, FitRequest, fit_request};
use crate::report::answer::fit_answer;
use crate::report::view::{FittedGroup, fit_document};
use crate::statistics::curve_fit::fit;

/// A line, a decay or a temperature law through the points of a CSV file: parameters, their uncertainty, bands,
/// and what speaks against taking them at their value
///
/// Forms: line (intercept + slope x), decay (a + b exp(-x/tau)), double-decay, vft (a exp(b/(T - T0))) and arrhenius
/// (a exp(-E/(R T))). The last two need temperatures; °C in the header is read as such. Exit code 1 if the fit did
/// not converge, or these data can't tell the parameters.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  meltbook fit voltages.csv --x day --y voltage --form decay
  meltbook fit voltages.csv --x day --y voltage --form line --by cell --at 60
  meltbook fit viscosity.csv --x temperature --y viscosity --form vft --log")]
pub(super) struct FitArgs {
    #[command(flatten)]
    options: FitOptions,
}

pub(super) fn run(args: &FitArgs) -> Result<Outcome, Failure> {
    let FitRequest { form, scale, confidence, groups, axes, at, warnings } = fit_request(&args.options)?;
    let mut fitted = Vec::new();
    for group in groups {
        let fit = fit(form, scale, &group.points, confidence).map_err(|error| group.refusal(&error))?;
        fitted.push(FittedGroup { name: group.name, points: group.points, fit });
    }
    let mut outcome =
        Outcome::new("fit", fit_answer(&fitted, &axes, &at), fit_document(&fitted, &axes, &at, &warnings));
    outcome.no = fitted.iter().any(|group| !group.fit.is_identifiable());
    outcome.warnings = warnings;
    Ok(outcome)
}
