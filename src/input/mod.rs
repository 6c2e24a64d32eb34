//! What people typed, before it means anything: faults that know their place, nearest names,
//! TOML tables that report every fault at once, and the `NAME key=value` grammar of flags.

mod bench_table;
mod column_file;
mod fault;
mod flag;
mod nearest;
mod number_table;
mod toml_file;
mod warning;

pub use bench_table::{BenchCell, BenchRow, BenchTable};
pub use column_file::{ColumnFile, ColumnHead, ColumnRow};
pub use fault::{Excerpt, Fault, Faults, Place};
pub use flag::{FlagValue, KeyValue};
pub use nearest::{did_you_mean, nearest};
pub use number_table::{NamedColumn, NumberTable, name_and_unit};
pub use toml_file::{Field, TableReader, TomlFile};
pub use warning::Warning;
