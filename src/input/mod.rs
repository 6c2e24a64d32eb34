//! What people typed, before it means anything: faults that know their place, nearest names,
//! TOML tables that report every fault at once, and the `NAME key=value` grammar of flags.

mod bench_table;
mod column_file;
mod column_head;
mod fault;
mod flag;
mod look_alike;
mod nearest;
mod toml_file;
mod warning;

pub use bench_table::{BenchCell, BenchRow, BenchTable};
pub use column_file::{ColumnFile, ColumnRow};
pub use column_head::{ColumnHead, name_and_unit};
pub use fault::{Excerpt, Fault, Faults, Place};
pub use flag::{FlagValue, KeyValue};
pub use look_alike::{as_read, look_alikes};
pub use nearest::{did_you_mean, nearest};
pub use toml_file::{Field, TableReader, TomlFile};
pub use warning::Warning;
