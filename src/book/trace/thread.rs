//! Following the flows up and down. Codes go to SQLite as one JSON list, so that there is one statement however
//! many there are.

use std::collections::{BTreeMap, BTreeSet};

use rusqlite::Connection;

use crate::book::error::BookError;
use crate::record::graph::{DatedEdge, Edge};

/// The flows upstream of codes. UNION keeps each code once, so that a way back to the start ends there; CROSS
/// JOIN keeps the order, from the codes reached to what is before them.
const UPSTREAM: &str = "
WITH RECURSIVE up (code) AS (
    SELECT value FROM json_each(?1)
    UNION
    SELECT flow.from_code FROM up CROSS JOIN flow ON flow.to_code = up.code
)
SELECT flow.rowid, flow.sequence, flow.from_code, flow.to_code, flow.grams
FROM up CROSS JOIN flow ON flow.to_code = up.code";

/// The flows downstream of codes.
const DOWNSTREAM: &str = "
WITH RECURSIVE down (code) AS (
    SELECT value FROM json_each(?1)
    UNION
    SELECT flow.to_code FROM down CROSS JOIN flow ON flow.from_code = down.code
)
SELECT flow.rowid, flow.sequence, flow.from_code, flow.to_code, flow.grams
FROM down CROSS JOIN flow ON flow.from_code = down.code";

/// Flows by their row, which is the order in which they were recorded.
#[derive(Default)]
pub(super) struct Flows(BTreeMap<i64, DatedEdge>);

/// All flows that lead to these codes, by however many steps.
pub(super) fn upstream(connection: &Connection, codes: &[String]) -> Result<Flows, BookError> {
    read(connection, UPSTREAM, codes)
}

/// All flows that lead away from these codes, by however many steps.
pub(super) fn downstream(connection: &Connection, codes: &[String]) -> Result<Flows, BookError> {
    read(connection, DOWNSTREAM, codes)
}

fn read(connection: &Connection, sql: &str, codes: &[String]) -> Result<Flows, BookError> {
    let mut select = connection.prepare_cached(sql)?;
    let mut rows = select.query([serde_json::to_string(codes)?])?;
    let mut flows = Flows::default();
    while let Some(row) = rows.next()? {
        let edge = Edge { from: row.get(2)?, to: row.get(3)?, grams: row.get(4)? };
        flows.0.insert(row.get(0)?, DatedEdge { entry: row.get(1)?, edge });
    }
    Ok(flows)
}

impl Flows {
    /// Adds others; one that is in both stands there once.
    pub(super) fn extend(&mut self, other: Self) {
        self.0.extend(other.0);
    }

    /// The codes at both ends of every flow, and these.
    pub(super) fn ends(&self, more: &[String]) -> Vec<String> {
        let ends = self.0.values().flat_map(|dated| [&dated.edge.from, &dated.edge.to]);
        let codes: BTreeSet<&String> = ends.chain(more).collect();
        codes.into_iter().cloned().collect()
    }

    /// In order of their rows.
    pub(super) fn into_edges(self) -> Vec<DatedEdge> {
        self.0.into_values().collect()
    }
}
