//! The book: entries, journal, changes, archive, what happens when things go wrong, and its nouns through the
//! program.

mod archive;
mod batch;
mod batch_limits;
mod batch_mix;
mod batch_refused;
mod bench;
mod change;
mod entry;
mod journal;
mod many_writers;
mod open;
mod replay;
mod schedule;
mod shelf;
