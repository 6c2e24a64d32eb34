//! What can be wrong with a formula, and where.

use std::ops::Range;

use crate::input::{Fault, Place};

/// A formula that can't be read.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("{problem}")]
pub struct FormulaError {
    /// What is wrong.
    pub problem: FormulaProblem,
    /// Where: a byte range of the given text, on character boundaries.
    pub span: Range<usize>,
    /// The way out, as a sentence.
    pub hint: Option<String>,
}

impl FormulaError {
    /// The fault at a place, which points at the span. The way out is the hint, or the rule's own.
    pub fn fault(&self, place: Place) -> Fault {
        let hint = self.hint.as_deref().unwrap_or_else(|| self.problem.way_out());
        Fault::new("bad_formula", self.problem.to_string(), place).with_hint(hint)
    }
}

/// What can be wrong with a formula.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum FormulaProblem {
    /// Nothing but space.
    #[error("no formula")]
    Empty,
    /// More text than any formula needs.
    #[error("{characters} characters, but a formula may have at most {limit}")]
    TooLong {
        /// Characters given.
        characters: usize,
        /// Characters allowed.
        limit: usize,
    },
    /// Something that begins like an element but is none.
    #[error("unknown element \"{0}\"")]
    UnknownElement(String),
    /// An element without a standard atomic weight, so that there is no molar mass.
    #[error("{name} ({symbol}) has no standard atomic weight")]
    NoAtomicWeight {
        /// Its symbol.
        symbol: &'static str,
        /// Its name.
        name: &'static str,
    },
    /// Small letters where an element should begin.
    #[error("\"{0}\" does not start with a capital letter")]
    LowerCase(String),
    /// A character that means nothing here.
    #[error("unexpected character {}", shown(*.0))]
    UnexpectedCharacter(char),
    /// A bracket that is never closed.
    #[error("\"{0}\" is never closed")]
    UnclosedBracket(char),
    /// A closing bracket without an opening one.
    #[error("\"{0}\" closes no bracket")]
    UnopenedBracket(char),
    /// Two brackets of different shape.
    #[error("\"{open}\" is closed by \"{close}\"")]
    MismatchedBracket {
        /// The opening bracket.
        open: char,
        /// The closing bracket.
        close: char,
    },
    /// Brackets around nothing.
    #[error("nothing inside the brackets")]
    EmptyGroup,
    /// Brackets within brackets beyond the limit.
    #[error("brackets more than {0} deep")]
    TooDeep(usize),
    /// An adduct dot with nothing before or after it.
    #[error("a formula is missing beside the dot")]
    EmptyPart,
    /// An adduct dot within brackets.
    #[error("a dot inside brackets")]
    DotInBrackets,
    /// A full stop that may be a decimal point or may join two parts.
    #[error("this full stop may be a decimal point or join two parts")]
    AmbiguousFullStop,
    /// A number without a formula.
    #[error("a number with no formula behind it")]
    NothingCounted,
    /// No atoms or no part.
    #[error("a count of zero")]
    ZeroCount,
    /// A count such as 02.
    #[error("the count \"{0}\" starts with zero")]
    LeadingZero(String),
    /// A count beyond the limits.
    #[error("the count \"{given}\" does not lie from {low} to {high}")]
    CountOutOfRange {
        /// As given.
        given: String,
        /// Least count.
        low: f64,
        /// Greatest count.
        high: f64,
    },
    /// More atoms than any formula has, by counts that multiply.
    #[error("more than {0} atoms")]
    TooManyAtoms(f64),
    /// A fraction of an atom.
    #[error("a fractional count behind an element")]
    FractionalSubscript,
    /// A count such as 1e5.
    #[error("a count with an exponent")]
    Exponent,
    /// A count such as x in `ZnSO4·xH2O`.
    #[error("\"{0}\" stands for an unknown count, so there is no molar mass")]
    VariableCount(String),
    /// A count below zero.
    #[error("a negative count")]
    NegativeCount,
    /// A sign without `^`.
    #[error("dangling charge \"{0}\"")]
    DanglingCharge(String),
    /// Something else than a number and a sign behind `^`.
    #[error("not a charge")]
    MalformedCharge,
    /// Text behind the charge.
    #[error("a charge that does not stand at the end")]
    ChargeNotLast,
    /// A charge on an adduct or behind a counted formula: of which part is not clear.
    #[error("a charge on a formula of several parts or with a count before it")]
    ChargeOfParts,
    /// A bond, which has no mass.
    #[error("the bond \"{0}\" is no part of a formula")]
    Bond(char),
}

impl FormulaProblem {
    /// What to do where nothing more is known than the rule.
    const fn way_out(&self) -> &'static str {
        match self {
            Self::NoAtomicWeight { .. } => {
                "Only an element with a standard atomic weight has a molar mass here."
            }
            Self::UnclosedBracket(_) => "Close the bracket, or leave it out.",
            Self::UnopenedBracket(_) => "Open a bracket before it, or leave it out.",
            Self::EmptyGroup => "Write what is inside, or leave the brackets out.",
            Self::TooDeep(_) => "Multiply the inner brackets out.",
            Self::EmptyPart => "Write a formula on both sides of the dot, as in ZnCl2·2H2O.",
            Self::DotInBrackets => "Write the dot outside the brackets, as in (COOH)2·2H2O.",
            Self::NothingCounted => "Write the formula right behind its number, as in 2H2O.",
            Self::CountOutOfRange { .. } => "Check the count.",
            Self::TooManyAtoms(_) => "Check the counts: those inside and behind brackets multiply.",
            Self::NegativeCount => "Write a count above zero, or a charge behind ^, such as SO4^2-.",
            _ => "Write it like ZnSO4·7H2O, with elements, counts, brackets and a dot before crystal water.",
        }
    }
}

/// A character as it looks and, if it may look like another, by its code.
fn shown(character: char) -> String {
    match character {
        ' ' => "\" \" (space)".to_owned(),
        _ if character.is_ascii_graphic() => format!("\"{character}\""),
        _ if character.is_alphanumeric() => format!("\"{character}\" (U+{:04X})", u32::from(character)),
        _ => format!("U+{:04X}", u32::from(character)),
    }
}
