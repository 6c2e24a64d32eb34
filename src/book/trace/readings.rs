//! Readings as ends of the thread. They have no code of their own and are named by their entries.

use jiff::{Timestamp, ZonedDateTime};
use rusqlite::Connection;

use crate::book::cell::time;
use crate::book::error::BookError;
use crate::record::graph::{DatedEdge, Edge, Node, NodeCode, NodeKind};
use crate::record::reading::ReadingKind;

const OF_CELLS: &str = "
SELECT reading.sequence, reading.cell, reading.what, reading.number, reading.at
FROM json_each(?1) AS wanted CROSS JOIN reading ON reading.cell = wanted.value";

const OF_ENTRIES: &str = "
SELECT reading.sequence, reading.cell, reading.what, reading.number, reading.at
FROM json_each(?1) AS wanted CROSS JOIN reading ON reading.sequence = wanted.value";

/// Readings with the flows that lead to them from their cells.
pub(super) struct Readings(Vec<(Node, DatedEdge)>);

/// All readings of the cells among these codes.
pub(super) fn of_cells(
    connection: &Connection,
    codes: &[String],
    now: &ZonedDateTime,
) -> Result<Readings, BookError> {
    read(connection, OF_CELLS, &serde_json::to_string(codes)?, now)
}

/// The readings that these entries recorded.
pub(super) fn of_entries(
    connection: &Connection,
    entries: &[u64],
    now: &ZonedDateTime,
) -> Result<Readings, BookError> {
    read(connection, OF_ENTRIES, &serde_json::to_string(entries)?, now)
}

fn read(
    connection: &Connection,
    sql: &str,
    wanted: &str,
    now: &ZonedDateTime,
) -> Result<Readings, BookError> {
    let mut select = connection.prepare_cached(sql)?;
    let mut rows = select.query([wanted])?;
    let mut readings = Vec::new();
    while let Some(row) = rows.next()? {
        let (entry, cell): (u64, String) = (row.get(0)?, row.get(1)?);
        let code = NodeCode::Reading(entry).to_string();
        let at: String = row.get(4)?;
        let label = label(&row.get::<_, String>(2)?, row.get(3)?, time(&at)?, now);
        let edge = DatedEdge { entry, edge: Edge::new(cell, code.clone(), None) };
        readings.push((Node::new(code, NodeKind::Reading, label), edge));
    }
    readings.sort_unstable_by_key(|(_, dated)| dated.entry);
    Ok(Readings(readings))
}

/// "open-circuit 1.482 V, 2026-11-03".
fn label(what: &str, number: f64, at: Timestamp, now: &ZonedDateTime) -> String {
    let unit = ReadingKind::from_word(what).map(ReadingKind::unit).unwrap_or_default();
    format!("{what} {number} {unit}, {}", at.to_zoned_datetime(now.time_zone().clone()).date())
}

impl Readings {
    /// The cells that were read.
    pub(super) fn cells(&self) -> impl Iterator<Item = &str> {
        self.0.iter().map(|(_, dated)| dated.edge.from.as_str())
    }

    /// True if one of them is of this entry.
    pub(super) fn has(&self, entry: u64) -> bool {
        self.0.binary_search_by_key(&entry, |(_, dated)| dated.entry).is_ok()
    }

    /// Puts them to the end of a graph's nodes and flows.
    pub(super) fn add_to(self, nodes: &mut Vec<Node>, edges: &mut Vec<DatedEdge>) {
        for (node, edge) in self.0 {
            nodes.push(node);
            edges.push(edge);
        }
    }
}
