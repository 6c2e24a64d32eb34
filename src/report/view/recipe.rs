//! A list of recipes.

use crate::recipe::{Limit, Limited, Procedure, Recipe};
use crate::report::document::{Document, Table, bullets, checklist, column, facts, heading};

/// Each recipe by the name that commands take, with its composition and the source of that.
pub fn recipe_list<'r>(recipes: impl IntoIterator<Item = (&'r str, &'r Recipe)>) -> Document {
    let mut table = Table::new([
        column("Name").key("name"),
        column("Composition").key("composition"),
        column("Source").key("source").if_room(),
    ]);
    for (name, recipe) in recipes {
        table.push([name.to_owned(), recipe.shorthand(), recipe.source.clone().unwrap_or_default()]);
    }
    Document::new("Recipes").with(table)
}

/// One recipe as it was read.
pub fn recipe_document(recipe: &Recipe) -> Document {
    let mut lines = vec![("Composition", recipe.shorthand())];
    lines.extend(recipe.source.clone().map(|source| ("Source", source)));
    lines.extend(recipe.note.clone().map(|note| ("Note", note)));
    let mut document = Document::new(recipe.name.as_str()).with(facts(lines));
    let steps = procedure_steps(&recipe.procedure);
    if !steps.is_empty() {
        document.push(heading(1, "Procedure"));
        document.push(checklist(steps));
    }
    if !recipe.limits.is_empty() {
        document.push(heading(1, "Limits for release"));
        document.push(bullets(recipe.limits.iter().map(limit_in_words)));
    }
    document
}

fn limit_in_words(limit: &Limit) -> String {
    let of = match limit.of {
        Limited::Water => "water",
        Limited::Property(property) => property.id(),
        Limited::Appearance => "appearance",
        Limited::Age => "age",
    };
    format!("{of}: {}", limit.text)
}

/// The procedure of a recipe in the order in which it is done.
pub fn procedure_steps(procedure: &Procedure) -> Vec<String> {
    let mut steps: Vec<String> =
        procedure.dry_first.iter().map(|what| format!("Dry first: {what}")).collect();
    steps.extend(procedure.steps.iter().cloned());
    let heat = procedure.heat.as_ref().map(|heat| format!("Heat to {}", heat.text));
    let time = procedure.time.as_ref().map(|time| format!("for {}", time.text));
    let atmosphere = procedure.atmosphere.as_ref().map(|gas| format!("under {gas}"));
    let heating: Vec<String> = [heat, time, atmosphere].into_iter().flatten().collect();
    if !heating.is_empty() {
        steps.push(heating.join(" "));
    }
    steps.extend(procedure.hot.iter().map(|what| format!("While hot: {what}")));
    steps.extend(procedure.end.iter().map(|end| format!("Done when: {end}")));
    steps.extend(procedure.after.iter().map(|what| format!("Then: {what}")));
    steps
}
