//! A study: what was planned, what came of it, and its build list.

mod build_list;
mod comparison;
mod departures;
mod list;
mod matters;
mod power;

pub use build_list::{BatchShare, build_list_document};
pub use comparison::{EarlyLook, StudyComparison, study_comparison_document};
pub use departures::departure_words;
pub use list::study_list;
pub use matters::{Matters, PairMatters};
pub use power::StudyPower;

use jiff::tz::TimeZone;

use super::event_words::cause_words;
use super::moment::moment;
use super::ranges::code_range;
use crate::record::cell::{Cause, Cell, DueReading};
use crate::record::study::{Departure, Planned, Studied, Study};
use crate::record::{Code, HistoryLine};
use crate::report::document::{
    Block, Caution, Document, Table, Text, bullets, column, facts, heading, muted, paragraph, text,
};
use crate::report::view::amount::short;

/// What is shown of a study.
pub struct StudyView<'a> {
    /// The study.
    pub study: &'a Study,
    /// Its cells, each with the place of its electrolyte.
    pub cells: &'a [(Cell, Option<usize>)],
    /// What the work did otherwise.
    pub departures: &'a [Departure],
    /// The line of the history that wrote it.
    pub line: Option<&'a HistoryLine>,
    /// What its number of cells can find, where a spread was given.
    pub power: Option<&'a StudyPower>,
    /// Whole days to the planned end; 0 on its day and after it.
    pub days_before_end: u32,
    /// The zone in which times are shown.
    pub zone: &'a TimeZone,
}

/// The whole study.
pub fn study_document(view: &StudyView<'_>) -> Document {
    let planned = &view.study.planned;
    let mut document =
        Document::new(format!("Study {}", planned.code)).with(paragraph(planned.question.as_str()));
    document.push(dates(view));
    document.push(facts(plan_facts(planned)));
    if let Some(power) = view.power {
        document.push(paragraph(power.sentence()));
        document.extend(power.shortfall().map(Caution::warn));
    }
    document.push(electrolytes(view));
    if view.cells.is_empty() {
        document.push(paragraph(muted(format!(
            "No cell is built for it yet: see meltbook study build-list {0} and meltbook cell build --study {0}.",
            planned.code
        ))));
    }
    document.extend(changes(view));
    document.extend(looks(view));
    document.push(heading(1, "Departures from the plan"));
    document.extend(departure_blocks(view.departures, view.zone));
    document
}

/// The departures as points, or that there are none.
fn departure_blocks(departures: &[Departure], zone: &TimeZone) -> Vec<Block> {
    if departures.is_empty() {
        return vec![paragraph("None that the records show.")];
    }
    vec![bullets(departures.iter().map(|departure| departure_words(departure, zone))).into()]
}

/// When it was written, by whom, and what changed the plan since.
fn written(study: &Study, departures: &[Departure], zone: &TimeZone) -> String {
    let changed = departures.iter().find_map(|departure| match departure {
        Departure::PlanChanged { by, .. } => {
            let by: Vec<String> = by
                .iter()
                .map(|(entry, at, _)| match at {
                    Some(at) => format!("entry {entry} on {}", moment(*at, zone)),
                    None => format!("entry {entry}"),
                })
                .collect();
            Some(format!("; changed since by {}: see the departures", by.join(", ")))
        }
        _ => None,
    });
    format!(
        "{}, by {}, entry {}{}",
        moment(study.written, zone),
        study.author,
        study.entry,
        changed.unwrap_or_default()
    )
}

/// When it was written, by whom, and when it ends.
fn dates(view: &StudyView<'_>) -> Block {
    let study = view.study;
    let written = written(study, view.departures, view.zone);
    let ends = match view.days_before_end {
        0 => study.planned.ends.to_string(),
        days => format!("{}, in {days} d", study.planned.ends),
    };
    facts([("Written", written), ("Planned end", ends)])
}

fn plan_facts(planned: &Planned) -> Vec<(&'static str, Text)> {
    let causes: Vec<&str> = planned.causes.iter().map(cause_words).collect();
    let blocks = planned.blocks.len();
    let each = planned.per_block();
    let pairs = planned
        .baseline
        .as_ref()
        .map_or_else(|| "every pair".to_owned(), |baseline| format!("all others with {baseline}"));
    let confidence = format!("{} %", short(planned.confidence * 100.0, 3));
    let mut facts: Vec<(&str, Text)> = vec![
        ("Metric", text(&planned.metric)),
        ("Compared", format!("{pairs}, {}, confidence {confidence}", planned.method.word()).into()),
        ("Cells", format!("{} of each electrolyte", planned.per_electrolyte).into()),
        (
            "Order",
            format!("{blocks} blocks with {each} of each, drawn at random from seed {}", planned.seed).into(),
        ),
        ("Readings", schedule_words(&planned.schedule).into()),
        ("Left out only for", causes.join(", ").into()),
    ];
    let unsaid = || text("not said: no difference can be called too small to matter");
    facts
        .push(("Matters from", planned.smallest.as_ref().map_or_else(unsaid, |size| text(size.to_string()))));
    facts.extend(planned.spread.as_ref().map(|size| ("Spread expected", text(size.to_string()))));
    facts
}

/// "open circuit on days 7, 14, 21".
fn schedule_words(schedule: &[DueReading]) -> String {
    if schedule.is_empty() {
        return "as the cell design says".to_owned();
    }
    let mut kinds: Vec<(&str, Vec<String>)> = Vec::new();
    for due in schedule {
        // To the minute.
        let day = short((due.day * 1440.0).round() / 1440.0, 3);
        match kinds.iter_mut().find(|(what, _)| *what == due.what) {
            Some((_, days)) => days.push(day),
            None => kinds.push((&due.what, vec![day])),
        }
    }
    let words = kinds.iter().map(|(what, days)| {
        let unit = if days.len() == 1 { "day" } else { "days" };
        format!("{} on {unit} {}", what.replace('-', " "), days.join(", "))
    });
    words.collect::<Vec<_>>().join("; ")
}

/// What an electrolyte is made of, in words.
fn source(studied: &Studied) -> String {
    match &studied.recipe {
        Some(recipe) => format!("every batch of {recipe}"),
        None => studied.batches.iter().map(ToString::to_string).collect::<Vec<_>>().join(", "),
    }
}

fn electrolytes(view: &StudyView<'_>) -> Table {
    let mut table = Table::new([
        column("Electrolyte").key("electrolyte"),
        column("Is").key("batches"),
        column("Planned").key("planned").right(),
        column("There").key("there").right(),
        column("Failed").key("failed").right(),
        column("Cells").key("cells"),
    ]);
    for (place, studied) in view.study.planned.electrolytes.iter().enumerate() {
        let cells: Vec<&Cell> =
            view.cells.iter().filter(|(_, held)| *held == Some(place)).map(|(cell, _)| cell).collect();
        let failed = cells.iter().filter(|cell| has_failed(cell)).count();
        let codes: Vec<Code> = cells.iter().map(|cell| cell.code.clone()).collect();
        table.push([
            studied.name.clone(),
            source(studied),
            view.study.planned.per_electrolyte.to_string(),
            cells.len().to_string(),
            failed.to_string(),
            code_range(&codes),
        ]);
    }
    table
}

fn has_failed(cell: &Cell) -> bool {
    cell.retired.as_ref().is_some_and(|(_, cause, _)| *cause != Cause::EndOfTest)
}

/// What was corrected in the plan, with both values.
fn changes(view: &StudyView<'_>) -> Vec<Block> {
    let planned = crate::record::Event::StudyPlanned(Box::new(view.study.planned.clone()));
    let fields = view.line.map(|line| crate::record::differences(&line.event, &planned)).unwrap_or_default();
    if fields.is_empty() {
        return Vec::new();
    }
    let mut table = Table::new([
        column("Field").key("field"),
        column("As first written").key("before"),
        column("As it stands").key("after"),
    ]);
    fields.iter().for_each(|(field, before, after)| table.push([field, before, after]));
    let reasons = view.line.into_iter().flat_map(|line| &line.changes);
    let reasons =
        reasons.map(|change| format!("{} by entry {}: {}", change.what, change.sequence, change.reason));
    vec![heading(1, "Changed since"), table.into(), bullets(reasons).into()]
}

fn looks(view: &StudyView<'_>) -> Vec<Block> {
    let looks = &view.study.looks;
    if looks.is_empty() {
        return Vec::new();
    }
    let mut table = Table::new([
        column("Entry").key("entry").right(),
        column("When").key("when"),
        column("By").key("by"),
        column("Days before the end").key("days_before").right(),
        column("With").key("command"),
        column("Cells with a value").key("with_value"),
    ]);
    for look in looks {
        let looked = &look.looked;
        table.push([
            look.entry.to_string(),
            moment(looked.at, view.zone),
            look.author.clone(),
            view.study.planned.days_before_end(looked.at, view.zone).to_string(),
            looked.command.clone(),
            format!("{} of {}", looked.with_value, looked.of),
        ]);
    }
    let why = "Each look before the end is a chance to stop on a difference that is only there by chance: with several, \
               the probability of finding what is not there is above the stated one.";
    vec![heading(1, "Looks before the planned end"), table.into(), paragraph(muted(why))]
}
