//! Correcting and striking.

use meltbook::book::{BookError, Why, history};

use super::shelf::{Shelf, code, dried, opened, received, stamp, weighed};

#[test]
fn a_correction_computes_again_and_names_what_is_doubtful() {
    let mut shelf = Shelf::stocked();
    assert_eq!(shelf.left("B1"), 450.0);
    let doubts = shelf
        .book
        .write(&stamp(), |writer| writer.correct(2, &received(code("B1"), "450 g"), "misread the label"))
        .expect("it is corrected");
    assert_eq!(shelf.left("B1"), 400.0);
    let entries: Vec<u64> = doubts.iter().map(|doubt| doubt.entry).collect();
    assert_eq!(entries, [3, 4], "opening and drying stand on the bottle");
    assert_eq!(shelf.findings(), Vec::<String>::new());
    let lines = history(&shelf.book).expect("a history");
    let original = lines.iter().find(|line| line.sequence == 2).expect("the original stays");
    assert!(original.payload.contains("500 g"), "{}", original.payload);
    assert_eq!(original.changes.len(), 1);
}

#[test]
fn the_latest_correction_holds_and_striking_it_brings_back_the_one_before() {
    let mut shelf = Shelf::stocked();
    let mut correct = |net: &str| {
        let event = received(code("B3"), net);
        shelf.book.write(&stamp(), |writer| writer.correct(5, &event, "again")).expect("it is corrected");
    };
    correct("200 g");
    correct("300 g");
    assert_eq!(shelf.left("B3"), 90.0, "what was weighed back still holds");
    let net = |shelf: &Shelf| meltbook::book::bottle(&shelf.book, &code("B3")).expect("a bottle").net_g;
    assert_eq!(net(&shelf), 300.0);
    shelf.book.write(&stamp(), |writer| writer.strike(8, "the first was right")).expect("it is struck");
    assert_eq!(net(&shelf), 200.0);
    shelf.book.write(&stamp(), |writer| writer.strike(7, "the label was right")).expect("it is struck");
    assert_eq!(net(&shelf), 100.0);
    assert_eq!(shelf.findings(), Vec::<String>::new());
}

#[test]
fn a_correction_keeps_kind_and_subject() {
    let mut shelf = Shelf::stocked();
    let mut refused = |entry: u64, event| {
        shelf
            .book
            .write(&stamp(), |writer| writer.correct(entry, &event, "x"))
            .expect_err("refused")
            .to_string()
    };
    assert!(refused(3, received(code("B1"), "1 g")).contains("can't become a bottle.received"));
    assert!(refused(3, opened("B3")).contains("about other codes"));
    assert!(refused(2, received(code("B9"), "1 g")).contains("about other codes"));
    assert!(refused(99, opened("B1")).contains("no entry 99"));
    let no_reason = shelf.book.write(&stamp(), |writer| writer.correct(3, &opened("B1"), " "));
    assert!(no_reason.expect_err("refused").to_string().contains("needs a reason"));
}

#[test]
fn what_others_stand_on_is_not_struck() {
    let mut shelf = Shelf::stocked();
    let refused = shelf.book.write(&stamp(), |writer| writer.strike(2, "never came"));
    match refused.expect_err("it is refused") {
        BookError::StandsOn { entry: 2, on_it } => assert_eq!(on_it, [3, 4]),
        other => panic!("{other}"),
    }
    for entry in [4, 3, 2] {
        shelf.book.write(&stamp(), |writer| writer.strike(entry, "never came")).expect("the last first");
    }
    let gone = meltbook::book::bottle(&shelf.book, &code("B1"));
    assert!(gone.is_err());
    let used = shelf.book.write(&stamp(), |writer| writer.append(&opened("B1")));
    assert!(matches!(used.expect_err("refused"), BookError::StruckCode(_)));
    assert_eq!(shelf.receive("1 g"), code("B4"), "the codes of struck entries are not used again");
    assert_eq!(shelf.findings(), Vec::<String>::new());
}

#[test]
fn beginning_and_strikes_stay() {
    let mut shelf = Shelf::stocked();
    let strike = |shelf: &mut Shelf, entry| shelf.book.write(&stamp(), |writer| writer.strike(entry, "x"));
    assert!(strike(&mut shelf, 1).is_err(), "the beginning");
    assert_eq!(strike(&mut shelf, 6).expect("it is struck").0, 7);
    assert!(strike(&mut shelf, 6).is_err(), "twice");
    assert!(strike(&mut shelf, 7).is_err(), "a strike");
    let correct = shelf.book.write(&stamp(), |writer| writer.correct(6, &weighed("B3", "80 g"), "x"));
    assert!(correct.is_err(), "a struck entry");
}

/// A correction may leave less than was taken only if somebody says why; then replay goes on, the number says
/// so, and the entries are named with what is against them.
#[test]
fn a_correction_below_what_was_taken_needs_a_reason_of_its_own() {
    let mut shelf = Shelf::stocked();
    let before = shelf.book.head().expect("a head");
    let event = received(code("B1"), "40 g");
    let refused = shelf.book.write(&stamp(), |writer| writer.correct(2, &event, "a small bottle"));
    match refused.expect_err("it is refused") {
        BookError::BelowNothing { code, missing_g, entry: 4 } => {
            assert_eq!((code.to_string(), missing_g), ("B1".to_owned(), 10.0));
        }
        other => panic!("{other}"),
    }
    assert_eq!((shelf.book.head().expect("a head"), shelf.left("B1")), (before, 450.0));
    let why = Why { reason: "a small bottle", in_spite: Some("the dried portion was weighed twice") };
    let doubts =
        shelf.book.write(&stamp(), |writer| writer.correct(2, &event, why)).expect("it is corrected");
    let against = doubts.iter().find(|doubt| doubt.entry == 4).and_then(|doubt| doubt.against.clone());
    assert_eq!(against.as_deref(), Some("B1 holds 40.0000 g, and 50 g is to be taken"));
    assert_eq!(shelf.left("B1"), -10.0);
    assert!(doubts.iter().any(|doubt| doubt.entry == 4));
    assert_eq!(shelf.findings(), Vec::<String>::new());
    let more = shelf.book.write(&stamp(), |writer| writer.append(&dried(code("B4"), "B1", "1 g", "1 g")));
    assert!(more.is_err(), "nothing more is taken from it");
}

/// Striking what was weighed back brings back what the records add up to; below nothing it needs a reason.
#[test]
fn a_strike_is_held_to_the_same() {
    let mut shelf = Shelf::stocked();
    shelf.append(&weighed("B3", "120 g"));
    shelf.append(&dried(code("B4"), "B3", "110 g", "100 g"));
    let refused = shelf.book.write(&stamp(), |writer| writer.strike(7, "another bottle"));
    assert!(matches!(refused.expect_err("it is refused"), BookError::BelowNothing { entry: 8, .. }));
    let why = Why { reason: "another bottle", in_spite: Some("the label says less than there was") };
    let (_, doubts) = shelf.book.write(&stamp(), |writer| writer.strike(7, why)).expect("it is struck");
    assert!(doubts.iter().any(|doubt| doubt.entry == 8 && doubt.against.is_some()), "{doubts:?}");
    assert_eq!(shelf.left("B3"), -20.0);
    assert_eq!(shelf.findings(), Vec::<String>::new());
}

/// A corrected entry is held to its own limits where it stands: a drying that takes more than there was then.
#[test]
fn a_corrected_entry_is_checked_where_it_stands() {
    let mut shelf = Shelf::stocked();
    let correct = |shelf: &mut Shelf, taken: &str, gives: &str| {
        let event = dried(code("B2"), "B1", taken, gives);
        shelf.book.write(&stamp(), |writer| writer.correct(4, &event, "misread"))
    };
    let refused = correct(&mut shelf, "501 g", "49 g").expect_err("it is refused");
    assert_eq!(refused.to_string(), "B1 holds 500.0000 g, and 501 g is to be taken");
    assert!(correct(&mut shelf, "48 g", "49 g").is_err(), "more than was taken");
    correct(&mut shelf, "500 g", "49 g").expect("all of it");
    assert_eq!(shelf.left("B1"), 0.0);
}
