//! `sheet`: a plan to be weighed from.

use clap::Args;

use super::args::Common;
use super::outcome::{Failure, Outcome};
use super::request::{Paper, PlanOptions, Planned, plan_request, review_plan};
use crate::report::answer::{cautions_beside, plan_answer};
use crate::report::view::{plan_warnings, sheet_document};

/// The weighing sheet of a recipe, for the bench: print the HTML from any browser
#[derive(Debug, Args)]
#[command(after_help = "\
Example:
  meltbook sheet \"ChCl:urea 1:2\" --mass \"50 g\" --balance \"d=0.001g repeatability=0.001g\" \\
      --format html --out sheet.html")]
pub(super) struct SheetArgs {
    /// The paper
    #[arg(long, value_enum, default_value_t = Paper::A4)]
    paper: Paper,
    // The last, since its help headings hold for what follows them.
    #[command(flatten)]
    options: PlanOptions,
}

pub(super) fn run(common: &Common, args: &SheetArgs) -> Result<Outcome, Failure> {
    let Planned { plan, mut warnings, scheme, .. } = plan_request(common, &args.options, &[])?;
    warnings.extend(plan_warnings(&plan));
    let review = review_plan(&plan, scheme);
    let mut answer = plan_answer(&plan);
    answer["cautions"] = cautions_beside(&review);
    let mut outcome = Outcome::new("sheet", answer, sheet_document(&plan, &review, &warnings));
    outcome.no = plan.dry_first.is_some();
    outcome.warnings = warnings;
    outcome.paper = args.paper.size();
    Ok(outcome)
}
