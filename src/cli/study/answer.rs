//! A study for scripts.

use serde_json::{Value, json};

use crate::cli::request::{StudyRecords, study_power};
use crate::record::study::Planned;
use crate::report::view::{cause_words, departure_words};

/// What was planned, what there is, and the departures.
pub(super) fn of_study(records: &StudyRecords) -> Value {
    let (study, zone) = (&records.study, &records.zone);
    let departures = records.departures(None);
    let looks = study.looks.iter().map(|look| {
        json!({
            "entry": look.entry,
            "at": look.looked.at.to_string(),
            "author": look.author,
            "command": look.looked.command,
            "with_value": look.looked.with_value,
            "of": look.looked.of,
            "days_before_end": study.planned.days_before_end(look.looked.at, zone),
        })
    });
    let cells = records.cells.iter().map(|(cell, held)| {
        json!({
            "code": cell.code.to_string(),
            "electrolyte": held.map(|place| &study.planned.electrolytes[place].name),
            "position": cell.position,
            "block": cell.block,
        })
    });
    json!({
        "code": study.planned.code.to_string(),
        "entry": study.entry,
        "written": study.written.to_string(),
        "author": study.author,
        "plan": of_plan(&study.planned),
        "power": of_power(&study.planned),
        "days_before_end": records.days_before_end(),
        "cells": cells.collect::<Vec<_>>(),
        "looks": looks.collect::<Vec<_>>(),
        "departures": departures.iter().map(|departure| departure_words(departure, zone)).collect::<Vec<_>>(),
    })
}

fn of_plan(planned: &Planned) -> Value {
    let electrolytes = planned.electrolytes.iter().map(|studied| {
        json!({
            "name": studied.name,
            "recipe": studied.recipe,
            "batches": studied.batches.iter().map(ToString::to_string).collect::<Vec<_>>(),
        })
    });
    let readings = planned.schedule.iter().map(|due| json!({ "day": due.day, "what": due.what }));
    json!({
        "question": planned.question,
        "electrolytes": electrolytes.collect::<Vec<_>>(),
        "metric": planned.metric,
        "cells_per_electrolyte": planned.per_electrolyte,
        "blocks": planned.blocks,
        "seed": planned.seed,
        "readings": readings.collect::<Vec<_>>(),
        "ends": planned.ends.to_string(),
        "causes": planned.causes.iter().map(cause_words).collect::<Vec<_>>(),
        "smallest_difference": planned.smallest.as_ref().map(ToString::to_string),
        "spread": planned.spread.as_ref().map(ToString::to_string),
        "baseline": planned.baseline,
        "method": planned.method.word(),
        "confidence": planned.confidence,
    })
}

fn of_power(planned: &Planned) -> Value {
    let Some(power) = study_power(planned) else { return Value::Null };
    json!({
        "unit": power.unit,
        "sd": power.sd,
        "alpha": power.alpha,
        "power": power.power,
        "detectable": power.detectable,
        "smallest": power.smallest.map(|(size, _, _)| size),
        "power_for_smallest": power.smallest.map(|(_, reached, _)| reached),
        "per_electrolyte_for_smallest": power.smallest.and_then(|(_, _, needed)| needed),
    })
}
