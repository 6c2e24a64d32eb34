//! Process variables: what else is set in each run.

use super::space::{Named, place_of};
use crate::component::ComponentTable;
use crate::compose::mixture::Process;
use crate::input::{Fault, Faults, FlagValue, Place, did_you_mean};
use crate::quantity::parse_number;

/// A variable with this name and °C is the temperature at which a batch is made.
const HEAT: &str = "heat";
/// Levels of a variable, and variables: all combinations are run.
const MOST_LEVELS: usize = 20;
const MOST_VARIABLES: usize = 6;

/// What a variable is in a recipe.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::cli) enum InRecipe {
    /// Total water of the batch.
    Water,
    /// An addition of this component.
    Addition(String),
    /// The temperature of the procedure.
    Heat,
    /// A component in a unit in which no recipe takes it: a recipe without it would be another liquid.
    Refused(String),
    /// Nothing that a recipe holds: it stands in its note.
    Note,
}

/// `water levels=1 3 unit=wt%`.
pub(super) fn variables(
    texts: &[String],
    hard: &[String],
    names: &[Named],
    faults: &mut Faults,
) -> Vec<Process> {
    let mut variables: Vec<Process> = Vec::new();
    for text in texts {
        let Some(variable) = faults.collect(variable(text)) else { continue };
        let place = Place::in_text("--process", text.as_str(), 0..text.len());
        let twice = variables.iter().any(|known| known.name == variable.name);
        if twice || place_of(&variable.name, names, &place).is_ok() {
            let message = format!("{:?} is named twice", variable.name);
            faults.push(
                Fault::new("variable_twice", message, place)
                    .with_hint("What is mixed is no process variable; of two variables keep one."),
            );
        } else {
            variables.push(variable);
        }
    }
    if MOST_VARIABLES < variables.len() {
        let message = format!("{} process variables are more than {MOST_VARIABLES}", variables.len());
        let fault = Fault::new("too_large", message, Place::named("--process"));
        faults.push(fault.with_hint("Every combination of their levels is run: keep those that matter."));
    }
    for name in hard {
        match variables.iter_mut().find(|variable| variable.name.eq_ignore_ascii_case(name.trim())) {
            Some(variable) => variable.is_hard = true,
            None => {
                let known = texts.iter().filter_map(|text| text.split_whitespace().next());
                let place = Place::in_text("--hard", name.as_str(), 0..name.len());
                let fault = Fault::new("unknown_variable", format!("no --process is called {name:?}"), place);
                faults.push(fault.with_hint(did_you_mean(
                    name,
                    known,
                    "Give it first with --process, as in --process \"heat levels=60 80 unit=°C\".",
                )));
            }
        }
    }
    variables
}

fn variable(text: &str) -> Result<Process, Faults> {
    let flag = FlagValue::parse("--process", text, &["levels", "unit"])?;
    let hint = "Write it like \"water levels=1 3 unit=wt%\", levels with spaces between them.";
    if flag.name.is_empty() || flag.name.contains(char::is_whitespace) {
        let message = format!("{:?} is no name of a process variable", flag.name);
        return Err(Fault::new("bad_variable", message, flag.place()).with_hint(hint).into());
    }
    let Some(pair) = flag.get("levels") else {
        let message = format!("{:?} has no levels", flag.name);
        return Err(Fault::new("bad_variable", message, flag.place()).with_hint(hint).into());
    };
    let mut levels = Vec::new();
    for word in pair.value.split([' ', ';', '\t']).filter(|word| !word.is_empty()) {
        let level = parse_number(word).map_err(|problem| {
            let message = format!("{word:?} is no level: {problem}");
            Fault::new("bad_variable", message, flag.place_of(pair)).with_hint(hint)
        })?;
        levels.push(level.value);
    }
    let unit = flag.get("unit").map(|pair| pair.value.clone()).filter(|unit| !unit.is_empty());
    if let Some((most, wrong)) = too_much(unit.as_deref(), &levels) {
        let unit = unit.unwrap_or_default();
        let message = format!("{wrong} {unit} is no content: it lies from 0 to {most} {unit}");
        let fault = Fault::new("bad_variable", message, flag.place_of(pair));
        return Err(fault.with_hint("Check the levels and their unit.").into());
    }
    levels.sort_by(f64::total_cmp);
    let given = levels.len();
    levels.dedup();
    if levels.len() < given || !(2..=MOST_LEVELS).contains(&levels.len()) {
        let message = format!("{:?} needs 2 to {MOST_LEVELS} levels, each once", flag.name);
        return Err(Fault::new("bad_variable", message, flag.place_of(pair)).with_hint(hint).into());
    }
    Ok(Process { name: flag.name.clone(), unit, levels, is_hard: false })
}

/// The most that a content in this unit can be, and the first level outside of it.
fn too_much(unit: Option<&str>, levels: &[f64]) -> Option<(f64, f64)> {
    let most = match unit? {
        "wt%" | "mol%" | "vol%" => 100.0,
        "ppm" => 1e6,
        _ => return None,
    };
    levels.iter().find(|level| !(0.0..=most).contains(*level)).map(|wrong| (most, *wrong))
}

/// What a variable is in a recipe, by its name and unit.
pub(in crate::cli) fn in_recipe(variable: &Process, table: &ComponentTable) -> InRecipe {
    let unit = variable.unit.as_deref().unwrap_or_default();
    let component = table.find(&variable.name).ok();
    match component {
        Some(component) if component.is_water() && matches!(unit, "wt%" | "ppm") => InRecipe::Water,
        Some(component) if matches!(unit, "wt%" | "ppm" | "mol/kg" | "mol/L") => {
            InRecipe::Addition(component.id.to_string())
        }
        Some(component) => InRecipe::Refused(component.id.to_string()),
        _ if variable.name.eq_ignore_ascii_case(HEAT) && matches!(unit, "°C" | "K") => InRecipe::Heat,
        _ => InRecipe::Note,
    }
}
