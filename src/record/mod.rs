//! What is recorded, as values: bottles, changes, the entries of a book's history and their hashes. No
//! storage, no clock: who records says when.

mod amend;
pub mod batch;
pub mod bottle;
mod build_order;
pub mod cell;
pub mod change;
mod code;
mod design;
mod due;
mod entry;
mod event;
mod event_time;
pub mod graph;
mod hashing_read;
mod history;
pub mod life;
pub mod limit;
pub mod log;
pub mod reading;
pub mod schedule;
pub mod study;
mod touch;
mod worked_design;

pub use amend::{AmendError, amended, differences};
pub use build_order::{Place as BuildPlace, Share as BuildShare, build_order, spread_order};
pub use code::{Code, CodeError, CodeKind};
pub use design::{CellDesign, Electrode, Separator, read_design};
pub use due::{Due, due_looks, due_readings};
pub use entry::{Entry, Hash};
pub use event::{DecodeError, Encoded, Event, Flow};
pub use hashing_read::HashingRead;
pub use history::{ChangeOf, HistoryLine, LATE_AFTER};
pub use touch::{READ, Touch};
pub use worked_design::WORKED_DESIGNS;
