//! The component table that comes with the program.

use std::sync::LazyLock;

use super::read::read_into;
use super::table::ComponentTable;

/// The files, each with its name. A test reads them with the checks of a user's own table.
pub(super) const FILES: [(&str, &str); 5] = [
    ("acceptors.toml", include_str!("../../data/components/acceptors.toml")),
    ("donors.toml", include_str!("../../data/components/donors.toml")),
    ("salts.toml", include_str!("../../data/components/salts.toml")),
    ("solvents-and-additives.toml", include_str!("../../data/components/solvents-and-additives.toml")),
    ("cell-materials.toml", include_str!("../../data/components/cell-materials.toml")),
];

/// Read once, when it is first asked for.
static TABLE: LazyLock<ComponentTable> = LazyLock::new(read);

/// The table; its components are shared.
pub(super) fn table() -> ComponentTable {
    TABLE.clone()
}

/// Reads the files. A fault would leave components out, which the tests of this room rule out.
fn read() -> ComponentTable {
    let mut table = ComponentTable::default();
    for (name, text) in FILES {
        // There is nobody to tell here: the faults of our own files are the business of the tests.
        let _ = read_into(&mut table, name, text);
    }
    table
}
