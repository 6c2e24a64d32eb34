//! `candidates`: which combinations of components to test next, by a person's own limits.

mod assess;
mod hazards;

use clap::Args;

use super::args::Common;
use super::outcome::{Failure, Outcome};
use super::request::{CandidatesOptions, CandidatesRequest, candidates_request};
use crate::compose::candidates::rank;
use crate::report::answer::candidates_answer;
use crate::report::view::{Candidate, CandidatesView, candidates_document};
use assess::Assessor;

/// Which combinations of components to test next, ranked by your own limits: liquid at a temperature, hazards, alerts,
/// price, water uptake, in the house now
///
/// It proposes what to test and promises nothing. What is not known counts neither as met nor as missed. A liquidus is
/// measured where the table of published points has one, else that of an ideal liquid: real mixtures whose components
/// attract each other melt lower, others higher. Combinations that an alert stops are named with the reason, come last
/// and are never proposed. Exit code 1 if no candidate meets every limit.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  meltbook candidates --acceptor ChCl --liquid-at \"25 °C\"
  meltbook candidates --acceptor ChCl --donor EG --donor glycerol --donor urea --ratio 1:2 \\
    --liquid-at \"25 °C\" --hazards-below danger --price prices.csv --price-below \"80 EUR/kg\"
  meltbook candidates --acceptor salt --donor urea --donor EG --ratio 1:4 --alerts-below warn
  meltbook candidates --acceptor ChCl --in-house \"50 g\" --hygroscopic-below strong --top 5 \\
    --format json --out candidates.json --force")]
pub(super) struct CandidatesArgs {
    #[command(flatten)]
    options: CandidatesOptions,
}

pub(super) fn run(common: &Common, args: &CandidatesArgs) -> Result<Outcome, Failure> {
    let request = candidates_request(common, &args.options)?;
    let view = assessed(request);
    let mut outcome = Outcome::new("candidates", candidates_answer(&view), candidates_document(&view));
    outcome.no = view.is_no();
    outcome.warnings = view.warnings;
    Ok(outcome)
}

fn assessed(request: CandidatesRequest) -> CandidatesView {
    let combinations = &request.combinations;
    let assessor = Assessor::new(&request);
    let mut candidates: Vec<Candidate> =
        combinations.list.iter().map(|combination| assessor.candidate(combination)).collect();
    rank(&mut candidates, |own| &own.standing);
    let (with_itself, again) = (combinations.with_itself, combinations.again);
    CandidatesView {
        candidates,
        with_itself,
        again,
        limits: request.limits,
        texts: request.texts,
        lists: request.lists,
        ratios: request.ratios,
        prices: request.prices,
        stock: request.stock,
        scheme: request.scheme,
        top: request.top,
        only_meeting: request.only_meeting,
        warnings: request.warnings,
    }
}
