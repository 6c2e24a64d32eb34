//! Property curves in JSON.

use serde_json::{Value, json};

use crate::compose::curve::{IDEAL_PRODUCT, Joining, PropertyCurve, Silence};
use crate::quantity::Temperature;
use crate::report::view::{CurveView, FittedSeries, WaldenOfSet, WaldenView};
use crate::report::view::{curve_law, curve_parameters, curve_silence, measured_at};

/// `{property, unit, form, series: [{series, n, parameters: [{name, value, sd}], at: […], …}]}`.
pub fn curve_answer(view: &CurveView) -> Value {
    json!({
        "property": view.property.id(),
        "unit": view.property.unit(),
        "liquid": view.liquid,
        "form": view.form.name(),
        "law": curve_law(view),
        "confidence": view.confidence,
        "series": view.series.iter().map(|own| series(view, own)).collect::<Value>(),
    })
}

fn series(view: &CurveView, own: &FittedSeries) -> Value {
    let points = own.series.points.iter().map(|point| {
        json!({
            "temperature_k": point.temperature.kelvin(),
            "water_wt_pct": point.water.map(|water| water.percent()),
            "value": point.value,
        })
    });
    let mut answer = json!({
        "series": own.series.name,
        "liquid": own.series.liquid,
        "together": own.is_together,
        "n": own.series.points.len(),
        "left_out": own.series.left_out,
        "remarks": own.series.remarks,
        "points": points.collect::<Value>(),
    });
    let measured =
        view.at.iter().map(|at| json!({"temperature_k": at.kelvin(), "values": measured_at(own, *at)}));
    if own.told().is_none() {
        answer["measured_at"] = measured.collect();
    }
    match &own.curve {
        Err(error) => answer["no_curve"] = json!(error.to_string()),
        Ok(curve) => {
            let parameters = curve_parameters(view, curve).into_iter().map(|(name, own)| {
                json!({"name": name, "value": own.value, "sd": own.sd, "low": own.interval.0, "high": own.interval.1})
            });
            answer["parameters"] = parameters.collect();
            answer["df"] = json!(curve.df);
            answer["residual_sd"] = json!(curve.residual_sd);
            answer["identifiable"] = json!(curve.identifiable);
            answer["temperature_range_k"] = json!([curve.kelvins.0, curve.kelvins.1]);
            answer["water_range_wt_pct"] = json!(curve.waters.map(|(low, high)| [100.0 * low, 100.0 * high]));
            answer["knows_water"] = json!(curve.knows_water());
            answer["joined"] = json!(match curve.joining {
                None => None,
                Some(Joining::Levels { .. }) => Some("levels"),
                Some(Joining::Heap) => Some("heap"),
            });
            if let Some(Joining::Levels { count, sd }) = curve.joining {
                answer["joined_series"] = json!(count);
                answer["between_series_sd"] = json!(sd);
            }
            answer["at"] = view.at.iter().map(|at| place(view, curve, *at)).collect();
        }
    }
    answer
}

/// What a curve has at a temperature; where it says nothing the values are null.
fn place(view: &CurveView, curve: &PropertyCurve, at: Temperature) -> Value {
    let found = curve.at(at.kelvin(), view.water());
    let beyond = curve.beyond(at.kelvin(), view.water());
    let band = found.ok();
    let lowest = match found {
        Err(Silence::TooCold { lowest }) => Some(lowest),
        _ => None,
    };
    let water = view.water().or(curve.middle_water());
    json!({
        "temperature_k": at.kelvin(),
        "water_wt_pct": view.water.map(|water| water.percent()),
        "water_counted_wt_pct": water.filter(|_| curve.knows_water()).map(|water| 100.0 * water),
        "value": band.map(|band| band.y),
        "mean": [band.map(|band| band.mean.0), band.map(|band| band.mean.1)],
        "further": [band.map(|band| band.further.0), band.map(|band| band.further.1)],
        "beyond_data": beyond.is_some(),
        "beyond_k": beyond.map_or(0.0, |own| own.kelvin),
        "nothing_said": found.err().map(|silence| curve_silence(view, silence)),
        "lowest_k": lowest,
    })
}

/// `{sets: [{name, pairs: [{temperature_k, conductivity_ms_per_cm, viscosity_mpa_s, product, molar_…}], exponent, …}]}`,
/// and the pairs and exponents of the first set in front of it.
pub fn walden_answer(view: &WaldenView) -> Value {
    let sets: Vec<Value> = view.sets.iter().map(walden_set).collect();
    let mut answer = sets.first().cloned().unwrap_or_else(|| json!({}));
    answer["property"] = json!("walden");
    answer["liquid"] = json!(view.liquid);
    answer["ideal_product_s_cm2_per_mol_mpa_s"] = json!(IDEAL_PRODUCT);
    answer["sets"] = json!(sets);
    answer
}

fn walden_set(set: &WaldenOfSet) -> Value {
    let pairs = set.walden.points.iter().map(|own| {
        json!({
            "temperature_k": own.temperature.kelvin(),
            "conductivity_ms_per_cm": own.conductivity,
            "viscosity_mpa_s": own.viscosity,
            "product": own.product(),
            "density_g_per_ml": own.density,
            "molar_conductivity_s_cm2_per_mol": own.molar,
            "molar_product_s_cm2_per_mol_mpa_s": own.molar_product(),
            "of_ideal": own.beside_ideal(),
        })
    });
    let (exponent, molar) = (set.walden.exponent, set.walden.molar_exponent);
    json!({
        "name": set.name,
        "pairs": pairs.collect::<Value>(),
        "exponent": exponent.map(|(value, _)| value),
        "exponent_sd": exponent.map(|(_, sd)| sd),
        "molar_exponent": molar.map(|(value, _)| value),
        "molar_exponent_sd": molar.map(|(_, sd)| sd),
        "salt": set.salt.as_ref().ok().map(|(salt, _)| salt),
        "grams_per_mole_of_salt": set.salt.as_ref().ok().map(|(_, grams)| grams),
        "not_molar_because": set.salt.as_ref().err(),
    })
}
