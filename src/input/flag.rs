//! Flags with several values: one quoted string, `NAME key=value key=value`.

use std::ops::Range;
use std::sync::Arc;

use super::fault::{Fault, Faults, Place};
use super::nearest::did_you_mean;
use crate::quantity::{Quantity, Typed};

/// A flag's text, taken apart: the words before the first `key=`, then keys and values.
#[derive(Debug, Clone, PartialEq)]
pub struct FlagValue {
    origin: String,
    text: Arc<str>,
    /// The words before the first key, trimmed; may be empty.
    pub name: String,
    /// The keys with their values, in order.
    pub pairs: Vec<KeyValue>,
}

/// One `key=value`.
#[derive(Debug, Clone, PartialEq)]
pub struct KeyValue {
    /// The key.
    pub key: String,
    /// The value, which may hold spaces ("form=zinc sulfate"), trimmed.
    pub value: String,
    /// Where the value stands in the flag's text.
    pub span: Range<usize>,
}

impl FlagValue {
    /// Takes `text` apart. A value runs to the next ` key=`; a key given twice or not in `known` is a fault.
    pub fn parse(origin: &str, text: &str, known: &[&str]) -> Result<Self, Faults> {
        let mut faults = Faults::none();
        let flag = Self::parse_keys(origin, text, Some(known), &mut faults);
        faults.or(flag)
    }

    /// The same with faults of keys collected, so that those of values can be told with them.
    pub fn collecting(origin: &str, text: &str, known: &[&str], faults: &mut Faults) -> Self {
        Self::parse_keys(origin, text, Some(known), faults)
    }

    /// The same where the keys are not known beforehand, such as codes.
    pub fn parse_any(origin: &str, text: &str) -> Result<Self, Faults> {
        let mut faults = Faults::none();
        let flag = Self::parse_keys(origin, text, None, &mut faults);
        faults.or(flag)
    }

    fn parse_keys(origin: &str, text: &str, known: Option<&[&str]>, faults: &mut Faults) -> Self {
        let starts = key_starts(text);
        let name_end = starts.first().map_or(text.len(), |start| start.key.start);
        let mut flag = Self {
            origin: origin.to_owned(),
            text: Arc::from(text),
            name: text[..name_end].trim().to_owned(),
            pairs: Vec::new(),
        };
        for (index, start) in starts.iter().enumerate() {
            let end = starts.get(index + 1).map_or(text.len(), |next| next.key.start);
            let pair = key_value(text, start, end);
            if let Some(fault) = flag.fault_of_key(&pair, start.key.clone(), known) {
                faults.push(fault);
            }
            flag.pairs.push(pair);
        }
        flag
    }

    /// The value of a key.
    pub fn get(&self, key: &str) -> Option<&KeyValue> {
        self.pairs.iter().find(|pair| pair.key == key)
    }

    /// The value of a key as a quantity; a bad one is collected.
    pub fn quantity<T: Quantity>(&self, key: &str, faults: &mut Faults) -> Option<Typed<T>> {
        let pair = self.get(key)?;
        match Typed::parse(&pair.value) {
            Ok(typed) => Some(typed),
            Err(error) => {
                faults.push(Fault::of_quantity(&error, self.place_of(pair)));
                None
            }
        }
    }

    /// Where a value stands.
    pub fn place_of(&self, pair: &KeyValue) -> Place {
        Place::in_text(&self.origin, Arc::clone(&self.text), pair.span.clone())
    }

    /// The whole flag.
    pub fn place(&self) -> Place {
        Place::in_text(&self.origin, Arc::clone(&self.text), 0..self.text.len())
    }

    fn fault_of_key(&self, pair: &KeyValue, span: Range<usize>, known: Option<&[&str]>) -> Option<Fault> {
        let place = Place::in_text(&self.origin, Arc::clone(&self.text), span);
        if let Some(known) = known
            && !known.contains(&pair.key.as_str())
        {
            let all = format!("The keys are {}.", known.join(", "));
            let hint = did_you_mean(&pair.key, known.iter().copied(), &all);
            return Some(
                Fault::new("unknown_key", format!("unknown key {:?}", pair.key), place).with_hint(hint),
            );
        }
        let twice = self.get(&pair.key).is_some();
        twice.then(|| {
            Fault::new("key_twice", format!("the key {:?} is given twice", pair.key), place)
                .with_hint("Keep one of the two.")
        })
    }
}

/// A key and where its value starts.
#[derive(Debug, Clone)]
struct KeyStart {
    key: Range<usize>,
    value: usize,
}

/// The words that are directly followed by `=`, or by `>=`, which is then part of the value: what is read
/// off a label as "assay ≥ 98 %" is typed `assay>=98%`.
fn key_starts(text: &str) -> Vec<KeyStart> {
    let mut starts = Vec::new();
    for (equals, _) in text.match_indices('=') {
        let start = text[..equals]
            .rfind(char::is_whitespace)
            .map_or(0, |at| at + text[at..].chars().next().map_or(1, char::len_utf8));
        let (end, value) = match text[start..equals].strip_suffix('>') {
            Some(key) => (start + key.len(), equals - 1),
            None => (equals, equals + 1),
        };
        let key = &text[start..end];
        let is_key =
            !key.is_empty() && key.chars().all(|c| c.is_ascii_alphanumeric() || matches!(c, '_' | '-'));
        if is_key {
            starts.push(KeyStart { key: start..end, value });
        }
    }
    starts
}

fn key_value(text: &str, start: &KeyStart, end: usize) -> KeyValue {
    let raw = &text[start.value..end];
    let from = start.value + (raw.len() - raw.trim_start().len());
    let key = text[start.key.clone()].to_owned();
    KeyValue { key, value: raw.trim().to_owned(), span: from..from + raw.trim().len() }
}
