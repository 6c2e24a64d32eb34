//! Meltbook plans deep eutectic electrolytes.
//!
//! Read the modules in this order; each imports only from those before it.
//!
//! 1. [`quantity`]: one type per quantity, its text, its uncertainty.
//! 2. [`input`]: what a person typed: faults with their place, nearest names, TOML and flag values.
//! 3. [`chemistry`]: atomic weights, formulas, molar masses.
//! 4. [`component`]: the component table; `Quality`; `Proportions` (as asked); `Composition` (as made).
//! 5. [`recipe`]: recipe files and the shorthand.
//! 6. [`plan`]: ratio to grams and back.
//! 7. [`caution`]: statements and alerts for components in a context.
//! 8. [`record`]: what is recorded, as values; the trace graph.
//! 9. [`report`]: documents and the formats that they are written in.
//! 10. [`cli`]: the commands; only `main` imports it.

pub mod quantity;

pub mod input;

pub mod chemistry;

pub mod component;

pub mod recipe;

pub mod plan;

pub mod caution;

pub mod record;

pub mod report;

pub mod cli;
