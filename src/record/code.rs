//! Codes: the short names that are written on vials, bottles and cell sleeves.

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Serialize};

/// What a code stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum CodeKind {
    /// One package of a component, or a dried portion of one.
    Bottle,
    /// An electrolyte.
    Electrolyte,
    /// A stock solution, for amounts too small to weigh.
    StockSolution,
    /// A cathode mix.
    CathodeMix,
    /// A cell.
    Cell,
    /// A study: the question that cells are built for.
    Study,
}

/// A letter for the kind and a number: `B12`, `E7`, `S1`, `M3`, `C145`, `Q2`. The numbers of a kind count up
/// and are never used twice, not even after an entry is withdrawn.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct Code {
    kind: CodeKind,
    number: u32,
}

/// A text that is no code.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{given:?} is no code")]
pub struct CodeError {
    /// As given.
    pub given: String,
}

impl CodeError {
    /// The way out.
    pub const HINT: &str = "A code is a letter and a number: B for a bottle, E for an electrolyte, S for a stock solution, M for a \
         cathode mix, C for a cell, Q for a study (its question), as in E7.";
}

impl CodeKind {
    /// All kinds.
    pub const ALL: [Self; 6] =
        [Self::Bottle, Self::Electrolyte, Self::StockSolution, Self::CathodeMix, Self::Cell, Self::Study];

    /// Its letter.
    pub const fn letter(self) -> char {
        match self {
            Self::Bottle => 'B',
            Self::Electrolyte => 'E',
            Self::StockSolution => 'S',
            Self::CathodeMix => 'M',
            Self::Cell => 'C',
            Self::Study => 'Q',
        }
    }

    /// Its words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Bottle => "bottle",
            Self::Electrolyte => "electrolyte",
            Self::StockSolution => "stock solution",
            Self::CathodeMix => "cathode mix",
            Self::Cell => "cell",
            Self::Study => "study",
        }
    }

    /// True for the kinds that are made by weighing and are used in others.
    pub const fn is_batch(self) -> bool {
        matches!(self, Self::Electrolyte | Self::StockSolution | Self::CathodeMix)
    }
}

impl Code {
    /// The code of a kind and a number from 1.
    pub const fn new(kind: CodeKind, number: u32) -> Self {
        Self { kind, number }
    }

    /// What it stands for.
    pub const fn kind(&self) -> CodeKind {
        self.kind
    }

    /// Its number.
    pub const fn number(&self) -> u32 {
        self.number
    }
}

impl fmt::Display for Code {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&format!("{}{}", self.kind.letter(), self.number))
    }
}

impl FromStr for Code {
    type Err = CodeError;

    /// The letter in either case.
    fn from_str(text: &str) -> Result<Self, CodeError> {
        let fail = || CodeError { given: text.to_owned() };
        let trimmed = text.trim();
        let letter = trimmed.chars().next().ok_or_else(fail)?.to_ascii_uppercase();
        let kind = CodeKind::ALL.into_iter().find(|kind| kind.letter() == letter).ok_or_else(fail)?;
        let digits = &trimmed[1..];
        let plain = digits.bytes().all(|b| b.is_ascii_digit()) && !digits.starts_with('0');
        let number = digits.parse().ok().filter(|_| plain).ok_or_else(fail)?;
        Ok(Self { kind, number })
    }
}

impl TryFrom<String> for Code {
    type Error = CodeError;
    fn try_from(text: String) -> Result<Self, CodeError> {
        text.parse()
    }
}

impl From<Code> for String {
    fn from(code: Code) -> Self {
        code.to_string()
    }
}
