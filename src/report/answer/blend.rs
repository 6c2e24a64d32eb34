//! `blend` in JSON.

use serde_json::{Map, Value, json};

use super::plan::shares;
use crate::component::{ComponentId, Composition};
use crate::plan::{Added, Blend, Liquid, LiquidSource};
use crate::quantity::Mass;

/// A blend: ratio, water and mass are those with everything in that is to be added.
pub fn blend_answer(blend: &Blend) -> Value {
    let result = blend.result();
    let mut answer = state(blend, result);
    let adjustment = blend.wish.as_ref().map(|(_, adjustment)| adjustment);
    let list = |list: &[Added]| list.iter().map(added).collect::<Vec<_>>();
    answer["add"] = json!(adjustment.map_or(Vec::new(), |adjustment| list(&adjustment.additions)));
    answer["dry_first_g"] = json!(blend.dry_first().map(Mass::get));
    answer["instead_of_drying"] =
        json!(adjustment.and_then(|adjustment| adjustment.instead.as_deref()).map(list));
    answer["basis"] = json!(blend.ratio_as.basis.word());
    answer["liquids"] = blend.liquids.iter().map(liquid).collect();
    answer["before"] = adjustment.map_or(Value::Null, |_| state(blend, &blend.composition));
    answer["composition"] = result.shares(None).iter().map(shares).collect();
    answer["conventions"] = json!(blend.conventions());
    answer
}

fn state(blend: &Blend, composition: &Composition) -> Value {
    json!({
        "ratio": ratio(&blend.ratio_as.of(composition)),
        "water_wt_pct": composition.water_fraction().percent(),
        "mass_g": composition.mass().get(),
        "water_g": composition.water.get(),
        "impurity_g": composition.unknown.get(),
    })
}

fn ratio(ratio: &[(ComponentId, Option<f64>)]) -> Value {
    let pairs = ratio.iter().map(|(component, number)| (component.to_string(), json!(number)));
    Value::Object(pairs.collect::<Map<String, Value>>())
}

fn added(added: &Added) -> Value {
    let is_water = added.component.is_water();
    let (dry_pure, water) = match is_water {
        true => (Mass::ZERO, added.weigh()),
        false => (added.correction.anhydrous, added.correction.water()),
    };
    json!({
        "component": added.component.id.as_str(),
        "weigh_g": added.weigh().get(),
        "bottle": added.supply.label,
        "dry_pure_g": dry_pure.get(),
        "water_g": water.get(),
        "impurity_g": added.correction.impurity.get(),
    })
}

fn liquid(liquid: &Liquid) -> Value {
    let kind = match liquid.source {
        LiquidSource::Recipe(_) => "recipe",
        LiquidSource::Batch(_) => "batch",
    };
    json!({ "kind": kind, "text": liquid.source.text(), "mass_g": liquid.mass.get() })
}
