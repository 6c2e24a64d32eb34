//! New values for the fields of a record, from text: what a correction says.
//!
//! A field is named by its place in the record, as in `mass` or `how.gross_and_tare.tare`. Its new text is
//! read as what stands there now: a mass stays a mass.

use jiff::Timestamp;
use serde_json::{Map, Value, json};

use super::event::Event;
use crate::quantity::{
    Current, Density, FractionInterval, Mass, MassFraction, Quantity, Relative, Resistance, Temperature,
    TimeSpan, Typed, Voltage, Volume, parse_number,
};

/// Why a field can't be given a value.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum AmendError {
    /// The record has no such field.
    #[error("the record has no field {given:?}")]
    UnknownField {
        /// As given.
        given: String,
        /// The fields that it has.
        known: Vec<String>,
    },
    /// The text does not fit what stands there.
    #[error("{given:?} can't stand in the field {field:?}, which holds {now}")]
    DoesNotFit {
        /// The field.
        field: String,
        /// As given.
        given: String,
        /// What stands there now.
        now: String,
    },
    /// The record itself is no JSON; no event that was read is so.
    #[error("the record can't be written as JSON")]
    NoJson,
}

/// A field whose value differs: its name, and both values in words.
pub type Difference = (String, String, String);

/// The event with new values. `moment` reads a time as the person writes it.
///
/// # Errors
/// If a field is not there or a text does not fit it; the first such.
pub fn amended(
    event: &Event,
    field: &str,
    text: &str,
    moment: &dyn Fn(&str) -> Option<Timestamp>,
) -> Result<Event, AmendError> {
    let payload = payload(event)?;
    let pointer = format!("/{}", field.trim().replace('.', "/"));
    let Some(now) = payload.pointer(&pointer) else {
        let known = leaves(&payload).into_iter().map(|(name, _)| name).collect();
        return Err(AmendError::UnknownField { given: field.to_owned(), known });
    };
    let fits = candidates(now, text.trim(), moment).into_iter().find_map(|candidate| {
        let mut payload = payload.clone();
        *payload.pointer_mut(&pointer)? = candidate.clone();
        let event = decode(event, &payload)?;
        // What the record would drop or read otherwise was not meant.
        let kept = self::payload(&event).ok()?;
        (kept.pointer(&pointer) == Some(&candidate)).then_some(event)
    });
    fits.ok_or_else(|| AmendError::DoesNotFit {
        field: field.to_owned(),
        given: text.to_owned(),
        now: in_words(now),
    })
}

/// The fields in which two events differ.
pub fn differences(before: &Event, after: &Event) -> Vec<Difference> {
    let leaves = |event: &Event| payload(event).map(|payload| leaves(&payload)).unwrap_or_default();
    let (before, after) = (leaves(before), leaves(after));
    let find = |list: &[(String, String)], name: &str| {
        list.iter()
            .find(|(other, _)| other == name)
            .map_or_else(|| "nothing".to_owned(), |(_, text)| text.clone())
    };
    let mut names: Vec<&String> = before.iter().map(|(name, _)| name).collect();
    for (name, _) in &after {
        if !names.contains(&name) {
            names.push(name);
        }
    }
    let both = names.into_iter().map(|name| (name.clone(), find(&before, name), find(&after, name)));
    both.filter(|(_, before, after)| before != after).collect()
}

fn payload(event: &Event) -> Result<Value, AmendError> {
    let encoded = event.encode().map_err(|_| AmendError::NoJson)?;
    serde_json::from_slice(&encoded.payload).map_err(|_| AmendError::NoJson)
}

fn decode(event: &Event, payload: &Value) -> Option<Event> {
    let version = Event::KINDS.iter().find(|(kind, _)| *kind == event.kind())?.1;
    Event::decode(event.kind(), version, &serde_json::to_vec(payload).ok()?).ok()
}

/// What a text may mean where `now` stands, the likeliest first.
fn candidates(now: &Value, text: &str, moment: &dyn Fn(&str) -> Option<Timestamp>) -> Vec<Value> {
    let string = || Value::String(text.to_owned());
    let time = || moment(text).map(|time| Value::String(time.to_string()));
    let mut list = Vec::new();
    if text.is_empty() {
        list.push(Value::Null);
    }
    match now {
        Value::Object(object) => list.extend(of_object(object, text, moment)),
        Value::String(old) => {
            list.extend(time().filter(|_| old.parse::<Timestamp>().is_ok()));
            list.push(string());
        }
        Value::Null => {
            list.extend(time());
            list.extend(quantities(text, |_| true));
            list.extend(
                FractionInterval::parse(text).ok().and_then(|value| serde_json::to_value(value).ok()),
            );
            list.extend(number(text));
            list.push(string());
        }
        _ => list.extend(number(text)),
    }
    list.extend(serde_json::from_str(text));
    list
}

fn of_object(
    object: &Map<String, Value>,
    text: &str,
    moment: &dyn Fn(&str) -> Option<Timestamp>,
) -> Vec<Value> {
    let old = object.get("text").and_then(Value::as_str);
    let replaced = |key: &str, value: f64| {
        let mut object = object.clone();
        object.insert(key.to_owned(), json!(value));
        object.insert("text".to_owned(), json!(text));
        Value::Object(object)
    };
    if let Some(old) = old {
        let of = |key: &str| object.get(key).and_then(Value::as_f64);
        let mut list = Vec::new();
        if of("volts").is_some() {
            list.extend(read::<Voltage>(text).map(|value| replaced("volts", value)));
        } else if of("amperes").is_some() {
            list.extend(read::<Current>(text).map(|value| replaced("amperes", value)));
        } else {
            list.extend(
                FractionInterval::parse(text).ok().and_then(|value| serde_json::to_value(value).ok()),
            );
            list.extend(quantities(text, |parse| parse(old).is_some() && parse(old) == of("value")));
        }
        return list;
    }
    // The only part of a whole is meant with the whole, as the voltage with the value of a reading.
    match object.iter().next() {
        Some((key, inner)) if object.len() == 1 => {
            candidates(inner, text, moment).into_iter().map(|value| json!({ key: value })).collect()
        }
        _ => Vec::new(),
    }
}

/// A number, whole first: which of both a record holds shows only in its own reading.
fn number(text: &str) -> Vec<Value> {
    let whole = text.trim().parse::<i64>().ok().map(|whole| json!(whole));
    let number = parse_number(text).ok().map(|number| json!(number.value));
    whole.into_iter().chain(number).collect()
}

fn read<T: Quantity + serde::Serialize>(text: &str) -> Option<f64> {
    serde_json::to_value(Typed::<T>::parse(text).ok()?.value).ok()?.as_f64()
}

/// The text as each quantity that `wanted` lets through: it is asked with that quantity's own reading.
fn quantities(text: &str, wanted: impl Fn(fn(&str) -> Option<f64>) -> bool) -> Vec<Value> {
    let mut list = Vec::new();
    macro_rules! each {
        ($($name:ident),+) => {$(
            if wanted(read::<$name>) && let Ok(typed) = Typed::<$name>::parse(text) {
                list.extend(serde_json::to_value(typed));
            }
        )+};
    }
    each!(Mass, Temperature, TimeSpan, MassFraction, Relative, Volume, Density, Voltage, Current, Resistance);
    list
}

/// Every field with its value in words; what was typed stands for itself.
fn leaves(payload: &Value) -> Vec<(String, String)> {
    let mut list = Vec::new();
    collect(String::new(), payload, &mut list);
    list
}

fn collect(name: String, value: &Value, list: &mut Vec<(String, String)>) {
    let inner = |key: &str| if name.is_empty() { key.to_owned() } else { format!("{name}.{key}") };
    match value {
        Value::Object(object) if object.get("text").is_some_and(Value::is_string) => {
            list.push((name.clone(), in_words(value)));
            for (key, value) in object {
                if !matches!(key.as_str(), "text" | "value" | "volts" | "amperes" | "decimal_comma") {
                    collect(inner(key), value, list);
                }
            }
        }
        Value::Object(object) => object.iter().for_each(|(key, value)| collect(inner(key), value, list)),
        Value::Array(items) => {
            items.iter().enumerate().for_each(|(at, value)| collect(inner(&at.to_string()), value, list));
        }
        _ => list.push((name, in_words(value))),
    }
}

fn in_words(value: &Value) -> String {
    match value {
        Value::Null => "nothing".to_owned(),
        Value::String(text) => text.clone(),
        Value::Object(object) => match object.get("text").and_then(Value::as_str) {
            Some(text) => text.to_owned(),
            None => value.to_string(),
        },
        other => other.to_string(),
    }
}
