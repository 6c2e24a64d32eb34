//! A linear rule on fractions: `urea >= 2 ChCl`, `0.2 <= ChCl + urea <= 0.9`.

use std::ops::Range;

use super::space::{Named, place_of};
use crate::compose::mixture::Constraint;
use crate::input::{Fault, Place};
use crate::quantity::parse_number;

/// Reads a rule. Names, numbers and signs stand between spaces; a number before a name multiplies it, and one alone
/// is a fraction of the whole.
pub(super) fn constraint(text: &str, names: &[Named]) -> Result<Constraint, Fault> {
    let words = words(text);
    let is_sign = |word: &&Word| Sign::of(word.text).is_some();
    let signs: Vec<(usize, Sign)> = words
        .iter()
        .enumerate()
        .filter(|(_, word)| is_sign(word))
        .filter_map(|(at, word)| Some((at, Sign::of(word.text)?)))
        .collect();
    let side = |range: Range<usize>| side(text, &words[range], names);
    match signs.as_slice() {
        [(at, sign)] => {
            let (left, right) = (side(0..*at)?, side(at + 1..words.len())?);
            let difference = left.less(&right);
            whole(text, difference.coefficients.clone())?;
            let limit = -difference.constant;
            let (low, high) = match sign {
                Sign::AtMost => (f64::NEG_INFINITY, limit),
                Sign::AtLeast => (limit, f64::INFINITY),
                Sign::Equal => (limit, limit),
            };
            Ok(Constraint { coefficients: difference.coefficients, low, high })
        }
        [(one, first), (other, second)] if first == second && *first != Sign::Equal => {
            let (left, middle) = (side(0..*one)?, side(one + 1..*other)?);
            let right = side(other + 1..words.len())?;
            if left.has_name() || right.has_name() {
                return Err(bad(text, "between two signs the ends must be numbers", 0..text.len()));
            }
            whole(text, middle.coefficients.clone())?;
            let ends = (left.constant - middle.constant, right.constant - middle.constant);
            let (low, high) = if *first == Sign::AtMost { ends } else { (ends.1, ends.0) };
            Ok(Constraint { coefficients: middle.coefficients, low, high })
        }
        [] => Err(bad(text, "there is no <=, >= or = in it", 0..text.len())),
        _ => Err(bad(text, "it has more signs of comparison than can be read", 0..text.len())),
    }
}

/// A rule that names nothing rules nothing.
fn whole(text: &str, coefficients: Vec<f64>) -> Result<(), Fault> {
    if coefficients.iter().any(|value| *value != 0.0) {
        return Ok(());
    }
    Err(bad(text, "no component is left in it", 0..text.len()))
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Sign {
    AtMost,
    AtLeast,
    Equal,
}

impl Sign {
    fn of(word: &str) -> Option<Self> {
        match word {
            "<=" | "≤" | "<" => Some(Self::AtMost),
            ">=" | "≥" | ">" => Some(Self::AtLeast),
            "=" | "==" => Some(Self::Equal),
            _ => None,
        }
    }
}

/// A part of a text between spaces, or a sign of comparison, which needs none.
#[derive(Debug, Clone)]
struct Word<'t> {
    text: &'t str,
    span: Range<usize>,
}

fn words(text: &str) -> Vec<Word<'_>> {
    let class = |c: char| match c {
        c if c.is_whitespace() => 0,
        '<' | '>' | '=' | '≤' | '≥' => 1,
        '*' => 0,
        _ => 2,
    };
    let mut words: Vec<Word<'_>> = Vec::new();
    let mut from = 0;
    let mut last = 0;
    for (at, c) in text.char_indices().chain([(text.len(), ' ')]) {
        if class(c) != last {
            if last != 0 {
                words.push(Word { text: &text[from..at], span: from..at });
            }
            (from, last) = (at, class(c));
        }
    }
    words
}

/// Σ coefficient × fraction + constant.
struct Sum {
    coefficients: Vec<f64>,
    constant: f64,
}

impl Sum {
    fn less(&self, other: &Self) -> Self {
        let coefficients =
            self.coefficients.iter().zip(&other.coefficients).map(|(one, other)| one - other).collect();
        Self { coefficients, constant: self.constant - other.constant }
    }

    fn has_name(&self) -> bool {
        self.coefficients.iter().any(|value| *value != 0.0)
    }
}

/// One side of a rule.
fn side(text: &str, words: &[Word<'_>], names: &[Named]) -> Result<Sum, Fault> {
    let mut sum = Sum { coefficients: vec![0.0; names.len()], constant: 0.0 };
    let (mut sign, mut factor, mut open) = (1.0, None, true);
    for (at, word) in words.iter().enumerate() {
        match word.text {
            "+" | "-" | "−" if open && 0 < at => {
                return Err(bad(text, "two signs stand side by side", word.span.clone()));
            }
            "+" | "-" | "−" => {
                sum.constant += factor.take().map_or(0.0, |factor: f64| sign * factor);
                sign = if word.text == "+" { 1.0 } else { -1.0 };
                open = true;
            }
            other => match parse_number(other) {
                Ok(_) if !open => {
                    return Err(bad(text, "there is no + or - before this", word.span.clone()));
                }
                Ok(number) => (factor, open) = (Some(number.value), false),
                Err(_) => {
                    if !open && factor.is_none() {
                        return Err(bad(text, "there is no + or - before this", word.span.clone()));
                    }
                    let place = Place::in_text("--where", text, word.span.clone());
                    sum.coefficients[place_of(other, names, &place)?] += sign * factor.take().unwrap_or(1.0);
                    open = false;
                }
            },
        }
    }
    if open {
        return Err(bad(text, "something is missing beside a sign", 0..text.len()));
    }
    sum.constant += factor.map_or(0.0, |factor| sign * factor);
    Ok(sum)
}

fn bad(text: &str, message: &str, span: Range<usize>) -> Fault {
    Fault::new("bad_rule", format!("{text:?} is no rule: {message}"), Place::in_text("--where", text, span))
        .with_hint("Write it like \"urea >= 2 ChCl\" or \"0.2 <= ChCl + urea <= 0.9\".")
}
