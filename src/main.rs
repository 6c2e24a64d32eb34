//! The `meltbook` program.

fn main() {}
