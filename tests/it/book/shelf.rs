//! A book with some bottles, for the checks of the book's own workings.

use std::path::{Path, PathBuf};

use meltbook::book::{Book, Stamp};
use meltbook::component::{ComponentId, Quality};
use meltbook::quantity::{Mass, Typed};
use meltbook::record::bottle::{Dried, LeftWeighed, Opened, Received};
use meltbook::record::change::Begun;
use meltbook::record::{Code, CodeKind, Event};
use rusqlite::Connection;
use tempfile::TempDir;

/// A folder that goes with the test, and the book in it.
pub(super) struct Shelf {
    pub(super) folder: TempDir,
    pub(super) book: Book,
}

pub(super) fn stamp() -> Stamp {
    Stamp { author: "AB".to_owned(), time: "2026-11-25T09:00:00.000Z".to_owned() }
}

pub(super) fn begun() -> Begun {
    Begun { laboratory: "Room 12".to_owned(), program: "0.1.0".to_owned() }
}

pub(super) fn mass(text: &str) -> Typed<Mass> {
    Typed::parse(text).expect("a mass")
}

pub(super) fn code(text: &str) -> Code {
    text.parse().expect("a code")
}

pub(super) fn received(code: Code, net: &str) -> Event {
    Event::BottleReceived(Received {
        code,
        component: ComponentId::from_text("urea").expect("an id"),
        name: "urea".to_owned(),
        quality: Quality::default(),
        supplier: None,
        supplier_lot: Some("4711".to_owned()),
        net: mass(net),
        price: None,
        received: "2026-11-20".parse().expect("a date"),
        expires: None,
        storage: None,
        note: None,
    })
}

pub(super) fn opened(code: &str) -> Event {
    Event::BottleOpened(Opened {
        code: self::code(code),
        at: "2026-11-25T09:00:00Z".parse().expect("a time"),
    })
}

pub(super) fn weighed(code: &str, left: &str) -> Event {
    let at = "2026-11-25T09:00:00Z".parse().expect("a time");
    Event::BottleWeighed(LeftWeighed { code: self::code(code), left: mass(left), at })
}

pub(super) fn dried(code: Code, from: &str, taken: &str, dried: &str) -> Event {
    Event::BottleDried(Dried {
        code,
        from: self::code(from),
        taken: mass(taken),
        dried: mass(dried),
        heat: None,
        time: None,
        atmosphere: None,
        moisture: None,
        at: "2026-11-25T09:00:00Z".parse().expect("a time"),
    })
}

impl Shelf {
    /// A new book without bottles.
    pub(super) fn new() -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("lab");
        let settings = "laboratory = \"Room 12\"\n";
        let book = Book::create(&path, "book-1", settings, &begun(), &stamp()).expect("a book");
        Self { folder, book }
    }

    /// A book with B1 (500 g, opened, 50 g dried as B2) and B3 (100 g, weighed back to 90 g): entries 1 to 6.
    pub(super) fn stocked() -> Self {
        let mut shelf = Self::new();
        shelf.receive("500 g");
        shelf.append(&opened("B1"));
        shelf.append(&dried(code("B2"), "B1", "50 g", "49 g"));
        shelf.receive("100 g");
        shelf.append(&weighed("B3", "90 g"));
        shelf
    }

    pub(super) fn path(&self) -> PathBuf {
        self.folder.path().join("lab")
    }

    pub(super) fn append(&mut self, event: &Event) -> u64 {
        self.book.write(&stamp(), |writer| writer.append(event)).expect("it is recorded")
    }

    pub(super) fn receive(&mut self, net: &str) -> Code {
        let take_in = |writer: &mut meltbook::book::Writer<'_>| {
            let code = writer.next_code(CodeKind::Bottle)?;
            writer.append(&received(code.clone(), net))?;
            Ok(code)
        };
        self.book.write(&stamp(), take_in).expect("it is taken in")
    }

    pub(super) fn left(&self, text: &str) -> f64 {
        meltbook::book::bottle(&self.book, &code(text)).expect("a bottle").left_g
    }

    /// Places of what `verify` finds.
    pub(super) fn findings(&self) -> Vec<String> {
        let verification = self.book.verify().expect("it can be read");
        verification
            .findings
            .into_iter()
            .map(|finding| format!("{}: {}", finding.place, finding.what))
            .collect()
    }

    /// The database as another tool sees it.
    pub(super) fn raw(&self) -> Connection {
        raw(&self.path())
    }
}

pub(super) fn raw(folder: &Path) -> Connection {
    Connection::open(folder.join("book.sqlite")).expect("the database opens")
}
