//! `reading import`: a log of an instrument, kept as it came; or a bench table.

use std::path::Path;

use clap::Args;
use jiff::Timestamp;

use super::add::{self, AddArgs};
use super::import_answer::{Taken, answer};
use crate::book::{Book, logs};
use crate::cli::args::Common;
use crate::cli::outcome::{Failure, Outcome};
use crate::cli::request::{
    self, LogOptions, LogScan, LogSource, RecordArgs, failure, log_scan, log_source, mapping_text, open_book,
    stamp, write_new,
};
use crate::input::{Fault, Faults, Place};
use crate::record::log::{LogImported, SkippedRow};
use crate::record::{Event, Hash};

/// Take in a file of an instrument: a long log, one row for each sample, or a bench table (--what)
///
/// A log is read once to see that every row is sound, then kept in the book as it came, under the SHA-256 of its
/// bytes. Columns are found by the units in their heads (V, mV, A, mA, s, min, h) or named by flags or a mapping.
/// A bad row is reported with its line, and nothing is taken in unless --skip-bad is given.
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  meltbook reading import run.csv --cell C3 --zone UTC\n  meltbook reading import run.csv --cell C3 --voltage \"U unit=V\" --skip-bad \\\n      --save-mapping meter.toml\n  meltbook reading import voltages.csv --what open-circuit"
)]
pub(super) struct ImportArgs {
    /// The file
    #[arg(value_name = "FILE")]
    file: String,
    #[command(flatten)]
    log: LogOptions,
    /// Leave out rows that can't be read; their lines are named in the entry, and the file is kept whole
    #[arg(long, help_heading = "A log")]
    skip_bad: bool,
    /// Write what the columns are to a new mapping, for the next file of this meter
    #[arg(long, value_name = "FILE", help_heading = "A log")]
    save_mapping: Option<String>,
    /// What a bench table holds: open-circuit, under-load or short-circuit
    #[arg(long, value_name = "QUANTITY", help_heading = "A bench table")]
    what: Option<String>,
    /// The unit of bare numbers in it
    #[arg(long, value_name = "UNIT", help_heading = "A bench table", requires = "what")]
    unit: Option<String>,
    /// The load of a table of voltages under load
    #[arg(long, value_name = "RESISTANCE", help_heading = "A bench table", requires = "what")]
    load: Option<String>,
    /// How long after closing the circuit they were read
    #[arg(long, value_name = "TIME", help_heading = "A bench table", requires = "what")]
    after: Option<String>,
    /// Resistance of the meter, for a table of short circuits
    #[arg(long, value_name = "RESISTANCE", help_heading = "A bench table", requires = "what")]
    meter: Option<String>,
    /// The meter, by a name that is always the same
    #[arg(long, value_name = "NAME")]
    instrument: Option<String>,
    /// Anything else
    #[arg(long, value_name = "TEXT")]
    note: Option<String>,
    #[command(flatten)]
    record: RecordArgs,
}

pub(super) fn run(common: &Common, args: &ImportArgs) -> Result<Outcome, Failure> {
    if args.what.is_some() {
        return add::run(common, &as_table(args));
    }
    let at = args.record.at()?;
    let settings = request::settings(common)?;
    let stamp = stamp(args.record.by.as_deref(), settings.as_ref())?;
    let source = log_source(&args.file, &args.log, true)?;
    let mut book = open_book(common)?;
    let scan = log_scan(&source)?;
    scan.sound(&source, args.skip_bad)?;
    let event = Event::LogImported(Box::new(imported(args, &source, &scan, at)));
    let Event::LogImported(log) = &event else { return Err(Faults::none().into()) };
    let overlaps = log.overlaps(&logs(&book).map_err(|error| failure(&error))?);
    // A file that can't be taken in is not kept either.
    book.write(&stamp, |writer| writer.check(&event)).map_err(|error| failure(&error))?;
    if let Some(path) = &args.save_mapping {
        write_new(path, &mapping_text(&source.layout))?;
    }
    keep(&book, &source, scan.hash)?;
    book.write(&stamp, |writer| writer.append(&event)).map_err(|error| failure(&error))?;
    let head = book.head().map_err(|error| failure(&error))?;
    Ok(answer(&Taken { log, overlaps: &overlaps, head: &head, mapping: args.save_mapping.as_deref() }))
}

fn as_table(args: &ImportArgs) -> AddArgs {
    AddArgs {
        cells: Vec::new(),
        open_circuit: None,
        under_load: None,
        load: args.load.clone(),
        after: args.after.clone(),
        short_circuit: None,
        meter: args.meter.clone(),
        what: args.what.clone(),
        values: None,
        csv: Some(args.file.clone()),
        unit: args.unit.clone(),
        temperature: None,
        humidity: None,
        instrument: args.instrument.clone(),
        note: args.note.clone(),
        record: args.record.clone(),
    }
}

fn imported(args: &ImportArgs, source: &LogSource, scan: &LogScan, at: Timestamp) -> LogImported {
    let name = Path::new(&source.path).file_name().map(|name| name.to_string_lossy().into_owned());
    let skipped = scan.bad.iter().map(|row| SkippedRow { line: row.line, why: row.why.clone() });
    LogImported {
        file: scan.hash,
        name: name.unwrap_or_default(),
        bytes: scan.bytes,
        layout: source.layout.clone(),
        cells: scan.summary.cells(&scan.cells),
        rows: scan.summary.rows(),
        skipped: scan.bad_count,
        skipped_rows: skipped.collect(),
        instrument: args.instrument.clone(),
        note: args.note.clone(),
        because: args.record.because.clone(),
        at,
    }
}

/// Keeps the file, if it is still the one that was read.
fn keep(book: &Book, source: &LogSource, hash: Hash) -> Result<(), Failure> {
    let kept = book.keep_file(Path::new(&source.path)).map_err(|error| failure(&error))?;
    if kept == hash {
        return Ok(());
    }
    let fault = Fault::new(
        "file_changed",
        "the file was changed while it was read",
        Place::named(source.path.as_str()),
    );
    Err(fault.with_hint("Wait until the instrument has closed it, and try again.").into())
}
