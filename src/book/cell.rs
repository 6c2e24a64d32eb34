//! Cells: the projection, its limits, and reading it.

use std::collections::BTreeMap;
use std::sync::Arc;

use rusqlite::{Connection, OptionalExtension as _, Row, params};

use super::batch::status;
use super::error::BookError;
use super::open::Book;
use super::projection::{left, movement};
use crate::record::cell::{Built, Cell, CellContent, CellSet, CellWeighed, Retired};
use crate::record::life::BatchStatus;
use crate::record::{Code, CodeKind, Event};

pub(super) const TABLE: &str = "
CREATE TABLE cell_set (
    sequence INTEGER PRIMARY KEY,
    design TEXT NOT NULL,
    seed TEXT NOT NULL,
    deviations TEXT NOT NULL,
    operator TEXT,
    permit TEXT,
    built TEXT NOT NULL
) STRICT;
CREATE TABLE cell (
    code TEXT PRIMARY KEY REFERENCES code (code),
    sequence INTEGER NOT NULL REFERENCES cell_set (sequence),
    position INTEGER NOT NULL,
    block TEXT,
    retired TEXT,
    cause TEXT,
    note TEXT
) STRICT, WITHOUT ROWID;
CREATE TABLE cell_content (
    cell TEXT NOT NULL REFERENCES cell (code),
    batch TEXT NOT NULL REFERENCES code (code),
    planned_g REAL NOT NULL,
    weighed_g REAL,
    PRIMARY KEY (cell, batch)
) STRICT, WITHOUT ROWID;
";

/// Less than this is the dust of a sum, in grams.
const DUST_G: f64 = 1e-9;

/// Refuses what can't be, and what passes a limit without a reason.
pub(super) fn check(connection: &Connection, event: &Event) -> Result<(), BookError> {
    match event {
        Event::CellsBuilt(built) => check_built(connection, built),
        Event::CellWeighed(weighed) => check_weighed(connection, weighed),
        Event::CellRetired(retired) => {
            let cell = required(connection, &retired.cell)?;
            refuse_before_building(&cell, retired.at)?;
            match &cell.retired {
                Some((at, _, _)) => Err(refused(
                    format!("{} was retired already, on {at}", cell.code),
                    "Correct or strike that entry if it was wrong: see meltbook history.",
                )),
                None => Ok(()),
            }
        }
        _ => Ok(()),
    }
}

fn check_built(connection: &Connection, built: &Built) -> Result<(), BookError> {
    if built.cells.is_empty() || built.uses.is_empty() {
        return Err(refused(
            "a set of cells has cells and uses batches".to_owned(),
            "Give --count and --use.",
        ));
    }
    for (at, used) in built.uses.iter().enumerate() {
        if built.uses.iter().take(at).any(|other| other.batch == used.batch) {
            let what = format!("each cell would take {} twice", used.batch);
            return Err(refused(what, "Name each batch once, with all that a cell takes of it."));
        }
        let status = status(connection, &used.batch)?;
        if built.because.is_some() {
            continue;
        }
        match status {
            BatchStatus::Released => {}
            BatchStatus::Rejected => return Err(needs_reason(format!("{} was rejected", used.batch))),
            BatchStatus::Started | BatchStatus::Finished => {
                return Err(needs_reason(format!("{} was not released", used.batch)));
            }
        }
        let (needed, left) =
            (used.dose.value.get() * built.cells.len() as f64, left(connection, &used.batch)?);
        if left + DUST_G < needed {
            let each = &used.dose.text;
            let what = format!(
                "{} cells of {each} take {needed:.4} g of {}, and {left:.4} g is left",
                built.cells.len(),
                used.batch
            );
            return Err(needs_reason(what));
        }
    }
    Ok(())
}

fn check_weighed(connection: &Connection, weighed: &CellWeighed) -> Result<(), BookError> {
    let cell = required(connection, &weighed.cell)?;
    refuse_before_building(&cell, weighed.at)?;
    let Some(content) = cell.contents.iter().find(|content| content.batch == weighed.batch) else {
        let batches =
            cell.contents.iter().map(|content| content.batch.to_string()).collect::<Vec<_>>().join(", ");
        return Err(refused(
            format!("{} was built without {}", cell.code, weighed.batch),
            &format!("It holds {batches}."),
        ));
    };
    if weighed.because.is_some() {
        return Ok(());
    }
    if let Some((at, _, _)) = &cell.retired {
        return Err(needs_reason(format!("{} was retired on {at}", cell.code)));
    }
    let (more, left) = (weighed.mass.value.get() - content.mass_g(), left(connection, &weighed.batch)?);
    if left + DUST_G < more {
        let what =
            format!("{} takes {more:.4} g more of {}, and {left:.4} g is left", cell.code, weighed.batch);
        return Err(needs_reason(what));
    }
    Ok(())
}

/// A cell does nothing before it is there.
pub(super) fn refuse_before_building(cell: &Cell, at: jiff::Timestamp) -> Result<(), BookError> {
    if cell.set.built <= at {
        return Ok(());
    }
    let what = format!("{} was built on {}, after {at}", cell.code, cell.set.built);
    Err(refused(what, "Check the time that was given."))
}

/// Puts an event into the tables; one of another noun changes nothing here.
pub(super) fn apply(connection: &Connection, sequence: u64, event: &Event) -> Result<(), BookError> {
    match event {
        Event::CellsBuilt(built) => apply_built(connection, sequence, built),
        Event::CellWeighed(weighed) => apply_weighed(connection, sequence, weighed),
        Event::CellRetired(retired) => apply_retired(connection, retired),
        _ => Ok(()),
    }
}

fn apply_built(connection: &Connection, sequence: u64, built: &Built) -> Result<(), BookError> {
    connection.execute(
        "INSERT INTO cell_set (sequence, design, seed, deviations, operator, permit, built)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)",
        params![
            sequence,
            serde_json::to_string(&built.design)?,
            // A seed may be larger than what SQLite counts.
            built.seed.to_string(),
            serde_json::to_string(&built.deviations)?,
            built.operator,
            built.permit.as_ref().map(serde_json::to_string).transpose()?,
            built.at.to_string(),
        ],
    )?;
    let mut cell = connection
        .prepare_cached("INSERT INTO cell (code, sequence, position, block) VALUES (?1, ?2, ?3, ?4)")?;
    let mut content =
        connection.prepare_cached("INSERT INTO cell_content (cell, batch, planned_g) VALUES (?1, ?2, ?3)")?;
    for one in &built.cells {
        let code = one.code.to_string();
        cell.execute(params![code, sequence, one.position, one.block])?;
        for used in &built.uses {
            content.execute(params![code, used.batch.to_string(), used.dose.value.get()])?;
            movement(connection, sequence, &used.batch, -used.dose.value.get(), &format!("into {code}"))?;
        }
    }
    Ok(())
}

/// The real mass takes the place of what was there before: in the cell, in the flow, and in what is left.
fn apply_weighed(connection: &Connection, sequence: u64, weighed: &CellWeighed) -> Result<(), BookError> {
    let (cell, batch, grams) =
        (weighed.cell.to_string(), weighed.batch.to_string(), weighed.mass.value.get());
    let before: Option<f64> = connection
        .prepare_cached(
            "SELECT coalesce(weighed_g, planned_g) FROM cell_content WHERE cell = ?1 AND batch = ?2",
        )?
        .query_row([&cell, &batch], |row| row.get(0))
        .optional()?;
    // A correction of the building may have taken the batch away; then there is nothing to weigh.
    let Some(before) = before else { return Ok(()) };
    connection
        .prepare_cached("UPDATE cell_content SET weighed_g = ?3 WHERE cell = ?1 AND batch = ?2")?
        .execute(params![cell, batch, grams])?;
    connection
        .prepare_cached("UPDATE flow SET grams = ?3 WHERE to_code = ?1 AND from_code = ?2")?
        .execute(params![cell, batch, grams])?;
    movement(connection, sequence, &weighed.batch, before - grams, &format!("{cell} weighed"))
}

fn apply_retired(connection: &Connection, retired: &Retired) -> Result<(), BookError> {
    connection
        .prepare_cached("UPDATE cell SET retired = ?2, cause = ?3, note = ?4 WHERE code = ?1")?
        .execute(params![
            retired.cell.to_string(),
            retired.at.to_string(),
            serde_json::to_string(&retired.cause)?,
            retired.note,
        ])?;
    Ok(())
}

/// Every cell, in the order of the codes.
///
/// # Errors
/// If the database can't be read.
pub fn cells(book: &Book) -> Result<Vec<Cell>, BookError> {
    let connection = book.connection();
    let mut sets: BTreeMap<u64, Arc<CellSet>> = BTreeMap::new();
    let mut select = connection.prepare("SELECT * FROM cell_set")?;
    let mut rows = select.query([])?;
    while let Some(row) = rows.next()? {
        let set = set_of_row(row)?;
        sets.insert(set.entry, Arc::new(set));
    }
    let mut contents: BTreeMap<String, Vec<CellContent>> = BTreeMap::new();
    let mut select = connection.prepare("SELECT * FROM cell_content ORDER BY cell, batch")?;
    let mut rows = select.query([])?;
    while let Some(row) = rows.next()? {
        contents.entry(row.get("cell")?).or_default().push(content_of_row(row)?);
    }
    let mut select =
        connection.prepare("SELECT e.* FROM cell e JOIN code c ON c.code = e.code ORDER BY c.number")?;
    let mut rows = select.query([])?;
    let mut cells = Vec::new();
    while let Some(row) = rows.next()? {
        let (code, sequence): (String, u64) = (row.get("code")?, row.get("sequence")?);
        let set = sets.get(&sequence).map(Arc::clone).ok_or_else(|| no_set(&code))?;
        cells.push(cell_of_row(row, set, contents.remove(&code).unwrap_or_default())?);
    }
    Ok(cells)
}

/// One cell.
///
/// # Errors
/// If the book has none of this code.
pub fn cell(book: &Book, code: &Code) -> Result<Cell, BookError> {
    required(book.connection(), code)
}

/// A cell that must be there.
pub(super) fn required(connection: &Connection, code: &Code) -> Result<Cell, BookError> {
    if code.kind() != CodeKind::Cell {
        return Err(BookError::WrongKind { code: code.clone(), is: code.kind().words(), wanted: "cell" });
    }
    let text = code.to_string();
    let mut select =
        connection.prepare_cached("SELECT * FROM cell_content WHERE cell = ?1 ORDER BY batch")?;
    let mut rows = select.query([&text])?;
    let mut contents = Vec::new();
    while let Some(row) = rows.next()? {
        contents.push(content_of_row(row)?);
    }
    let mut select = connection.prepare_cached(
        "SELECT s.* FROM cell_set s JOIN cell e ON e.sequence = s.sequence WHERE e.code = ?1",
    )?;
    let mut rows = select.query([&text])?;
    let set = match rows.next()? {
        Some(row) => Arc::new(set_of_row(row)?),
        None => return Err(BookError::UnknownCode(code.clone())),
    };
    let mut select = connection.prepare_cached("SELECT * FROM cell WHERE code = ?1")?;
    let mut rows = select.query([&text])?;
    match rows.next()? {
        Some(row) => cell_of_row(row, set, contents),
        None => Err(BookError::UnknownCode(code.clone())),
    }
}

fn set_of_row(row: &Row<'_>) -> Result<CellSet, BookError> {
    let text = |name: &str| row.get::<_, String>(name);
    let permit: Option<String> = row.get("permit")?;
    Ok(CellSet {
        entry: row.get("sequence")?,
        design: serde_json::from_str(&text("design")?)?,
        seed: text("seed")?.parse().map_err(|_| unreadable("seed", &text("seed").unwrap_or_default()))?,
        deviations: serde_json::from_str(&text("deviations")?)?,
        operator: row.get("operator")?,
        permit: permit.map(|permit| serde_json::from_str(&permit)).transpose()?,
        built: time(&text("built")?)?,
    })
}

fn content_of_row(row: &Row<'_>) -> Result<CellContent, BookError> {
    let batch: String = row.get("batch")?;
    Ok(CellContent {
        batch: batch.parse().map_err(|_| unreadable("code", &batch))?,
        planned_g: row.get("planned_g")?,
        weighed_g: row.get("weighed_g")?,
    })
}

fn cell_of_row(row: &Row<'_>, set: Arc<CellSet>, contents: Vec<CellContent>) -> Result<Cell, BookError> {
    let code: String = row.get("code")?;
    let (retired, cause): (Option<String>, Option<String>) = (row.get("retired")?, row.get("cause")?);
    let retired = match (retired, cause) {
        (Some(at), Some(cause)) => Some((time(&at)?, serde_json::from_str(&cause)?, row.get("note")?)),
        _ => None,
    };
    Ok(Cell {
        code: code.parse().map_err(|_| unreadable("code", &code))?,
        position: row.get("position")?,
        block: row.get("block")?,
        set,
        contents,
        retired,
    })
}

/// A time as the projections store it.
pub(super) fn time(text: &str) -> Result<jiff::Timestamp, BookError> {
    text.parse().map_err(|_| unreadable("time", text))
}

/// A stored value that is none; only a change from outside makes one.
pub(super) fn unreadable(what: &str, text: &str) -> BookError {
    refused(format!("{text:?} in the database is no {what}"), "See what is whole with: meltbook verify.")
}

fn no_set(code: &str) -> BookError {
    refused(format!("{code} belongs to no set of cells"), "See what is whole with: meltbook verify.")
}

fn needs_reason(what: String) -> BookError {
    BookError::NeedsReason { what }
}

fn refused(what: String, hint: &str) -> BookError {
    BookError::Refused { what, hint: hint.to_owned() }
}
