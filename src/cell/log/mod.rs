//! Logs of instruments: what their head says, how they are read, their rows one by one, and what is in them.
//! Everything streams; no more than a line is held at a time.

mod column;
mod error;
mod fields;
mod head;
mod layout;
mod moment;
mod row;
mod since;
mod summary;
mod unit;

pub use column::ColumnWish;
pub use error::{LayoutProblem, ProblemKind};
pub use head::{HeadError, LogHead};
pub use layout::{CellWish, LogWish, layout};
pub use moment::zone;
pub use row::{BadRow, LogRow, LogRows, Next};
pub use summary::LogSummary;
