//! A saved mapping (TOML): what the columns of a meter's files are called, for the next file of the same meter.

use crate::cell::log::{CellWish, ColumnWish, LogWish, zone};
use crate::input::{Fault, Faults, Field, FlagValue, Place, TableReader, TomlFile};
use crate::record::Code;
use crate::record::log::{LogCell, LogColumn, LogLayout, LogTime};

/// What a mapping says: what is meant, and where the head stands.
#[derive(Debug, Clone, Default)]
pub(super) struct Mapping {
    pub(super) wish: LogWish,
    pub(super) head_line: Option<u64>,
    pub(super) separator: Option<char>,
}

/// Reads a mapping; all faults come together.
pub(super) fn read_mapping(origin: &str, text: &str) -> Result<Mapping, Faults> {
    TomlFile::new(origin, text).read(|root| {
        let of = |key| column(root, root.string(key));
        let (time, voltage, current) = (of("time"), of("voltage"), of("current"));
        let cell = root.string("cell_column").map(|field| CellWish::Column(field.value.to_owned()));
        let zone = root.string("zone").and_then(|field| zone_field(root, &field));
        let decimal_comma = root.string("decimal").and_then(|field| decimal_field(root, &field));
        let separator = root.string("separator").and_then(|field| separator_field(root, &field));
        let head_line = root.number("head_line").map(|field| field.value as u64);
        let names = root.free_strings("cells").into_iter().filter_map(|pair| name(root, &pair)).collect();
        let wish = LogWish { time, voltage, current, cell, names, start: None, zone, decimal_comma };
        Some(Mapping { wish, head_line, separator })
    })
}

fn column(root: &TableReader<'_>, field: Option<Field<&str>>) -> Option<ColumnWish> {
    let field = field?;
    let place = root.file().place(field.span);
    column_wish("the mapping", field.value)
        .map_err(|faults| {
            faults.iter().for_each(|fault| root.file().push(Fault { place: place.clone(), ..fault.clone() }));
        })
        .ok()
}

/// `Voltage unit=mV`: a column with its unit.
pub(super) fn column_wish(origin: &str, text: &str) -> Result<ColumnWish, Faults> {
    let flag = FlagValue::parse(origin, text, &["unit"])?;
    if flag.name.is_empty() {
        let fault = Fault::new("no_column", format!("{text:?} names no column"), flag.place());
        return Err(fault
            .with_hint("Write its head, and its unit if the head has none: \"U unit=mV\".")
            .into());
    }
    Ok(ColumnWish { unit: flag.get("unit").map(|pair| pair.value.clone()), name: flag.name })
}

fn zone_field(root: &TableReader<'_>, field: &Field<&str>) -> Option<String> {
    let place = root.file().place(field.span.clone());
    zone_named(field.value, place).map_err(|fault| root.file().push(fault)).ok()
}

/// The name of a zone that is known.
pub(super) fn zone_named(text: &str, place: Place) -> Result<String, Fault> {
    let name = text.trim();
    if zone(name).is_some() {
        return Ok(name.to_owned());
    }
    let fault = Fault::new("unknown_zone", format!("{text:?} is no time zone"), place);
    Err(fault.with_hint("Write it like Europe/Vienna, UTC or +01:00."))
}

fn decimal_field(root: &TableReader<'_>, field: &Field<&str>) -> Option<bool> {
    let place = root.file().place(field.span.clone());
    decimal(field.value, place).map_err(|fault| root.file().push(fault)).ok()
}

/// "comma" or "point": true for a comma.
pub(super) fn decimal(text: &str, place: Place) -> Result<bool, Fault> {
    match text.trim() {
        "comma" => Ok(true),
        "point" => Ok(false),
        _ => {
            let fault = Fault::new("bad_decimal", format!("{text:?} is no decimal sign"), place);
            Err(fault.with_hint("Write comma or point."))
        }
    }
}

fn separator_field(root: &TableReader<'_>, field: &Field<&str>) -> Option<char> {
    let place = root.file().place(field.span.clone());
    separator(field.value, place).map_err(|fault| root.file().push(fault)).ok()
}

/// "comma", "semicolon", "tab", or the sign itself.
pub(super) fn separator(text: &str, place: Place) -> Result<char, Fault> {
    match text {
        "comma" | "," => Ok(','),
        "semicolon" | ";" => Ok(';'),
        "tab" | "\t" => Ok('\t'),
        _ => {
            let fault = Fault::new("bad_separator", format!("{text:?} separates no columns"), place);
            Err(fault.with_hint("Write comma, semicolon or tab."))
        }
    }
}

fn name(root: &TableReader<'_>, (name, code): &(Field<&str>, Field<&str>)) -> Option<(String, Code)> {
    let place = root.file().place(code.span.clone());
    let fault = |error: crate::record::CodeError| {
        Fault::new("bad_code", error.to_string(), place).with_hint(crate::record::CodeError::HINT)
    };
    let code = code.value.parse::<Code>().map_err(|error| root.file().push(fault(error))).ok()?;
    Some((name.value.to_owned(), code))
}

/// The mapping of a layout, to be saved: all that the next file of the same meter shares with this one.
pub(in crate::cli) fn mapping_text(layout: &LogLayout) -> String {
    let text = |text: &str| toml::Value::from(text).to_string();
    let of = |column: &LogColumn| text(&format!("{} unit={}", column.name, column.unit));
    let mut lines =
        vec!["# How the files of one meter are read: reading import FILE --mapping THIS.".to_owned()];
    match &layout.time {
        LogTime::Since { column, .. } => lines.push(format!("time = {}", of(column))),
        LogTime::Moment { name, zone, .. } => {
            lines.push(format!("time = {}\nzone = {}", text(name), text(zone)));
        }
    }
    lines.extend(layout.voltage.as_ref().map(|column| format!("voltage = {}", of(column))));
    lines.extend(layout.current.as_ref().map(|column| format!("current = {}", of(column))));
    lines.push(format!("decimal = \"{}\"", if layout.decimal_comma { "comma" } else { "point" }));
    lines.push(format!("separator = {}", text(&layout.separator.to_string())));
    lines.push(format!("head_line = {}", layout.head_line));
    if let LogCell::Column { name, names, .. } = &layout.cell {
        lines.push(format!("cell_column = {}", text(name)));
        if !names.is_empty() {
            lines.push("\n[cells]".to_owned());
            lines.extend(names.iter().map(|(name, code)| format!("{} = \"{code}\"", text(name))));
        }
    }
    lines.join("\n") + "\n"
}
