//! Property curves in JSON.

use serde_json::{Value, json};

use crate::report::view::{CurveView, FittedSeries, WaldenView};

/// `{property, unit, form, series: [{series, n, parameters: [{name, value, sd}], at: […], …}]}`.
pub fn curve_answer(view: &CurveView) -> Value {
    json!({
        "property": view.property.id(),
        "unit": view.property.unit(),
        "liquid": view.liquid,
        "form": view.form.name(),
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
        "n": own.series.points.len(),
        "left_out": own.series.left_out,
        "remarks": own.series.remarks,
        "points": points.collect::<Value>(),
    });
    match &own.curve {
        Err(error) => answer["no_curve"] = json!(error.to_string()),
        Ok(curve) => {
            let parameters = curve.parameters.iter().map(|(name, own)| {
                json!({"name": name, "value": own.value, "sd": own.sd, "low": own.interval.0, "high": own.interval.1})
            });
            let places = view.at.iter().map(|at| {
                let band = curve.band(at.kelvin(), view.water());
                let beyond = curve.beyond(at.kelvin(), view.water());
                json!({
                    "temperature_k": at.kelvin(),
                    "water_wt_pct": view.water.map(|water| water.percent()),
                    "value": band.y,
                    "mean": [band.mean.0, band.mean.1],
                    "further": [band.further.0, band.further.1],
                    "beyond_data": beyond.is_some(),
                    "beyond_k": beyond.map_or(0.0, |own| own.kelvin),
                })
            });
            answer["parameters"] = parameters.collect();
            answer["df"] = json!(curve.df);
            answer["residual_sd"] = json!(curve.residual_sd);
            answer["identifiable"] = json!(curve.identifiable);
            answer["temperature_range_k"] = json!([curve.kelvins.0, curve.kelvins.1]);
            answer["water_range_wt_pct"] = json!(curve.waters.map(|(low, high)| [100.0 * low, 100.0 * high]));
            answer["knows_water"] = json!(curve.knows_water());
            answer["at"] = places.collect();
        }
    }
    answer
}

/// `{pairs: [{temperature_k, conductivity_ms_per_cm, viscosity_mpa_s, product}], exponent, exponent_sd}`.
pub fn walden_answer(view: &WaldenView) -> Value {
    let pairs = view.walden.points.iter().map(|own| {
        json!({
            "temperature_k": own.temperature.kelvin(),
            "conductivity_ms_per_cm": own.conductivity,
            "viscosity_mpa_s": own.viscosity,
            "product": own.product(),
        })
    });
    json!({
        "property": "walden",
        "liquid": view.liquid,
        "pairs": pairs.collect::<Value>(),
        "exponent": view.walden.exponent.map(|(value, _)| value),
        "exponent_sd": view.walden.exponent.map(|(_, sd)| sd),
    })
}
