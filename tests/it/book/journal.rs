//! The journal refuses change, and what was changed all the same is found.

use rusqlite::params;

use super::shelf::{Shelf, code};
use meltbook::record::Hash;

/// Statements that another tool might run with triggers on, as this program has them at every open.
#[test]
fn change_and_removal_are_refused() {
    let shelf = Shelf::stocked();
    let raw = shelf.raw();
    raw.pragma_update(None, "recursive_triggers", true).expect("a pragma");
    let statements = [
        "UPDATE entry SET author = 'XY' WHERE sequence = 2",
        "DELETE FROM entry WHERE sequence = 6",
        "INSERT OR REPLACE INTO entry SELECT sequence, book, time, 'XY', kind, version, payload, previous, hash FROM entry WHERE sequence = 3",
        "INSERT INTO entry SELECT sequence + 10, book, time, author, kind, version, payload, previous, zeroblob(32) FROM entry WHERE sequence = 3",
    ];
    for statement in statements {
        assert!(raw.execute(statement, []).is_err(), "{statement} was not refused");
    }
    assert_eq!(shelf.findings(), Vec::<String>::new());
}

#[test]
fn a_change_in_any_column_of_any_entry_is_found() {
    let columns = ["book", "time", "author", "kind", "version", "payload", "previous", "hash"];
    for column in columns {
        for sequence in 1..=6u64 {
            let shelf = Shelf::stocked();
            let raw = shelf.raw();
            raw.execute_batch("DROP TRIGGER entry_is_never_changed").expect("it drops");
            let value = match column {
                "version" => "version + 1",
                "payload" => "CAST(payload || x'20' AS BLOB)",
                "previous" | "hash" => "randomblob(32)",
                other => &format!("{other} || 'x'"),
            };
            raw.execute(&format!("UPDATE entry SET {column} = {value} WHERE sequence = ?1"), [sequence])
                .expect("it changes");
            let findings = shelf.findings();
            let place = format!("entry {sequence}:");
            assert!(findings.iter().any(|f| f.starts_with(&place)), "{column} of {sequence}: {findings:?}");
            assert!(findings.iter().any(|f| f.contains("entry_is_never_changed")), "the missing trigger");
        }
    }
}

/// No chain can show that its end was cut off: the head, kept elsewhere, does.
#[test]
fn a_tail_that_is_cut_off_changes_the_head() {
    let shelf = Shelf::stocked();
    let (entries, head) = shelf.book.head().expect("a head");
    assert_eq!(entries, 6);
    let raw = shelf.raw();
    raw.execute_batch("DROP TRIGGER entry_is_never_removed; DELETE FROM entry WHERE sequence = 6")
        .expect("cut");
    assert_ne!(shelf.book.head().expect("a head").1, head);
    assert_eq!(shelf.book.verify().expect("it reads").head, shelf.book.head().expect("a head").1);
}

#[test]
fn a_changed_projection_is_found() {
    let changes = [
        ("bottle", "UPDATE bottle SET net_g = 1 WHERE code = 'B1'"),
        ("bottle", "UPDATE bottle SET supplier_lot = NULL WHERE code = 'B3'"),
        ("movement", "UPDATE movement SET grams = grams + 1e-9"),
        ("movement", "DELETE FROM movement WHERE code = 'B2'"),
        ("flow", "INSERT INTO flow VALUES (3, 'B1', 'B2', 50.0)"),
        ("code", "UPDATE code SET struck = 1 WHERE code = 'B3'"),
        ("change", "INSERT INTO change VALUES (3, 2, 'struck', 'made up')"),
    ];
    for (table, statement) in changes {
        let shelf = Shelf::stocked();
        shelf.raw().execute_batch(statement).expect("it changes");
        let findings = shelf.findings();
        let place = format!("table {table}:");
        assert!(findings.iter().any(|f| f.starts_with(&place)), "{statement}: {findings:?}");
    }
}

#[test]
fn tables_and_triggers_that_differ_are_found() {
    let shelf = Shelf::stocked();
    let raw = shelf.raw();
    raw.execute_batch("DROP INDEX flow_to; CREATE TABLE mine (x INTEGER) STRICT").expect("it changes");
    let findings = shelf.findings();
    assert!(findings.iter().any(|f| f.starts_with("flow_to:")), "{findings:?}");
    assert!(findings.iter().any(|f| f.starts_with("mine:")), "{findings:?}");
}

#[test]
fn a_changed_or_foreign_file_is_found() {
    let shelf = Shelf::stocked();
    let log = shelf.folder.path().join("log.csv");
    std::fs::write(&log, "t,V\n0,1.5\n").expect("a file");
    let hash = shelf.book.keep_file(&log).expect("it is kept");
    assert_eq!(hash, Hash::of(b"t,V\n0,1.5\n"));
    assert_eq!(shelf.book.keep_file(&log).expect("the same bytes are one file"), hash);
    assert_eq!(shelf.findings(), Vec::<String>::new());
    std::fs::write(shelf.book.file_path(&hash), "t,V\n0,1.6\n").expect("a change");
    std::fs::write(shelf.path().join("files").join("notes.txt"), "x").expect("a file");
    let findings = shelf.findings();
    assert_eq!(findings.len(), 2, "{findings:?}");
    assert!(findings.iter().any(|f| f.contains(&hash.to_string())), "{findings:?}");
    assert!(findings.iter().any(|f| f.contains("notes.txt")), "{findings:?}");
}

#[test]
fn a_refused_entry_changes_nothing() {
    let mut shelf = Shelf::stocked();
    let before = shelf.book.head().expect("a head");
    let too_much = super::shelf::dried(code("B4"), "B3", "91 g", "90 g");
    let refused = shelf.book.write(&super::shelf::stamp(), |writer| {
        writer.append(&super::shelf::opened("B3"))?;
        writer.append(&too_much)
    });
    let message = refused.expect_err("it is refused").to_string();
    assert!(message.contains("B3 holds 90.0000 g, and 91 g is to be taken"), "{message}");
    assert_eq!(shelf.book.head().expect("a head"), before);
    let open: Option<String> = shelf
        .raw()
        .query_row("SELECT opened FROM bottle WHERE code = ?1", params!["B3"], |row| row.get(0))
        .expect("a row");
    assert_eq!(open, None);
}
