//! From a table file to components, with every fault of the file at once.

use std::collections::HashMap;
use std::sync::Arc;

use super::cas::Cas;
use super::entry::{Component, ComponentId, State};
use super::group::{GROUPS, Group};
use super::hazard::Hazard;
use super::read_hazard::hazard;
use super::read_property::{densities, fusions, heat_limits, hygroscopic, meltings, transitions};
use super::role::Role;
use super::table::ComponentTable;
use crate::chemistry::Formula;
use crate::input::{Fault, Faults, Field, Place, TableReader, TomlFile, did_you_mean};

/// Short names of sources and what they stand for.
pub(super) type Sources = HashMap<String, String>;

/// Reads a table file. Ids and names must differ from each other and, for another component, from those
/// of `known`; a component with a known id replaces that one.
pub fn read_components(origin: &str, text: &str, known: &ComponentTable) -> Result<Vec<Component>, Faults> {
    let mut table = known.clone();
    let ids = read_into(&mut table, origin, text)?;
    Ok(ids.iter().filter_map(|id| table.get(id.as_str())).map(|component| (**component).clone()).collect())
}

/// The same for a check: what could be read in spite of the faults, beside all of them.
pub fn readable_components(origin: &str, text: &str, known: &ComponentTable) -> (Vec<Component>, Faults) {
    let mut table = known.clone();
    let faults = read_into(&mut table, origin, text).err().unwrap_or_default();
    let is_known = |component: &Arc<Component>| {
        known.get(component.id.as_str()).is_some_and(|other| Arc::ptr_eq(other, component))
    };
    let own = table.iter().filter(|component| !is_known(component));
    (own.map(|component| (**component).clone()).collect(), faults)
}

/// Reads a table file into a table. After a fault the table holds the components before it.
pub(super) fn read_into(
    table: &mut ComponentTable,
    origin: &str,
    text: &str,
) -> Result<Vec<ComponentId>, Faults> {
    TomlFile::new(origin, text).read(|root| {
        let sources = root.free_strings("source").into_iter();
        let sources = sources.map(|(key, value)| (key.value.to_owned(), value.value.to_owned())).collect();
        let mut ids: Vec<ComponentId> = Vec::new();
        let mut seen: Vec<&str> = Vec::new();
        let readers = root.tables("component");
        for reader in &readers {
            refuse_twice(reader, &seen);
            seen.extend(reader.text("id"));
            let read = component(reader, &sources);
            reader.finish();
            let Some(component) = read else { continue };
            refuse_names(reader, &component, table);
            ids.push(component.id.clone());
            table.insert(component);
        }
        // A hydrate may stand before its parent, so only now.
        readers.iter().for_each(|reader| refuse_orphan(reader, table));
        Some(ids)
    })
}

/// A source field: a key of the file's own list, or the source itself.
pub(super) fn source(reader: &TableReader<'_>, key: &'static str, sources: &Sources) -> Option<String> {
    let field = reader.required_string(key)?;
    if field.value.trim().is_empty() {
        reader.fault("empty_source", "the source is empty", field.span, "Say where the value comes from.");
        return None;
    }
    Some(sources.get(field.value).cloned().unwrap_or_else(|| field.value.to_owned()))
}

fn component(reader: &TableReader<'_>, sources: &Sources) -> Option<Component> {
    let id = reader.required_string("id").and_then(|field| checked_id(reader, field));
    let name = reader.required_name("name");
    let aliases = aliases(reader);
    let roles = roles(reader);
    let cas = reader.string("cas").and_then(|field| reader.parsed(field, str::parse::<Cas>, cas_fault));
    let formula = reader.string("formula").and_then(|field| formula(reader, field));
    let hydrate_of = reader.string("hydrate_of").and_then(|field| checked_id(reader, field));
    let identity = source(reader, "identity", sources);
    let state =
        reader.string("state").and_then(|field| word(reader, field, State::from_word, "solid, liquid, gas"));
    let hygroscopic = hygroscopic(reader, sources);
    let groups = groups(reader);
    let density = densities(reader, sources);
    let melting = meltings(reader, sources);
    let fusion = fusions(reader, sources);
    let transition = transitions(reader, sources);
    let heat_limit = heat_limits(reader, sources);
    let hazard = hazard(reader, sources);
    let note = reader.string("note").map(|field| field.value.to_owned());
    Some(Component {
        id: id?,
        name: name?,
        aliases,
        roles: roles?,
        cas: cas.map(|field| field.value),
        formula,
        hydrate_of,
        identity: identity?,
        state,
        hygroscopic,
        groups,
        density,
        melting,
        fusion,
        transition,
        heat_limit,
        hazard: hazard.unwrap_or_else(|| Hazard::none_found("the table gives no hazard data")),
        note,
    })
}

/// A word from a fixed set.
pub(super) fn word<T>(
    reader: &TableReader<'_>,
    field: Field<&str>,
    from_word: impl Fn(&str) -> Option<T>,
    all: &str,
) -> Option<T> {
    let found = from_word(field.value);
    if found.is_none() {
        let hint = did_you_mean(field.value, all.split(", "), &format!("The words are {all}."));
        reader.fault("unknown_word", format!("unknown word {:?}", field.value), field.span, hint);
    }
    found
}

fn checked_id(reader: &TableReader<'_>, field: Field<&str>) -> Option<ComponentId> {
    let id = ComponentId::from_text(field.value);
    if id.is_none() {
        let message = format!("{:?} is no id: lower case letters, digits and hyphens only", field.value);
        let hint = format!("Write it like {:?}.", suggested_id(field.value));
        reader.fault("bad_id", message, field.span, hint);
    }
    id
}

fn suggested_id(text: &str) -> String {
    let keep = |c: char| if c.is_ascii_alphanumeric() { c.to_ascii_lowercase() } else { '-' };
    let id: String = text.chars().map(keep).collect();
    let id = id.trim_matches('-').to_owned();
    if id.is_empty() { "choline-chloride".to_owned() } else { id }
}

fn aliases(reader: &TableReader<'_>) -> Vec<String> {
    let fits = |field: &Field<&str>| {
        let fits = !field.value.is_empty() && !field.value.contains([' ', '+', ':', '"', '=']);
        if !fits {
            let message = format!("{:?} can't be an alias: no spaces, no + : = and no quotes", field.value);
            reader.fault("bad_alias", message, field.span.clone(), "Use hyphens, as in zinc-chloride.");
        }
        fits
    };
    reader.strings("aliases").into_iter().filter(fits).map(|field| field.value.to_owned()).collect()
}

fn roles(reader: &TableReader<'_>) -> Option<Vec<Role>> {
    let all: Vec<&str> = Role::ALL.iter().map(|role| role.word()).collect();
    let fields = reader.strings("roles");
    if fields.is_empty() {
        let hint = format!("Add roles = [\"…\"] with one or more of {}.", all.join(", "));
        reader.fault("missing_role", "the component has no role", reader.span(), hint);
        return None;
    }
    let role = |field| word(reader, field, Role::from_word, &all.join(", "));
    fields.into_iter().map(role).collect()
}

fn groups(reader: &TableReader<'_>) -> Vec<Group> {
    let group = |field| word(reader, field, Group::from_name, &GROUPS.join(", "));
    reader.strings("groups").into_iter().filter_map(group).collect()
}

fn cas_fault(error: &super::cas::CasError, place: Place) -> Fault {
    Fault::new("bad_cas", error.to_string(), place).with_hint("Copy the number from the bottle again.")
}

fn formula(reader: &TableReader<'_>, field: Field<&str>) -> Option<Formula> {
    let (text, span) = (field.value, field.span.clone());
    let formula = reader.parsed(field, str::parse::<Formula>, |error, mut place| {
        // The marker goes under the fault inside the quotes, where the text has no escapes.
        if let Some(excerpt) = &mut place.excerpt {
            let inner = span.start + 1 + error.span.start..span.start + 1 + error.span.end;
            let fits = excerpt.text.get(inner.clone()).is_some() && text.len() + 2 == span.len();
            excerpt.span = if fits { inner } else { span.clone() };
        }
        error.fault(place)
    })?;
    if formula.value.charge() != 0 {
        let message =
            format!("the formula has charge {}, but a component is neutral", formula.value.charge());
        reader.fault("charged_formula", message, formula.span, "Give the formula of the whole salt.");
        return None;
    }
    Some(formula.value)
}

/// A hydrate of nothing in the table would never be offered as a form of anything.
fn refuse_orphan(reader: &TableReader<'_>, table: &ComponentTable) {
    let Some(parent) = reader.string("hydrate_of").filter(|parent| table.get(parent.value).is_none()) else {
        return;
    };
    let known = table.iter().map(|component| component.id.as_str());
    let hint = did_you_mean(parent.value, known, "Give the id of the anhydrous substance in this table.");
    let message = format!("hydrate_of names {:?}, which is no component", parent.value);
    reader.fault("unknown_component", message, parent.span, hint);
}

/// Whatever else is wrong with either of the two.
fn refuse_twice(reader: &TableReader<'_>, seen: &[&str]) {
    if let Some(id) = reader.text("id").filter(|id| seen.contains(id)) {
        let message = format!("the id {id:?} stands twice in this file");
        reader.fault("id_twice", message, reader.span(), "Remove one of the two or give it another id.");
    }
}

fn refuse_names(reader: &TableReader<'_>, component: &Component, table: &ComponentTable) {
    let names = component.aliases.iter().chain([&component.name]).map(String::as_str);
    for name in names.chain([component.id.as_str()]) {
        if let Some(owner) = table.owner_of(name, &component.id) {
            let message = format!("the name {name:?} already means {owner}");
            reader.fault("name_twice", message, reader.span(), "Choose a name that no other component has.");
        }
    }
}
