//! `recipe`: the recipes within reach.

use clap::{Args, Subcommand};
use serde_json::{Value, json};

use super::args::Common;
use super::outcome::{Failure, Outcome};
use super::request;
use crate::recipe::{WORKED_RECIPES, read_recipe};
use crate::report::view::{recipe_document, recipe_list};

/// The worked recipes that come with the program, and how a recipe is read
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  meltbook recipe list
  meltbook recipe show choline-chloride-urea-1-2")]
pub(super) struct RecipeArgs {
    #[command(subcommand)]
    command: RecipeCommand,
}

#[derive(Debug, Subcommand)]
enum RecipeCommand {
    /// List the worked recipes with the source of each composition
    #[command(after_help = "Example:\n  meltbook recipe list")]
    List,
    /// Show a recipe as it is read, or its text, to start one of your own from
    #[command(after_help = "Example:\n  meltbook recipe show zinc-chloride-urea --text --out my-recipe.toml")]
    Show {
        /// Path, name or shorthand
        #[arg(value_name = "RECIPE")]
        recipe: String,
        /// The file's text and nothing else
        #[arg(long)]
        text: bool,
    },
}

pub(super) fn run(common: &Common, args: &RecipeArgs) -> Result<Outcome, Failure> {
    let table = request::component_table(common)?;
    match &args.command {
        RecipeCommand::List => {
            let read = |(name, text): &(&'static str, &str)| {
                let origin = format!("{name}.toml");
                read_recipe(&origin, text, &table).map(|recipe| (*name, recipe))
            };
            let recipes = WORKED_RECIPES.iter().map(read).collect::<Result<Vec<_>, _>>()?;
            let entry = |(name, recipe): &(&str, crate::recipe::Recipe)| json!({ "name": name, "composition": recipe.shorthand(), "source": recipe.source });
            let answer: Vec<Value> = recipes.iter().map(entry).collect();
            let document = recipe_list(recipes.iter().map(|(name, recipe)| (*name, recipe)));
            Ok(Outcome::new("recipe list", Value::Array(answer), document))
        }
        RecipeCommand::Show { recipe, text } => {
            let recipe = request::recipe(common, &table, recipe)?;
            let answer = json!({
                "name": recipe.name, "composition": recipe.shorthand(), "source": recipe.source,
                "note": recipe.note, "text": recipe.text,
            });
            let mut outcome = Outcome::new("recipe show", answer, recipe_document(&recipe));
            outcome.verbatim = text.then(|| recipe.text.clone());
            Ok(outcome)
        }
    }
}
