//! `plan`: from a ratio and a size to grams.

use clap::Args;

use super::args::Common;
use super::outcome::{Failure, Outcome};
use super::request::{PlanOptions, Planned, plan_request, review_plan};
use crate::caution::Review;
use crate::input::{Fault, Place, Warning};
use crate::plan::{Flag, Plan, Retarget, accept, retarget};
use crate::report::answer::{cautions_beside, plan_answer, retarget_answer};
use crate::report::document::Document;
use crate::report::view::{
    cautions_in_short, plan_background, plan_document, plan_warnings, retarget_blocks, warning_shown,
    why_blocks,
};

/// Ratio and size to grams, with every correction
///
/// A recipe in short: "ChCl:urea 1:2 + 0.5 mol/kg ZnCl2 + 0.1 wt% thymol to 2 wt% water". Names are ids or
/// aliases; + stands between spaces. "by mass" behind the ratio makes it one of grams.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  meltbook plan \"ChCl:urea 1:2\" --mass \"50 g\"
  meltbook plan \"ChCl:EG 1:2\" --mass \"60 g\" --weighed \"ChCl 32.48g\"
  meltbook plan \"ChCl:glycerol 1:2 to 2 wt% water\" --mass \"50 g\" \\
      --bottle \"ChCl assay=98..100% basis=dried moisture=1.5%\" \\
      --balance \"d=0.01g repeatability=0.01g linearity=0.02g\" --why")]
pub(super) struct PlanArgs {
    /// Show the calculation line by line, and the uncertainty budget
    #[arg(long)]
    why: bool,
    /// What the balance really showed, such as "ChCl 32.48g"; repeatable. The rest is targeted again
    #[arg(long = "weighed", value_name = "NAME MASS", allow_hyphen_values = true)]
    weighed: Vec<String>,
    /// Leave what was weighed as it is, and say what ratio that makes
    #[arg(long, requires = "weighed")]
    accept_ratio: bool,
    // The last, since its help headings hold for what follows them.
    #[command(flatten)]
    options: PlanOptions,
}

pub(super) fn run(common: &Common, args: &PlanArgs) -> Result<Outcome, Failure> {
    let Planned { plan, mut warnings, scheme, .. } = plan_request(common, &args.options, &args.weighed)?;
    let again = match plan.request.weighed.as_slice() {
        [] => None,
        real if args.accept_ratio => Some(accept(&plan.targets(), real).map_err(|error| plan_fault(&error))?),
        real => Some(retarget(&plan.targets(), real).map_err(|error| plan_fault(&error))?),
    };
    let plan = again.iter().fold(plan, Plan::with_rest);
    warnings.extend(plan_warnings(&plan));
    warnings.extend(again.as_ref().and_then(|again| ratio_warning(&plan, again)));
    let mut answer = plan_answer(&plan);
    if let Some(again) = &again {
        answer["retarget"] = retarget_answer(again);
    }
    let review = review_plan(&plan, scheme);
    answer["cautions"] = cautions_beside(&review);
    let document = document(&plan, again.as_ref(), args, &warnings, &review);
    let mut outcome = Outcome::new("plan", answer, document);
    outcome.no = answer_is_no(&plan, again.as_ref());
    outcome.warnings = warnings;
    Ok(outcome)
}

fn plan_fault(error: &crate::plan::PlanError) -> Fault {
    Fault::new(error.code(), error.to_string(), Place::named("--weighed")).with_hint(error.hint())
}

fn document(
    plan: &Plan,
    again: Option<&Retarget>,
    args: &PlanArgs,
    warnings: &[Warning],
    review: &Review,
) -> Document {
    let mut document = plan_document(plan);
    if let Some(again) = again {
        document.extend(retarget_blocks(plan, again, args.accept_ratio));
    }
    document.extend(warnings.iter().map(warning_shown));
    document.extend(cautions_in_short(review));
    if args.why {
        document.extend(why_blocks(plan));
    }
    document.extend(plan_background(plan));
    document
}

/// The answer is no if the recipe can't be met as it was asked.
fn answer_is_no(plan: &Plan, again: Option<&Retarget>) -> bool {
    let short =
        plan.lines.iter().flat_map(|line| &line.flags).any(|flag| matches!(flag, Flag::NotEnough { .. }));
    let off = again.is_some_and(|again| plan.request.tolerance.value.get() < again.deviation_after);
    plan.dry_first.is_some() || short || off
}

fn ratio_warning(plan: &Plan, again: &Retarget) -> Option<Warning> {
    let tolerance = plan.request.tolerance.value.get();
    (tolerance < again.deviation_after).then(|| {
        let message = format!(
            "out of tolerance: the ratio is off by {:.2} %, and {:.2} % is allowed",
            again.deviation_after * 100.0,
            tolerance * 100.0
        );
        Warning::new("out_of_tolerance", message)
    })
}
