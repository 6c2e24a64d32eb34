//! Statistics on plain numbers: they know nothing of cells or batches.

pub mod line;
