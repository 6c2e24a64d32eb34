//! `cautions`: what must be known before a bottle is opened.

use std::sync::Arc;

use clap::Args;

use super::args::Common;
use super::outcome::{Failure, Outcome};
use super::request::{self, ContextArgs};
use crate::caution::{Material, Named, Subject, find_named, review};
use crate::component::{Component, ComponentTable, Composition};
use crate::input::{Faults, Place};
use crate::recipe::Recipe;
use crate::report::answer::cautions_answer;
use crate::report::view::cautions_document;

/// What must be known before a bottle is opened: statements, what must not meet, heat, practice
///
/// Cautions inform and never bless. The supplier's safety data sheet, local code and qualified persons come
/// first.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  meltbook cautions ChCl oxalic-acid
  meltbook cautions \"ChCl:urea 1:2\" --heat \"90 °C\" --for \"2 h\"
  meltbook cautions \"ChCl:EG 1:2\" --with zinc --with manganese-dioxide --cell --sealed")]
pub(super) struct CautionsArgs {
    /// A recipe (path, shorthand or name), or one or more components and other materials
    #[arg(required = true, value_name = "RECIPE or COMPONENT")]
    subjects: Vec<String>,
    /// Something else that it meets, such as zinc or bleach; repeatable
    #[arg(long = "with", value_name = "MATERIAL")]
    with: Vec<String>,
    #[command(flatten)]
    context: ContextArgs,
}

/// What the names mean.
#[derive(Default)]
struct AtHand {
    components: Vec<Arc<Component>>,
    materials: Vec<Material>,
    recipe: Option<Recipe>,
}

pub(super) fn run(common: &Common, args: &CautionsArgs) -> Result<Outcome, Failure> {
    let table = request::component_table(common)?;
    let at_hand = at_hand(common, &table, args)?;
    let mut warnings = Vec::new();
    let procedure = at_hand.recipe.as_ref().map(|recipe| &recipe.procedure);
    let context = args.context.context(procedure, &mut warnings)?;
    let composition: Option<Composition> =
        at_hand.recipe.as_ref().and_then(|recipe| request::composition_as_asked(recipe, &table));
    let subject = Subject {
        components: &at_hand.components,
        materials: &at_hand.materials,
        composition: composition.as_ref(),
    };
    let review = review(&subject, &context);
    let title =
        at_hand.recipe.as_ref().map_or_else(|| args.subjects.join(", "), |recipe| recipe.name.clone());
    let mut outcome =
        Outcome::new("cautions", cautions_answer(&review), cautions_document(&title, &review, &context));
    outcome.warnings = warnings;
    Ok(outcome)
}

fn at_hand(common: &Common, table: &ComponentTable, args: &CautionsArgs) -> Result<AtHand, Failure> {
    let mut at_hand = AtHand::default();
    let mut faults = Faults::none();
    match args.subjects.as_slice() {
        [one] if table.find(one).is_err() && request::is_recipe(common, one) => {
            let recipe = request::recipe(common, table, one)?;
            at_hand.components.extend(recipe.proportions.components().cloned());
            at_hand.recipe = Some(recipe);
        }
        several => several.iter().for_each(|name| add(&mut at_hand, table, name, "cautions", &mut faults)),
    }
    args.with.iter().for_each(|name| add(&mut at_hand, table, name, "--with", &mut faults));
    Ok(faults.or(at_hand)?)
}

fn add(at_hand: &mut AtHand, table: &ComponentTable, name: &str, origin: &str, faults: &mut Faults) {
    let place = Place::in_text(origin, name, 0..name.len());
    match faults.collect(find_named(name, table, place)) {
        Some(Named::Component(component)) => at_hand.components.push(component),
        Some(Named::Material(material)) => at_hand.materials.push(material.clone()),
        None => {}
    }
}
