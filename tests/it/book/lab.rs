//! A book in a folder that is gone afterwards, with a clock that stands where a test puts it.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use meltbook::book::{Book, Stamp};
use meltbook::component::{AssayBasis, Quality, RatioBasis};
use meltbook::record::batch::{
    Finished, FrozenLine, FrozenPart, FrozenPlan, HowWeighed, Rejected, Released, Started, Weighed,
};
use meltbook::record::{Code, CodeKind, Event};
use serde_json::Value;
use tempfile::TempDir;

use crate::run::{Run, command, envelope, folder, line};
use crate::setup::{grams, table};

/// When every book of the tests begins.
pub const START: &str = "2026-11-01T08:00:00Z";

/// A laboratory with its book.
pub struct Lab {
    folder: TempDir,
}

impl Lab {
    /// A new book, begun by AB.
    pub fn new() -> Self {
        let lab = Self { folder: folder() };
        std::fs::create_dir(lab.path()).expect("the folder is made");
        begin(&lab.path());
        lab
    }

    /// The book's folder.
    pub fn path(&self) -> PathBuf {
        self.folder.path().join("lab")
    }

    /// Runs a command in the book's folder at a time.
    pub fn run(&self, now: &str, arguments: &[&str]) -> Run {
        run_at(&self.path(), now, arguments)
    }

    /// The output of a command that must end with this code and no word on standard error.
    #[track_caller]
    pub fn answer(&self, now: &str, arguments: &[&str], code: i32) -> String {
        let run = self.run(now, arguments);
        assert_eq!((run.code, run.stderr.as_str()), (code, ""), "{}", line(arguments));
        run.stdout
    }

    /// The same as JSON.
    #[track_caller]
    pub fn json(&self, now: &str, arguments: &[&str]) -> Value {
        let mut all = arguments.to_vec();
        all.extend(["--format", "json"]);
        envelope(&self.answer(now, &all, 0))["answer"].clone()
    }

    /// What standard error says of a command that must be refused.
    #[track_caller]
    pub fn refused(&self, now: &str, arguments: &[&str]) -> String {
        let run = self.run(now, arguments);
        assert_eq!((run.code, run.stdout.as_str()), (2, ""), "{}", line(arguments));
        run.stderr
    }

    /// A batch of so many grams in which these components are, with what was decided of it.
    pub fn batch(&self, kind: CodeKind, components: &[&str], mass: f64, decided: Decided) -> Code {
        batch(&self.path(), kind, components, mass, decided)
    }

    /// Writes a file into the book's folder.
    pub fn write(&self, name: &str, content: &str) {
        crate::run::write(&self.path(), name, content.as_bytes());
    }

    /// Every table and file is as a replay makes it.
    #[track_caller]
    pub fn verified(&self) {
        self.answer("2027-01-01T00:00:00Z", &["verify"], 0);
    }

    /// What is left of a code by its movements, in grams.
    pub fn left(&self, code: &str) -> f64 {
        let database = rusqlite::Connection::open(self.path().join("book.sqlite")).expect("it opens");
        let sum =
            database.query_row("SELECT sum(grams) FROM movement WHERE code = ?1", [code], |row| row.get(0));
        sum.expect("it has movements")
    }
}

/// What was decided of a batch.
#[derive(Clone, Copy, PartialEq)]
pub enum Decided {
    /// It is made, and not judged.
    Nothing,
    Release,
    Reject,
}

/// Makes a book in a folder.
fn begin(folder: &Path) {
    let path = folder.to_str().expect("a path of the tests is text");
    let run = run_at(folder, START, &["init", path, "--laboratory", "Room 12"]);
    assert_eq!((run.code, run.stderr.as_str()), (0, ""));
}

/// Runs a command in a folder at a time, as AB.
fn run_at(folder: &Path, now: &str, arguments: &[&str]) -> Run {
    let output = command(folder, arguments)
        .env("MELTBOOK_NOW", now)
        .env("MELTBOOK_AUTHOR", "AB")
        .output()
        .expect("the program starts");
    let text = |bytes| String::from_utf8(bytes).expect("the output is UTF-8");
    Run {
        stdout: text(output.stdout),
        stderr: text(output.stderr),
        code: output.status.code().expect("the program ends by itself"),
    }
}

/// A batch put into the book by the library.
fn batch(folder: &Path, kind: CodeKind, components: &[&str], mass: f64, decided: Decided) -> Code {
    let mut book = Book::open(folder).expect("the book opens");
    let at = START.parse().expect("it is a time");
    let stamp = Stamp { author: "AB".to_owned(), time: "2026-11-01T08:00:00.000Z".to_owned() };
    let each = mass / components.len() as f64;
    let quality =
        Quality { form: None, assay: None, basis: AssayBasis::Dried, basis_stated: false, moisture: None };
    let find = |name: &str| Arc::clone(table().find(name).unwrap_or_else(|error| panic!("{error}")));
    book.write(&stamp, |writer| {
        let code = writer.next_code(kind)?;
        let lines = components.iter().map(|name| FrozenLine {
            component: find(name),
            part: FrozenPart::Ratio(1.0),
            bottle: None,
            quality: quality.clone(),
            target_g: each,
            window_g: None,
            counted: 1.0,
            water_g: 0.0,
            mass_g: each,
            in_air_g_per_ml: None,
        });
        let plan = FrozenPlan {
            recipe: components.join(" and "),
            recipe_text: components.join(":"),
            basis: RatioBasis::Mass,
            tolerance: 0.01,
            size: format!("{mass} g"),
            mass_g: mass,
            water: 0.0,
            water_target: None,
            balance: None,
            lines: lines.collect(),
            conventions: Vec::new(),
            procedure: Vec::new(),
            limits: Vec::new(),
            cumulative: false,
        };
        writer.append(&Event::BatchStarted(Box::new(Started {
            code: code.clone(),
            plan,
            permit: None,
            because: None,
            at,
        })))?;
        for name in components {
            writer.append(&Event::BatchWeighed(Box::new(Weighed {
                batch: code.clone(),
                component: find(name).id.clone(),
                entry: find(name),
                from: None,
                quality: quality.clone(),
                mass: grams(each),
                how: HowWeighed::Net,
                humidity: None,
                open: None,
                later: false,
                permit: None,
                because: None,
                at,
            })))?;
        }
        writer.append(&Event::BatchFinished(Finished {
            batch: code.clone(),
            route: None,
            heat: None,
            time: None,
            atmosphere: None,
            end: None,
            mass: None,
            because: None,
            at,
        }))?;
        let basis = vec!["as the test wants it".to_owned()];
        match decided {
            Decided::Nothing => {}
            Decided::Release => {
                let released = Released { batch: code.clone(), basis, because: None, at };
                writer.append(&Event::BatchReleased(released))?;
            }
            Decided::Reject => {
                let reason = "crystals".to_owned();
                writer.append(&Event::BatchRejected(Rejected { batch: code.clone(), reason, basis, at }))?;
            }
        }
        Ok(code)
    })
    .expect("the batch is written")
}

/// A laboratory with an electrolyte E1 of 40 g and a cathode mix M1 of 10 g, both released.
pub fn with_batches() -> Lab {
    let lab = Lab::new();
    batches(&lab.path());
    lab
}

/// The same with twelve cells C1 to C12, built on the second of November at 09:00.
pub fn with_cells() -> Lab {
    let lab = with_batches();
    cells(&lab.path());
    lab
}

fn batches(folder: &Path) {
    batch(folder, CodeKind::Electrolyte, &["choline-chloride", "ethylene-glycol"], 40.0, Decided::Release);
    batch(folder, CodeKind::CathodeMix, &["manganese-dioxide", "graphite"], 10.0, Decided::Release);
}

fn cells(folder: &Path) {
    let build =
        ["cell", "build", "--design", DESIGN, "--use", "E1=1.2g M1=0.4g", "--count", "12", "--seed", "7"];
    let run = run_at(folder, "2026-11-02T09:00:00Z", &build);
    assert_eq!((run.code, run.stderr.as_str()), (0, ""));
}

/// A worked design.
pub const DESIGN: &str = "open-vial-zinc-manganese-dioxide";
