//! The bytes of an entry and their hash.

use meltbook::record::{DecodeError, Entry, Event, Hash};

fn entry() -> Entry {
    let mut previous = [0u8; 32];
    for (byte, value) in previous.iter_mut().zip(0..) {
        *byte = value;
    }
    let payload = br#"{"code":"B1","at":"2026-11-25T09:00:00Z"}"#.to_vec();
    let previous = Hash::from_bytes(previous);
    Entry::seal("book-1", 7, "2026-11-25T09:00:00.000Z", "AB", "bottle.opened", 1, payload, previous)
}

/// Computed apart from this project by Python 3.11's hashlib: SHA-256 over each field of the documented
/// layout, preceded by its length as eight bytes, most significant first.
#[test]
fn hash_is_that_of_the_documented_bytes() {
    let expected = "6a2a190d9babb9e4f7eadb06563808998506ad83d822a27e904bcbe7b84b4e7f";
    assert_eq!(entry().hash.to_string(), expected);
    assert!(entry().is_whole());
}

#[test]
fn every_field_is_in_the_hash() {
    let changes: [fn(&mut Entry); 8] = [
        |entry| entry.book.push('x'),
        |entry| entry.sequence += 1,
        |entry| entry.time = "2026-11-25T09:00:00.001Z".to_owned(),
        |entry| entry.author = "AC".to_owned(),
        |entry| entry.kind.push('x'),
        |entry| entry.version = 2,
        |entry| entry.payload.push(b' '),
        |entry| entry.previous = Hash::ZERO,
    ];
    for (index, change) in changes.into_iter().enumerate() {
        let mut changed = entry();
        change(&mut changed);
        assert!(!changed.is_whole(), "change {index} is not seen");
    }
}

/// Without lengths, "AB" + "Cx" and "ABC" + "x" would be the same bytes.
#[test]
fn bytes_do_not_pass_between_fields() {
    let with = |author: &str, kind: &str| {
        Entry::seal("book-1", 1, "2026-11-25T09:00:00.000Z", author, kind, 1, Vec::new(), Hash::ZERO).hash
    };
    assert_ne!(with("AB", "Cx"), with("ABC", "x"));
}

#[test]
fn hash_reads_back_from_its_digits() {
    let hash = Hash::of(b"abc");
    // FIPS 180-4 example, SHA-256 of "abc".
    assert_eq!(hash.to_string(), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    assert_eq!(Hash::from_hex(&hash.to_string()), Some(hash));
    assert_eq!(Hash::from_hex("ba78"), None);
    assert_eq!(Hash::from_hex(&"é".repeat(32)), None);
}

/// Payloads as they were written on the day when their version was made. They must read for ever, so a line
/// is added here with each new kind or version and none is ever changed.
const WRITTEN: &str = include_str!("../../fixtures/book/payloads.jsonl");

#[derive(serde::Deserialize)]
struct Written {
    kind: String,
    version: u16,
    payload: serde_json::Value,
}

#[test]
fn every_payload_ever_written_reads() {
    let mut seen = Vec::new();
    for line in WRITTEN.lines() {
        let written: Written = serde_json::from_str(line).expect("a line of the fixture");
        let bytes = serde_json::to_vec(&written.payload).expect("JSON");
        let event = Event::decode(&written.kind, written.version, &bytes).expect(&written.kind);
        assert_eq!(event.kind(), written.kind);
        let again = event.encode().expect("it encodes");
        let decoded = Event::decode(again.kind, again.version, &again.payload).expect("it decodes");
        assert_eq!(decoded, event);
        seen.push((written.kind, written.version));
    }
    for (kind, version) in Event::KINDS {
        assert!(seen.contains(&((*kind).to_owned(), *version)), "no fixture for {kind} version {version}");
    }
}

#[test]
fn unknown_kinds_and_versions_are_told() {
    let unknown = Event::decode("bottle.opened", 99, b"{}");
    assert!(matches!(unknown, Err(DecodeError::Unknown { .. })));
    let malformed = Event::decode("bottle.opened", 1, b"{}");
    assert!(matches!(malformed, Err(DecodeError::Malformed { .. })));
}
