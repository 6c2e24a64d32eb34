//! RECIPE: a path, a shorthand, or a name.

use super::source::read_text;
use super::surroundings::book_folder;
use crate::cli::args::Common;
use crate::cli::outcome::Failure;
use crate::component::ComponentTable;
use crate::input::{Fault, Place, did_you_mean};
use crate::recipe::{Recipe, WORKED_RECIPES, is_shorthand, read_recipe, read_shorthand};

/// Where an argument of this kind is named in faults.
const ORIGIN: &str = "RECIPE";

/// Reads the recipe that the argument names. A text with a slash or `.toml` is a path, one with a ratio is
/// a shorthand, anything else a name: of a file in the folder `recipes` here or of the book, or of a worked
/// recipe.
pub(in crate::cli) fn recipe(
    common: &Common,
    table: &ComponentTable,
    argument: &str,
) -> Result<Recipe, Failure> {
    recipe_of(ORIGIN, common, table, argument)
}

/// The same for an argument that is called otherwise.
pub(super) fn recipe_of(
    origin: &str,
    common: &Common,
    table: &ComponentTable,
    argument: &str,
) -> Result<Recipe, Failure> {
    if is_shorthand(argument) {
        return Ok(read_shorthand(origin, argument, table)?);
    }
    let path =
        argument.contains('/') || argument.contains(std::path::MAIN_SEPARATOR) || argument.ends_with(".toml");
    if path {
        return Ok(read_recipe(argument, &read_text(argument)?, table)?);
    }
    if let Some(local) = local_file(common, argument) {
        return Ok(read_recipe(&local, &read_text(&local)?, table)?);
    }
    match WORKED_RECIPES.iter().find(|(name, _)| *name == argument) {
        Some((name, text)) => Ok(read_recipe(&format!("{name}.toml"), text, table)?),
        None => Err(unknown(origin, argument).into()),
    }
}

/// True if the argument can only mean a recipe, or is the name of one.
pub(in crate::cli) fn is_recipe(common: &Common, argument: &str) -> bool {
    let path = argument.contains('/') || argument.ends_with(".toml");
    let named = WORKED_RECIPES.iter().any(|(name, _)| *name == argument);
    is_shorthand(argument) || path || named || local_file(common, argument).is_some()
}

/// The recipe file of this name here, else in the book.
fn local_file(common: &Common, name: &str) -> Option<String> {
    let file = format!("recipes/{name}.toml");
    let in_book = book_folder(common).map(|folder| folder.join(&file).display().to_string());
    std::iter::once(file).chain(in_book).find(|path| std::path::Path::new(path).is_file())
}

fn unknown(origin: &str, argument: &str) -> Fault {
    let place = Place::in_text(origin, argument, 0..argument.len());
    if argument.contains(':') {
        let fault = Fault::new("no_ratio", format!("{argument:?} has no ratio behind the names"), place);
        return fault.with_hint("Write it like \"ChCl:urea 1:2\", in quotes.");
    }
    let names = WORKED_RECIPES.iter().map(|(name, _)| *name);
    let otherwise = "See the worked recipes with: meltbook recipe list. A path has a slash or ends in .toml; a \
                     shorthand is quoted, like \"ChCl:urea 1:2\".";
    let message = format!("no recipe is called {argument:?}");
    Fault::new("unknown_recipe", message, place).with_hint(did_you_mean(argument, names, otherwise))
}
