//! The book: entries, journal, changes, archive, what happens when things go wrong, and its nouns through the
//! program.

mod archive;
mod batch;
mod batch_limits;
mod batch_mix;
mod batch_refused;
pub mod bench;
mod build_order;
mod cell;
mod change;
mod design;
mod due;
mod entry;
mod journal;
mod journal_commands;
pub mod lab;
mod liquidus;
mod log;
mod log_rows;
mod many_writers;
mod metric;
mod metric_discharge;
mod metric_lots;
mod mixture;
mod mixture_bottles;
mod mixture_results;
mod model;
mod open;
mod reading;
mod replay;
mod schedule;
mod shelf;
mod slips;
mod storage;
mod study;
mod study_compare;
mod study_departures;
