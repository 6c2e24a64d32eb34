//! What codes have besides what they were made of, to compare sets of them.

use std::collections::{BTreeMap, BTreeSet};

use jiff::{Timestamp, ZonedDateTime};
use rusqlite::{Connection, Row};

use super::nodes::kind;
use super::unreadable;
use crate::book::error::BookError;
use crate::book::open::Book;
use crate::record::Code;
use crate::record::graph::{Feature, FeatureKind, NodeKind, Profile, TraceGraph};

/// When and by whom a code was made, and how, if it is a cell.
const MADE: &str = "
SELECT entry.author, touch.at, cell.block, cell_set.operator, json_extract(cell_set.design, '$.name') AS design,
       cell_set.deviations
FROM code
JOIN entry ON entry.sequence = code.sequence
LEFT JOIN touch ON touch.sequence = code.sequence AND touch.code = code.code
LEFT JOIN cell ON cell.code = code.code
LEFT JOIN cell_set ON cell_set.sequence = cell.sequence
WHERE code.code = ?1";

const DOSES: &str = "SELECT batch, coalesce(weighed_g, planned_g) FROM cell_content WHERE cell = ?1";

const LOTS: &str = "
SELECT bottle.code, bottle.name, bottle.supplier_lot
FROM json_each(?1) AS wanted CROSS JOIN bottle ON bottle.code = wanted.value
WHERE bottle.supplier_lot IS NOT NULL";

/// The profiles of these codes, in their order. `graph` holds all that is upstream of them; `now` says in which
/// zone days are counted.
///
/// # Errors
/// If a code is not in the book and the graph, or the book can't be read.
pub fn profiles(
    book: &Book,
    codes: &[Code],
    graph: &TraceGraph,
    now: &ZonedDateTime,
) -> Result<Vec<Profile>, BookError> {
    let connection = book.connection();
    let lots = lots(connection, graph)?;
    let mut profiles = Vec::with_capacity(codes.len());
    let mut known: BTreeMap<String, Vec<Feature>> = BTreeMap::new();
    for code in codes {
        let name = code.to_string();
        let mut profile =
            Profile { features: made(connection, &name, now)?, doses: doses(connection, &name)? };
        // Cells of one batch share what is upstream of it, which need not be looked through for each.
        let mut direct: Vec<&str> = Vec::new();
        for (at, _) in graph.edges_into(graph.position(&name).map_err(unreadable)?) {
            direct.push(&graph.nodes()[at].code);
        }
        let of = direct.join(" ");
        if !known.contains_key(&of) {
            let upstream = graph.upstream([name.as_str()]).map_err(unreadable)?;
            let features = upstream.iter().filter_map(|code| lots.get(*code).cloned()).collect();
            known.insert(of.clone(), features);
        }
        profile.features.extend(known.get(&of).into_iter().flatten().cloned());
        profiles.push(profile.sorted());
    }
    Ok(profiles)
}

fn made(connection: &Connection, code: &str, now: &ZonedDateTime) -> Result<Vec<Feature>, BookError> {
    let mut select = connection.prepare_cached(MADE)?;
    let mut rows = select.query([code])?;
    match rows.next()? {
        Some(row) => of_row(row, now),
        None => Ok(Vec::new()),
    }
}

fn of_row(row: &Row<'_>, now: &ZonedDateTime) -> Result<Vec<Feature>, BookError> {
    let seconds: Option<i64> = row.get("at")?;
    let at = seconds.and_then(|seconds| Timestamp::from_second(seconds).ok());
    let day = at.map(|at| at.to_zoned_datetime(now.time_zone().clone()).date().to_string());
    let deviations: Option<String> = row.get("deviations")?;
    let deviations: Vec<String> =
        deviations.map(|json| serde_json::from_str(&json)).transpose()?.unwrap_or_default();
    let single = [
        (FeatureKind::Day, day),
        (FeatureKind::Author, row.get("author")?),
        (FeatureKind::Operator, row.get("operator")?),
        (FeatureKind::Design, row.get("design")?),
        (FeatureKind::Block, row.get("block")?),
    ];
    let single = single.into_iter().filter_map(|(what, value)| Some(Feature { what, value: value? }));
    let deviations = deviations.into_iter().map(|value| Feature { what: FeatureKind::Deviation, value });
    Ok(single.chain(deviations).collect())
}

fn doses(connection: &Connection, cell: &str) -> Result<Vec<(NodeKind, f64)>, BookError> {
    let mut select = connection.prepare_cached(DOSES)?;
    let mut rows = select.query([cell])?;
    let mut doses = Vec::new();
    while let Some(row) = rows.next()? {
        let batch: String = row.get(0)?;
        let code: Code = batch.parse().map_err(|_| crate::book::cell::unreadable("code", &batch))?;
        doses.push((kind(code.kind()), row.get(1)?));
    }
    Ok(doses)
}

/// The supplier's lots of the bottles in a graph.
fn lots(connection: &Connection, graph: &TraceGraph) -> Result<BTreeMap<String, Feature>, BookError> {
    let codes: BTreeSet<&str> = graph.nodes().iter().map(|node| node.code.as_str()).collect();
    let mut select = connection.prepare_cached(LOTS)?;
    let mut rows = select.query([serde_json::to_string(&codes)?])?;
    let mut lots = BTreeMap::new();
    while let Some(row) = rows.next()? {
        let (name, lot): (String, String) = (row.get(1)?, row.get(2)?);
        lots.insert(row.get(0)?, Feature { what: FeatureKind::Lot, value: format!("{lot} of {name}") });
    }
    Ok(lots)
}
