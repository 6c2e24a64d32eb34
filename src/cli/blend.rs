//! `blend`: several liquids into one, or a liquid brought to another ratio or water content.

use std::sync::Arc;

use clap::Args;

use super::args::Common;
use super::outcome::{Failure, Outcome};
use super::plan::warning_shown;
use super::request::{BlendOptions, Blended, blended};
use crate::caution::{Context, Review, Subject, review};
use crate::component::Component;
use crate::plan::Blend;
use crate::report::answer::{blend_answer, cautions_beside};
use crate::report::view::{blend_background, blend_document, blend_warnings, cautions_in_short};

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
      --bottle \"urea assay=99.5% basis=dried moisture=0.2%\"")]
pub(super) struct BlendArgs {
    #[command(flatten)]
    options: BlendOptions,
}

pub(super) fn run(common: &Common, args: &BlendArgs) -> Result<Outcome, Failure> {
    let Blended { blend, wish, mut warnings } = blended(common, &args.options)?;
    warnings.extend(blend_warnings(&blend));
    let review = review_blend(&blend);
    let mut answer = blend_answer(&blend);
    answer["cautions"] = cautions_beside(&review);
    let mut document = blend_document(&blend, &wish);
    document.extend(warnings.iter().map(warning_shown));
    document.extend(cautions_in_short(&review));
    document.extend(blend_background(&blend));
    let mut outcome = Outcome::new("blend", answer, document);
    outcome.no = blend.dry_first().is_some();
    outcome.warnings = warnings;
    Ok(outcome)
}

/// The cautions of everything that is in the flask in the end.
fn review_blend(blend: &Blend) -> Review {
    let composition = blend.result();
    let components: Vec<Arc<Component>> =
        composition.constituents.iter().map(|own| Arc::clone(&own.component)).collect();
    let subject = Subject { components: &components, composition: Some(composition), materials: &[] };
    review(&subject, &Context::default())
}
