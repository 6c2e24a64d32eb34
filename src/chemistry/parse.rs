//! From text to a formula, in one pass, with brackets on a stack of limited depth.

use std::ops::Range;

use super::atom_counts::AtomCounts;
use super::charge;
use super::count::{self, PartCount};
use super::cursor::Cursor;
use super::element::Element;
use super::formula::{Formula, Part};
use super::formula_error::{FormulaError, FormulaProblem};
use super::hint;

const MOST_CHARACTERS: usize = 1000;
const DEEPEST: usize = 64;
/// Sums of counts stay exact in a double far beyond this.
const MOST_ATOMS: f64 = 1e9;

/// Reads a whole text as one formula.
pub(super) fn formula(given: &str) -> Result<Formula, FormulaError> {
    let mut cursor = Cursor::new(given);
    let text = cursor.rest();
    let start = cursor.at();
    let whole = start..start + text.len();
    refuse_length(text, given, &whole)?;
    let mut parts = vec![part(&mut cursor, whole.clone())?];
    cursor.skip_space();
    while cursor.peek().is_some_and(is_dot) {
        parts.push(adduct_part(&mut cursor)?);
        cursor.skip_space();
    }
    let charge = final_charge(&mut cursor, &parts)?;
    if !cursor.is_at_end() {
        return Err(unexpected(&cursor));
    }
    let formula = Formula { text: text.to_owned(), parts, charge };
    refuse_crowd(&formula.all_atoms(), whole)?;
    Ok(formula)
}

fn refuse_length(text: &str, given: &str, whole: &Range<usize>) -> Result<(), FormulaError> {
    let fail = |problem, span| Err(FormulaError { problem, span, hint: None });
    let characters = text.chars().count();
    match characters {
        0 => fail(FormulaProblem::Empty, 0..given.len()),
        1..=MOST_CHARACTERS => Ok(()),
        _ => fail(FormulaProblem::TooLong { characters, limit: MOST_CHARACTERS }, whole.clone()),
    }
}

fn refuse_crowd(atoms: &AtomCounts, span: Range<usize>) -> Result<(), FormulaError> {
    if atoms.total() <= MOST_ATOMS {
        return Ok(());
    }
    Err(FormulaError { problem: FormulaProblem::TooManyAtoms(MOST_ATOMS), span, hint: None })
}

/// A dot and the part behind it, the cursor at the dot.
fn adduct_part(cursor: &mut Cursor) -> Result<Part, FormulaError> {
    let dot = cursor.here();
    let between_digits = cursor.is_between_digits();
    let full_stop = cursor.next() == Some('.');
    cursor.skip_space();
    let (part, count) = counted_part(cursor, dot.clone())?;
    let whole = count.is_some_and(|count| count.is_whole);
    if full_stop && between_digits && whole && part.water().is_none() {
        let hint = "Join an adduct with ·, as in ZnCl2·2NH3; counts behind elements must be whole.";
        let problem = FormulaProblem::AmbiguousFullStop;
        return Err(FormulaError { problem, span: dot, hint: None }.with_hint(hint));
    }
    Ok(part)
}

fn part(cursor: &mut Cursor, before: Range<usize>) -> Result<Part, FormulaError> {
    counted_part(cursor, before).map(|(part, _)| part)
}

/// One part and its count. `before` is where to point if the text ends here.
fn counted_part(
    cursor: &mut Cursor,
    before: Range<usize>,
) -> Result<(Part, Option<PartCount>), FormulaError> {
    let start = cursor.at();
    let count = count::before_part(cursor)?;
    let counted = cursor.at();
    cursor.skip_space();
    let atoms = units(cursor)?;
    if !atoms.is_empty() {
        let value = count.map_or(1.0, |count| count.value);
        return Ok((Part { count: value, atoms }, count));
    }
    let ends = cursor.peek().is_none_or(is_dot);
    let problem = if count.is_some() { FormulaProblem::NothingCounted } else { FormulaProblem::EmptyPart };
    Err(match count {
        _ if !ends => unexpected(cursor),
        Some(_) => FormulaError { problem, span: start..counted, hint: None },
        None if cursor.is_at_end() => FormulaError { problem, span: before, hint: None },
        None => cursor.fail_here(problem),
    })
}

/// A bracket that is open, and what was read before it.
struct Open {
    bracket: char,
    at: usize,
    before: AtomCounts,
}

/// Elements and groups with their counts, up to something else.
fn units(cursor: &mut Cursor) -> Result<AtomCounts, FormulaError> {
    let mut open: Vec<Open> = Vec::new();
    let mut atoms = AtomCounts::default();
    let mut previous = None;
    while let Some(character) = cursor.peek() {
        let at_part_start = atoms.is_empty() && open.is_empty();
        match character {
            'A'..='Z' => {
                let element = element(cursor, previous)?;
                let end = cursor.at();
                atoms.add(element, count::subscript(cursor)?);
                previous = (cursor.at() == end).then_some(element);
                continue;
            }
            'a'..='z' => return Err(lower_case(cursor, at_part_start)),
            '(' | '[' | '{' if open.len() == DEEPEST => {
                return Err(cursor.fail_here(FormulaProblem::TooDeep(DEEPEST)));
            }
            '(' | '[' | '{' => {
                open.push(Open { bracket: character, at: cursor.at(), before: std::mem::take(&mut atoms) });
                cursor.next();
            }
            ')' | ']' | '}' => {
                let group = open.pop().ok_or(FormulaProblem::UnopenedBracket(character));
                atoms = close(cursor, group.map_err(|problem| cursor.fail_here(problem))?, atoms)?;
            }
            _ if is_dot(character) && !open.is_empty() => {
                return Err(cursor.fail_here(FormulaProblem::DotInBrackets));
            }
            _ if charge::is_sign_or_bond(character) && !charge::begins_with(character) && !at_part_start => {
                return Err(charge::bare_sign(cursor));
            }
            _ => break,
        }
        previous = None;
    }
    match open.pop() {
        Some(Open { bracket, at, .. }) if cursor.is_at_end() => {
            let problem = FormulaProblem::UnclosedBracket(bracket);
            Err(FormulaError { problem, span: at..at + bracket.len_utf8(), hint: None })
        }
        Some(_) => Err(unexpected(cursor)),
        None => Ok(atoms),
    }
}

/// Closes a group: what stood before it and the group by its count.
fn close(cursor: &mut Cursor, group: Open, atoms: AtomCounts) -> Result<AtomCounts, FormulaError> {
    let here = cursor.here();
    let Some(close) = cursor.next() else { return Ok(atoms) };
    let expected = match group.bracket {
        '(' => ')',
        '[' => ']',
        _ => '}',
    };
    if close != expected {
        let problem = FormulaProblem::MismatchedBracket { open: group.bracket, close };
        return Err(FormulaError { problem, span: here, hint: None }
            .with_hint(format!("Close \"{}\" with \"{expected}\".", group.bracket)));
    }
    if atoms.is_empty() {
        return Err(cursor.fail_since(group.at, FormulaProblem::EmptyGroup));
    }
    let mut all = group.before;
    all.add_all(&atoms, count::subscript(cursor)?);
    // Checked at each bracket, so that nested counts can't reach infinity.
    refuse_crowd(&all, group.at..cursor.at())?;
    Ok(all)
}

/// An element, two letters where two make one; the cursor at its capital.
fn element(cursor: &mut Cursor, previous: Option<Element>) -> Result<Element, FormulaError> {
    let start = cursor.at();
    let two_letters = cursor.rest().get(..2).and_then(Element::from_symbol);
    cursor.next();
    if two_letters.is_some() {
        cursor.next();
    } else {
        cursor.take_while(|c| c.is_ascii_lowercase());
    }
    let word = cursor.since(start);
    let Some(element) = two_letters.or_else(|| Element::from_symbol(word)) else {
        let problem = FormulaProblem::UnknownElement(word.to_owned());
        return Err(cursor.fail_since(start, problem).with_hint(hint::for_unknown(word, previous)));
    };
    if element.weight().is_none() {
        let problem = FormulaProblem::NoAtomicWeight { symbol: element.symbol(), name: element.name() };
        return Err(FormulaError { hint: hint::for_group(word), ..cursor.fail_since(start, problem) });
    }
    Ok(element)
}

/// Small letters where an element or part should begin.
fn lower_case(cursor: &mut Cursor, at_part_start: bool) -> FormulaError {
    let start = cursor.at();
    let word = cursor.take_while(|c| c.is_ascii_lowercase());
    let counts = cursor.rest().trim_start().starts_with(|c: char| c.is_ascii_uppercase() || c == '(');
    if at_part_start && matches!(word, "x" | "n") && counts {
        return cursor
            .fail_since(start, FormulaProblem::VariableCount(word.to_owned()))
            .with_hint("Write the count, as in ZnSO4·7H2O.");
    }
    let hint = hint::for_lower_case(word);
    cursor.fail_since(start, FormulaProblem::LowerCase(word.to_owned())).with_hint(hint)
}

/// The charge at the end, zero if there is none.
fn final_charge(cursor: &mut Cursor, parts: &[Part]) -> Result<i32, FormulaError> {
    let start = cursor.at();
    if !cursor.peek().is_some_and(charge::begins_with) {
        return Ok(0);
    }
    let charge = charge::charge(cursor)?;
    if !cursor.is_at_end() {
        let hint = "Leave out the charges of single ions; only the whole has a molar mass.";
        return Err(cursor.fail_since(start, FormulaProblem::ChargeNotLast).with_hint(hint));
    }
    match parts {
        [Part { count: 1.0, .. }] => Ok(charge),
        _ => Err(cursor.fail_since(start, FormulaProblem::ChargeOfParts).with_hint("Leave the charge out.")),
    }
}

/// The fault of a character that fits nothing, the cursor at it.
fn unexpected(cursor: &Cursor) -> FormulaError {
    let character = cursor.peek().unwrap_or(' ');
    let error = cursor.fail_here(FormulaProblem::UnexpectedCharacter(character));
    match character {
        '+' => error.with_hint("Join the parts of an adduct with ·."),
        '^' => error.with_hint("Write one charge, at the end of the whole formula."),
        _ if character.is_whitespace() || cursor.is_after_space() => {
            error.with_hint("Leave no space inside a formula, except around an adduct dot.")
        }
        _ if character.is_alphabetic() => error.with_hint("Elements are written with the letters A to Z."),
        _ => error,
    }
}

/// The signs that join the parts of an adduct.
fn is_dot(character: char) -> bool {
    matches!(character, '.' | '*' | '\u{00b7}' | '\u{2022}' | '\u{22c5}')
}
