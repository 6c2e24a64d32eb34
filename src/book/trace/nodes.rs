//! What stands at the codes of the thread, by kind: one statement for each, whatever the number of codes.

use std::collections::HashMap;

use jiff::ZonedDateTime;
use rusqlite::{Connection, Row};

use crate::book::cell::unreadable;
use crate::book::error::BookError;
use crate::record::graph::{Mark, Node, NodeKind};
use crate::record::life::BatchStatus;
use crate::record::{Code, CodeKind};

/// Less than this is the dust of a sum, in grams.
const DUST_G: f64 = 1e-9;

const BOTTLES: &str = "
SELECT bottle.code, bottle.name, bottle.supplier_lot, bottle.dried_from, bottle.expires, bottle.disposed,
       (SELECT coalesce(sum(grams), 0.0) FROM movement WHERE movement.code = bottle.code) AS left_g
FROM json_each(?1) AS wanted CROSS JOIN bottle ON bottle.code = wanted.value";

const BATCHES: &str = "
SELECT batch.code, batch.name, batch.status,
       (SELECT coalesce(sum(grams), 0.0) FROM movement WHERE movement.code = batch.code) AS left_g
FROM json_each(?1) AS wanted CROSS JOIN batch ON batch.code = wanted.value";

const CELLS: &str = "
SELECT cell.code, cell.sequence, cell.retired
FROM json_each(?1) AS wanted CROSS JOIN cell ON cell.code = wanted.value";

const SET: &str =
    "SELECT json_extract(design, '$.name') AS name, deviations FROM cell_set WHERE sequence = ?1";

/// The nodes of these codes, bottles first, each kind in order of its numbers.
pub(super) fn nodes(
    connection: &Connection,
    codes: &[String],
    now: &ZonedDateTime,
) -> Result<Vec<Node>, BookError> {
    let mut known = Vec::with_capacity(codes.len());
    for code in codes {
        known.push(code.parse::<Code>().map_err(|_| unreadable("code", code))?);
    }
    known.sort_unstable();
    let of_kind = |is: fn(CodeKind) -> bool| -> Result<String, BookError> {
        let codes: Vec<&Code> = known.iter().filter(|code| is(code.kind())).collect();
        Ok(serde_json::to_string(&codes)?)
    };
    let today = now.date().to_string();
    let mut nodes =
        read(connection, BOTTLES, &of_kind(|kind| kind == CodeKind::Bottle)?, |row| bottle(row, &today))?;
    nodes.extend(read(connection, BATCHES, &of_kind(CodeKind::is_batch)?, batch)?);
    let mut sets = Sets { connection, labels: HashMap::new() };
    nodes.extend(read(connection, CELLS, &of_kind(|kind| kind == CodeKind::Cell)?, |row| sets.cell(row))?);
    Ok(nodes)
}

/// The node of a code whose entry was struck: nothing of it stands any more.
pub(super) fn struck(code: &Code) -> Node {
    Node::new(code.to_string(), kind(code.kind()), "").mark(Mark::Struck)
}

fn read(
    connection: &Connection,
    sql: &str,
    codes: &str,
    mut node: impl FnMut(&Row<'_>) -> Result<Node, BookError>,
) -> Result<Vec<Node>, BookError> {
    let mut select = connection.prepare_cached(sql)?;
    let mut rows = select.query([codes])?;
    let mut nodes = Vec::new();
    while let Some(row) = rows.next()? {
        nodes.push(node(row)?);
    }
    Ok(nodes)
}

fn bottle(row: &Row<'_>, today: &str) -> Result<Node, BookError> {
    let code: String = row.get("code")?;
    let mut label: String = row.get("name")?;
    let lot: Option<String> = row.get("supplier_lot")?;
    label.extend(lot.map(|lot| format!(", lot {lot}")));
    let dried_from: Option<String> = row.get("dried_from")?;
    label.extend(dried_from.map(|from| format!(", dried portion of {from}")));
    let (expires, disposed): (Option<String>, Option<String>) = (row.get("expires")?, row.get("disposed")?);
    let mut node = with_left(Node::new(code, NodeKind::Bottle, label), row.get("left_g")?);
    if disposed.is_some() {
        node = node.mark(Mark::Disposed);
    }
    // Days in ISO 8601 sort like text.
    if expires.is_some_and(|expires| expires.as_str() < today) {
        node = node.mark(Mark::PastExpiry);
    }
    Ok(node)
}

fn batch(row: &Row<'_>) -> Result<Node, BookError> {
    let (code, name, status): (String, String, String) =
        (row.get("code")?, row.get("name")?, row.get("status")?);
    let parsed: Code = code.parse().map_err(|_| unreadable("code", &code))?;
    let node = with_left(Node::new(code, kind(parsed.kind()), name), row.get("left_g")?);
    let rejected = BatchStatus::from_word(&status) == Some(BatchStatus::Rejected);
    Ok(if rejected { node.mark(Mark::Rejected) } else { node })
}

/// What is left, without the dust of sums; a batch from which more was taken than it held has nothing left.
fn with_left(node: Node, left_g: f64) -> Node {
    if left_g <= DUST_G { node.left(0.0).mark(Mark::Spent) } else { node.left(left_g) }
}

/// Labels of sets of cells, each read once.
struct Sets<'c> {
    connection: &'c Connection,
    labels: HashMap<u64, String>,
}

impl Sets<'_> {
    fn cell(&mut self, row: &Row<'_>) -> Result<Node, BookError> {
        let node =
            Node::new(row.get::<_, String>("code")?, NodeKind::Cell, self.label(row.get("sequence")?)?);
        let retired: Option<String> = row.get("retired")?;
        Ok(if retired.is_some() { node.mark(Mark::Retired) } else { node })
    }

    fn label(&mut self, sequence: u64) -> Result<String, BookError> {
        if let Some(label) = self.labels.get(&sequence) {
            return Ok(label.clone());
        }
        let mut select = self.connection.prepare_cached(SET)?;
        let (design, deviations): (String, String) =
            select.query_row([sequence], |row| Ok((row.get("name")?, row.get("deviations")?)))?;
        let deviations: Vec<String> = serde_json::from_str(&deviations)?;
        let label = match deviations.is_empty() {
            true => design,
            false => format!("{design}, but {}", deviations.join(", ")),
        };
        self.labels.insert(sequence, label.clone());
        Ok(label)
    }
}

/// The kind of a node with a code of this kind.
pub(super) const fn kind(kind: CodeKind) -> NodeKind {
    match kind {
        CodeKind::Bottle => NodeKind::Bottle,
        CodeKind::Electrolyte => NodeKind::Electrolyte,
        CodeKind::StockSolution => NodeKind::StockSolution,
        CodeKind::CathodeMix => NodeKind::CathodeMix,
        // A study is refused before: nothing was used in it. It stands for its cells.
        CodeKind::Cell | CodeKind::Study => NodeKind::Cell,
    }
}
