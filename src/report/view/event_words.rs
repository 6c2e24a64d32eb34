//! What an entry records, in one line of words.

use super::amount::short;
use super::ranges::code_range;
use crate::record::batch::{AppearanceSeen, FrozenPart, Permit, PropertyMeasured, Started, WaterMeasured};
use crate::record::cell::{Built, Cause};
use crate::record::log::LogImported;
use crate::record::reading::ReadingValue;
use crate::record::{Code, Event};

/// What an event records, in words; the codes are named where they are needed to understand it.
pub fn event_words(event: &Event) -> String {
    match event {
        Event::Begun(begun) => format!("the book of {} begins", begun.laboratory),
        Event::Corrected(change) => {
            let why = in_spite(change.in_spite.as_deref());
            format!("corrects entry {}: {}{why}", change.entry, change.reason)
        }
        Event::Struck(change) => {
            let why = in_spite(change.in_spite.as_deref());
            format!("strikes entry {}: {}{why}", change.entry, change.reason)
        }
        Event::BottleReceived(_)
        | Event::BottleOpened(_)
        | Event::BottleDried(_)
        | Event::BottleWeighed(_)
        | Event::BottleDisposed(_) => of_bottle(event),
        Event::CellsBuilt(built) => cells_built(built),
        Event::CellWeighed(weighed) => {
            let why = because(weighed.because.as_deref());
            format!("{} holds {} of {}{why}", weighed.cell, weighed.mass.text, weighed.batch)
        }
        Event::CellRetired(retired) => {
            let note = retired.note.as_ref().map(|note| format!(" ({note})")).unwrap_or_default();
            format!("{} retired: {}{note}", retired.cell, cause_words(&retired.cause))
        }
        Event::ReadingTaken(reading) => format!("{}: {}", reading.cell, reading_words(&reading.value)),
        Event::LogImported(log) => log_words(log),
        Event::StudyPlanned(_) | Event::StudyAssigned(_) | Event::StudyLooked(_) => of_study(event),
        _ => of_batch(event),
    }
}

/// What was read, in words.
pub fn reading_words(value: &ReadingValue) -> String {
    match value {
        ReadingValue::OpenCircuit { text, .. } => format!("open circuit {text}"),
        ReadingValue::UnderLoad { text, ohms, after_s, .. } => {
            format!("{text} under {} Ω after {} s", short(*ohms, 6), short(*after_s, 6))
        }
        ReadingValue::ShortCircuit { text, meter_ohms, .. } => {
            let meter = meter_ohms.map(|ohms| format!(" through {} Ω of the meter", short(ohms, 6)));
            format!("short circuit {text}{}", meter.unwrap_or_default())
        }
    }
}

/// A log in words.
pub fn log_words(log: &LogImported) -> String {
    let codes: Vec<Code> = log.cells.iter().map(|logged| logged.cell.clone()).collect();
    let left_out = match log.skipped {
        0 => String::new(),
        1 => ", 1 row left out".to_owned(),
        more => format!(", {more} rows left out"),
    };
    let file = log.file.short();
    let why = because(log.because.as_deref());
    format!("log {} of {}: {} rows{left_out}, file {file}{why}", log.name, code_range(&codes), log.rows)
}

fn by_procedure(permit: Option<&Permit>) -> String {
    permit.map_or_else(String::new, |permit| {
        format!(", by {}, responsible {}", permit.procedure, permit.person)
    })
}

/// A cell's end in words.
pub fn cause_words(cause: &Cause) -> &str {
    match cause {
        Cause::Leak => "leak",
        Cause::Short => "internal short",
        Cause::Dry => "dried out",
        Cause::WrongDose => "wrong dose",
        Cause::EndOfTest => "end of test",
        Cause::Other(words) => words,
    }
}

fn of_study(event: &Event) -> String {
    match event {
        Event::StudyPlanned(planned) => {
            let names: Vec<&str> = planned.electrolytes.iter().map(|studied| studied.name.as_str()).collect();
            let (code, each, metric) = (&planned.code, planned.per_electrolyte, &planned.metric);
            format!(
                "study {code} planned: {metric} of {each} cells each of {}, until {}",
                names.join(", "),
                planned.ends
            )
        }
        Event::StudyAssigned(assigned) => {
            format!("{} taken into study {}", code_range(&assigned.cells), assigned.study)
        }
        Event::StudyLooked(looked) => format!(
            "{} looked at before its planned end with {:?}: {} of {} cells had a value",
            looked.study, looked.command, looked.with_value, looked.of
        ),
        _ => String::new(),
    }
}

fn of_bottle(event: &Event) -> String {
    match event {
        Event::BottleReceived(event) => {
            let lot = event.supplier_lot.as_ref().map(|lot| format!(", lot {lot}")).unwrap_or_default();
            format!("{} of {} taken in as {}{lot}", event.net.text, event.name, event.code)
        }
        Event::BottleOpened(event) => format!("{} opened", event.code),
        Event::BottleDried(event) => {
            format!(
                "{} from {} dried to {} as {}",
                event.taken.text, event.from, event.dried.text, event.code
            )
        }
        Event::BottleWeighed(event) => format!("{} weighed: {} left", event.code, event.left.text),
        Event::BottleDisposed(event) => format!("{} disposed of: {}", event.code, event.reason),
        _ => String::new(),
    }
}

fn of_batch(event: &Event) -> String {
    match event {
        Event::BatchStarted(event) => started(event),
        Event::BatchWeighed(event) => {
            let from = event.from.as_ref().map(|from| format!(" from {from}")).unwrap_or_default();
            let later = if event.later { ", beyond the plan" } else { "" };
            let why = by_procedure(event.permit.as_ref()) + &because(event.because.as_deref());
            format!("{} of {}{from} into {}{later}{why}", event.mass.text, event.entry.name, event.batch)
        }
        Event::BatchAdded(event) => {
            let why = by_procedure(event.permit.as_ref()) + &because(event.because.as_deref());
            format!("{} of {} into {}{why}", event.mass.text, event.from, event.batch)
        }
        Event::BatchBlended(event) => {
            let parts = event.from.iter().map(|part| format!("{} of {}", part.mass.text, part.batch));
            let parts = parts.collect::<Vec<_>>().join(" and ");
            let why = by_procedure(event.permit.as_ref()) + &because(event.because.as_deref());
            format!("{} blended from {parts}{why}", event.code)
        }
        Event::BatchFinished(event) => {
            let mass = event.mass.as_ref().map(|mass| format!(": {} there", mass.text)).unwrap_or_default();
            format!("{} finished{mass}", event.batch)
        }
        Event::BatchWater(event) => water(event),
        Event::BatchAppearance(event) => appearance(event),
        Event::BatchMeasured(event) => measured(event),
        Event::BatchReleased(event) => {
            format!("{} released{}", event.batch, because(event.because.as_deref()))
        }
        Event::BatchRejected(event) => format!("{} rejected: {}", event.batch, event.reason),
        Event::BatchWasted(event) => {
            format!("{} of {} wasted: {}", event.mass.text, event.batch, event.reason)
        }
        Event::BatchLeftWeighed(event) => format!("{} weighed: {} left", event.batch, event.left.text),
        _ => String::new(),
    }
}

fn started(event: &Started) -> String {
    let parts = event.plan.lines.iter().filter(|line| matches!(line.part, FrozenPart::Ratio(_))).count();
    let of = if parts == 1 { "1 part".to_owned() } else { format!("{parts} parts") };
    let permit = by_procedure(event.permit.as_ref());
    format!("{} started: {}, {of}, {}{}", event.code, event.plan.recipe, event.plan.size, permit)
}

fn water(event: &WaterMeasured) -> String {
    let result = event.result.as_ref().map(|result| format!(": {}", result.text)).unwrap_or_default();
    let replicates = match event.replicates.len() {
        0 => String::new(),
        1 => ", 1 replicate".to_owned(),
        more => format!(", {more} replicates"),
    };
    format!("water of {} by {}{result}{replicates}", event.batch, event.method)
}

fn appearance(event: &AppearanceSeen) -> String {
    let mut seen = vec![event.clarity.clone()];
    seen.extend(event.colour.clone());
    seen.extend(event.crystals.as_ref().map(|crystals| format!("crystals: {crystals}")));
    format!("{} looked at, {}: {}", event.batch, event.occasion, seen.join(", "))
}

fn measured(event: &PropertyMeasured) -> String {
    let at = event.temperature.as_ref().map(|temperature| format!(" at {}", temperature.text));
    format!("{} of {}: {}{}", event.property, event.batch, event.text, at.unwrap_or_default())
}

fn cells_built(built: &Built) -> String {
    let uses = built.uses.iter().map(|used| format!("{} of {}", used.dose.text, used.batch));
    let uses = uses.collect::<Vec<_>>().join(" and ");
    let codes: Vec<Code> = built.cells.iter().map(|cell| cell.code.clone()).collect();
    let why = because(built.because.as_deref());
    format!("{} built to {}: {uses} each, seed {}{why}", code_range(&codes), built.design.name, built.seed)
}

fn in_spite(reason: Option<&str>) -> String {
    reason.map(|reason| format!(", in spite of less than nothing left: {reason}")).unwrap_or_default()
}

fn because(reason: Option<&str>) -> String {
    reason.map(|reason| format!(", because: {reason}")).unwrap_or_default()
}
