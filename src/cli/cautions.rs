//! `cautions`: what must be known before a bottle is opened.

use clap::Args;

use super::args::Common;
use super::outcome::{Failure, Outcome};
use super::request::{self, AtHand, ContextArgs};
use crate::caution::{Subject, review, review_shelf};
use crate::report::answer::{cautions_answer, shelf_answer};
use crate::report::view::{cautions_document, shelf_document, warning_shown};

/// What must be known before a bottle is opened: classes and statements, what must not meet, heat, practice
///
/// A recipe or a batch is classified as a mixture by the rules of a scheme, with every sum against its limit.
/// Cautions inform and never bless. The supplier's safety data sheet, local code and qualified persons come
/// first.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  meltbook cautions ChCl oxalic-acid
  meltbook cautions \"ChCl:urea 1:2\" --heat \"90 °C\" --for \"2 h\"
  meltbook cautions \"ChCl:EG 1:2 + 0.5 mol/kg ZnCl2\" --scheme clp
  meltbook cautions \"ChCl:EG 1:2\" --with zinc --with manganese-dioxide --cell --sealed
  meltbook cautions --shelf")]
pub(super) struct CautionsArgs {
    /// A recipe (path, shorthand or name), a batch or bottle of the book, or one or more components and other
    /// materials
    #[arg(required_unless_present = "shelf", value_name = "RECIPE or BATCH or COMPONENT")]
    subjects: Vec<String>,
    /// All bottles of the book: storage classes, what to keep apart, waste streams
    #[arg(long, conflicts_with_all = ["subjects", "with"])]
    shelf: bool,
    /// Something else that it meets, such as zinc or bleach; repeatable
    #[arg(long = "with", value_name = "MATERIAL")]
    with: Vec<String>,
    #[command(flatten)]
    context: ContextArgs,
}

pub(super) fn run(common: &Common, args: &CautionsArgs) -> Result<Outcome, Failure> {
    if args.shelf { shelf(common, args) } else { of_subjects(common, args) }
}

fn of_subjects(common: &Common, args: &CautionsArgs) -> Result<Outcome, Failure> {
    let AtHand { title, components, materials, composition, made } =
        request::at_hand(common, &args.subjects, &args.with)?;
    let mut warnings = Vec::new();
    let context = args.context.context(made, &mut warnings)?;
    let subject =
        Subject { components: &components, materials: &materials, composition: composition.as_ref() };
    let review = review(&subject, &context);
    let mut outcome =
        Outcome::new("cautions", cautions_answer(&review), cautions_document(&title, &review, &context));
    outcome.document.extend(warnings.iter().map(warning_shown));
    outcome.warnings = warnings;
    Ok(outcome)
}

fn shelf(common: &Common, args: &CautionsArgs) -> Result<Outcome, Failure> {
    let made = crate::caution::Context { scheme: request::scheme_here(common)?, ..Default::default() };
    let context = args.context.context(made, &mut Vec::new())?;
    let (items, warnings) = request::items_on_shelf(common)?;
    let review = review_shelf(&items, context.scheme);
    let mut outcome = Outcome::new("cautions", shelf_answer(&review), shelf_document(&review));
    outcome.warnings = warnings;
    Ok(outcome)
}
