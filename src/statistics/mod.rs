//! Statistics on plain numbers: they know nothing of cells or batches.

mod line;

pub use line::{Line, line};
