//! What is shown: a [`Document`](document::Document) says what is meant, the formats say how it looks.
//!
//! ```
//! use meltbook::report::document::{Caution, Document, Table, WriteIn, big, column, facts, write_ins};
//! use meltbook::report::html::{self, PageSize};
//! use meltbook::report::terminal::{self, Style};
//!
//! let weighing = Table::new([
//!     column("Component"),
//!     column("Weigh").unit("g").key("weigh_g").decimal(),
//!     column("Weighed").unit("g").write_in(30),
//! ])
//! .row(["choline chloride".into(), big("32.480")])
//! .row(["glycerol".into(), big("42.85")]);
//!
//! let document = Document::new("Weighing sheet")
//!     .with(facts([("Recipe", "ChCl:glycerol 1:2"), ("Batch size", "75.3 g")]))
//!     .with(Caution::warn("Eye irritation").detail("Read the supplier's safety data sheet first."))
//!     .with(weighing)
//!     .with(write_ins([WriteIn::new("Lot code").width(2), WriteIn::new("Date"), WriteIn::new("Initials")]));
//!
//! let screen = terminal::render(&document, 80, Style::Plain);
//! assert!(screen.contains("choline chloride  32.480  ____________"));
//! let page = html::page(&document, PageSize::A4);
//! assert!(page.starts_with("<!DOCTYPE html>"));
//! ```

pub mod answer;
mod chart;
pub mod csv;
pub mod document;
mod drawing;
pub mod envelope;
pub mod fault;
mod format;
pub mod html;
pub mod label;
mod lettering;
pub mod markdown;
mod point;
pub mod standing;
mod strip_plot;
pub mod terminal;
pub mod triangle;
pub mod view;

pub use format::{Format, UnknownFormat};
