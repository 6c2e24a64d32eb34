//! `batch weigh`: a real mass, and the rest targeted again.

use std::sync::Arc;

use clap::Args;
use serde_json::json;

use super::answer::answer;
use super::answer::write;
use super::slip::slip;
use crate::book::bottle;
use crate::cli::args::Common;
use crate::cli::outcome::{Failure, Outcome};
use crate::cli::request::{self, RecordArgs, code, failure, open_book, quantity, standing};
use crate::component::{Component, Quality};
use crate::input::{Fault, Faults, Place};
use crate::quantity::{Mass, Relative, TimeSpan, Typed};
use crate::record::batch::{HowWeighed, Weighed};
use crate::record::{Code, Event};
use crate::report::document::{Block, Caution, facts, paragraph};
use crate::report::standing::Standing;
use crate::report::view::{grams_of, ratio_in_words, window_in_words};

/// Record a mass that went in; the rest is targeted again
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  meltbook batch weigh E2 ChCl \"32.480 g\" --from B1
  meltbook batch weigh E2 urea --gross \"153.21 g\" --tare \"124.33 g\" --from B2 \\
      --humidity 45% --open \"3 min\"")]
pub(super) struct WeighArgs {
    /// The batch
    #[arg(value_name = "CODE")]
    code: String,
    /// The component
    #[arg(value_name = "COMPONENT")]
    component: String,
    #[command(flatten)]
    mass: MassArgs,
    #[command(flatten)]
    from: FromArgs,
    #[command(flatten)]
    record: RecordArgs,
}

/// A net mass in one of three ways.
#[derive(Debug, Args)]
pub(super) struct MassArgs {
    /// The net mass
    #[arg(value_name = "MASS", allow_hyphen_values = true)]
    mass: Option<String>,
    /// Mass with the load; with --tare
    #[arg(long, value_name = "MASS", allow_hyphen_values = true)]
    gross: Option<String>,
    /// Mass without it
    #[arg(long, value_name = "MASS", allow_hyphen_values = true)]
    tare: Option<String>,
    /// Mass of the bottle before; with --after
    #[arg(long, value_name = "MASS", allow_hyphen_values = true)]
    before: Option<String>,
    /// Mass of the bottle after
    #[arg(long, value_name = "MASS", allow_hyphen_values = true)]
    after: Option<String>,
}

/// Where it came from, and the air around it.
#[derive(Debug, Args)]
pub(super) struct FromArgs {
    /// The bottle; without it the one that was planned
    #[arg(long = "from", value_name = "BOTTLE")]
    from: Option<String>,
    /// Relative humidity of the room, such as 45%
    #[arg(long, value_name = "PERCENT", allow_hyphen_values = true)]
    humidity: Option<String>,
    /// How long the bottle was open, such as "3 min"
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    open: Option<String>,
}

pub(super) fn run(common: &Common, args: &WeighArgs) -> Result<Outcome, Failure> {
    let code = code("CODE", &args.code)?;
    let weighed = weighed(common, &code, &args.component, &args.mass, &args.from, &args.record, false)?;
    record(common, &args.record, weighed)
}

/// Records what was weighed and says how the batch stands.
pub(super) fn record(common: &Common, args: &RecordArgs, weighed: Weighed) -> Result<Outcome, Failure> {
    write(common, args, |writer| writer.append(&Event::BatchWeighed(Box::new(weighed.clone()))).map(|_| ()))?;
    let from = match &weighed.from {
        Some(from) => {
            let book = open_book(common)?;
            Some((from.clone(), bottle(&book, from).map_err(|error| failure(&error))?.left_g))
        }
        None => None,
    };
    let id = weighed.component.as_str();
    let (entry, _) = open_book(common)?.head().map_err(|error| failure(&error))?;
    let slipped = std::cell::Cell::new(None);
    let about = |standing: &Standing| {
        let found = slip(standing, &weighed, entry);
        let caution = found.as_ref().map(|found| Caution::warn(found.message.as_str()).into());
        slipped.set(found);
        caution.into_iter().chain(said(standing, &weighed, from.as_ref())).collect()
    };
    let mut outcome = answer(common, &weighed.batch, "Weighed", Vec::new(), about)?;
    outcome.warnings.extend(slipped.take());
    let line = outcome.answer["lines"]
        .as_array()
        .and_then(|lines| lines.iter().find(|line| line["component"] == id));
    let (low, high) = line.map_or((None, None), |line| (line["low_g"].as_f64(), line["high_g"].as_f64()));
    let total = line.and_then(|line| line["actual_g"].as_f64());
    let inside = low.zip(high).zip(total).map(|((low, high), total)| low <= total && total <= high);
    outcome.answer["weighing"] = json!({
        "component": id,
        "mass_g": weighed.mass.value.get(),
        "in_all_g": total,
        "low_g": low,
        "high_g": high,
        "in_window": inside,
        "bottle": from.as_ref().map(|(code, _)| code.to_string()),
        "bottle_left_g": from.as_ref().map(|(_, left)| left),
    });
    Ok(outcome)
}

/// The mass beside its window, the ratio so far, and what the bottle has left.
fn said(standing: &Standing, weighed: &Weighed, from: Option<&(Code, f64)>) -> Vec<Block> {
    let id = weighed.component.as_str();
    let grams = |value: f64| format!("{} g", grams_of(standing, value));
    let mut lines = vec![("Weighed", format!("{} of {id}", weighed.mass.text))];
    let mut blocks = Vec::new();
    if let (Some(total), Some((low, high))) = (standing.weighed_g(id), standing.window(id)) {
        let verdict = if total < low {
            "below it: add the rest"
        } else if high < total {
            "above it: the others grow"
        } else {
            "in it"
        };
        lines.push((
            "Window",
            format!("{}; {} is {verdict}", window_in_words(standing, (low, high)), grams(total)),
        ));
        if high < total {
            blocks.push(Caution::note(format!(
                "{id} is above its window, so the batch grows; nothing is taken out of the flask."
            )));
        }
    }
    let ratio = ratio_in_words(standing);
    if !ratio.is_empty() {
        lines.push(("Ratio so far", ratio));
    }
    lines.extend(from.map(|(code, left)| ("Bottle", format!("{code} has {} left", grams(*left)))));
    let mut all = vec![facts(lines)];
    all.extend(blocks.into_iter().map(Block::from));
    if let Some(permit) = &weighed.permit {
        all.push(paragraph(format!("By {}, responsible {}.", permit.procedure, permit.person)));
    }
    if let Some(because) = &weighed.because {
        all.push(paragraph(format!("In spite of a limit: {because}")));
    }
    all
}

/// What was weighed, by the arguments; all faults together.
pub(super) fn weighed(
    common: &Common,
    code: &Code,
    name: &str,
    mass: &MassArgs,
    from: &FromArgs,
    record: &RecordArgs,
    later: bool,
) -> Result<Weighed, Failure> {
    let table = request::component_table(common)?;
    let book = open_book(common)?;
    let standing = standing(&book, code)?;
    let mut faults = Faults::none();
    let component = faults.collect(request::components(&table, &[name.to_owned()]));
    let component = component.and_then(|mut found| found.pop());
    let mass = faults.collect(mass.net());
    let bottle_code =
        from.from.as_ref().and_then(|text| faults.collect(crate::cli::request::code("--from", text)));
    let humidity =
        from.humidity.as_ref().and_then(|text| faults.collect(quantity::<Relative>("--humidity", text)));
    let open = from.open.as_ref().and_then(|text| faults.collect(quantity::<TimeSpan>("--open", text)));
    let (Some(component), Some((mass, how)), true) = (component, mass, faults.is_empty()) else {
        return Err(faults.into());
    };
    let line = standing
        .life
        .plan()
        .and_then(|plan| plan.lines.iter().find(|line| line.component.id == component.id));
    if line.is_none() && !later {
        return Err(not_planned(&standing, &component, code).into());
    }
    let bottle_code = bottle_code.or_else(|| line.and_then(|line| line.bottle.clone()));
    let quality = match &bottle_code {
        Some(code) => bottle(&book, code).map_err(|error| failure(&error))?.quality,
        None => line.map_or_else(Quality::default, |line| line.quality.clone()),
    };
    Ok(Weighed {
        batch: code.clone(),
        component: component.id.clone(),
        entry: line.map_or(component, |line| Arc::clone(&line.component)),
        from: bottle_code,
        quality,
        mass,
        how,
        humidity,
        open,
        later,
        permit: None,
        because: record.because.clone(),
        at: record.at()?,
    })
}

fn not_planned(standing: &Standing, component: &Component, code: &Code) -> Fault {
    let known: Vec<String> = standing
        .life
        .plan()
        .iter()
        .flat_map(|plan| plan.lines.iter().map(|line| line.component.id.to_string()))
        .collect();
    let fault = Fault::new(
        "not_in_plan",
        format!("{} is not in the plan of {code}", component.id),
        Place::named("COMPONENT"),
    );
    fault.with_hint(
        format!(
            "The plan holds {}. Record anything else with: meltbook batch add {code} --component …",
            if known.is_empty() { "nothing".to_owned() } else { known.join(", ") }
        ) + ".",
    )
}

impl MassArgs {
    /// A net mass alone.
    pub(super) fn of_net(mass: Option<String>) -> Self {
        Self { mass, gross: None, tare: None, before: None, after: None }
    }

    fn net(&self) -> Result<(Typed<Mass>, HowWeighed), Faults> {
        match (&self.mass, &self.gross, &self.tare, &self.before, &self.after) {
            (Some(mass), None, None, None, None) => {
                let mass = quantity::<Mass>("MASS", mass)?;
                above_zero(&mass, "MASS")?;
                Ok((mass, HowWeighed::Net))
            }
            (None, Some(gross), Some(tare), None, None) => {
                let (gross, tare) = two(("--gross", gross), ("--tare", tare))?;
                Ok((difference(&gross, &tare, "--gross")?, HowWeighed::GrossAndTare { gross, tare }))
            }
            (None, None, None, Some(before), Some(after)) => {
                let (before, after) = two(("--before", before), ("--after", after))?;
                Ok((difference(&before, &after, "--before")?, HowWeighed::ByDifference { before, after }))
            }
            _ => {
                let fault =
                    Fault::new("mass_unclear", "the mass is not given in one way", Place::named("MASS"));
                Err(fault
                    .with_hint("Give the net mass, or --gross and --tare, or --before and --after.")
                    .into())
            }
        }
    }
}

fn two(
    (flag, text): (&str, &str),
    (other_flag, other): (&str, &str),
) -> Result<(Typed<Mass>, Typed<Mass>), Faults> {
    let mut faults = Faults::none();
    let first = faults.collect(quantity::<Mass>(flag, text));
    let second = faults.collect(quantity::<Mass>(other_flag, other));
    match (first, second) {
        (Some(first), Some(second)) => Ok((first, second)),
        _ => Err(faults),
    }
}

/// The net mass, without the dust that a subtraction leaves behind the last digit.
fn difference(more: &Typed<Mass>, less: &Typed<Mass>, flag: &str) -> Result<Typed<Mass>, Fault> {
    let net = ((more.value - less.value).get() * 1e9).round() / 1e9;
    let net = Typed { value: Mass::new(net), text: format!("{net} g"), decimal_comma: false };
    above_zero(&net, flag)?;
    Ok(net)
}

pub(super) fn above_zero(mass: &Typed<Mass>, flag: &str) -> Result<(), Fault> {
    if Mass::ZERO < mass.value {
        return Ok(());
    }
    let place = Place::in_text(flag, mass.text.as_str(), 0..mass.text.len());
    let fault = Fault::new("no_net_mass", format!("{} is no mass above 0", mass.text), place);
    Err(fault.with_hint("Check the two masses, or leave the entry out."))
}
