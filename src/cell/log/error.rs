//! What keeps a file from being read as a log.

/// Why a file can't be read as it is asked for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LayoutProblem {
    /// What kind of problem it is.
    pub kind: ProblemKind,
    /// What is wrong.
    pub message: String,
    /// The way out.
    pub hint: String,
}

/// Kinds of problems.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ProblemKind {
    /// A column that is not there.
    UnknownColumn,
    /// Several columns could be meant.
    ColumnUnclear,
    /// A column without a unit.
    NoUnit,
    /// A unit of something else.
    WrongUnit,
    /// Neither voltages nor currents.
    NoValues,
    /// No times.
    NoTime,
    /// Times that count from a start that is not known.
    NoStart,
    /// Times of a zone that is not known.
    NoZone,
    /// Rows about a cell that is not named.
    NoCell,
}

impl LayoutProblem {
    /// The stable name.
    pub const fn code(&self) -> &'static str {
        match self.kind {
            ProblemKind::UnknownColumn => "unknown_column",
            ProblemKind::ColumnUnclear => "column_unclear",
            ProblemKind::NoUnit => "no_unit",
            ProblemKind::WrongUnit => "wrong_unit",
            ProblemKind::NoValues => "no_values_column",
            ProblemKind::NoTime => "no_time_column",
            ProblemKind::NoStart => "no_start",
            ProblemKind::NoZone => "no_zone",
            ProblemKind::NoCell => "no_cell",
        }
    }
}

pub(super) fn problem(
    kind: ProblemKind,
    message: impl Into<String>,
    hint: impl Into<String>,
) -> LayoutProblem {
    LayoutProblem { kind, message: message.into(), hint: hint.into() }
}
