//! The book: the records of one laboratory in one folder.
//!
//! The truth is the journal, a chain of entries that are only ever added; every other table is a projection
//! of it that can be dropped and replayed. The room knows no chemistry: it stores and finds what `record`
//! says.

mod archive;
mod batch;
mod batch_life;
mod bottle;
mod cell;
mod change;
mod error;
mod files;
mod history;
mod holder;
mod journal;
mod log;
mod open;
mod projection;
mod reading;
mod recheck;
mod schema;
mod study;
mod trace;
mod verify;
mod write;

pub use batch_life::{batch, batch_codes};
pub use bottle::{bottle, bottles};
pub use cell::{cell, cells};
pub use change::{Doubt, Why};
pub use error::BookError;
pub use history::{author_of, history};
pub use log::logs;
pub use open::Book;
pub use reading::readings;
pub use study::{studies, study};
pub use trace::{days, known_suspects, last_code, made_of, profiles, suspects_named, suspicion, trace};
pub use verify::{Finding, Verification};
pub use write::{Stamp, Writer};
