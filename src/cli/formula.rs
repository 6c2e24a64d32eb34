//! `formula`: what a formula weighs.

use clap::Args;
use serde_json::Value;

use super::outcome::{Failure, Outcome};
use crate::chemistry::Formula;
use crate::input::{Faults, Place};
use crate::report::answer::formula_answer;
use crate::report::view::formula_document;

/// Molar mass, Hill formula, mass fractions and crystal water of any formula
///
/// Brackets of three kinds nest. A dot (· . *) joins crystal water and the like, with a whole or fractional
/// count. A charge is written ^2+ or ²⁺.
#[derive(Debug, Args)]
#[command(after_help = "\
Example:
  meltbook formula 'ZnSO4·7H2O' '(CH3)3N(CH2CH2OH)Cl'")]
pub(super) struct FormulaArgs {
    /// One or more formulas; quote those with brackets
    #[arg(required = true, value_name = "FORMULA")]
    formulas: Vec<String>,
}

pub(super) fn run(args: &FormulaArgs) -> Result<Outcome, Failure> {
    let mut faults = Faults::none();
    let mut formulas = Vec::new();
    for text in &args.formulas {
        let parsed = text.parse::<Formula>();
        let parsed =
            parsed.map_err(|error| error.fault(Place::in_text("formula", text.as_str(), error.span.clone())));
        formulas.extend(faults.collect(parsed).map(|formula| (text.clone(), formula)));
    }
    let formulas = faults.or(formulas)?;
    let answer = formulas.iter().map(|(input, formula)| formula_answer(input, formula)).collect();
    Ok(Outcome::new("formula", Value::Array(answer), formula_document(&formulas)))
}
