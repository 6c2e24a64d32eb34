//! A recipe back to text: the shorthand and the file.

use std::fmt::Write as _;

use super::recipe_type::Recipe;
use crate::component::{Proportions, RatioBasis};

impl Recipe {
    /// The composition in the trade's notation, with ids as names. Reading it again gives the same
    /// proportions.
    pub fn shorthand(&self) -> String {
        shorthand(&self.proportions)
    }

    /// True if it was given in one line, so that its name is its composition.
    pub fn is_shorthand(&self) -> bool {
        self.text.split_whitespace().eq(self.name.split_whitespace())
    }
}

fn shorthand(proportions: &Proportions) -> String {
    let joined = |texts: Vec<String>| texts.join(":");
    let names = proportions.parts.iter().map(|part| part.component.id.to_string()).collect();
    let numbers = proportions.parts.iter().map(|part| part.ratio.to_string()).collect();
    let mut text = format!("{} {}", joined(names), joined(numbers));
    if proportions.basis == RatioBasis::Mass {
        text.push_str(" by mass");
    }
    // Writing to a String does not fail.
    for addition in &proportions.additions {
        let _ = write!(text, " + {} {}", addition.amount.text(), addition.component.id);
    }
    if let Some(water) = &proportions.water {
        let _ = write!(text, " to {} water", water.text);
    }
    text
}
