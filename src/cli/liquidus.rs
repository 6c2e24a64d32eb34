//! `liquidus`: where mixtures of two or three components are predicted to be liquid.

use clap::Args;

use super::args::Common;
use super::outcome::{Failure, Outcome};
use super::request::{LiquidusOptions, LiquidusRequest, liquidus_request};
use crate::compose::liquidus::{FitFailure, predict};
use crate::input::{Fault, Place};
use crate::report::answer::liquidus_answer;
use crate::report::view::{LiquidusView, liquidus_document};

/// Solid–liquid curves from melting points and enthalpies of fusion: eutectics, the depression against an ideal liquid,
/// which compositions stay liquid
///
/// Schröder and van Laar's relation, ideal or with an activity model whose parameters are given or fitted to measured
/// points, those of a file or of the book's batches. Where published fusion data disagree, each set is run and shown. Uncertainties of the data become bands by
/// random draws from a recorded seed. It is a prediction: measure before you rely on it. Exit code 1 if no composition
/// is predicted to stay liquid at --liquid-at, or the points can't tell the parameters.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  meltbook liquidus ChCl urea
  meltbook liquidus ChCl EG --liquid-at \"-20 °C\"
  meltbook liquidus ChCl urea --batch all --model margules
  meltbook liquidus ChCl urea --model \"margules A=-4000±500J/mol\" \\
    --pure \"ChCl melts=597±7K fusion=4300±600J/mol\"
  meltbook liquidus naphthalene biphenyl --pure \"naphthalene melts=353.37K fusion=19010J/mol\" \\
    --pure \"biphenyl melts=342.08K fusion=18570J/mol\"
  meltbook liquidus thymol decanoic-acid phenol --format html --out triangle.html")]
pub(super) struct LiquidusArgs {
    #[command(flatten)]
    options: LiquidusOptions,
}

pub(super) fn run(common: &Common, args: &LiquidusArgs) -> Result<Outcome, Failure> {
    let LiquidusRequest { components, cases, question, glass, origins, points_from, warnings } =
        liquidus_request(common, &args.options)?;
    let predicted =
        cases.into_iter().map(|case| predict(case, &question).map_err(|error| refusal(&error, &points_from)));
    let predictions = predicted.collect::<Result<Vec<_>, Fault>>()?;
    let view = LiquidusView { components, predictions, question, glass, origins, warnings };
    let mut outcome = Outcome::new("liquidus", liquidus_answer(&view), liquidus_document(&view));
    outcome.no = view.is_no();
    outcome.warnings = view.all_warnings();
    Ok(outcome)
}

fn refusal(error: &FitFailure, from: &str) -> Fault {
    Fault::new("too_few_points", error.to_string(), Place::named(from))
        .with_hint("Measure more compositions, or take a model with fewer parameters.")
}
