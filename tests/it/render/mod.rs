//! Documents in every format.

mod chart;
mod csv;
mod envelope;
mod fault;
mod format;
mod gallery;
mod html;
mod markdown;
pub mod sample;
mod terminal;
mod triangle;
