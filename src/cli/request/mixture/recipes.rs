//! A recipe for each run, as a file and as what it needs.

use std::fmt::Write as _;
use std::path::Path;

use super::process::{InRecipe, in_recipe};
use super::runs::DesignRequest;
use super::space::Named;
use crate::cli::outcome::Failure;
use crate::cli::request::plan_request::plan_out_of;
use crate::cli::request::{made_folder, write_new};
use crate::component::{Component, RatioBasis, Role};
use crate::compose::mixture::{Process, Run};
use crate::input::{Fault, Faults, Place};
use crate::plan::{Plan, Supply};
use crate::recipe::{Recipe, read_recipe};

/// Fractions below this are rounding, not a part of a recipe.
const NOTHING: f64 = 1e-12;

/// A run as a recipe.
pub(in crate::cli) struct RunRecipe {
    file: String,
    text: String,
    recipe: Recipe,
}

impl RunRecipe {
    /// The name of its file without its ending: "run-01".
    pub(in crate::cli) fn run_name(&self) -> &str {
        self.file.trim_end_matches(".toml")
    }
}

/// The recipe of each run, read back as any recipe is.
pub(in crate::cli) fn run_recipes(
    request: &DesignRequest,
    design: &str,
    runs: &[Run],
) -> Result<Vec<RunRecipe>, Faults> {
    let mut faults = Faults::none();
    let own: Vec<&str> = request
        .space
        .names
        .iter()
        .filter(|name| name.component.is_none())
        .map(|name| name.given.as_str())
        .collect();
    if !own.is_empty() {
        let message =
            format!("no recipe can be made of {}: the component table has no such name", own.join(", "));
        let fault = Fault::new("own_name_in_recipe", message, Place::named("COMPONENT"));
        return Err(fault
            .with_hint(
                "Put it into a table of your own (--components FILE), or leave --recipes and --mass out.",
            )
            .into());
    }
    refused(request)?;
    let digits = runs.len().to_string().len().max(2);
    let recipe = |run: &Run| {
        let file = format!("run-{:0digits$}.toml", run.run);
        let text = recipe_text(request, design, run);
        let recipe = faults.collect(read_recipe(&file, &text, &request.space.table))?;
        Some(RunRecipe { file, text, recipe })
    };
    let recipes: Vec<RunRecipe> = runs.iter().filter_map(recipe).collect();
    faults.or(recipes)
}

/// A component whose unit no recipe takes would be missing from the recipe and from what is needed.
fn refused(request: &DesignRequest) -> Result<(), Faults> {
    let mut faults = Faults::none();
    for variable in request.variables() {
        let InRecipe::Refused(id) = in_recipe(variable, &request.space.table) else { continue };
        let unit = variable.unit.as_deref().map_or("without a unit".to_owned(), |unit| format!("in {unit}"));
        let message = format!("{} is a component ({id}), and no recipe takes it {unit}", variable.name);
        let levels: Vec<String> = variable.levels.iter().map(f64::to_string).collect();
        let (units, example) = match id.as_str() {
            Component::WATER => ("wt% or ppm", "wt%"),
            _ => ("wt%, ppm, mol/kg or mol/L", "mol/kg"),
        };
        let hint = format!(
            "Give its levels in {units}, as in --process \"{} levels={} unit={example}\" with numbers in that unit, or \
             leave --recipes and --mass out.",
            variable.name,
            levels.join(" ")
        );
        faults.push(Fault::new("variable_not_in_recipe", message, Place::named("--process")).with_hint(hint));
    }
    faults.or(())
}

/// The process variables that a recipe holds in its note alone, with their units.
pub(in crate::cli) fn noted(request: &DesignRequest) -> Vec<String> {
    let is_noted = |own: &&Process| in_recipe(own, &request.space.table) == InRecipe::Note;
    let words = |own: &Process| match &own.unit {
        Some(unit) => format!("{} ({unit})", own.name),
        None => own.name.clone(),
    };
    request.variables().iter().filter(is_noted).map(words).collect()
}

/// Writes the recipes into a folder, which is made if it is not there. Where one of them is there already nothing is
/// written.
pub(in crate::cli) fn write_recipes(folder: &str, recipes: &[RunRecipe]) -> Result<Vec<String>, Failure> {
    let folder = Path::new(folder);
    let paths: Vec<String> =
        recipes.iter().map(|recipe| folder.join(&recipe.file).display().to_string()).collect();
    let mut faults = Faults::none();
    for path in paths.iter().filter(|path| Path::new(path).exists()) {
        let fault = Fault::new("file_exists", format!("{path} is there already"), Place::named("--recipes"));
        faults.push(fault.with_hint("Name another folder; nothing was written."));
    }
    faults.or(())?;
    made_folder("--recipes", &folder.display().to_string())?;
    for (path, recipe) in paths.iter().zip(recipes) {
        write_new(path, &recipe.text)?;
    }
    Ok(paths)
}

/// The plan of each recipe at the mass of a batch, out of these supplies; what has none counts as pure and dry.
pub(in crate::cli) fn run_plans(
    request: &DesignRequest,
    recipes: &[RunRecipe],
    supplies: &[Supply],
) -> Result<Vec<Plan>, Faults> {
    let Some(mass) = &request.mass else { return Ok(Vec::new()) };
    let mut faults = Faults::none();
    let plan = |recipe: &RunRecipe| {
        let (mass, supplies) = (mass.clone(), supplies.to_vec());
        let plan = plan_out_of(&recipe.recipe, mass, supplies, &request.space.table).map_err(|error| {
            let message = format!("{}: {error}", recipe.recipe.name);
            Fault::new(error.code(), message, Place::named("--mass")).with_hint(error.hint())
        });
        faults.collect(plan)
    };
    let plans: Vec<Plan> = recipes.iter().filter_map(plan).collect();
    faults.or(plans)
}

/// The recipe file of a run. Each line says what it is, so that the file alone tells where it came from.
fn recipe_text(request: &DesignRequest, design: &str, run: &Run) -> String {
    let mut text = String::new();
    let mut line = |key: &str, value: &str| {
        // Writing to a String does not fail.
        let _ = writeln!(text, "{key} = {}", quoted(value));
    };
    let seed = request.arrangement.seed;
    line("name", &format!("Run {} of a mixture design, seed {seed}", run.run));
    line(
        "source",
        &format!("{design}, seed {seed}: a composition to be tested, not one from the literature"),
    );
    line("note", &note(request, run));
    let (basis, ratios) = ratios(request, &run.fractions);
    line("basis", basis.word());
    for (name, fraction) in request.space.names.iter().zip(&ratios) {
        if NOTHING < *fraction {
            // Without the last digits of arithmetic: a person reads this.
            let fraction = (fraction * 1e12).round() / 1e12;
            let _ = write!(text, "\n[[part]]\ncomponent = {}\nratio = {fraction:?}\n", quoted(&name.id));
        }
    }
    let (mut water, mut heat) = (String::new(), String::new());
    for (variable, value) in request.variables().iter().zip(&run.setting) {
        let amount = format!("{value} {}", variable.unit.as_deref().unwrap_or_default());
        match in_recipe(variable, &request.space.table) {
            InRecipe::Addition(_) if *value <= 0.0 => {}
            InRecipe::Addition(id) => {
                let (id, amount) = (quoted(&id), quoted(&amount));
                let _ = write!(text, "\n[[addition]]\ncomponent = {id}\namount = {amount}\n");
            }
            InRecipe::Water => water = format!("\n[water]\ntarget = {}\n", quoted(&amount)),
            InRecipe::Heat => heat = format!("\n[procedure]\nheat = {}\n", quoted(&amount)),
            InRecipe::Note | InRecipe::Refused(_) => {}
        }
    }
    text + &water + &heat
}

/// What a recipe counts. Mass fractions of a liquid become the mole ratio that they are, since a recipe by mass is one
/// of a powder; those of powders, and of what has no molar mass, stay.
fn ratios(request: &DesignRequest, fractions: &[f64]) -> (RatioBasis, Vec<f64>) {
    let basis = request.space.basis;
    let moles = |(name, fraction): (&Named, &f64)| {
        let component = name.component.as_ref()?;
        let is_powder = [Role::Electrode, Role::Conductor, Role::Binder]
            .iter()
            .any(|role| component.roles.contains(role));
        component.molar_mass().filter(|_| !is_powder).map(|molar_mass| fraction / molar_mass.get())
    };
    let moles: Option<Vec<f64>> = request.space.names.iter().zip(fractions).map(moles).collect();
    match (basis, moles) {
        (RatioBasis::Mass, Some(moles)) => {
            let sum: f64 = moles.iter().sum();
            (RatioBasis::Mole, moles.iter().map(|own| own / sum).collect())
        }
        _ => (basis, fractions.to_vec()),
    }
}

fn note(request: &DesignRequest, run: &Run) -> String {
    let mut parts = vec![match request.space.basis {
        RatioBasis::Mole => "ratios are mole fractions".to_owned(),
        RatioBasis::Mass => {
            let fraction = |(name, x): (&Named, &f64)| format!("{} {:.6}", name.id, x);
            let fractions: Vec<String> =
                request.space.names.iter().zip(&run.fractions).map(fraction).collect();
            format!("mass fractions: {}", fractions.join(", "))
        }
    }];
    parts.extend(run.block.map(|block| format!("block {block}")));
    parts.extend(run.plot.map(|plot| format!("whole plot {plot}")));
    for (variable, value) in request.variables().iter().zip(&run.setting) {
        let unit = variable.unit.as_deref().map_or(String::new(), |unit| format!(" {unit}"));
        parts.push(format!("{} {value}{unit}", variable.name));
    }
    parts.join("; ")
}

/// A TOML string.
fn quoted(text: &str) -> String {
    let mut quoted = String::from("\"");
    for c in text.chars() {
        match c {
            '"' | '\\' => quoted.extend(['\\', c]),
            c if c.is_control() => quoted.push(' '),
            c => quoted.push(c),
        }
    }
    quoted + "\""
}
