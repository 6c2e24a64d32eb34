//! What something suspect touched: a bottle, a supplier's lot, a day, whoever or whatever was at work.

use std::collections::HashSet;
use std::fmt;
use std::str::FromStr;

use jiff::civil::Date;

use super::versions::vial;
use super::{GraphError, Node, TraceGraph};
use crate::record::{Code, CodeError};

/// The code of a node: that of a vial, bottle or sleeve, or a reading by its entry, as `R57`.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum NodeCode {
    /// A bottle, batch or cell.
    Made(Code),
    /// The reading of an entry.
    Reading(u64),
}

/// What is suspected.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Suspect {
    /// A bottle, batch, cell or reading.
    Code(NodeCode),
    /// All bottles of a supplier's lot.
    Lot(String),
    /// An instrument.
    Instrument(String),
    /// A balance.
    Balance(String),
    /// A day.
    Day(Date),
    /// Whoever wrote an entry, or built cells.
    Author(String),
}

/// One thing that the suspect had to do with straight.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Handled {
    /// Its code.
    pub code: String,
    /// What was done to it, in words; empty if it is the suspect itself.
    pub what: String,
    /// True if what was made of it is touched too.
    pub spreads: bool,
}

/// A suspect with all that it touched.
#[derive(Debug, Clone, PartialEq)]
pub struct Suspicion {
    /// Who or what.
    pub suspect: Suspect,
    /// What it had to do with straight, in order of the entries; a code stands there once for each thing that
    /// was done to it.
    pub handled: Vec<Handled>,
    /// A graph that holds all of it with everything downstream.
    pub graph: TraceGraph,
}

impl Suspicion {
    /// All that it touched, by however many steps, each behind what it was made of.
    ///
    /// # Errors
    /// If what was handled is not in the graph.
    pub fn touched(&self) -> Result<Vec<&Node>, GraphError> {
        let spreading: HashSet<&str> = self
            .handled
            .iter()
            .filter(|handled| handled.spreads)
            .map(|handled| handled.code.as_str())
            .collect();
        // What something was before some of it was poured back is touched as well.
        let starts = self.graph.nodes().iter().map(|node| node.code.as_str());
        let starts = starts.filter(|code| spreading.contains(vial(code)));
        let mut places = Vec::new();
        for code in self.graph.downstream(starts)? {
            places.push(self.graph.position(code)?);
        }
        for handled in &self.handled {
            places.push(self.graph.position(&handled.code)?);
        }
        places.sort_unstable();
        places.dedup();
        Ok(places.into_iter().map(|place| &self.graph.nodes()[place]).collect())
    }
}

impl Suspect {
    /// What kind of suspect it is, for scripts and for people.
    pub const fn kind(&self) -> &'static str {
        match self {
            Self::Code(_) => "code",
            Self::Lot(_) => "lot",
            Self::Instrument(_) => "instrument",
            Self::Balance(_) => "balance",
            Self::Day(_) => "day",
            Self::Author(_) => "author",
        }
    }

    /// Its name without the kind.
    pub fn name(&self) -> String {
        match self {
            Self::Code(code) => code.to_string(),
            Self::Lot(name) | Self::Instrument(name) | Self::Balance(name) | Self::Author(name) => {
                name.clone()
            }
            Self::Day(day) => day.to_string(),
        }
    }
}

/// `instrument:DMM-1`: unmistakable, and read again by the command line.
impl fmt::Display for Suspect {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:{}", self.kind(), self.name())
    }
}

impl fmt::Display for NodeCode {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Made(code) => code.fmt(f),
            Self::Reading(entry) => f.pad(&format!("R{entry}")),
        }
    }
}

impl FromStr for NodeCode {
    type Err = CodeError;

    /// The letter in either case.
    fn from_str(text: &str) -> Result<Self, CodeError> {
        let trimmed = text.trim();
        match trimmed.strip_prefix(['R', 'r']) {
            Some(digits) => {
                let plain = digits.bytes().all(|byte| byte.is_ascii_digit()) && !digits.starts_with('0');
                let entry = digits.parse().ok().filter(|_| plain);
                entry.map(Self::Reading).ok_or_else(|| CodeError { given: text.to_owned() })
            }
            None => trimmed.parse().map(Self::Made),
        }
    }
}
