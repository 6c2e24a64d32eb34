//! `batch start`: a plan becomes a batch with a lot code. Alerts that block act here.

use clap::Args;
use serde_json::json;

use super::answer::{BEGUN, answer, write};
use crate::caution::{Alert, Review};
use crate::cli::args::Common;
use crate::cli::outcome::{Failure, Outcome};
use crate::cli::request::{ContextArgs, PlanOptions, Planned, RecordArgs, plan_request, review_plan_in};
use crate::component::RatioBasis;
use crate::input::{Fault, Faults, Place};
use crate::plan::Plan;
use crate::record::batch::{Permit, Started};
use crate::record::life::Origin;
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
    /// The written procedure by which work that an alert blocks is done
    #[arg(long, value_name = "NAME", requires = "responsible")]
    procedure: Option<String>,
    /// The person responsible for that work
    #[arg(long, value_name = "PERSON", requires = "procedure")]
    responsible: Option<String>,
    #[command(flatten)]
    record: RecordArgs,
    #[command(flatten)]
    context: ContextArgs,
    // The last, since its help headings hold for what follows them.
    #[command(flatten)]
    options: PlanOptions,
}

pub(super) fn run(common: &Common, args: &StartArgs) -> Result<Outcome, Failure> {
    let Planned { plan, mut warnings, bottles, .. } = plan_request(common, &args.options)?;
    let context = args.context.context(Some(&plan.request.recipe.procedure), &mut warnings)?;
    let review = review_plan_in(&plan, &context);
    let permit = permit(args, &review)?;
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
    if let Origin::Planned(started) = &standing.life.origin
        && let Some(permit) = &started.permit
    {
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

/// What lets the batch go on in spite of alerts that block; a fault for each alert that nothing lets past.
fn permit(args: &StartArgs, review: &Review) -> Result<Option<Permit>, Faults> {
    let mut faults = Faults::none();
    for alert in review.without_way_past() {
        let fault = Fault::new("never_done", told(alert), Place::named(alert.id.as_str()));
        faults.push(fault.with_hint("There is no way past this: plan another route or other components."));
    }
    let blocked: Vec<&Alert> = review.needing_procedure().collect();
    let text = |text: &Option<String>| text.as_ref().map(|t| t.trim().to_owned()).filter(|t| !t.is_empty());
    let named = text(&args.procedure).zip(text(&args.responsible));
    if named.is_none() {
        for alert in &blocked {
            let fault = Fault::new("needs_procedure", told(alert), Place::named(alert.id.as_str()));
            faults.push(fault.with_hint(
                "Name the written procedure and the person responsible: --procedure \"…\" --responsible \"…\".",
            ));
        }
    }
    let alerts = |blocked: Vec<&Alert>| {
        let mut ids: Vec<String> = blocked.into_iter().map(|alert| alert.id.clone()).collect();
        ids.dedup();
        ids
    };
    let permit = named.filter(|_| !blocked.is_empty());
    let permit = permit.map(|(procedure, person)| Permit { procedure, person, alerts: alerts(blocked) });
    faults.or(permit)
}

/// An alert as a fault: lower case, no full stop, one line.
fn told(alert: &Alert) -> String {
    format!("{}: {}", alert.title, alert.because.join(", "))
}
