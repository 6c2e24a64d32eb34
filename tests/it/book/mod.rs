//! The book, through the program and through the library: what is recorded, changed and computed again.

mod build_order;
mod cell;
mod design;
mod due;
mod journal;
pub mod lab;
mod reading;
