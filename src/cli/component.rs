//! `component`: the component table.

use clap::{Args, Subcommand};
use serde_json::{Value, json};

use super::args::Common;
use super::outcome::{Failure, Outcome};
use super::request;
use crate::component::{Component, ComponentTable, Role, readable_components};
use crate::input::{Fault, Place, did_you_mean};
use crate::report::answer::component_answer;
use crate::report::document::{Document, paragraph};
use crate::report::view::{component_document, component_list};

/// The component table: list it, show one component with its sources, check a table of your own
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  meltbook component list zinc
  meltbook component show ChCl ZnCl2")]
pub(super) struct ComponentArgs {
    #[command(subcommand)]
    command: ComponentCommand,
}

#[derive(Debug, Subcommand)]
enum ComponentCommand {
    /// List all components, or those of a role, or those whose names contain a text
    #[command(after_help = "Example:\n  meltbook component list --role donor")]
    List {
        /// Only this role: acceptor, donor, salt, additive, solvent, electrode, conductor, binder
        #[arg(long, value_name = "ROLE")]
        role: Option<String>,
        /// Only components whose id, name, alias, CAS number or formula contains this
        #[arg(value_name = "TEXT")]
        containing: Option<String>,
    },
    /// Show all that is known of components, each value with its source
    #[command(after_help = "Example:\n  meltbook component show ChCl")]
    Show {
        /// Id, alias, name, CAS number or formula
        #[arg(required = true, value_name = "COMPONENT")]
        names: Vec<String>,
    },
    /// Check a table of your own, its hazard data too, and report all its faults at once
    #[command(after_help = "Example:\n  meltbook component check components.toml")]
    Check {
        /// The table (TOML)
        #[arg(value_name = "FILE")]
        file: String,
    },
}

pub(super) fn run(common: &Common, args: &ComponentArgs) -> Result<Outcome, Failure> {
    match &args.command {
        ComponentCommand::List { role, containing } => list(common, role.as_deref(), containing.as_deref()),
        ComponentCommand::Show { names } => show(common, names),
        ComponentCommand::Check { file } => check(file),
    }
}

fn list(common: &Common, role: Option<&str>, containing: Option<&str>) -> Result<Outcome, Failure> {
    let role = role.map(parse_role).transpose()?;
    let table = request::component_table(common)?;
    let fits = |component: &&std::sync::Arc<Component>| {
        role.is_none_or(|role| component.roles.contains(&role))
            && containing.is_none_or(|text| contains(component, text))
    };
    let components: Vec<_> = table.iter().filter(fits).collect();
    if components.is_empty() {
        let fault = Fault::new("nothing_found", "no component fits", Place::named("component list"));
        return Err(fault.with_hint("Leave out the role or the text to see all.").into());
    }
    let answer: Vec<Value> = components.iter().map(|component| component_answer(component)).collect();
    Ok(Outcome::new("component list", Value::Array(answer), component_list(components)))
}

fn contains(component: &Component, text: &str) -> bool {
    let text = text.to_lowercase();
    let mut names = vec![component.id.to_string(), component.name.clone()];
    names.extend(component.aliases.iter().cloned());
    names.extend(component.cas.iter().map(ToString::to_string));
    names.extend(component.formula.iter().map(|formula| formula.text().to_owned()));
    names.iter().any(|name| name.to_lowercase().contains(&text))
}

fn parse_role(word: &str) -> Result<Role, Fault> {
    Role::from_word(word).ok_or_else(|| {
        let words = Role::ALL.map(Role::word);
        let hint = did_you_mean(word, words, &format!("The roles are {}.", words.join(", ")));
        Fault::new(
            "unknown_role",
            format!("unknown role {word:?}"),
            Place::in_text("--role", word, 0..word.len()),
        )
        .with_hint(hint)
    })
}

fn show(common: &Common, names: &[String]) -> Result<Outcome, Failure> {
    let table = request::component_table(common)?;
    let components = request::components(&table, names)?;
    let answer: Vec<Value> = components.iter().map(|component| component_answer(component)).collect();
    let documents = components.iter().map(|component| component_document(component));
    let mut documents = documents.collect::<Vec<_>>().into_iter();
    let first = documents.next().unwrap_or_else(|| Document::new("Components"));
    let document = documents.fold(first, |mut all, next| {
        all.push(crate::report::document::heading(1, next.title().clone()));
        all.extend(next.blocks().to_vec());
        all
    });
    Ok(Outcome::new("component show", Value::Array(answer), document))
}

fn check(file: &str) -> Result<Outcome, Failure> {
    let text = request::read_text(file)?;
    let (components, mut faults) = readable_components(file, &text, &ComponentTable::builtin());
    let warnings = faults.collect(request::hazard_warnings(file, &text, &components)).unwrap_or_default();
    faults.sort_by_place();
    let components = faults.or(components)?;
    let ids: Vec<String> = components.iter().map(|component| component.id.to_string()).collect();
    let says = match ids.len() {
        0 => format!("{file} has no fault, and no component either."),
        1 => format!("{file} has no fault; it holds 1 component."),
        several => format!("{file} has no fault; it holds {several} components."),
    };
    let document = Document::new("Component table").with(paragraph(says)).with(
        component_list(&components.into_iter().map(std::sync::Arc::new).collect::<Vec<_>>())
            .blocks()
            .first()
            .cloned()
            .unwrap_or_else(|| paragraph("")),
    );
    let mut outcome = Outcome::new("component check", json!({ "file": file, "components": ids }), document);
    outcome.warnings = warnings;
    Ok(outcome)
}
