//! What stands at the knots of the thread, and what goes from one to the next.

use std::fmt;

/// Something with a code.
#[derive(Debug, Clone, PartialEq)]
pub struct Node {
    /// Its code, such as `E7`.
    pub code: String,
    /// What it is.
    pub kind: NodeKind,
    /// What it is in a few words: a component's name, a recipe's.
    pub label: String,
    /// What became of it, as far as that matters to who traces.
    pub marks: Vec<Mark>,
    /// What is left of it in grams; `None` where nobody knows or the question has no sense.
    pub left_grams: Option<f64>,
}

/// What a code stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum NodeKind {
    /// One package of a component, or a dried portion of one.
    Bottle,
    /// An electrolyte.
    Electrolyte,
    /// A stock solution.
    StockSolution,
    /// A cathode mix.
    CathodeMix,
    /// A cell.
    Cell,
    /// One dated measurement.
    Reading,
}

/// What became of something.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Mark {
    /// Nothing is left of it.
    Spent,
    /// It was disposed of.
    Disposed,
    /// It is past its date.
    PastExpiry,
    /// It does not meet its recipe's limits.
    Rejected,
    /// A cell that is no longer read.
    Retired,
    /// Its record was withdrawn.
    Struck,
}

/// An amount that went from one thing into another.
#[derive(Debug, Clone, PartialEq)]
pub struct Edge {
    /// The code of what was used.
    pub from: String,
    /// The code of what used it.
    pub to: String,
    /// How much, in grams; `None` where nobody weighed it.
    pub grams: Option<f64>,
}

impl Node {
    /// A node with nothing to remark.
    pub fn new(code: impl Into<String>, kind: NodeKind, label: impl Into<String>) -> Self {
        Self { code: code.into(), kind, label: label.into(), marks: Vec::new(), left_grams: None }
    }

    /// The same with one more mark. Marks are kept in order, each once.
    pub fn mark(mut self, mark: Mark) -> Self {
        if let Err(place) = self.marks.binary_search(&mark) {
            self.marks.insert(place, mark);
        }
        self
    }

    /// The same with what is left of it, in grams.
    pub fn left(mut self, grams: f64) -> Self {
        self.left_grams = Some(grams);
        self
    }

    /// True if it can still be found on the shelf, as far as the records know: no mark says that it is
    /// gone or withdrawn.
    pub fn is_still_there(&self) -> bool {
        let gone = |mark: &Mark| matches!(mark, Mark::Spent | Mark::Disposed | Mark::Retired | Mark::Struck);
        self.kind != NodeKind::Reading && !self.marks.iter().any(gone)
    }
}

impl NodeKind {
    /// All kinds, in the order in which one is made of the other.
    pub const ALL: [Self; 6] =
        [Self::Bottle, Self::StockSolution, Self::Electrolyte, Self::CathodeMix, Self::Cell, Self::Reading];

    /// Its words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Bottle => "bottle",
            Self::Electrolyte => "electrolyte",
            Self::StockSolution => "stock solution",
            Self::CathodeMix => "cathode mix",
            Self::Cell => "cell",
            Self::Reading => "reading",
        }
    }

    /// Its words for several.
    pub const fn plural(self) -> &'static str {
        match self {
            Self::Bottle => "bottles",
            Self::Electrolyte => "electrolytes",
            Self::StockSolution => "stock solutions",
            Self::CathodeMix => "cathode mixes",
            Self::Cell => "cells",
            Self::Reading => "readings",
        }
    }

    /// Its name for scripts.
    pub const fn key(self) -> &'static str {
        match self {
            Self::StockSolution => "stock_solution",
            Self::CathodeMix => "cathode_mix",
            other => other.words(),
        }
    }
}

impl Mark {
    /// Its words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Spent => "spent",
            Self::Disposed => "disposed of",
            Self::PastExpiry => "past expiry",
            Self::Rejected => "rejected",
            Self::Retired => "retired",
            Self::Struck => "struck",
        }
    }
}

impl fmt::Display for NodeKind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.words())
    }
}

impl fmt::Display for Mark {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.words())
    }
}

impl Edge {
    /// An amount in grams that went from one code into another.
    pub fn new(from: impl Into<String>, to: impl Into<String>, grams: Option<f64>) -> Self {
        Self { from: from.into(), to: to.into(), grams }
    }
}
