//! What is reviewed for cautions: a recipe, a batch or bottle of the book, components and other materials.

use std::sync::Arc;

use super::batch::{batch_components, batch_context, composition_now, standing};
use super::plan_request::planned_as_asked;
use super::recipe_source::{is_recipe, recipe};
use super::review::{procedure_context, scheme_here};
use super::surroundings::{failure, open_book};
use super::table::component_table;
use crate::book::{Book, bottle, bottles};
use crate::caution::{Context, Material, Named, Scheme, ShelfItem, find_named};
use crate::cli::args::Common;
use crate::cli::outcome::Failure;
use crate::component::{Component, ComponentTable, Composition};
use crate::input::{Fault, Faults, Place, Warning};
use crate::record::{Code, CodeKind};

/// What the names mean.
#[derive(Default)]
pub(in crate::cli) struct AtHand {
    /// What it is called.
    pub(in crate::cli) title: String,
    pub(in crate::cli) components: Vec<Arc<Component>>,
    pub(in crate::cli) materials: Vec<Material>,
    /// What is in the mixture, of a recipe or batch.
    pub(in crate::cli) composition: Option<Composition>,
    /// What the recipe or batch says is done with it, by the scheme of the book.
    pub(in crate::cli) made: Context,
}

/// Reads the names, and what it all meets; every unknown one is reported.
pub(in crate::cli) fn at_hand(
    common: &Common,
    subjects: &[String],
    with: &[String],
) -> Result<AtHand, Failure> {
    let table = component_table(common)?;
    let scheme = scheme_here(common)?;
    let mut faults = Faults::none();
    let mut at_hand = match subjects {
        [one] if table.find(one).is_err() && is_recipe(common, one) => {
            collected(of_recipe(common, &table, one, scheme), &mut faults)?
        }
        [one] if table.find(one).is_err() && in_book(one).is_some() => {
            collected(of_code(common, &table, one, scheme), &mut faults)?
        }
        several => {
            let made = Context { scheme, ..Context::default() };
            let mut at_hand = AtHand { title: several.join(", "), made, ..AtHand::default() };
            let recipe = recipe_among(common, &table, several);
            faults.extend(recipe.map(|recipe| recipe_fault(recipe, several).into()).unwrap_or_default());
            let others = several.iter().filter(|name| Some(*name) != recipe);
            others.for_each(|name| at_hand.add(&table, name, "cautions", &mut faults));
            at_hand
        }
    };
    with.iter().for_each(|name| at_hand.add(&table, name, "--with", &mut faults));
    Ok(faults.or(at_hand)?)
}

/// What was read, or nothing with its faults collected, so that those of the other flags can be told with them.
fn collected(read: Result<AtHand, Failure>, faults: &mut Faults) -> Result<AtHand, Failure> {
    match read {
        Err(Failure::Input(found)) => {
            faults.extend(found);
            Ok(AtHand::default())
        }
        other => other,
    }
}

fn of_recipe(
    common: &Common,
    table: &ComponentTable,
    argument: &str,
    scheme: Scheme,
) -> Result<AtHand, Failure> {
    let recipe = recipe(common, table, argument)?;
    let plan = planned_as_asked(&recipe, table);
    // What the plan adds, such as water to a target, meets the rest too.
    let planned = plan.iter().flat_map(|plan| &plan.lines).map(|line| Arc::clone(&line.component));
    Ok(AtHand {
        title: recipe.name.clone(),
        components: recipe.proportions.components().cloned().chain(planned).collect(),
        composition: plan.map(|plan| plan.composition),
        made: procedure_context(&recipe.procedure, scheme),
        ..AtHand::default()
    })
}

/// A name among several that is that of a recipe.
fn recipe_among<'n>(common: &Common, table: &ComponentTable, names: &'n [String]) -> Option<&'n String> {
    names.iter().find(|name| table.find(name).is_err() && is_recipe(common, name))
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

/// The code of something that the cautions know of: a batch or a bottle.
fn in_book(argument: &str) -> Option<Code> {
    let code = argument.parse::<Code>().ok()?;
    (code.kind().is_batch() || code.kind() == CodeKind::Bottle).then_some(code)
}

fn of_code(
    common: &Common,
    table: &ComponentTable,
    argument: &str,
    scheme: Scheme,
) -> Result<AtHand, Failure> {
    let Some(code) = in_book(argument) else { return Ok(AtHand::default()) };
    let book = open_book(common)?;
    if code.kind().is_batch() {
        of_batch(&book, &code, scheme)
    } else {
        of_bottle(&book, table, &code, scheme)
    }
}

/// A batch as it is now; before anything is in it, by what its plan names.
fn of_batch(book: &Book, code: &Code, scheme: Scheme) -> Result<AtHand, Failure> {
    let standing = standing(book, code)?;
    Ok(AtHand {
        title: format!("{} {code}", code.kind().words()),
        components: batch_components(&standing),
        composition: composition_now(&standing),
        made: batch_context(&standing, scheme),
        ..AtHand::default()
    })
}

fn of_bottle(book: &Book, table: &ComponentTable, code: &Code, scheme: Scheme) -> Result<AtHand, Failure> {
    let bottle = bottle(book, code).map_err(|error| failure(&error))?;
    let component = table.get(&bottle.component).ok_or_else(|| {
        let message = format!("the table has no {:?}, which is in {code}", bottle.component);
        let fault = Fault::new("unknown_component", message, Place::named(code.to_string()));
        fault.with_hint("Put it back into components.toml of the book.")
    })?;
    Ok(AtHand {
        title: format!("bottle {code}, {}", component.name),
        components: vec![Arc::clone(component)],
        made: Context { scheme, ..Context::default() },
        ..AtHand::default()
    })
}

/// The bottles of the book that hold anything; what the table does not know comes as a warning.
pub(in crate::cli) fn items_on_shelf(common: &Common) -> Result<(Vec<ShelfItem>, Vec<Warning>), Failure> {
    let table = component_table(common)?;
    let book = open_book(common)?;
    let (mut items, mut warnings) = (Vec::new(), Vec::new());
    let all = bottles(&book).map_err(|error| failure(&error))?;
    for bottle in all.iter().filter(|bottle| bottle.disposed.is_none()) {
        match table.get(&bottle.component) {
            Some(component) => {
                items.push(ShelfItem { label: bottle.code.to_string(), component: Arc::clone(component) })
            }
            None => {
                let message = format!(
                    "the cautions know nothing of {} in {}: read its safety data sheet",
                    bottle.name, bottle.code
                );
                warnings.push(Warning::new("material_not_known", message));
            }
        }
    }
    Ok((items, warnings))
}

impl AtHand {
    fn add(&mut self, table: &ComponentTable, name: &str, origin: &str, faults: &mut Faults) {
        let place = Place::in_text(origin, name, 0..name.len());
        match faults.collect(find_named(name, table, place)) {
            Some(Named::Component(component)) => self.components.push(component),
            Some(Named::Material(material)) => self.materials.push(material.clone()),
            None => {}
        }
    }
}
