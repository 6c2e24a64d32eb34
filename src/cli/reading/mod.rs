//! `reading`: raw values of cells, and what they mean in their order.

mod add;
mod import;
mod import_answer;
mod list;
mod table;
mod values;

pub(super) use import_answer::log_answer;

use clap::{Args, Subcommand};
use jiff::SignedDuration;
use serde_json::{Value, json};

use super::args::Common;
use super::outcome::{Failure, Outcome};
use crate::input::{Fault, Place, did_you_mean};
use crate::record::reading::{Reading, ReadingKind, ReadingValue};

/// Readings of cells: add one or many, take in the log of an instrument, list them as a bench table
#[derive(Debug, Args)]
pub(super) struct ReadingArgs {
    #[command(subcommand)]
    command: ReadingCommand,
}

#[derive(Debug, Subcommand)]
enum ReadingCommand {
    Add(Box<add::AddArgs>),
    Import(Box<import::ImportArgs>),
    List(list::ListArgs),
}

pub(super) fn run(common: &Common, args: &ReadingArgs) -> Result<Outcome, Failure> {
    match &args.command {
        ReadingCommand::Add(args) => add::run(common, args),
        ReadingCommand::Import(args) => import::run(common, args),
        ReadingCommand::List(args) => list::run(common, args),
    }
}

/// Readings for scripts.
pub(super) fn reading_answers(readings: &[Reading], since_short: &[Option<SignedDuration>]) -> Vec<Value> {
    readings.iter().zip(since_short).map(|(reading, since)| reading_answer(reading, *since)).collect()
}

fn reading_answer(reading: &Reading, since: Option<SignedDuration>) -> Value {
    let taken = &reading.taken;
    let (volts, amperes) = match &taken.value {
        ReadingValue::OpenCircuit { volts, .. } | ReadingValue::UnderLoad { volts, .. } => {
            (Some(volts), None)
        }
        ReadingValue::ShortCircuit { amperes, .. } => (None, Some(amperes)),
    };
    let (load, meter, after) = match &taken.value {
        ReadingValue::OpenCircuit { .. } => (None, None, None),
        ReadingValue::UnderLoad { ohms, after_s, .. } => (Some(*ohms), None, Some(*after_s)),
        ReadingValue::ShortCircuit { meter_ohms, after_s, .. } => (None, *meter_ohms, *after_s),
    };
    json!({
        "entry": reading.entry,
        "cell": taken.cell.to_string(),
        "at": taken.at.to_string(),
        "what": taken.value.kind().word(),
        "text": taken.value.text(),
        "voltage_v": volts,
        "current_a": amperes,
        "load_ohm": load,
        "meter_ohm": meter,
        "after_s": after,
        "temperature_c": taken.temperature.as_ref().map(|typed| typed.value.celsius()),
        "humidity_pct": taken.humidity.as_ref().map(|typed| typed.value.percent()),
        "instrument": taken.instrument,
        "note": taken.note,
        "because": taken.because,
        "disturbed": since.is_some(),
        "since_short_circuit_s": since.map(|since| since.as_secs()),
    })
}

/// What --what names.
fn what(text: &str) -> Result<ReadingKind, Fault> {
    ReadingKind::from_word(text).ok_or_else(|| {
        let words = ReadingKind::ALL.map(ReadingKind::word);
        let hint = did_you_mean(text, words, &format!("What can be read is {}.", words.join(", ")));
        let place = Place::in_text("--what", text, 0..text.len());
        Fault::new("unknown_reading", format!("{text:?} can't be read"), place).with_hint(hint)
    })
}
