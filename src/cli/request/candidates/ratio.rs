//! `--ratio`: moles of each component, in the order of the flags.

use crate::input::{Fault, Faults, Place};
use crate::quantity::parse_number;

/// Reads every ratio of so many numbers; without any, those that are usual.
pub(super) fn ratios(
    texts: &[String],
    numbers: usize,
    usual: &[&[f64]],
    faults: &mut Faults,
) -> Vec<Vec<f64>> {
    if texts.is_empty() {
        return usual.iter().map(|ratio| ratio.to_vec()).collect();
    }
    texts.iter().filter_map(|text| faults.collect(ratio(text, numbers))).collect()
}

fn ratio(text: &str, numbers: usize) -> Result<Vec<f64>, Fault> {
    let example = if numbers == 3 { "1:1:1" } else { "1:2" };
    let bad = |message: String| {
        Fault::new("bad_ratio", message, Place::in_text("--ratio", text, 0..text.len()))
            .with_hint(format!("Write moles of each component above 0, like --ratio {example}."))
    };
    let parts: Vec<&str> = text.split(':').collect();
    if parts.len() != numbers {
        let given = if parts.len() == 1 { "1 number".to_owned() } else { format!("{} numbers", parts.len()) };
        return Err(bad(format!("{text:?} has {given}, and a candidate has {numbers} components")));
    }
    let moles = parts.into_iter().map(|part| match parse_number(part) {
        Ok(number) if 0.0 < number.value => Ok(number.value),
        Ok(_) => Err(bad(format!("{text:?} leaves a component out"))),
        Err(problem) => Err(bad(format!("{text:?} is no ratio: {problem}"))),
    });
    moles.collect()
}
