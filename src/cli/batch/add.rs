//! `batch add`: what goes in beyond the plan, and how much water brings a batch to a target.

use std::sync::Arc;

use clap::Args;
use serde_json::json;

use super::answer::{plain, record};
use super::weigh::{self, FromArgs, MassArgs, above_zero};
use crate::cli::args::Common;
use crate::cli::outcome::{Failure, Outcome};
use crate::cli::request::{
    self, Joining, PermitArgs, RecordArgs, code, composition_now, open_book, quantity, standing,
};
use crate::component::Component;
use crate::input::{Fault, Place};
use crate::plan::{Wish, adjust};
use crate::quantity::{Mass, MassFraction, Typed};
use crate::record::batch::{Added, Weighed};
use crate::record::{Code, Event};
use crate::report::document::{Block, Caution, Document, big, facts, text};
use crate::report::view::grams_of;

/// Record a later addition, of a component or of another batch; or ask how much water is missing
///
/// What joins a batch is held against what is in it: an alert that blocks, and that the batch did not have before,
/// needs the written procedure and the person responsible, as the beginning of a batch does.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  meltbook batch add E1 --to-water \"5 wt%\"
  meltbook batch add E1 --component water \"3.857 g\"
  meltbook batch add E1 --batch S1 \"0.52 g\"")]
pub(super) struct AddArgs {
    /// The batch
    #[arg(value_name = "CODE")]
    code: String,
    /// A component and how much of it
    #[arg(long, num_args = 2, value_names = ["NAME", "MASS"], conflicts_with_all = ["batch", "to_water"])]
    component: Option<Vec<String>>,
    /// Another batch and how much of it
    #[arg(long, num_args = 2, value_names = ["CODE", "MASS"], conflicts_with = "to_water")]
    batch: Option<Vec<String>>,
    /// Say what water to add for this content; records nothing
    #[arg(long, value_name = "WT%", allow_hyphen_values = true)]
    to_water: Option<String>,
    #[command(flatten)]
    from: FromArgs,
    #[command(flatten)]
    permit: PermitArgs,
    #[command(flatten)]
    record: RecordArgs,
}

pub(super) fn run(common: &Common, args: &AddArgs) -> Result<Outcome, Failure> {
    let into = code("CODE", &args.code)?;
    match (args.component.as_deref(), args.batch.as_deref(), &args.to_water) {
        (Some([name, mass]), _, _) => {
            let mass = MassArgs::of_net(Some(mass.clone()));
            let weighed = weigh::weighed(common, &into, name, &mass, &args.from, &args.record, true)?;
            let joining = Joining::Component(Arc::clone(&weighed.entry));
            let permit = args.permit.permit(&request::brought_by(common, &into, &joining)?)?;
            weigh::record(common, &args.record, Weighed { permit, ..weighed })
        }
        (_, Some([from, mass]), _) => {
            let from = code("--batch", from)?;
            let mass = quantity::<Mass>("--batch", mass)?;
            above_zero(&mass, "--batch")?;
            let because = args.record.because.clone();
            let joining = Joining::Batch(from.clone());
            let permit = args.permit.permit(&request::brought_by(common, &into, &joining)?)?;
            let added = Added { batch: into.clone(), from, mass, because, permit, at: args.record.at()? };
            record(common, &args.record, &into, Event::BatchAdded(added), "Added", plain)
        }
        (_, _, Some(target)) => to_water(common, &into, target),
        _ => {
            let fault = Fault::new("nothing_to_add", "nothing is said to go in", Place::named("batch add"));
            Err(fault
                .with_hint("Give --component NAME MASS, --batch CODE MASS, or --to-water \"5 wt%\".")
                .into())
        }
    }
}

/// Water to a target from what was measured last, or from what the bottles say.
fn to_water(common: &Common, code: &Code, target: &str) -> Result<Outcome, Failure> {
    let wished = quantity::<MassFraction>("--to-water", target)?;
    let book = open_book(common)?;
    let table = request::component_table(common)?;
    let standing = standing(&book, code)?;
    let (Some(composition), Some((now, measured)), Some(water)) =
        (composition_now(&standing), standing.water_now(), table.get(Component::WATER))
    else {
        let fault = Fault::new("empty_batch", format!("nothing is in {code}"), Place::named("CODE"));
        return Err(fault.with_hint("Record what was weighed with: meltbook batch weigh.").into());
    };
    let wish = Wish { ratio: None, water: Some(wished.value) };
    let adjustment = adjust(&composition, &wish, &[], water).map_err(|error| {
        let place = Place::in_text("--to-water", target, 0..target.len());
        Fault::new(error.code(), error.to_string(), place).with_hint(error.hint())
    })?;
    let add: Mass = adjustment.additions.iter().map(|added| added.weigh()).sum();
    let left = standing.life.left_g();
    let by = if measured { "measured" } else { "predicted" };
    let answer = json!({
        "code": code.to_string(),
        "left_g": left,
        "water_wt_pct": now * 100.0,
        "water_by": by,
        "target_wt_pct": wished.value.percent(),
        "add": [{ "component": Component::WATER, "weigh_g": add.get() }],
        "dry_first_g": adjustment.dry_first.map(Mass::get),
        "batch_g": left + add.get(),
    });
    let grams = |value: f64| format!("{} g", grams_of(&standing, value));
    let how = if measured {
        "measured last, with what was put in since"
    } else {
        "by what the masses and bottles say: nothing was measured"
    };
    let mut document = Document::new(format!("Water for {code}")).with(facts([
        ("Left", text(grams(left))),
        ("Water now", text(format!("{:.4} wt%, {how}", now * 100.0))),
        ("Target", text(typed(&wished))),
        ("Add water", big(grams(add.get()))),
        ("Batch then", text(grams(left + add.get()))),
    ]));
    if let Some(dry) = adjustment.dry_first {
        document.push(Caution::warn(format!(
            "It holds more water than that: {} must be dried off first, or the batch blended with a drier one.",
            grams(dry.get())
        )));
    } else {
        document.push(Block::from(Caution::note(
            "Nothing is recorded yet: weigh the water in, then record its real mass with --component water.",
        )));
    }
    let mut outcome = Outcome::new("batch add", answer, document);
    outcome.no = adjustment.dry_first.is_some();
    Ok(outcome)
}

fn typed(wished: &Typed<MassFraction>) -> &str {
    &wished.text
}
