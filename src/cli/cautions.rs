//! `cautions`: what must be known before a bottle is opened.

use std::sync::Arc;

use clap::Args;

use super::args::Common;
use super::outcome::{Failure, Outcome};
use super::request::{self, ContextArgs};
use crate::caution::{Material, Named, Subject, find_named, review};
use crate::component::{Component, ComponentTable};
use crate::input::{Fault, Faults, Place};
use crate::recipe::Recipe;
use crate::report::answer::cautions_answer;
use crate::report::view::{cautions_document, cautions_list, warning_shown};

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
    let mut at_hand = at_hand(common, &table, args)?;
    let mut warnings = Vec::new();
    let procedure = at_hand.recipe.as_ref().map(|recipe| &recipe.procedure);
    let context = args.context.context(procedure, &mut warnings)?;
    let plan = at_hand.recipe.as_ref().and_then(|recipe| request::planned_as_asked(recipe, &table));
    at_hand
        .components
        .extend(plan.iter().flat_map(|plan| &plan.lines).map(|line| Arc::clone(&line.component)));
    let subject = Subject {
        components: &at_hand.components,
        materials: &at_hand.materials,
        composition: plan.as_ref().map(|plan| &plan.composition),
    };
    let review = review(&subject, &context);
    let title =
        at_hand.recipe.as_ref().map_or_else(|| args.subjects.join(", "), |recipe| recipe.name.clone());
    let mut outcome =
        Outcome::new("cautions", cautions_answer(&review), cautions_document(&title, &review, &context));
    outcome.document.extend(warnings.iter().map(warning_shown));
    outcome.warnings = warnings;
    outcome.listed = Some(cautions_list(&review));
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
        several => {
            let recipe = recipe_among(common, table, several);
            faults.extend(recipe.map(|recipe| recipe_fault(recipe, several).into()).unwrap_or_default());
            let others = several.iter().filter(|name| Some(*name) != recipe);
            others.for_each(|name| add(&mut at_hand, table, name, "cautions", &mut faults));
        }
    }
    args.with.iter().for_each(|name| add(&mut at_hand, table, name, "--with", &mut faults));
    Ok(faults.or(at_hand)?)
}

/// A name among several that is that of a recipe.
fn recipe_among<'n>(common: &Common, table: &ComponentTable, names: &'n [String]) -> Option<&'n String> {
    names.iter().find(|name| table.find(name).is_err() && request::is_recipe(common, name))
}

/// A recipe is reviewed alone, with what it meets behind --with.
fn recipe_fault(recipe: &String, names: &[String]) -> Fault {
    let others = names.iter().filter(|name| *name != recipe).map(|name| format!("--with {name}"));
    let others = others.collect::<Vec<_>>().join(" ");
    let message = format!("{recipe:?} is a recipe and stands among other names");
    let place = Place::in_text("cautions", recipe.as_str(), 0..recipe.len());
    let hint = format!("Say what a recipe meets with --with: meltbook cautions {recipe:?} {others}.");
    Fault::new("recipe_among", message, place).with_hint(hint)
}

fn add(at_hand: &mut AtHand, table: &ComponentTable, name: &str, origin: &str, faults: &mut Faults) {
    let place = Place::in_text(origin, name, 0..name.len());
    match faults.collect(find_named(name, table, place)) {
        Some(Named::Component(component)) => at_hand.components.push(component),
        Some(Named::Material(material)) => at_hand.materials.push(material.clone()),
        None => {}
    }
}
