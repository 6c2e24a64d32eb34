//! Meltbook plans deep eutectic electrolytes.
//!
//! Read the modules in this order; each imports only from those before it.
//!
//! 1. [`quantity`]: one type per quantity, its text, its uncertainty; [`statistics`] on plain numbers.
//! 2. [`input`]: what a person typed: faults with their place, nearest names, TOML and flag values.
//! 3. [`chemistry`]: atomic weights, formulas, molar masses.
//! 4. [`component`]: the component table; `Quality`; `Proportions` (as asked); `Composition` (as made).
//! 5. [`recipe`]: recipe files and the shorthand.
//! 6. [`plan`]: ratio to grams and back.
//! 7. [`caution`]: statements and alerts for components in a context.
//! 8. [`record`]: what happens in a laboratory, as values; entries and their hashes.
//! 9. [`cell`]: what cells can give and what their readings and logs come to.
//! 10. [`book`]: the records of one laboratory in one folder; it knows no chemistry.
//! 11. [`report`]: documents and the formats that they are written in; it can't reach the book.
//! 12. [`cli`]: the commands; only `main` imports it.

pub mod quantity;

pub mod statistics;

pub mod input;

pub mod chemistry;

pub mod component;

pub mod recipe;

pub mod plan;

pub mod caution;

pub mod record;

pub mod cell;

pub mod book;

pub mod report;

pub mod cli;
