//! `--acceptor`, `--donor`, `--third`: components by name, or all of a role.

use std::sync::Arc;

use crate::cli::request::table::find;
use crate::component::{Component, ComponentTable, Role};
use crate::input::Faults;
use crate::report::view::CandidateList;

/// The list that a flag means; nothing given means every component of the usual role.
pub(super) fn list(
    table: &ComponentTable,
    flag: &str,
    names: &[String],
    usual: Role,
    faults: &mut Faults,
) -> CandidateList {
    let mut list: Vec<Arc<Component>> = Vec::new();
    let mut words = Vec::new();
    let by_default = names.is_empty();
    let usual = [usual.word().to_owned()];
    for name in if by_default { &usual[..] } else { names } {
        let found = match Role::from_word(&name.trim().to_lowercase()) {
            Some(role) => {
                let all: Vec<Arc<Component>> = table.with_role(role).cloned().collect();
                words.push(format!("all {} of the role {}", all.len(), role.word()));
                Some(all)
            }
            None => faults.collect(find(table, flag, name, 0..name.len())).map(|own| {
                words.push(own.name.clone());
                vec![own]
            }),
        };
        for component in found.into_iter().flatten() {
            if !list.iter().any(|known| known.id == component.id) {
                list.push(component);
            }
        }
    }
    words.dedup();
    CandidateList { flag: flag.trim_start_matches('-').to_owned(), components: list, words, by_default }
}
