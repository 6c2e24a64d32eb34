//! Why the book refuses or can't do something.

use std::path::PathBuf;

use rusqlite::ErrorCode;

use crate::record::graph::Suspect;
use crate::record::{Code, DecodeError};

/// A refusal or a failure.
#[derive(Debug, thiserror::Error)]
pub enum BookError {
    /// No book in this folder.
    #[error("there is no book in {0}")]
    NoBook(PathBuf),
    /// The folder is not empty.
    #[error("{0} is not an empty folder")]
    NotEmpty(PathBuf),
    /// A file that is no book's database.
    #[error("{0} is not the database of a book")]
    NotABook(PathBuf),
    /// Written by a newer program.
    #[error("this book has format {found}, and this program knows formats up to {known}")]
    Newer {
        /// Format of the book.
        found: i64,
        /// The newest format that is known.
        known: i64,
    },
    /// An entry that this program can't read.
    #[error("entry {sequence}: {error}")]
    Entry {
        /// Its sequence.
        sequence: u64,
        /// What is wrong with it.
        error: DecodeError,
    },
    /// The chain of entries is broken.
    #[error("the chain of entries is broken at entry {sequence}: {what}")]
    Chain {
        /// Where.
        sequence: u64,
        /// How.
        what: String,
    },
    /// Somebody else writes for too long.
    #[error("the book is being written to{}", .0.as_ref().map(|who| format!(" by {who}")).unwrap_or_default())]
    Busy(Option<String>),
    /// A code that the book does not have.
    #[error("the book has no {0}")]
    UnknownCode(Code),
    /// A code whose entry was struck.
    #[error("{0} was struck from the book")]
    StruckCode(Code),
    /// A code of the wrong kind.
    #[error("{code} is a {is}, not a {wanted}")]
    WrongKind {
        /// The code.
        code: Code,
        /// What it is.
        is: &'static str,
        /// What was wanted.
        wanted: &'static str,
    },
    /// A limit that a record may pass only with a reason.
    #[error("{what}")]
    NeedsReason {
        /// What is against it.
        what: String,
    },
    /// A limit that a corrected record may pass only with a reason of its own.
    #[error("{what}")]
    CorrectedNeedsReason {
        /// What is against it.
        what: String,
    },
    /// What a change of an earlier entry leaves of a code.
    #[error("{code} would hold {missing_g:.4} g less than nothing after entry {entry}")]
    BelowNothing {
        /// The code.
        code: Code,
        /// How much is missing, in grams.
        missing_g: f64,
        /// The entry that takes it there.
        entry: u64,
    },
    /// Something that can't be.
    #[error("{what}")]
    Refused {
        /// What is against it.
        what: String,
        /// The way out.
        hint: String,
    },
    /// No entry of this sequence.
    #[error("the book has no entry {0}")]
    UnknownEntry(u64),
    /// An entry that recorded no reading.
    #[error("entry {0} recorded no reading")]
    UnknownReading(u64),
    /// A suspect that no record has anything to do with.
    #[error("no record has to do with {} {}", .0.kind(), .0.name())]
    NothingTouched(Suspect),
    /// Entries that stand on one that is to be struck.
    #[error("entry {entry} can't be struck: {} on it", stands(.on_it))]
    StandsOn {
        /// The entry.
        entry: u64,
        /// Those that stand on it.
        on_it: Vec<u64>,
    },
    /// What SQLite says.
    #[error("the database says: {0}")]
    Database(#[from] rusqlite::Error),
    /// What the file system says.
    #[error("{path}: {error}")]
    Io {
        /// Which file.
        path: PathBuf,
        /// What it says.
        error: std::io::Error,
    },
    /// A record that can't be written as JSON, or a file that can't be read as such.
    #[error("{0}")]
    Json(#[from] serde_json::Error),
}

fn stands(on_it: &[u64]) -> String {
    let list = on_it.iter().map(u64::to_string).collect::<Vec<_>>().join(", ");
    if on_it.len() == 1 { format!("entry {list} stands") } else { format!("entries {list} stand") }
}

impl BookError {
    /// The stable name.
    pub const fn code(&self) -> &'static str {
        match self {
            Self::NoBook(_) => "no_book",
            Self::NotEmpty(_) => "not_empty",
            Self::NotABook(_) => "not_a_book",
            Self::Newer { .. } => "newer_book",
            Self::Entry { .. } => "unreadable_entry",
            Self::Chain { .. } => "broken_chain",
            Self::Busy(_) => "busy",
            Self::UnknownCode(_) => "unknown_code",
            Self::StruckCode(_) => "struck_code",
            Self::WrongKind { .. } => "wrong_kind",
            Self::NeedsReason { .. } | Self::CorrectedNeedsReason { .. } => "needs_reason",
            Self::BelowNothing { .. } => "below_nothing",
            Self::Refused { .. } => "refused",
            Self::UnknownEntry(_) => "unknown_entry",
            Self::UnknownReading(_) => "unknown_reading_entry",
            Self::NothingTouched(_) => "nothing_touched",
            Self::StandsOn { .. } => "stands_on_it",
            Self::Database(_) => "database",
            Self::Io { .. } => "file_system",
            Self::Json(_) => "bad_json",
        }
    }

    /// The way out.
    pub fn hint(&self) -> String {
        match self {
            Self::NoBook(_) => "Make one with: meltbook init DIR, or name one with --book DIR.".to_owned(),
            Self::NotEmpty(_) => "Name a folder that is empty or not there yet.".to_owned(),
            Self::NotABook(_) => {
                "Check the path; if this was a book, restore it from an archive or a backup.".to_owned()
            }
            Self::Newer { .. } => "Use a newer version of the program; nothing was changed.".to_owned(),
            Self::Entry { .. } | Self::Chain { .. } => "See what is whole with: meltbook verify.".to_owned(),
            Self::Busy(_) => "Wait a moment and try again; nothing was changed.".to_owned(),
            Self::UnknownCode(code) => format!("See the codes with: meltbook {} list.", noun(code)),
            Self::StruckCode(_) => "See why with: meltbook history.".to_owned(),
            Self::WrongKind { wanted: "study", .. } => {
                "The code of a study begins with Q, as in Q1; see them with: meltbook study list.".to_owned()
            }
            Self::WrongKind { .. } => "Check the code on the label.".to_owned(),
            Self::NeedsReason { .. } => {
                "If it must be, say why with --because \"…\"; that is recorded.".to_owned()
            }
            Self::CorrectedNeedsReason { .. } => {
                "If it must be, give the record a reason of its own: --set because=\"…\".".to_owned()
            }
            Self::BelowNothing { entry, .. } => format!(
                "Correct or strike entry {entry} first, or weigh what is left; if it must be, say why with --in-spite \"…\"."
            ),
            Self::Refused { hint, .. } => hint.clone(),
            Self::UnknownEntry(_) => "See the entries with: meltbook history.".to_owned(),
            Self::UnknownReading(_) => {
                "See the entries of readings with: meltbook history --kind reading.".to_owned()
            }
            Self::NothingTouched(_) => "See what there is with: meltbook history.".to_owned(),
            Self::StandsOn { .. } => {
                "Strike those first, the last one first, or correct this one.".to_owned()
            }
            Self::Database(error) => database_hint(error).to_owned(),
            Self::Io { .. } => "Check the disk and the rights of the folder; nothing was changed.".to_owned(),
            Self::Json(_) => "Nothing was changed.".to_owned(),
        }
    }

    /// True if what was asked for is at fault, false if storage is.
    pub const fn is_input(&self) -> bool {
        matches!(
            self,
            Self::NoBook(_)
                | Self::NotEmpty(_)
                | Self::UnknownCode(_)
                | Self::StruckCode(_)
                | Self::WrongKind { .. }
                | Self::NeedsReason { .. }
                | Self::CorrectedNeedsReason { .. }
                | Self::BelowNothing { .. }
                | Self::Refused { .. }
                | Self::UnknownEntry(_)
                | Self::UnknownReading(_)
                | Self::NothingTouched(_)
                | Self::StandsOn { .. }
        )
    }

    pub(super) fn io(path: impl Into<PathBuf>) -> impl FnOnce(std::io::Error) -> Self {
        let path = path.into();
        move |error| Self::Io { path, error }
    }
}

fn database_hint(error: &rusqlite::Error) -> &'static str {
    match error.sqlite_error_code() {
        Some(ErrorCode::DiskFull) => "Make room on the disk and try again; nothing was changed.",
        Some(ErrorCode::SystemIoFailure) => "Check the disk and the room on it; nothing was changed.",
        Some(ErrorCode::ReadOnly | ErrorCode::CannotOpen | ErrorCode::PermissionDenied) => {
            "Check the rights of the book's folder and its files; nothing was changed."
        }
        Some(ErrorCode::DatabaseCorrupt | ErrorCode::NotADatabase) => {
            "See what is whole with: meltbook verify, and restore it from a backup or an archive."
        }
        _ => "See what is whole with: meltbook verify; nothing was changed.",
    }
}

fn noun(code: &Code) -> &'static str {
    use crate::record::CodeKind;
    match code.kind() {
        CodeKind::Bottle => "bottle",
        CodeKind::Electrolyte | CodeKind::StockSolution | CodeKind::CathodeMix => "batch",
        CodeKind::Cell => "cell",
        CodeKind::Study => "study",
    }
}
