//! Meltbook plans deep eutectic electrolytes.
//!
//! Read the modules in this order; each imports only from those before it.
//!
//! 1. [`quantity`]: one type per quantity, its text, its uncertainty.
//! 2. [`statistics`]: samples, intervals, tests, distributions, sample sizes, curve fits, on plain numbers.
//! 3. [`input`]: what a person typed: faults with their place, nearest names, TOML and flag values.
//! 4. [`chemistry`]: atomic weights, formulas, molar masses.
//! 5. [`component`]: the component table; `Quality`; `Proportions` (as asked); `Composition` (as made).
//! 6. [`recipe`]: recipe files and the shorthand.
//! 7. [`plan`]: ratio to grams and back.
//! 8. [`caution`]: statements, alerts and mixture classes for components in a context.
//! 9. [`compose`]: what to try next: predicted liquidus, mixture designs and what their results say.
//! 10. [`record`]: what happens in a laboratory, as values; entries and their hashes.
//! 11. [`cell`]: what cells can give and what their readings and logs come to.
//! 12. [`book`]: the records of one laboratory in one folder; it knows no chemistry.
//! 13. [`report`]: documents and the formats that they are written in; it can't reach the book.
//! 14. [`cli`]: the commands; only `main` imports it.

pub mod quantity;

pub mod statistics;

pub mod input;

pub mod chemistry;

pub mod component;

pub mod recipe;

pub mod plan;

pub mod caution;

pub mod compose;

pub mod record;

pub mod cell;

pub mod book;

pub mod report;

pub mod cli;
