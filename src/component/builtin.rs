//! The component table that comes with the program.

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

/// Reads the files. A fault would leave components out, which the tests of this room rule out.
pub(super) fn table() -> ComponentTable {
    let mut table = ComponentTable::default();
    for (name, text) in FILES {
        // There is nobody to tell here: the faults of our own files are the business of the tests.
        let _ = read_into(&mut table, name, text);
    }
    table
}
