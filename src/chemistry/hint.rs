//! The way out of an element that can't be read.

use super::element::Element;

/// Abbreviations of groups that papers write like elements, with their formulas (common practice). Pr is
/// not here: it is read as praseodymium, as it must be.
const GROUPS: [(&str, &str, &str); 6] = [
    ("Me", "methyl", "CH3"),
    ("Et", "ethyl", "C2H5"),
    ("Bu", "butyl", "C4H9"),
    ("Ph", "phenyl", "C6H5"),
    ("Ac", "acetyl", "C2H3O"),
    ("Ch", "choline", "C5H14NO"),
];

/// More names than this are no help.
const MOST_OFFERED: usize = 5;

const SYMBOLS: &str = "The symbol of an element is one capital letter, or a capital and a small one.";

/// For a word that starts with a capital but is no element; `before` is the element right before it.
pub(super) fn for_unknown(word: &str, before: Option<Element>) -> String {
    for_group(word)
        .or_else(|| by_name(word))
        .or_else(|| joined(word, before).map(|symbol| offer(&[symbol])))
        .unwrap_or_else(|| offer(&alike(word)))
}

/// For a word that starts with a small letter.
pub(super) fn for_lower_case(word: &str) -> String {
    by_name(word).unwrap_or_else(|| offer(&capitalised(word)))
}

/// For an abbreviation of a group, what to write in its place.
pub(super) fn for_group(word: &str) -> Option<String> {
    let (_, name, formula) = GROUPS.iter().find(|(short, _, _)| *short == word)?;
    Some(format!("If {word} stands for {name}, write {formula} in its place."))
}

fn by_name(word: &str) -> Option<String> {
    let word = word.to_lowercase();
    weighable().find(|element| element.name() == word).map(|element| format!("Write {element} for {word}."))
}

/// "L" right after "C" may be meant as "Cl".
fn joined(word: &str, before: Option<Element>) -> Option<String> {
    let symbol = format!("{}{}", before?.symbol(), word.to_lowercase());
    is_weighable(&symbol).then_some(symbol)
}

/// Both readings of "co": "Co" and "CO".
fn capitalised(word: &str) -> Vec<String> {
    let upper = word.to_uppercase();
    let as_one = upper.chars().take(1).chain(word.chars().skip(1)).collect::<String>();
    let mut readings = Vec::new();
    if is_weighable(&as_one) {
        readings.push(as_one);
    }
    let as_two = upper.len() == 2 && upper.chars().all(|letter| is_weighable(&letter.to_string()));
    if as_two {
        readings.push(upper);
    }
    readings
}

/// Elements that start with the same letter, and the word read as two elements.
fn alike(word: &str) -> Vec<String> {
    let initial = word.chars().next();
    let mut symbols: Vec<_> = weighable()
        .map(|element| element.symbol().to_owned())
        .filter(|symbol| symbol.chars().next() == initial)
        .collect();
    symbols.sort();
    symbols.extend(capitalised(word));
    symbols
}

fn offer(symbols: &[String]) -> String {
    match symbols {
        _ if MOST_OFFERED < symbols.len() => SYMBOLS.to_owned(),
        [] => SYMBOLS.to_owned(),
        [only] => format!("Did you mean {only}?"),
        [first @ .., last] => format!("Did you mean {} or {last}?", first.join(", ")),
    }
}

fn weighable() -> impl Iterator<Item = Element> {
    Element::all().filter(|element| element.weight().is_some())
}

fn is_weighable(symbol: &str) -> bool {
    weighable().any(|element| element.symbol() == symbol)
}
