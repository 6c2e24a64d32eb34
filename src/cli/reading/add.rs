//! `reading add`: one cell, or many at once.

use clap::Args;
use serde_json::json;

use super::table::{Value, listed, tabled};
use super::values::Circuit;
use super::{reading_answers, what};
use crate::book::{Book, cell, readings};
use crate::cli::args::Common;
use crate::cli::outcome::{Failure, Outcome};
use crate::cli::request::{
    self, RecordArgs, codes, failure, open_book, quantity, read_text, review_reading, stamp, zone,
};
use crate::input::{Fault, Faults, Place, Warning};
use crate::quantity::{Quantity, Relative, Resistance, Temperature, TimeSpan, Typed};
use crate::record::reading::{Reading, ReadingKind, ReadingTaken, SETTLING, disturbed};
use crate::record::{Code, Event};
use crate::report::document::{Caution, Document, facts, paragraph};
use crate::report::view::{alerts_in_short, readings_long};

/// Record what a meter showed; raw values are stored, everything else is computed from them
///
/// Many at once: --values "C1=1.48 C2=1.47" or a table with cells down and times across, one quantity in a file,
/// its unit in the corner, a head ("2026-11-25 (V)") or --unit. If anything in it is wrong, nothing is recorded;
/// what stands in the book already is passed over, so that a table can grow and be given again.
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  meltbook reading add C1 --open-circuit \"1.482 V\" --temperature \"22 °C\" --instrument DMM-1\n  meltbook reading add C1 --under-load \"1.205 V\" --load \"10 ohm\" --after \"5 s\"\n  meltbook reading add C1 --short-circuit \"0.64 A\" --meter \"0.01 ohm\"\n  meltbook reading add --what open-circuit --values \"C1=1.48 C2=1.47\" --unit V\n  meltbook reading add --what open-circuit --csv voltages.csv"
)]
pub(super) struct AddArgs {
    /// The cell, or cells that all read the same
    #[arg(value_name = "CELL")]
    pub(super) cells: Vec<String>,
    /// Voltage with no load but the meter
    #[arg(long, value_name = "VOLTAGE", allow_hyphen_values = true, help_heading = "What was read")]
    pub(super) open_circuit: Option<String>,
    /// Voltage under a load, with --load and --after
    #[arg(long, value_name = "VOLTAGE", allow_hyphen_values = true, help_heading = "What was read")]
    pub(super) under_load: Option<String>,
    /// The load
    #[arg(long, value_name = "RESISTANCE", allow_hyphen_values = true, help_heading = "What was read")]
    pub(super) load: Option<String>,
    /// How long after closing the circuit it was read
    #[arg(long, value_name = "TIME", allow_hyphen_values = true, help_heading = "What was read")]
    pub(super) after: Option<String>,
    /// Current through the meter alone
    #[arg(long, value_name = "CURRENT", allow_hyphen_values = true, help_heading = "What was read")]
    pub(super) short_circuit: Option<String>,
    /// Resistance of the meter in its current range, with its leads
    #[arg(long, value_name = "RESISTANCE", allow_hyphen_values = true, help_heading = "What was read")]
    pub(super) meter: Option<String>,
    /// What --values or --csv hold: open-circuit, under-load or short-circuit
    #[arg(long, value_name = "QUANTITY", allow_hyphen_values = true, help_heading = "Many at once")]
    pub(super) what: Option<String>,
    /// Cells with their values: "C1=1.48 C2=1.47"
    #[arg(long, value_name = "LIST", help_heading = "Many at once", conflicts_with_all = ["cells", "csv"])]
    pub(super) values: Option<String>,
    /// A table: cells down, times across
    #[arg(long, value_name = "FILE", help_heading = "Many at once", conflicts_with_all = ["cells", "when"])]
    pub(super) csv: Option<String>,
    /// The unit of bare numbers in them
    #[arg(long, value_name = "UNIT", help_heading = "Many at once")]
    pub(super) unit: Option<String>,
    /// Temperature of the cell
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true, help_heading = "Circumstances")]
    pub(super) temperature: Option<String>,
    /// Relative humidity of the room
    #[arg(long, value_name = "PERCENT", allow_hyphen_values = true, help_heading = "Circumstances")]
    pub(super) humidity: Option<String>,
    /// The meter, by a name that is always the same
    #[arg(long, value_name = "NAME", help_heading = "Circumstances")]
    pub(super) instrument: Option<String>,
    /// Anything else
    #[arg(long, value_name = "TEXT", help_heading = "Circumstances")]
    pub(super) note: Option<String>,
    #[command(flatten)]
    pub(super) record: RecordArgs,
}

/// What all readings of a call share.
struct Shared {
    temperature: Option<Typed<Temperature>>,
    humidity: Option<Typed<Relative>>,
}

pub(super) fn run(common: &Common, args: &AddArgs) -> Result<Outcome, Failure> {
    let mut warnings = Vec::new();
    let (values, shared) = understood(args, &mut warnings)?;
    let settings = request::settings(common)?;
    let stamp = stamp(args.record.by.as_deref(), settings.as_ref())?;
    let mut book = open_book(common)?;
    let count = values.len();
    let new = if args.csv.is_some() { not_there(&book, values)? } else { values };
    let passed_over = count - new.len();
    let mut cells: Vec<Code> = new.iter().map(|value| value.cell.clone()).collect();
    cells.sort();
    cells.dedup();
    request::all_known(&cells, |code| cell(&book, code))?;
    let shorted = new.iter().any(|value| value.value.kind() == ReadingKind::ShortCircuit);
    let mut entries = Vec::new();
    if !new.is_empty() {
        entries = book
            .write(&stamp, |writer| {
                let taken = new.into_iter().map(|value| taken(args, &shared, value));
                taken.map(|taken| writer.append(&Event::ReadingTaken(taken))).collect::<Result<Vec<_>, _>>()
            })
            .map_err(|error| failure(&error))?;
    }
    let mut outcome = answer(&book, &cells, &entries, passed_over, warnings)?;
    outcome.document.extend(alerts_in_short(&review_reading(shorted)));
    Ok(outcome)
}

fn understood(args: &AddArgs, warnings: &mut Vec<Warning>) -> Result<(Vec<Value>, Shared), Failure> {
    let mut faults = Faults::none();
    let at = args.record.at()?;
    let circuit = Circuit {
        load: optional::<Resistance>("--load", args.load.as_ref(), &mut faults),
        after: optional::<TimeSpan>("--after", args.after.as_ref(), &mut faults),
        meter: optional::<Resistance>("--meter", args.meter.as_ref(), &mut faults),
    };
    let shared = Shared {
        temperature: optional("--temperature", args.temperature.as_ref(), &mut faults),
        humidity: optional("--humidity", args.humidity.as_ref(), &mut faults),
    };
    let single = [
        (ReadingKind::OpenCircuit, "--open-circuit", &args.open_circuit),
        (ReadingKind::UnderLoad, "--under-load", &args.under_load),
        (ReadingKind::ShortCircuit, "--short-circuit", &args.short_circuit),
    ];
    let many = args.values.is_some() || args.csv.is_some();
    let what = args.what.as_ref().and_then(|text| faults.collect(what(text)));
    let mut kinds: Vec<ReadingKind> =
        single.iter().filter(|(_, _, text)| text.is_some()).map(|(kind, ..)| *kind).collect();
    if many != kinds.is_empty() || args.what.is_some() != many || (!many && args.cells.is_empty()) {
        faults.push(unclear());
        return Err(faults.into());
    }
    kinds.extend(what);
    circuit.check(&kinds, &mut faults);
    let mut values = Vec::new();
    let unit = args.unit.as_deref();
    if let (Some(kind), Some(text)) = (what, &args.values) {
        values.extend(faults.collect(listed(text, kind, unit, &circuit, at, warnings)).unwrap_or_default());
    }
    if let (Some(kind), Some(path)) = (what, &args.csv) {
        match tabled(path, &read_text(path)?, kind, unit, &circuit, warnings) {
            Ok(tabled) => values.extend(tabled),
            Err(failure) => faults.extend(failure.faults().clone()),
        }
    }
    let cells = faults.collect(codes("CELL", &args.cells)).unwrap_or_default();
    for (kind, flag, text) in single {
        let Some(text) = text else { continue };
        let place = Place::in_text(flag, text.as_str(), 0..text.len());
        let Some(value) = faults.collect(circuit.value(kind, text, place.clone(), warnings)) else {
            continue;
        };
        values.extend(cells.iter().map(|cell| Value {
            cell: cell.clone(),
            value: value.clone(),
            at,
            place: place.clone(),
        }));
    }
    Ok(faults.or((values, shared))?)
}

fn optional<T: Quantity>(flag: &str, text: Option<&String>, faults: &mut Faults) -> Option<Typed<T>> {
    text.and_then(|text| faults.collect(quantity::<T>(flag, text)))
}

fn unclear() -> Fault {
    Fault::new("no_reading", "it is not clear what was read of which cell", Place::named("reading add")).with_hint(
        "Name cells and give --open-circuit, --under-load or --short-circuit; or give --what with --values or --csv.",
    )
}

/// Leaves out what stands in the book already; another value of the same cell and time is a fault.
fn not_there(book: &Book, values: Vec<Value>) -> Result<Vec<Value>, Failure> {
    let there = readings(book, &[]).map_err(|error| failure(&error))?;
    let mut faults = Faults::none();
    let mut new = Vec::new();
    for value in values {
        let same = |reading: &&Reading| {
            reading.taken.cell == value.cell
                && reading.taken.at == value.at
                && reading.taken.value.kind() == value.value.kind()
        };
        match there.iter().find(same) {
            None => new.push(value),
            Some(reading) if reading.taken.value.number() == value.value.number() => {}
            Some(reading) => {
                let message = format!(
                    "entry {} says {} of {} at that time",
                    reading.entry,
                    reading.taken.value.text(),
                    value.cell
                );
                let fault = Fault::new("reading_differs", message, value.place);
                faults.push(fault.with_hint("If the table is right, use: meltbook correct."));
            }
        }
    }
    Ok(faults.or(new)?)
}

fn taken(args: &AddArgs, shared: &Shared, value: Value) -> ReadingTaken {
    ReadingTaken {
        cell: value.cell,
        value: value.value,
        temperature: shared.temperature.clone(),
        humidity: shared.humidity.clone(),
        instrument: args.instrument.clone(),
        note: args.note.clone(),
        because: args.record.because.clone(),
        at: value.at,
    }
}

/// What was recorded now, seen with all other readings of the same cells.
fn answer(
    book: &Book,
    cells: &[Code],
    entries: &[u64],
    passed_over: usize,
    warnings: Vec<Warning>,
) -> Result<Outcome, Failure> {
    let all =
        if cells.is_empty() { Vec::new() } else { readings(book, cells).map_err(|error| failure(&error))? };
    let since_short = disturbed(&all, SETTLING);
    let (now, since): (Vec<Reading>, Vec<_>) =
        all.into_iter().zip(since_short).filter(|(reading, _)| entries.contains(&reading.entry)).unzip();
    let head = book.head().map_err(|error| failure(&error))?;
    let count = match now.len() {
        1 => "1 reading".to_owned(),
        more => format!("{more} readings"),
    };
    let mut document = Document::new(format!("Recorded: {count}"));
    if !now.is_empty() {
        document.push(readings_long(&now, &since, &zone()));
    }
    if 0 < passed_over {
        document.push(paragraph(format!("{passed_over} of the table stood in the book already.")));
    }
    document.push(facts([("Entry", format!("{}, head {}", head.0, head.1.short()))]));
    document.extend(warnings.iter().map(|warning| Caution::warn(warning.message.as_str())));
    let answer = json!({
        "readings": reading_answers(&now, &since),
        "passed_over": passed_over,
        "entry": head.0,
        "head": head.1.to_string(),
    });
    let mut outcome = Outcome::new("reading add", answer, document);
    outcome.warnings = warnings;
    Ok(outcome)
}
