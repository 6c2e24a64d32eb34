//! CAS Registry Numbers and their check digit.

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Serialize};

/// A CAS Registry Number whose check digit is right.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct Cas(String);

/// Why a text is no CAS number.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum CasError {
    /// Not two to seven digits, two digits, one digit, with hyphens between.
    #[error("{0:?} does not have the form of a CAS number, such as 67-48-1")]
    Form(String),
    /// The last digit does not follow from the others.
    #[error("the check digit of {given:?} is {found}, but the other digits give {expected}")]
    CheckDigit {
        /// As given.
        given: String,
        /// Its last digit.
        found: u32,
        /// What it would have to be.
        expected: u32,
    },
}

impl Cas {
    /// The number as text.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl FromStr for Cas {
    type Err = CasError;

    /// The check digit is the sum of the other digits, each times its place counted from the right,
    /// modulo 10 (CAS, "Check Digit Verification of CAS Registry Numbers").
    fn from_str(text: &str) -> Result<Self, CasError> {
        let form = || CasError::Form(text.to_owned());
        let groups: Vec<&str> = text.split('-').collect();
        let [head, middle, check] = groups.as_slice() else { return Err(form()) };
        let digits_only = groups.iter().all(|group| group.bytes().all(|b| b.is_ascii_digit()));
        if !digits_only || !(2..=7).contains(&head.len()) || middle.len() != 2 || check.len() != 1 {
            return Err(form());
        }
        let digits = head.chars().chain(middle.chars()).filter_map(|c| c.to_digit(10));
        let digits: Vec<u32> = digits.collect();
        let sum: u32 = digits.iter().rev().zip(1..).map(|(digit, place)| digit * place).sum();
        let found = check.parse().map_err(|_| form())?;
        let expected = sum % 10;
        if found != expected {
            return Err(CasError::CheckDigit { given: text.to_owned(), found, expected });
        }
        Ok(Self(text.to_owned()))
    }
}

impl TryFrom<String> for Cas {
    type Error = CasError;
    fn try_from(text: String) -> Result<Self, CasError> {
        text.parse()
    }
}

impl From<Cas> for String {
    fn from(cas: Cas) -> Self {
        cas.0
    }
}

impl fmt::Display for Cas {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}
