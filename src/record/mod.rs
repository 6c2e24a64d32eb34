//! What is recorded, as values: bottles, changes, the entries of a book's history and their hashes. No
//! storage, no clock: who records says when.

mod amend;
pub mod batch;
pub mod bottle;
pub mod cell;
pub mod change;
mod code;
mod entry;
mod event;
mod event_time;
pub mod graph;
mod history;
pub mod life;
pub mod limit;
pub mod reading;
pub mod schedule;

pub use amend::{AmendError, amended, differences};
pub use code::{Code, CodeError, CodeKind};
pub use entry::{Entry, Hash};
pub use event::{DecodeError, Encoded, Event, Flow};
pub use history::{ChangeOf, HistoryLine, LATE_AFTER};
