//! The component table in force: the built-in one and the person's own.

use std::sync::Arc;

use super::source::read_text;
use super::surroundings::book_folder;
use crate::cli::args::Common;
use crate::cli::outcome::Failure;
use crate::component::{Component, ComponentTable, read_components};
use crate::input::{Fault, Faults, Place};

/// The built-in table with the book's own components and then every `--components` file put in, in order.
pub(in crate::cli) fn component_table(common: &Common) -> Result<ComponentTable, Failure> {
    let mut table = ComponentTable::builtin();
    let own = book_folder(common).map(|folder| folder.join("components.toml")).filter(|path| path.is_file());
    let own = own.map(|path| path.display().to_string());
    for path in own.iter().chain(&common.components) {
        let text = read_text(path)?;
        read_components(path, &text, &table)?.into_iter().for_each(|component| table.insert(component));
    }
    Ok(table)
}

/// Finds each name; every unknown one is reported.
pub(in crate::cli) fn components(
    table: &ComponentTable,
    names: &[String],
) -> Result<Vec<Arc<Component>>, Faults> {
    let mut faults = Faults::none();
    let found = names.iter().filter_map(|name| faults.collect(find(table, "component", name, 0..name.len())));
    let found: Vec<_> = found.collect();
    faults.or(found)
}

/// Finds a name that stands somewhere in an argument or flag.
pub(super) fn find(
    table: &ComponentTable,
    origin: &str,
    text: &str,
    span: std::ops::Range<usize>,
) -> Result<Arc<Component>, Fault> {
    let name = text.get(span.clone()).unwrap_or(text);
    table.find(name).map(Arc::clone).map_err(|error| error.fault(Place::in_text(origin, text, span)))
}
