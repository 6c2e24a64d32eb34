//! Precautionary statements by class.

use super::omission::covered;
use super::rules::{CHOICES, Choice};
use crate::caution::precaution::{Precaution, precaution};
use crate::caution::statement::Statement;

/// The precautionary statements for hazard statements, the gravest of which comes first. A short list has the first
/// prevention and the first two responses of the gravest, then the first response of each other, or its prevention
/// where it has none; all the rest take turns after them.
pub(in crate::caution) fn precautions_for(statements: &[Statement]) -> Vec<Precaution> {
    let choices: Vec<&Choice> = statements.iter().filter_map(|statement| choice(&statement.code)).collect();
    let mut codes: Vec<&str> = Vec::new();
    codes.extend(choices.first().iter().flat_map(|gravest| gravest.leading()));
    codes.extend(choices.iter().skip(1).filter_map(|choice| choice.first()));
    let longest = choices.iter().map(|choice| choice.longest()).max().unwrap_or(0);
    for turn in 0..longest {
        for group in [Choice::prevention_and_response, Choice::storage_and_disposal] {
            for choice in &choices {
                codes.extend(group(choice).iter().filter_map(|list| list.get(turn)).map(String::as_str));
            }
        }
    }
    let mut kept: Vec<Precaution> = Vec::new();
    for code in &codes {
        let new = covered(code, &codes).is_none() && !kept.iter().any(|known| known.code == *code);
        kept.extend(precaution(code).filter(|_| new).cloned());
    }
    kept
}

fn choice(code: &str) -> Option<&'static Choice> {
    let base = code.get(..4)?;
    CHOICES.choice.iter().find(|choice| choice.h_codes.iter().any(|known| known == base))
}

impl Choice {
    /// The first prevention and the first two responses.
    fn leading(&self) -> impl Iterator<Item = &str> {
        self.prevention.iter().take(1).chain(self.response.iter().take(2)).map(String::as_str)
    }

    /// The first response, else the first prevention.
    fn first(&self) -> Option<&str> {
        self.response.first().or(self.prevention.first()).map(String::as_str)
    }

    fn prevention_and_response(&self) -> [&Vec<String>; 2] {
        [&self.prevention, &self.response]
    }

    fn storage_and_disposal(&self) -> [&Vec<String>; 2] {
        [&self.storage, &self.disposal]
    }

    fn longest(&self) -> usize {
        [&self.prevention, &self.response, &self.storage, &self.disposal]
            .map(Vec::len)
            .into_iter()
            .max()
            .unwrap_or(0)
    }
}
