//! The book: entries, journal, changes, archive, and what happens when things go wrong.

mod archive;
mod change;
mod entry;
mod journal;
mod many_writers;
mod open;
mod replay;
mod shelf;
