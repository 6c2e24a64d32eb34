//! The thread through the book: what is upstream and downstream of a code, read by following the table of
//! flows from row to row.

mod names;
mod nodes;
mod profile;
mod readings;
mod suspicion;
mod thread;

use jiff::ZonedDateTime;

pub use names::{days, known_suspects, last_code, suspects_named};
pub use profile::profiles;
pub use suspicion::suspicion;

use self::nodes::nodes;
use self::thread::{Flows, downstream, upstream};
use super::error::BookError;
use super::open::Book;
use super::projection::require;
use crate::record::graph::{DatedEdge, GraphError, Node, NodeCode, TraceGraph};
use crate::record::{Code, CodeKind};

/// All that a code was made of and all that it was used in, seen from it. `now` says what is past its date, and
/// in which zone the days of readings are counted.
///
/// # Errors
/// If the book has no such code, or can't be read.
pub fn trace(book: &Book, code: &NodeCode, now: &ZonedDateTime) -> Result<TraceGraph, BookError> {
    match code {
        NodeCode::Made(code) => of_code(book, code, now),
        NodeCode::Reading(entry) => of_reading(book, *entry, now),
    }
}

fn of_code(book: &Book, code: &Code, now: &ZonedDateTime) -> Result<TraceGraph, BookError> {
    let connection = book.connection();
    refuse_study(code)?;
    match require(connection, code) {
        Err(BookError::StruckCode(_)) => return graph(code, vec![nodes::struck(code)], Vec::new()),
        other => other?,
    }
    let start = [code.to_string()];
    let mut flows = upstream(connection, &start)?;
    let down = downstream(connection, &start)?;
    let below = down.ends(&start);
    flows.extend(down);
    let mut nodes = nodes(connection, &flows.ends(&start), now)?;
    let mut edges = flows.into_edges();
    readings::of_cells(connection, &below, now)?.add_to(&mut nodes, &mut edges);
    graph(code, nodes, edges)
}

fn of_reading(book: &Book, entry: u64, now: &ZonedDateTime) -> Result<TraceGraph, BookError> {
    let connection = book.connection();
    let read = readings::of_entries(connection, &[entry], now)?;
    let cell = read.cells().next().ok_or(BookError::UnknownReading(entry))?.to_owned();
    let flows = upstream(connection, std::slice::from_ref(&cell))?;
    let mut nodes = nodes(connection, &flows.ends(&[cell]), now)?;
    let mut edges = flows.into_edges();
    read.add_to(&mut nodes, &mut edges);
    graph(NodeCode::Reading(entry), nodes, edges)
}

/// All that these codes were made of, seen from the first of them.
///
/// # Errors
/// If the book has not all of them, or can't be read.
pub fn made_of(book: &Book, codes: &[Code], now: &ZonedDateTime) -> Result<TraceGraph, BookError> {
    let connection = book.connection();
    codes.iter().try_for_each(|code| refuse_study(code).and_then(|()| require(connection, code)))?;
    let start: Vec<String> = codes.iter().map(ToString::to_string).collect();
    let flows: Flows = upstream(connection, &start)?;
    let nodes = nodes(connection, &flows.ends(&start), now)?;
    graph(start.first().cloned().unwrap_or_default(), nodes, flows.into_edges())
}

/// Nothing was used in a study.
fn refuse_study(code: &Code) -> Result<(), BookError> {
    if code.kind() != CodeKind::Study {
        return Ok(());
    }
    let hint = format!("Trace its cells; see them with: meltbook study show {code}.");
    Err(BookError::Refused { what: format!("{code} is a study, and nothing was used in it"), hint })
}

fn graph(code: impl ToString, nodes: Vec<Node>, edges: Vec<DatedEdge>) -> Result<TraceGraph, BookError> {
    TraceGraph::dated(code.to_string(), nodes, edges).map_err(unreadable)
}

/// What no book that is whole comes to.
fn unreadable(error: GraphError) -> BookError {
    BookError::Refused {
        what: error.to_string(),
        hint: "See what is whole with: meltbook verify.".to_owned(),
    }
}
