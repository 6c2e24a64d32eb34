//! The re-targeted rest of a plan in JSON.

use serde_json::{Map, Value, json};

use crate::component::ComponentId;
use crate::plan::Retarget;
use crate::quantity::Mass;

/// What to do after real masses.
pub fn retarget_answer(retarget: &Retarget) -> Value {
    let lines: Vec<Value> = retarget
        .lines
        .iter()
        .map(|line| {
            json!({
                "component": line.component.as_str(),
                "planned_g": line.planned.get(),
                "weighed_g": line.weighed.map(Mass::get),
                "add_g": line.add.get(),
                "add_rounded_g": line.add_rounded.map(Mass::get),
                "missing_g": line.missing.get(),
            })
        })
        .collect();
    json!({
        "lines": lines,
        "batch_g": retarget.batch.get(),
        "growth": retarget.growth,
        "ratio_if_nothing_added": ratio(&retarget.ratio_if_nothing_added),
        "deviation_if_nothing_added": retarget.deviation_if_nothing_added,
        "ratio_after": ratio(&retarget.ratio_after),
        "deviation_after": retarget.deviation_after,
    })
}

fn ratio(ratio: &[(ComponentId, f64)]) -> Value {
    let pairs = ratio.iter().map(|(component, number)| (component.to_string(), json!(number)));
    Value::Object(pairs.collect::<Map<String, Value>>())
}
