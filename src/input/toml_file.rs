//! TOML read by hand, field by field, so that all faults of a file come at once, each with its line.
//!
//! A [`TableReader`] remembers which keys were asked for; [`TableReader::finish`] reports every other.

use std::cell::RefCell;
use std::ops::Range;
use std::sync::Arc;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::fault::{Fault, Faults, Place};
use super::nearest::did_you_mean;
use crate::quantity::{Quantity, Typed};

const TOML_HINT: &str = "Check quotes, brackets and names here: each line is name = value, each name once.";

const NO_TOML_HINT: &str =
    "This does not read like TOML, where each line is name = value: is it the right file?";

/// Lines that say something. A text with a fault in each of them is no TOML at all.
fn written_lines(text: &str) -> usize {
    let written = |line: &&str| !line.trim().is_empty() && !line.trim_start().starts_with('#');
    text.lines().filter(written).count().max(2)
}

/// True for a fault of what stands before a place where the text can't be read: what is missing, or stands behind
/// that place, may be there in what was not read.
fn stands_before(fault: &Fault, at: usize) -> bool {
    let span = fault.place.excerpt.as_ref().map_or(0..0, |excerpt| excerpt.span.clone());
    let says_missing = fault.code.starts_with("missing") || fault.code.starts_with("no_");
    !says_missing && 0 < span.end && span.end <= at
}

/// The text of a TOML file with its name, and the faults found in it so far.
pub struct TomlFile {
    origin: String,
    text: Arc<str>,
    faults: RefCell<Faults>,
}

/// One table of a file.
pub struct TableReader<'f> {
    file: &'f TomlFile,
    table: &'f DeTable<'f>,
    span: Range<usize>,
    seen: RefCell<Vec<&'static str>>,
}

/// A value and where it stands.
#[derive(Debug, Clone, PartialEq)]
pub struct Field<T> {
    /// The value.
    pub value: T,
    /// Its byte range in the file.
    pub span: Range<usize>,
}

impl TomlFile {
    /// A file by its name, as the person would name it, and its text.
    pub fn new(origin: impl Into<String>, text: impl Into<Arc<str>>) -> Self {
        Self { origin: origin.into(), text: text.into(), faults: RefCell::default() }
    }

    /// Parses the text and lets `read` take it apart. All faults, of syntax and of content, come together.
    pub fn read<T>(self, read: impl FnOnce(&TableReader<'_>) -> Option<T>) -> Result<T, Faults> {
        let text = Arc::clone(&self.text);
        let (table, errors) = DeTable::parse_recoverable(&text);
        let mut syntax = Faults::none();
        let is_toml = errors.len() < written_lines(&text);
        for error in errors.iter().take(if is_toml { errors.len() } else { 1 }) {
            let place = self.place(error.span().unwrap_or(0..0));
            let rule = error.message().trim_end().replace('\n', "; ");
            let hint = if is_toml { TOML_HINT } else { NO_TOML_HINT };
            syntax.push(Fault::new("bad_toml", rule, place).with_hint(hint));
        }
        let broken_at = errors.iter().map(|error| error.span().map_or(0, |span| span.start)).min();
        let root = TableReader::new(&self, table.get_ref(), 0..0);
        let value = read(&root);
        root.finish();
        drop(root);
        let mut faults = self.faults.into_inner();
        if let Some(at) = broken_at {
            faults.keep(|fault| stands_before(fault, at));
        }
        faults.extend(syntax);
        faults.sort_by_place();
        match value {
            Some(value) if faults.is_empty() => Ok(value),
            _ => Err(faults),
        }
    }

    /// A place in this file.
    pub fn place(&self, span: Range<usize>) -> Place {
        Place::in_text(&self.origin, Arc::clone(&self.text), span)
    }

    /// Records a fault.
    pub fn push(&self, fault: Fault) {
        self.faults.borrow_mut().push(fault);
    }
}

impl<'f> TableReader<'f> {
    fn new(file: &'f TomlFile, table: &'f DeTable<'f>, span: Range<usize>) -> Self {
        Self { file, table, span, seen: RefCell::default() }
    }

    /// The file.
    pub fn file(&self) -> &'f TomlFile {
        self.file
    }

    /// Where the table starts.
    pub fn span(&self) -> Range<usize> {
        self.span.clone()
    }

    /// Records a fault at a place in the file.
    pub fn fault(
        &self,
        code: &'static str,
        message: impl Into<String>,
        span: Range<usize>,
        hint: impl Into<String>,
    ) {
        self.file.push(Fault::new(code, message, self.file.place(span)).with_hint(hint));
    }

    /// True if the key stands in the table.
    pub fn has(&self, key: &'static str) -> bool {
        self.entry(key).is_some()
    }

    /// A text.
    pub fn string(&self, key: &'static str) -> Option<Field<&'f str>> {
        let entry = self.entry(key)?;
        match entry.get_ref() {
            DeValue::String(text) => Some(Field { value: text.as_ref(), span: entry.span() }),
            other => self.wrong_type(key, other, entry.span(), "a text in quotes"),
        }
    }

    /// A text that must be there.
    pub fn required_string(&self, key: &'static str) -> Option<Field<&'f str>> {
        self.required(key).then(|| self.string(key)).flatten()
    }

    /// A text if there is one; anything else is left to those who ask for it.
    pub fn text(&self, key: &str) -> Option<&'f str> {
        match self.table.get(key)?.get_ref() {
            DeValue::String(text) => Some(text.as_ref()),
            _ => None,
        }
    }

    /// A text that must be there and say something.
    pub fn required_name(&self, key: &'static str) -> Option<String> {
        let field = self.required_string(key)?;
        if field.value.trim().is_empty() {
            let hint = "Write what it is called.";
            self.fault("empty_name", format!("the {key} is empty"), field.span, hint);
            return None;
        }
        Some(field.value.to_owned())
    }

    /// A number, whole or not.
    pub fn number(&self, key: &'static str) -> Option<Field<f64>> {
        let entry = self.entry(key)?;
        let text = match entry.get_ref() {
            DeValue::Integer(integer) => integer.as_str(),
            DeValue::Float(float) => float.as_str(),
            other => return self.wrong_type(key, other, entry.span(), "a number without quotes"),
        };
        match text.replace('_', "").parse::<f64>() {
            Ok(value) if value.is_finite() => Some(Field { value, span: entry.span() }),
            _ => {
                self.fault(
                    "bad_number",
                    format!("{text} is no plain decimal number"),
                    entry.span(),
                    "Write it like 1 or 0.5.",
                );
                None
            }
        }
    }

    /// A quantity, as a text with its unit.
    pub fn quantity<T: Quantity>(&self, key: &'static str) -> Option<Field<Typed<T>>> {
        let field = self.string(key)?;
        self.parsed(field, Typed::parse, Fault::of_quantity)
    }

    /// A quantity that must be there.
    pub fn required_quantity<T: Quantity>(&self, key: &'static str) -> Option<Field<Typed<T>>> {
        self.required(key).then(|| self.quantity(key)).flatten()
    }

    /// A text field read by a parser of another room; a failure becomes a fault at the field.
    pub fn parsed<T, E>(
        &self,
        field: Field<&str>,
        parse: impl FnOnce(&str) -> Result<T, E>,
        fault: impl FnOnce(&E, Place) -> Fault,
    ) -> Option<Field<T>> {
        match parse(field.value) {
            Ok(value) => Some(Field { value, span: field.span }),
            Err(error) => {
                self.file.push(fault(&error, self.file.place(field.span)));
                None
            }
        }
    }

    /// A list of texts; empty if the key is absent.
    pub fn strings(&self, key: &'static str) -> Vec<Field<&'f str>> {
        let Some(entry) = self.entry(key) else { return Vec::new() };
        let DeValue::Array(items) = entry.get_ref() else {
            self.wrong_type::<()>(key, entry.get_ref(), entry.span(), "a list of texts in square brackets");
            return Vec::new();
        };
        let text = |item: &'f Spanned<DeValue<'f>>| match item.get_ref() {
            DeValue::String(text) => Some(Field { value: text.as_ref(), span: item.span() }),
            other => self.wrong_type(key, other, item.span(), "a text in quotes"),
        };
        items.iter().filter_map(text).collect()
    }

    /// A table.
    pub fn table(&self, key: &'static str) -> Option<TableReader<'f>> {
        let entry = self.entry(key)?;
        match entry.get_ref() {
            DeValue::Table(table) => Some(TableReader::new(self.file, table, entry.span())),
            other => self.wrong_type(key, other, entry.span(), "a table"),
        }
    }

    /// A list of tables, written as `[[key]]` or as `[{ … }, { … }]`; empty if the key is absent.
    pub fn tables(&self, key: &'static str) -> Vec<TableReader<'f>> {
        let Some(entry) = self.entry(key) else { return Vec::new() };
        let DeValue::Array(items) = entry.get_ref() else {
            self.wrong_type::<()>(key, entry.get_ref(), entry.span(), "a list of tables");
            return Vec::new();
        };
        let table = |item: &'f Spanned<DeValue<'f>>| match item.get_ref() {
            DeValue::Table(table) => Some(TableReader::new(self.file, table, item.span())),
            other => self.wrong_type(key, other, item.span(), "a table"),
        };
        items.iter().filter_map(table).collect()
    }

    /// The pairs of a table whose keys are free, each value a text.
    pub fn free_strings(&self, key: &'static str) -> Vec<(Field<&'f str>, Field<&'f str>)> {
        let Some(reader) = self.table(key) else { return Vec::new() };
        let pair = |(name, value): (&'f Spanned<_>, &'f Spanned<DeValue<'f>>)| {
            let name: &'f Spanned<std::borrow::Cow<'f, str>> = name;
            let key_field = Field { value: name.get_ref().as_ref(), span: name.span() };
            match value.get_ref() {
                DeValue::String(text) => {
                    Some((key_field, Field { value: text.as_ref(), span: value.span() }))
                }
                other => self.wrong_type(key, other, value.span(), "a text in quotes"),
            }
        };
        reader.table.iter().filter_map(pair).collect()
    }

    /// Reports the keys that nobody asked for. Call it when all known keys were asked for.
    pub fn finish(&self) {
        let seen = self.seen.borrow();
        for (key, _) in self.table.iter() {
            let name = key.get_ref().as_ref();
            if !seen.contains(&name) {
                let all = format!("The keys here are {}.", seen.join(", "));
                let hint = did_you_mean(name, seen.iter().copied(), &all);
                self.fault("unknown_key", format!("unknown key {name:?}"), key.span(), hint);
            }
        }
    }

    fn entry(&self, key: &'static str) -> Option<&'f Spanned<DeValue<'f>>> {
        let mut seen = self.seen.borrow_mut();
        if !seen.contains(&key) {
            seen.push(key);
        }
        self.table.get(key)
    }

    fn required(&self, key: &'static str) -> bool {
        let there = self.has(key);
        if !there {
            self.fault(
                "missing_key",
                format!("the key {key:?} is missing"),
                self.span(),
                format!("Add {key} = … here."),
            );
        }
        there
    }

    fn wrong_type<T>(&self, key: &str, value: &DeValue<'_>, span: Range<usize>, wanted: &str) -> Option<T> {
        let message = format!("{key} is {}, but must be {wanted}", in_words(value));
        self.fault("wrong_type", message, span, format!("Write {key} as {wanted}."));
        None
    }
}

/// What a value is, without the words of programmers.
fn in_words(value: &DeValue<'_>) -> &'static str {
    match value {
        DeValue::String(_) => "a text",
        DeValue::Integer(_) | DeValue::Float(_) => "a number",
        DeValue::Boolean(_) => "true or false",
        DeValue::Datetime(_) => "a date or time",
        DeValue::Array(_) => "a list",
        DeValue::Table(_) => "a table",
    }
}
