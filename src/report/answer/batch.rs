//! A batch in JSON.

use serde_json::{Map, Value, json};

use crate::plan::RetargetLine;
use crate::record::batch::{FrozenLine, Weighed};
use crate::record::life::PutIn;
use crate::report::standing::{Standing, WaterPoint};

/// The life of one batch.
pub fn batch_answer(standing: &Standing) -> Value {
    let life = &standing.life;
    let plan = life.plan();
    let ratio = standing.ratio();
    json!({
        "code": life.code.to_string(),
        "kind": life.code.kind(),
        "name": life.name,
        "status": life.status.word(),
        "recipe": plan.map(|plan| &plan.recipe_text),
        "size": plan.map(|plan| &plan.size),
        "planned_g": plan.map(|plan| plan.mass_g),
        "lines": lines(standing),
        "weighings": weighings(standing),
        "ratio_nominal": nominal(standing),
        "ratio": object(ratio.iter().map(|(name, number, _)| (name.as_str(), json!(number)))),
        "ratio_uncertainty": object(ratio.iter().filter_map(|(name, _, u)| Some((name.as_str(), json!((*u)?))))),
        "ratio_uncertainty_unstated": standing.unstated(),
        "put_in_g": life.put_in_g(),
        "lost_g": life.lost_g(),
        "total_g": life.total_g(),
        "dispensed_g": life.dispensed_g(),
        "wasted_g": life.wasted_g(),
        "sampled_g": life.sampled_g(),
        "difference_g": life.difference_g(),
        "left_g": life.left_g(),
        "water": water(standing),
        "appearance": life.appearance.iter().map(|look| json!({
            "entry": look.entry,
            "at": look.what.at,
            "occasion": look.what.occasion,
            "clarity": look.what.clarity,
            "colour": look.what.colour,
            "crystals": look.what.crystals,
            "phases": look.what.phases,
            "bubbles": look.what.bubbles,
            "temperature_c": look.what.temperature.as_ref().map(|at| at.value.celsius()),
            "picture": look.what.picture,
            "note": look.what.note,
        })).collect::<Vec<_>>(),
        "properties": life.properties.iter().map(|measured| json!({
            "entry": measured.entry,
            "at": measured.what.at,
            "property": measured.what.property,
            "value": measured.what.value,
            "unit": crate::quantity::Property::from_id(&measured.what.property).map(|property| property.unit()),
            "uncertainty": measured.what.uncertainty,
            "temperature_c": measured.what.temperature.as_ref().map(|at| at.value.celsius()),
            "method": measured.what.method,
            "scan_rate_k_per_min": measured.what.scan_rate_k_per_min,
            "instrument": measured.what.instrument,
        })).collect::<Vec<_>>(),
        "limits": standing.comparisons,
        "finished": life.finished.as_ref().map(|finished| &finished.what),
        "released": life.released.as_ref().map(|released| &released.what),
        "rejected": life.rejected.as_ref().map(|rejected| &rejected.what),
        "permit": life.permit(),
        "permits": life.permits().collect::<Vec<_>>(),
        "looks": standing.looks.iter().map(|look| json!({
            "occasion": look.occasion, "due": look.due, "done": look.done,
        })).collect::<Vec<_>>(),
    })
}

/// One row of a list of batches.
pub fn batch_row(standing: &Standing) -> Value {
    let life = &standing.life;
    json!({
        "code": life.code.to_string(),
        "kind": life.code.kind(),
        "name": life.name,
        "status": life.status.word(),
        "total_g": life.total_g(),
        "left_g": life.left_g(),
        "water_wt_pct": standing.water_now().map(|(water, _)| water * 100.0),
    })
}

fn nominal(standing: &Standing) -> Value {
    let parts = standing.targets.iter().flat_map(|targets| targets.parts());
    object(parts.filter_map(|line| Some((line.component.as_str(), json!(line.ratio()?)))))
}

/// An object, or null for none of it.
fn object<'n>(pairs: impl Iterator<Item = (&'n str, Value)>) -> Value {
    let map: Map<String, Value> = pairs.map(|(name, value)| (name.to_owned(), value)).collect();
    if map.is_empty() { Value::Null } else { Value::Object(map) }
}

fn lines(standing: &Standing) -> Vec<Value> {
    let plan = standing.life.plan();
    let planned = plan.map(|plan| plan.lines.as_slice()).unwrap_or_default();
    let rest = standing.retarget.as_ref().map(|retarget| retarget.lines.as_slice()).unwrap_or_default();
    let mut lines: Vec<Value> = planned
        .iter()
        .map(|line| {
            planned_line(standing, line, rest.iter().find(|rest| rest.component == line.component.id))
        })
        .collect();
    lines.extend(standing.unplanned().into_iter().map(|put| match put {
        PutIn::Component(weighed) => json!({
            "component": weighed.component.as_str(),
            "bottle": weighed.from.as_ref().map(ToString::to_string),
            "target_g": null,
            "actual_g": weighed.mass.value.get(),
            "add_g": 0.0,
        }),
        PutIn::Batch(added) => json!({
            "component": null,
            "bottle": added.from.to_string(),
            "target_g": null,
            "actual_g": added.mass.value.get(),
            "add_g": 0.0,
        }),
    }));
    lines
}

/// Each mass as it was weighed, with the conditions.
fn weighings(standing: &Standing) -> Vec<Value> {
    let put_in = standing.life.put_in.iter().filter_map(|put| match &put.what {
        PutIn::Component(weighed) => Some((put.entry, weighed.as_ref())),
        PutIn::Batch(_) => None,
    });
    let weighing = |(entry, weighed): (u64, &Weighed)| {
        json!({
            "entry": entry,
            "at": weighed.at,
            "component": weighed.component.as_str(),
            "bottle": weighed.from.as_ref().map(ToString::to_string),
            "mass_g": weighed.mass.value.get(),
            "humidity_pct": weighed.humidity.as_ref().map(|humidity| humidity.value.get() * 100.0),
            "open_min": weighed.open.as_ref().map(|open| open.value.get() / 60.0),
            "because": weighed.because,
        })
    };
    put_in.map(weighing).collect()
}

fn planned_line(standing: &Standing, line: &FrozenLine, rest: Option<&RetargetLine>) -> Value {
    let id = line.component.id.as_str();
    let window = standing.window(id);
    json!({
        "component": id,
        "bottle": standing.bottles_of(line),
        "target_g": line.target_g,
        "low_g": window.map(|(low, _)| low),
        "high_g": window.map(|(_, high)| high),
        "actual_g": standing.weighed_g(id),
        "add_g": rest.map_or(0.0, |rest| rest.add.get()),
        "add_rounded_g": rest.and_then(|rest| rest.add_rounded).map(|mass| mass.get()),
        "missing_g": rest.map_or(0.0, |rest| rest.missing.get()),
    })
}

fn water(standing: &Standing) -> Value {
    let percent = |fraction: f64| fraction * 100.0;
    let now = standing.water_now();
    let predicted = standing.made.as_ref();
    json!({
        "planned_wt_pct": standing.life.plan().map(|plan| percent(plan.water)),
        "target_wt_pct": standing.life.plan().and_then(|plan| plan.water_target).map(percent),
        "predicted_wt_pct": predicted.map(|made| made.water.fraction.percent()),
        "predicted_uncertainty_wt_pct": predicted.map(|made| made.water.standard_uncertainty().percent()),
        "now_wt_pct": now.map(|(water, _)| percent(water)),
        "now_ppm": now.map(|(water, _)| water * 1e6),
        "now_by": now.map(|(_, titrated)| if titrated { "measured" } else { "predicted" }),
        "series": standing.water.iter().map(water_point).collect::<Vec<_>>(),
    })
}

fn water_point(point: &WaterPoint) -> Value {
    let result = &point.result;
    json!({
        "entry": point.entry,
        "at": point.measured.at,
        "method": point.measured.method,
        "instrument": point.measured.instrument,
        "water_wt_pct": result.fraction * 100.0,
        "water_ppm": result.fraction * 1e6,
        "uncertainty_wt_pct": result.standard_uncertainty.map(|u| u * 100.0),
        "uncertainty_ppm": result.standard_uncertainty.map(|u| u * 1e6),
        "uncertainty_unstated": result.unstated,
        "replicates_ppm": result.replicates.iter().map(|w| w * 1e6).collect::<Vec<_>>(),
        "predicted_wt_pct": point.predicted.map(|w| w * 100.0),
        "predicted_uncertainty_wt_pct": point.predicted_uncertainty.map(|u| u * 100.0),
    })
}
