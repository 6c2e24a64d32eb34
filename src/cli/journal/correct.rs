//! `correct`: the values of an entry were wrong, and these are right.

use clap::Args;

use super::change::Change;
use crate::book::Why;
use crate::cell::metric::Metric;
use crate::cli::args::Common;
use crate::cli::outcome::{Failure, Outcome};
use crate::cli::request::{
    self, RecordArgs, entry_number, failure, in_unit, moment, no_size_of, open_book, stamp,
};
use crate::input::{Fault, Faults, Place, did_you_mean};
use crate::quantity::Property;
use crate::record::batch::{HowWeighed, PropertyMeasured};
use crate::record::{AmendError, Event, amended, differences};

/// Replace wrong values of an entry; the original stays visible
///
/// A correction stays of the same kind and about the same codes; what was recorded of the wrong bottle or batch
/// is struck and recorded again. See the entries with meltbook history, the fields of one with --format json.
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  meltbook correct 4 --mass \"481 g\" --because \"digits swapped\"\n  meltbook correct 4 --set at=2026-11-24T10:00:00Z --because \"read off the notebook\""
)]
pub(in crate::cli) struct CorrectArgs {
    /// The number of the entry
    #[arg(value_name = "ENTRY")]
    entry: String,
    /// A field and its right value; repeatable
    #[arg(long, value_name = "FIELD=VALUE")]
    set: Vec<String>,
    /// The right mass, where the entry has one mass
    #[arg(long, value_name = "MASS", allow_hyphen_values = true)]
    mass: Option<String>,
    /// Why, although a bottle or batch then holds less than nothing by the records; recorded
    #[arg(long, value_name = "REASON")]
    in_spite: Option<String>,
    #[command(flatten)]
    record: RecordArgs,
}

/// Fields that are the one mass of an entry.
const MASSES: [&str; 3] = ["mass", "left", "net"];

pub(in crate::cli) fn run(common: &Common, args: &CorrectArgs) -> Result<Outcome, Failure> {
    let mut faults = Faults::none();
    let entry = faults.collect(entry_number(&args.entry));
    let reason = faults.collect(request::reason(&args.record, "what was wrong"));
    let sets = faults.collect(sets(args));
    let (Some(entry), Some(reason), Some(sets), true) = (entry, reason, sets, faults.is_empty()) else {
        return Err(faults.into());
    };
    let settings = request::settings(common)?;
    let stamp = stamp(args.record.by.as_deref(), settings.as_ref())?;
    let mut book = open_book(common)?;
    let written = book.write(&stamp, |writer| {
        let standing = writer.standing(entry)?;
        // Nothing is written where the new values don't fit.
        let event = match new_values(&standing, &sets) {
            Ok(event) => event,
            Err(faults) => return Ok(Err(faults)),
        };
        let before = writer.amounts()?;
        let doubts =
            writer.correct(entry, &event, Why { reason: &reason, in_spite: args.in_spite.as_deref() })?;
        Ok(Ok((differences(&standing, &event), before, doubts, writer.amounts()?)))
    });
    let (fields, before, doubts, after) = written.map_err(|error| failure(&error))??;
    let change = Change {
        entry,
        title: format!("Entry {} corrected", entry),
        kind: "correct",
        reason,
        fields,
        before,
        after,
        doubts,
        head: book.head().map_err(|error| failure(&error))?,
    };
    Ok(change.outcome())
}

/// Fields with their new texts; `None` for the mass that `--mass` means.
type Sets = Vec<(Option<String>, String)>;

fn sets(args: &CorrectArgs) -> Result<Sets, Faults> {
    let mut faults = Faults::none();
    let mut sets = Sets::new();
    for text in &args.set {
        match text.split_once('=') {
            Some((field, value)) if !field.trim().is_empty() => {
                sets.push((Some(field.trim().to_owned()), value.to_owned()));
            }
            _ => {
                let place = Place::in_text("--set", text.as_str(), 0..text.len());
                let fault = Fault::new("no_field", format!("{text:?} names no field"), place);
                faults.push(fault.with_hint("Write it like --set mass=\"32.48 g\"."));
            }
        }
    }
    sets.extend(args.mass.iter().map(|mass| (None, mass.clone())));
    if sets.is_empty() && faults.is_empty() {
        let fault = Fault::new("no_new_value", "no new value is given", Place::named("correct"));
        faults.push(fault.with_hint("Give it with --mass or --set FIELD=VALUE, or strike the entry."));
    }
    faults.or(sets)
}

fn new_values(standing: &Event, sets: &Sets) -> Result<Event, Faults> {
    let mut faults = Faults::none();
    let mut event = standing.clone();
    for (field, text) in sets {
        match field {
            Some(field) => {
                let changed = change(&event, field, text);
                event = faults
                    .collect(changed.map_err(|error| fault(&error, "--set", field, text)))
                    .unwrap_or(event);
            }
            None => event = faults.collect(mass(&event, text)).unwrap_or(event),
        }
    }
    if faults.is_empty() {
        let checks = [unchanged(standing, &event), sums_up(&event)];
        checks.into_iter().flatten().for_each(|fault| faults.push(fault));
        faults.collect(metric_is_read(&event));
    }
    faults.or(event)
}

fn change(event: &Event, field: &str, text: &str) -> Result<Event, AmendError> {
    amended(event, field, text, &|text| moment("--set", text).ok())
}

/// The one mass of an entry, under whichever name.
fn mass(event: &Event, text: &str) -> Result<Event, Fault> {
    for field in MASSES {
        match change(event, field, text) {
            Err(AmendError::UnknownField { .. }) => {}
            other => return other.map_err(|error| fault(&error, "--mass", "--mass", text)),
        }
    }
    let place = Place::in_text("--mass", text, 0..text.len());
    let fault =
        Fault::new("no_one_mass", format!("an entry of kind {} has not one mass", event.kind()), place);
    Err(fault.with_hint("Name the field with --set FIELD=VALUE."))
}

fn fault(error: &AmendError, flag: &str, field: &str, text: &str) -> Fault {
    let whole = if field == flag { text.to_owned() } else { format!("{field}={text}") };
    let place = Place::in_text(flag, whole.as_str(), 0..whole.len());
    match error {
        AmendError::UnknownField { given, known } => {
            let all = format!("The fields are {}.", known.join(", "));
            let hint = did_you_mean(given, known.iter().map(String::as_str), &all);
            Fault::new("unknown_field", error.to_string(), place).with_hint(hint)
        }
        AmendError::DoesNotFit { .. } | AmendError::NoJson => {
            if flag == "--mass" && text.trim().starts_with(['-', '\u{2212}']) {
                let fault =
                    Fault::new("does_not_fit", format!("a mass is not below zero, and {text:?} is"), place);
                return fault
                    .with_hint("Give the mass that was really there; strike the entry if there was none.");
            }
            Fault::new("does_not_fit", error.to_string(), place)
                .with_hint("Give a value of the same sort with its unit.")
        }
    }
}

fn unchanged(standing: &Event, event: &Event) -> Option<Fault> {
    (standing == event).then(|| {
        Fault::new("nothing_changes", "the entry says that already", Place::named("correct"))
            .with_hint("Look at it with: meltbook history --format json.")
    })
}

/// A study's metric must still be one that can be taken, by the same rules as when it was planned.
fn metric_is_read(event: &Event) -> Result<(), Faults> {
    let Event::StudyPlanned(planned) = event else { return Ok(()) };
    let metric = Metric::parse_at("--set", &planned.metric)?;
    let sizes = [&planned.smallest, &planned.spread].into_iter().flatten();
    let mut faults = Faults::none();
    for size in sizes.filter(|size| in_unit(size, metric.unit()).is_none()) {
        let fault = Fault::new("unit_mixed", no_size_of(size, &metric), Place::named("--set"));
        faults.push(fault.with_hint(format!("Give it in {}, in the same correction.", metric.unit())));
    }
    faults.or(())
}

/// A net mass with its gross and tare must still be their difference, a measured value what its text says.
fn sums_up(event: &Event) -> Option<Fault> {
    let weighed = match event {
        Event::BatchWeighed(weighed) => weighed,
        Event::BatchMeasured(measured) => return reads_alike(measured),
        _ => return None,
    };
    let (more, less, names) = match &weighed.how {
        HowWeighed::Net => return None,
        HowWeighed::GrossAndTare { gross, tare } => (gross, tare, "how.gross_and_tare.gross and .tare"),
        HowWeighed::ByDifference { before, after } => (before, after, "how.by_difference.before and .after"),
    };
    let net = more.value.get() - less.value.get();
    let off = (net - weighed.mass.value.get()).abs();
    (1e-9 < off).then(|| {
        let message = format!("{} is not {} less {}", weighed.mass.text, more.text, less.text);
        Fault::new("does_not_add_up", message, Place::named("correct"))
            .with_hint(format!("Correct all that were wrong of mass, {names}."))
    })
}

/// A property as typed and as kept.
fn reads_alike(measured: &PropertyMeasured) -> Option<Fault> {
    let property = Property::from_id(&measured.property)?;
    let typed = property.parse(&measured.text).ok();
    let off = typed.is_none_or(|typed| 1e-9 * typed.abs().max(1.0) < (typed - measured.value).abs());
    off.then(|| {
        let unit = property.unit();
        let message =
            format!("the value {} {unit} is not what the text {:?} says", measured.value, measured.text);
        let hint = format!(
            "Correct both, as in --set value={} --set \"text={} {unit}\".",
            measured.value, measured.value
        );
        Fault::new("does_not_add_up", message, Place::named("correct")).with_hint(hint)
    })
}
