//! What a careful reader would want and the book does not have, a sentence each.

use std::collections::BTreeMap;

use super::ReportView;
use crate::cell::metric::CellRecord;
use crate::record::Code;
use crate::record::reading::{Reading, ReadingValue};
use crate::report::standing::Standing;
use crate::report::view::ranges::{code_range, code_ranges};

/// With fewer cells of an electrolyte than this hardly anything can be told.
const FEW: usize = 3;

/// The sentences, what weighs most on the findings first.
pub fn missing(view: &ReportView<'_>) -> Vec<String> {
    let mut missing = Vec::new();
    if view.studies.is_empty() {
        missing.push(
            "No study of these cells was written down beforehand: what was compared may have been chosen after it was seen."
                .to_owned(),
        );
    }
    missing.extend(of_electrolytes(view.cells));
    missing.extend(of_batches(view));
    missing.extend(of_cells(view));
    missing.extend(of_readings(view.cells));
    missing
}

fn of_electrolytes(cells: &[CellRecord]) -> Vec<String> {
    let mut electrolytes: BTreeMap<&str, (usize, Vec<&str>)> = BTreeMap::new();
    for record in cells {
        let (count, lots) = electrolytes.entry(&record.electrolyte).or_default();
        *count += 1;
        if !lots.contains(&record.batch.as_str()) {
            lots.push(&record.batch);
        }
    }
    let few: Vec<&str> =
        electrolytes.iter().filter(|(_, (count, _))| *count < FEW).map(|(name, _)| *name).collect();
    let one_lot: Vec<&str> =
        electrolytes.iter().filter(|(_, (_, lots))| lots.len() == 1).map(|(name, _)| *name).collect();
    let mut said = Vec::new();
    if !one_lot.is_empty() {
        said.push(format!(
            "A second batch of {}: with one, what is found may be the batch's and not the electrolyte's.",
            one_lot.join(", ")
        ));
    }
    if !few.is_empty() {
        said.push(format!("More cells of {}: fewer than {FEW} tell hardly anything.", few.join(", ")));
    }
    if electrolytes.len() == 1 {
        said.push("Another electrolyte, built and read beside it, to compare with.".to_owned());
    }
    said
}

fn of_batches(view: &ReportView<'_>) -> Vec<String> {
    let lacking = |lacks: &dyn Fn(&Standing) -> bool| -> Vec<Code> {
        let batches = view.batches.iter().filter(|batch| lacks(batch.standing));
        batches.map(|batch| batch.standing.life.code.clone()).collect()
    };
    let is_liquid = |standing: &Standing| standing.life.code.kind() != crate::record::CodeKind::CathodeMix;
    let titrated = lacking(&|standing| is_liquid(standing) && standing.life.water.is_empty());
    let looked = lacking(&|standing| standing.life.appearance.is_empty());
    let measured = lacking(&|standing| is_liquid(standing) && standing.life.properties.is_empty());
    let judged = lacking(&|standing| standing.life.released.is_none());
    let unstated = lacking(&|standing| !standing.unstated().is_empty());
    let sentences = [
        (titrated, "Water by titration of"),
        (looked, "What somebody saw of"),
        (measured, "Density, viscosity or conductivity of"),
        (judged, "A judgement against its limits of"),
        (unstated, "A stated uncertainty of what went into"),
    ];
    let named = |(codes, words): (Vec<Code>, &str)| format!("{words} {}.", code_range(&codes));
    sentences.into_iter().filter(|(codes, _)| !codes.is_empty()).map(named).collect()
}

fn of_cells(view: &ReportView<'_>) -> Vec<String> {
    let unweighed: Vec<String> = view
        .cells
        .iter()
        .filter(|record| record.cell.contents.iter().any(|content| content.weighed_g.is_none()))
        .map(|record| record.cell.code.to_string())
        .collect();
    let mut said = Vec::new();
    if !unweighed.is_empty() {
        let codes = code_ranges(unweighed.iter().map(String::as_str)).join(", ");
        said.push(format!("The real dose of {codes}: only the planned one is recorded."));
    }
    if view.logged == 0 {
        said.push(
            "A logged discharge: no capacity is known, nor what was lost on the shelf; an open-circuit voltage shows neither."
                .to_owned(),
        );
    }
    said
}

fn of_readings(cells: &[CellRecord]) -> Vec<String> {
    let readings: Vec<&Reading> = cells.iter().flat_map(|record| &record.readings).collect();
    let lacking = |lacks: &dyn Fn(&Reading) -> bool| readings.iter().filter(|reading| lacks(reading)).count();
    let all = readings.len();
    let cold = lacking(&|reading| reading.taken.temperature.is_none());
    let unnamed = lacking(&|reading| reading.taken.instrument.is_none());
    let meter = lacking(&|reading| {
        matches!(reading.taken.value, ReadingValue::ShortCircuit { meter_ohms: None, .. })
    });
    let sentences = [
        (cold, "The temperature", ""),
        (unnamed, "The instrument", ""),
        (meter, "The resistance of the meter", ": what it showed is less than a short circuit gives"),
    ];
    let sentence =
        |(count, what, so): (usize, &str, &str)| format!("{what} for {count} of {all} readings{so}.");
    sentences.into_iter().filter(|(count, ..)| 0 < *count).map(sentence).collect()
}
