//! Who is writing, for the one who has to wait.

use std::path::{Path, PathBuf};

use super::error::BookError;
use super::write::Stamp;

/// A note that is there while somebody writes. It locks nothing: SQLite does.
const NOTE: &str = "being-written";

/// Removes the note when the writing is over.
pub(super) struct Held(PathBuf);

impl Drop for Held {
    fn drop(&mut self) {
        // A note that stays behind only names somebody who wrote last.
        let _ = std::fs::remove_file(&self.0);
    }
}

/// Leaves the note. A folder that takes no note is no reason not to write.
pub(super) fn hold(folder: &Path, stamp: &Stamp) -> Held {
    let path = folder.join(NOTE);
    let _ = std::fs::write(&path, format!("{} since {}", stamp.author, stamp.time));
    Held(path)
}

/// A lock that was not to be had, with who has it.
pub(super) fn explain(error: rusqlite::Error, folder: &Path) -> BookError {
    match error.sqlite_error_code() {
        Some(rusqlite::ErrorCode::DatabaseBusy | rusqlite::ErrorCode::DatabaseLocked) => {
            BookError::Busy(std::fs::read_to_string(folder.join(NOTE)).ok())
        }
        _ => BookError::Database(error),
    }
}
