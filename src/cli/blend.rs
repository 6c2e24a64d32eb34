//! `blend`: several liquids into one, or a liquid brought to another ratio or water content.

use std::sync::Arc;

use clap::Args;
use serde_json::json;

use super::args::Common;
use super::outcome::{Failure, Outcome};
use super::request::{self, BlendOptions, PermitArgs, RecordArgs, blended};
use crate::caution::{Context, Review, Scheme, Subject, review};
use crate::component::Component;
use crate::input::{Fault, Faults, Place};
use crate::plan::{Blend, LiquidSource};
use crate::quantity::{Mass, Typed, significant};
use crate::record::batch::{BlendPart, Blended};
use crate::record::{Code, Event, Hash};
use crate::report::answer::{blend_answer, cautions_beside};
use crate::report::document::{big, facts, paragraph, text};
use crate::report::view::{
    blend_background, blend_document, blend_warnings, cautions_in_short, warning_shown,
};

/// Several liquids into one, by moles, and what to add for another ratio or water content
///
/// Moles add up; ratios are never averaged. Nothing is taken out: where a component would have to be, the
/// others are added to. Too much water is answered with how much must be dried off first (exit code 1).
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  meltbook blend --liquid \"ChCl:urea 1:2 to 2 wt% water mass=60g\" --liquid \"ChCl:urea 1:3 mass=40g\"
  meltbook blend --liquid \"ChCl:urea 1:2 to 0.42 wt% water mass=80g\" --water \"5 wt%\"
  meltbook blend --liquid \"ChCl:urea 1:2 mass=80g\" --ratio \"ChCl:urea 1:2.2\" --water \"2 wt%\" \\
      --bottle \"urea assay=99.5% basis=dried moisture=0.2%\"
  meltbook blend --liquid \"E1 mass=20g\" --liquid \"S1 mass=1g\" --record")]
pub(super) struct BlendArgs {
    #[command(flatten)]
    options: BlendOptions,
    /// Record that it was done, as a new batch; every liquid must be a batch
    #[arg(long, help_heading = "To record it")]
    record: bool,
    /// What the new batch is called [default: the codes that it comes from]
    #[arg(long, value_name = "TEXT", requires = "record", help_heading = "To record it")]
    name: Option<String>,
    #[command(flatten)]
    permit: PermitArgs,
    #[command(flatten)]
    entry: RecordArgs,
}

pub(super) fn run(common: &Common, args: &BlendArgs) -> Result<Outcome, Failure> {
    let request::Blended { blend, wish, mut warnings } = blended(common, &args.options)?;
    warnings.extend(blend_warnings(&blend));
    let review = review_blend(&blend, request::scheme_here(common)?);
    let recorded = if args.record { Some(record(common, args, &blend, &review)?) } else { None };
    let mut answer = blend_answer(&blend);
    answer["cautions"] = cautions_beside(&review);
    let mut document = blend_document(&blend, &wish);
    if let Some((code, entry, head)) = &recorded {
        answer["code"] = json!(code.to_string());
        answer["entry"] = json!(entry);
        answer["head"] = json!(head.to_string());
        document.push(facts([
            ("Lot code", big(code.to_string())),
            ("Entry", text(format!("{entry}, head {}", head.short()))),
        ]));
        if blend.wish.as_ref().is_some_and(|(_, adjustment)| !adjustment.additions.is_empty()) {
            document.push(paragraph(format!(
                "What is to be added is not recorded yet: weigh it in, then record it with meltbook batch add {code}."
            )));
        }
    }
    document.extend(warnings.iter().map(warning_shown));
    document.extend(cautions_in_short(&review));
    document.extend(blend_background(&blend));
    let mut outcome = Outcome::new("blend", answer, document);
    outcome.no = blend.dry_first().is_some();
    outcome.warnings = warnings;
    Ok(outcome)
}

/// Records the blend as a new batch of the kind of its first liquid.
fn record(
    common: &Common,
    args: &BlendArgs,
    blend: &Blend,
    review: &Review,
) -> Result<(Code, u64, Hash), Failure> {
    let mut faults = Faults::none();
    let from: Vec<BlendPart> =
        blend.liquids.iter().filter_map(|liquid| faults.collect(part(&liquid.source, liquid.mass))).collect();
    let permit = faults.collect(args.permit.permit(review)).flatten();
    let Some(first) = from.first().filter(|_| faults.is_empty()) else { return Err(faults.into()) };
    let kind = first.batch.kind();
    let codes = from.iter().map(|part| part.batch.to_string()).collect::<Vec<_>>().join(" and ");
    let (name, at) = (args.name.clone().unwrap_or_else(|| format!("blend of {codes}")), args.entry.at()?);
    let because = args.entry.because.clone();
    let settings = request::settings(common)?;
    let stamp = request::stamp(args.entry.by.as_deref(), settings.as_ref())?;
    let mut book = request::open_book(common)?;
    let code = book
        .write(&stamp, |writer| {
            let code = writer.next_code(kind)?;
            writer.append(&Event::BatchBlended(Blended {
                code: code.clone(),
                name,
                from,
                permit,
                because,
                at,
            }))?;
            Ok(code)
        })
        .map_err(|error| request::failure(&error))?;
    let (entry, head) = book.head().map_err(|error| request::failure(&error))?;
    Ok((code, entry, head))
}

fn part(source: &LiquidSource, mass: Mass) -> Result<BlendPart, Fault> {
    let code = match source {
        LiquidSource::Batch(code) => code.parse::<Code>().ok(),
        LiquidSource::Recipe(_) => None,
    };
    let text = format!("{} g", significant(mass.get(), 7));
    let mass = Typed { value: mass, text, decimal_comma: false };
    code.map(|batch| BlendPart { batch, mass }).ok_or_else(|| {
        let message =
            format!("{:?} is a recipe, and only batches of the book can be recorded", source.text());
        let fault = Fault::new("not_a_batch", message, Place::named("--liquid"));
        fault.with_hint("Name each liquid by its code, as in --liquid \"E1 mass=30g\".")
    })
}

/// The cautions of everything that is in the flask in the end.
fn review_blend(blend: &Blend, scheme: Scheme) -> Review {
    let composition = blend.result();
    let components: Vec<Arc<Component>> =
        composition.constituents.iter().map(|own| Arc::clone(&own.component)).collect();
    let subject = Subject { components: &components, composition: Some(composition), materials: &[] };
    review(&subject, &Context { scheme, ..Context::default() })
}
