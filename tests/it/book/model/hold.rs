//! What must hold of a book after any history.

use std::collections::BTreeSet;

use meltbook::book::{Book, batch, batch_codes, bottles, cells, readings, studies};
use meltbook::record::{Code, CodeKind};

use super::Beside;
use super::facts::{State, Status};

type Held = Result<(), String>;

pub fn check(beside: &Beside) -> Held {
    let state = beside.state();
    let book = &beside.shelf.book;
    amounts(book, &state)?;
    batches(book, &state)?;
    of_cells(book, &state)?;
    of_studies(book, &state)?;
    upstream(beside, &state)?;
    let below: BTreeSet<Code> = state.below();
    if !below.is_subset(&beside.excused) {
        return Err(format!("below nothing without a reason: {below:?}, excused {:?}", beside.excused));
    }
    let findings = beside.shelf.findings();
    if !findings.is_empty() {
        return Err(format!("verify finds {findings:?}"));
    }
    rebuilt(beside)
}

fn same(what: &Code, stored: f64, model: f64) -> Held {
    if (stored - model).abs() < 1e-6 { Ok(()) } else { Err(format!("{what}: {stored} is not {model}")) }
}

fn told(error: &meltbook::book::BookError) -> String {
    error.to_string()
}

fn amounts(book: &Book, state: &State) -> Held {
    let all = bottles(book).map_err(|error| told(&error))?;
    for bottle in &all {
        same(&bottle.code, bottle.left_g, state.left(&bottle.code))?;
        if bottle.disposed.is_some() != state.disposed.contains(&bottle.code) {
            return Err(format!("{} is not disposed of as in the model", bottle.code));
        }
    }
    let known = state.left.keys().filter(|code| code.kind() == CodeKind::Bottle).count();
    if all.len() == known { Ok(()) } else { Err(format!("{} bottles, not {known}", all.len())) }
}

/// Status and masses; what was made went somewhere or is left.
fn batches(book: &Book, state: &State) -> Held {
    let codes = batch_codes(book).map_err(|error| told(&error))?;
    if codes.len() != state.status.len() {
        return Err(format!("{codes:?}, not {:?}", state.status));
    }
    for code in codes {
        let life = batch(book, &code).map_err(|error| told(&error))?;
        same(&code, life.left_g(), state.left(&code))?;
        same(&code, life.put_in_g(), state.put_in.get(&code).copied().unwrap_or(0.0))?;
        same(&code, life.total_g(), life.put_in_g() - life.lost_g())?;
        let went = life.dispensed_g() + life.wasted_g() - life.difference_g();
        same(&code, life.left_g(), life.total_g() - went)?;
        let word = match state.status[&code] {
            Status::Started => "started",
            Status::Finished => "finished",
            Status::Released => "released",
            Status::Rejected => "rejected",
        };
        if life.status.word() != word {
            return Err(format!("{code} is {}, not {word}", life.status.word()));
        }
    }
    Ok(())
}

fn of_cells(book: &Book, state: &State) -> Held {
    let all = cells(book).map_err(|error| told(&error))?;
    if all.len() != state.contents.len() {
        return Err(format!("{} cells, not {}", all.len(), state.contents.len()));
    }
    for cell in all {
        let held = &state.contents[&cell.code];
        if cell.contents.len() != held.len() {
            return Err(format!("{} holds {:?}, not {held:?}", cell.code, cell.contents));
        }
        for content in &cell.contents {
            same(&cell.code, content.mass_g(), held[&content.batch])?;
        }
        if cell.retired.is_some() != state.retired.contains(&cell.code) {
            return Err(format!("{} is not retired as in the model", cell.code));
        }
        let read = readings(book, std::slice::from_ref(&cell.code)).map_err(|error| told(&error))?.len();
        let expected = state.readings.get(&cell.code).copied().unwrap_or(0);
        if read != expected {
            return Err(format!("{} was read {read} times, not {expected}", cell.code));
        }
    }
    Ok(())
}

/// Each study has the cells and the looks of the model.
fn of_studies(book: &Book, state: &State) -> Held {
    let all = studies(book).map_err(|error| told(&error))?;
    if all.len() != state.studies.len() {
        return Err(format!("{} studies, not {}", all.len(), state.studies.len()));
    }
    for study in all {
        let code = &study.planned.code;
        let cells: BTreeSet<Code> = study.cells.iter().map(|(cell, _)| cell.clone()).collect();
        let expected = state.assigned.get(code).cloned().unwrap_or_default();
        if cells != expected || cells.len() != study.cells.len() {
            return Err(format!("{code} has {cells:?}, not {expected:?}"));
        }
        if study.looks.len() != state.looks.get(code).copied().unwrap_or(0) {
            return Err(format!("{code} was looked at {} times", study.looks.len()));
        }
    }
    Ok(())
}

/// Every code's way back is that of the model, and that of a cell ends at bottles unless what was put into its
/// batches was struck, or nothing ever was.
fn upstream(beside: &Beside, state: &State) -> Held {
    let raw = beside.shelf.raw();
    let mut select = raw
        .prepare(
            "WITH RECURSIVE back (code) AS (
                 SELECT from_code FROM flow WHERE to_code = ?1
                 UNION SELECT f.from_code FROM flow f JOIN back b ON f.to_code = b.code)
             SELECT code FROM back",
        )
        .map_err(|error| error.to_string())?;
    for cell in state.contents.keys() {
        let rows = select.query_map([cell.to_string()], |row| row.get::<_, String>(0));
        let found: BTreeSet<Code> = rows
            .and_then(Iterator::collect::<Result<Vec<_>, _>>)
            .map_err(|error| error.to_string())?
            .iter()
            .filter_map(|code| code.parse().ok())
            .collect();
        let model = state.upstream(cell);
        if found != model {
            return Err(format!("{cell} came of {found:?}, not {model:?}"));
        }
        let filled = state.contents[cell].keys().any(|batch| state.put_in.contains_key(batch));
        let bottled = found.iter().any(|code| code.kind() == CodeKind::Bottle);
        if filled && !bottled && found.iter().all(|code| !beside.excused.contains(code)) {
            return Err(format!("{cell} came of no bottle: {found:?}"));
        }
    }
    Ok(())
}

/// An archive makes an equal book: head, journal, tables and lives.
fn rebuilt(beside: &Beside) -> Held {
    let book = &beside.shelf.book;
    let folder = beside.shelf.folder.path();
    let head = book.archive(&folder.join("archive")).map_err(|error| told(&error))?;
    let again =
        Book::restore(&folder.join("archive"), &folder.join("again")).map_err(|error| told(&error))?;
    let same_head = again.head().map_err(|error| told(&error))? == head;
    let findings = again.verify().map_err(|error| told(&error))?.findings;
    let lives = |book: &Book| -> Result<Vec<_>, meltbook::book::BookError> {
        batch_codes(book)?.iter().map(|code| batch(book, code)).collect()
    };
    let equal = bottles(book).ok() == bottles(&again).ok()
        && cells(book).ok() == cells(&again).ok()
        && lives(book).ok() == lives(&again).ok()
        && studies(book).ok() == studies(&again).ok()
        && readings(book, &[]).ok() == readings(&again, &[]).ok();
    if same_head && findings.is_empty() && equal {
        return Ok(());
    }
    Err(format!("restored: head {same_head}, equal {equal}, {findings:?}"))
}
