//! `plan` in JSON.

use serde_json::{Value, json};

use crate::component::Shares;
use crate::plan::{Dose, Line, LineKind, Plan, RatioResult, Size, conventions};
use crate::quantity::Mass;

/// A plan.
pub fn plan_answer(plan: &Plan) -> Value {
    let recipe = &plan.request.recipe;
    let density = plan.request.solution_density().map(|density| density.value.value);
    let composition: Vec<Value> = plan.composition.shares(density).iter().map(shares).collect();
    json!({
        "recipe": {
            "name": recipe.name,
            "basis": recipe.proportions.basis.word(),
            "text": recipe.text,
            "source": recipe.source,
        },
        "size": size(&plan.request.size),
        "conventions": conventions(plan),
        "lines": plan.lines.iter().map(line).collect::<Vec<_>>(),
        "totals": totals(plan),
        "composition": composition,
        "ratio_uncertainty": plan.ratios.iter().map(ratio).collect::<Vec<_>>(),
        "limiting": limiting(plan),
        "dry_first_g": plan.dry_first.map(Mass::get),
    })
}

fn size(size: &Size) -> Value {
    let value = match size {
        Size::Mass(typed) | Size::DryPure(typed) | Size::DryParts(typed) => json!(typed.value.get()),
        Size::Volume(typed) => json!(typed.value.get()),
        Size::Amount(typed) => json!(typed.value.get()),
        Size::Cells { cells, .. } => json!(cells),
        Size::Stock => Value::Null,
    };
    let mut answer = json!({ "kind": size.kind(), "value": value, "text": size.text() });
    if let Size::Cells { dose, spare, .. } = size {
        answer["dose_g"] = match dose {
            Dose::Mass(typed) => json!(typed.value.get()),
            Dose::Volume(_) => Value::Null,
        };
        answer["dose_ml"] = match dose {
            Dose::Volume(typed) => json!(typed.value.get()),
            Dose::Mass(_) => Value::Null,
        };
        answer["spare"] = json!(spare.as_ref().map_or(0.0, |spare| spare.value.get()));
    }
    answer
}

fn line(line: &Line) -> Value {
    let is_water = line.component.is_water();
    let dry_pure = if is_water { Mass::ZERO } else { line.correction.anhydrous };
    let water = if is_water { line.weigh } else { line.correction.water() };
    let flags: Vec<&str> = line.flags.iter().map(|flag| flag.code()).collect();
    json!({
        "component": line.component.id.as_str(),
        "role": line.component.main_role().word(),
        "bottle": line.supply.label,
        "ratio": line.ratio(),
        "asked": match &line.kind { LineKind::Addition { asked } => Some(asked), _ => None },
        "amount_mol": line.amount.map(|amount| amount.get()),
        "molar_mass_g_per_mol": line.molar_mass.map(|mass| mass.get()),
        "dry_pure_g": dry_pure.get(),
        "weigh_g": line.weigh.get(),
        "reading_g": line.reading.map(Mass::get),
        "rounded_g": line.rounded.map(Mass::get),
        "water_g": water.get(),
        "impurity_g": line.correction.impurity.get(),
        "volume_ml": line.volume.as_ref().map(|volume| volume.volume.get()),
        "uncertainty_g": line.weighing_uncertainty.map(Mass::get),
        "amount_relative_u": line.amount_budget.standard_uncertainty(),
        "low_g": line.window.map(|window| window.low.get()),
        "high_g": line.window.map(|window| window.high.get()),
        "flags": flags,
    })
}

fn totals(plan: &Plan) -> Value {
    let composition = &plan.composition;
    json!({
        "dry_pure_g": composition.dry_pure().get(),
        "weigh_g": plan.mass.get(),
        "rounded_g": plan.request.balance.as_ref().map(|_| plan.shown_mass().get()),
        "water_g": composition.water.get(),
        "water_wt_pct": composition.water_fraction().percent(),
        "water_ppm": composition.water_fraction().ppm(),
        "impurity_g": composition.unknown.get(),
        "volume_ml": plan.volume.map(|volume| volume.get()),
    })
}

pub(super) fn shares(shares: &Shares) -> Value {
    json!({
        "component": shares.component,
        "mole_fraction": shares.mole_fraction.map(|x| x.get()),
        "mole_fraction_dry": shares.mole_fraction_dry.map(|x| x.get()),
        "mass_fraction": shares.mass_fraction.get(),
        "molality_mol_per_kg": shares.molality.map(|m| m.get()),
        "molarity_mol_per_l": shares.molarity.map(|c| c.get()),
    })
}

/// Sizes of the contributions are in the unit of the ratio, so that their root sum of squares is `u`.
fn ratio(ratio: &RatioResult) -> Value {
    let percents = ratio.budget.percent_of_variance();
    let contributions: Vec<Value> = ratio
        .budget
        .contributions
        .iter()
        .zip(percents)
        .map(|(c, percent)| json!({ "source": c.source, "u": c.size() * ratio.value, "percent_of_variance": percent }))
        .collect();
    let u = ratio.standard_uncertainty();
    let covariances = ratio.budget.correlations.iter().map(|pair| {
        json!({
            "sources": ratio.budget.pair(pair),
            "covariance_g2": pair.covariance,
            "percent_of_variance": ratio.budget.percent_of_pair(pair),
        })
    });
    json!({
        "component": ratio.component.id.as_str(),
        "to": ratio.to.id.as_str(),
        "ratio": ratio.value,
        "rounded_ratio": ratio.rounded,
        "u": u,
        "relative_u": ratio.budget.standard_uncertainty(),
        "expanded_u": 2.0 * u,
        "k": 2,
        "contributions": contributions,
        "covariances": covariances.collect::<Vec<_>>(),
        "unstated": ratio.budget.unstated,
    })
}

fn limiting(plan: &Plan) -> Value {
    let Some(limiting) = &plan.limiting else { return Value::Null };
    let stocks: Vec<Value> = limiting
        .stocks
        .iter()
        .map(|stock| {
            json!({
                "component": stock.component.as_str(),
                "have_g": stock.have.get(),
                "used_g": stock.used.get(),
                "left_g": stock.left.get(),
            })
        })
        .collect();
    json!({
        "component": limiting.component.as_str(),
        "largest_batch_g": limiting.batch.get(),
        "ratio_units_mol": limiting.units,
        "stocks": stocks,
    })
}
