//! `batch start`: a plan becomes a batch with a lot code. Alerts that block act here.

use clap::Args;
use serde_json::json;

use super::answer::{BEGUN, answer, write};
use crate::caution::{Context, Review, Scheme};
use crate::cli::args::Common;
use crate::cli::outcome::{Failure, Outcome};
use crate::cli::request::{
    PermitArgs, PlanOptions, Planned, RecordArgs, plan_request, quantity, review_plan_in,
};
use crate::component::RatioBasis;
use crate::input::Faults;
use crate::plan::Plan;
use crate::quantity::{Temperature, TimeSpan};
use crate::recipe::Procedure;
use crate::record::batch::Started;
use crate::record::{CodeKind, Event};
use crate::report::answer::cautions_beside;
use crate::report::document::{Block, Document, big, facts, strong, text};
use crate::report::standing::{Standing, freeze};
use crate::report::view::{batch_procedure, cautions_in_short, plan_document, plan_warnings};

/// Begin a batch: its lot code, targets, windows, bottles and cautions
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  meltbook batch start \"ChCl:EG 1:2\" --mass \"60 g\"
  meltbook batch start \"ChCl:urea 1:2\" --mass \"60 g\" --bottle B1 --bottle B2 \\
      --balance \"d=0.001g repeatability=0.001g linearity=0.002g\"")]
pub(super) struct StartArgs {
    /// It is a stock solution, for amounts too small to weigh
    #[arg(long, conflicts_with = "cathode_mix")]
    stock_solution: bool,
    /// It is a cathode mix; a recipe by mass is one without being told
    #[arg(long)]
    cathode_mix: bool,
    #[command(flatten)]
    options: PlanOptions,
    #[command(flatten)]
    route: RouteArgs,
    #[command(flatten)]
    permit: PermitArgs,
    #[command(flatten)]
    record: RecordArgs,
}

/// How it is made, for the cautions.
#[derive(Debug, Args)]
#[command(next_help_heading = "How it is made")]
struct RouteArgs {
    /// The highest temperature; before the recipe's own
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    heat: Option<String>,
    /// How long it is hot; before the recipe's own
    #[arg(long = "for", value_name = "TIME", allow_hyphen_values = true)]
    time: Option<String>,
    /// It is evaporated or dried until no liquid is left
    #[arg(long)]
    to_dryness: bool,
    /// It is ground or milled
    #[arg(long)]
    ground: bool,
}

pub(super) fn run(common: &Common, args: &StartArgs) -> Result<Outcome, Failure> {
    let Planned { plan, mut warnings, bottles, scheme, .. } = plan_request(common, &args.options, &[])?;
    let review = review_plan_in(&plan, &args.route.context(&plan.request.recipe.procedure, scheme)?);
    let permit = args.permit.permit(&review)?;
    warnings.extend(plan_warnings(&plan));
    let at = args.record.at()?;
    let kind = kind(args, &plan);
    let frozen = freeze(&plan, &bottles);
    let code = write(common, &args.record, |writer| {
        let code = writer.next_code(kind)?;
        let because = args.record.because.clone();
        let started = Started { code: code.clone(), plan: frozen, permit, because, at };
        writer.append(&Event::BatchStarted(Box::new(started)))?;
        Ok(code)
    })?;
    let mut outcome = answer(common, &code, BEGUN, warnings, |standing| beginning(standing, &plan, &review))?;
    outcome.answer["cautions"] = cautions_beside(&review);
    outcome.answer["plan"] = crate::report::answer::plan_answer(&plan);
    outcome.answer["conventions"] = json!(crate::plan::conventions(&plan));
    Ok(outcome)
}

/// Cautions first, then targets with their windows, then the procedure.
fn beginning(standing: &Standing, plan: &Plan, review: &Review) -> Vec<Block> {
    let code = &standing.life.code;
    let mut lines = vec![("Lot code", big(code.to_string())), ("What", text(code.kind().words()))];
    if let Some(permit) = standing.life.permit() {
        lines.push(("Written procedure", strong(&permit.procedure)));
        lines.push(("Responsible", strong(&permit.person)));
    }
    let mut blocks = vec![facts(lines)];
    blocks.extend(cautions_in_short(review));
    blocks.extend(plan_document(plan).blocks().to_vec());
    let procedure: Document = batch_procedure(standing);
    blocks.extend(procedure.blocks().to_vec());
    blocks
}

fn kind(args: &StartArgs, plan: &Plan) -> CodeKind {
    let by_mass = plan.request.recipe.proportions.basis == RatioBasis::Mass;
    match (args.stock_solution, args.cathode_mix || by_mass) {
        (true, _) => CodeKind::StockSolution,
        (false, true) => CodeKind::CathodeMix,
        (false, false) => CodeKind::Electrolyte,
    }
}

impl RouteArgs {
    /// The circumstances, the flags before the recipe's procedure.
    fn context(&self, procedure: &Procedure, scheme: Scheme) -> Result<Context, Faults> {
        let mut faults = Faults::none();
        let heat =
            self.heat.as_ref().and_then(|text| faults.collect(quantity::<Temperature>("--heat", text)));
        let time = self.time.as_ref().and_then(|text| faults.collect(quantity::<TimeSpan>("--for", text)));
        faults.or(Context {
            heat: heat.or(procedure.heat.clone()).map(|typed| typed.value),
            time: time.or(procedure.time.clone()).map(|typed| typed.value),
            to_dryness: self.to_dryness,
            ground: self.ground,
            scheme,
            ..Context::default()
        })
    }
}
