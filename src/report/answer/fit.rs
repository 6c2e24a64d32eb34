//! Fits in JSON.

use serde_json::{Value, json};

use crate::report::view::{FitAxes, FittedGroup, fit_notes};
use crate::statistics::curve_fit::Scale;

/// `{form, parameters: [{name, value, sd}], rss, residual_sd, n, converged, notes}` for one fit; with a column of
/// names `{form, groups: [{group, …}]}`.
pub fn fit_answer(groups: &[FittedGroup], axes: &FitAxes, at: &[f64]) -> Value {
    match groups {
        [group] if group.name.is_none() => one(group, axes, at),
        groups => json!({
            "form": groups.first().map(|group| group.fit.form.name()),
            "groups": groups.iter().map(|group| one(group, axes, at)).collect::<Vec<_>>(),
        }),
    }
}

fn one(group: &FittedGroup, axes: &FitAxes, at: &[f64]) -> Value {
    let fit = &group.fit;
    let parameters = fit.form.parameters().iter().zip(&fit.inference.estimates).map(|(name, own)| {
        json!({
            "name": name,
            "value": own.value,
            "sd": own.sd,
            "low": own.interval.0,
            "high": own.interval.1,
            "unit": axes.unit_of(fit.form, name),
        })
    });
    let places = at.iter().map(|x| {
        let band = fit.band(*x);
        let further = if group.points.weighted { (f64::NAN, f64::NAN) } else { band.further };
        json!({
            "x": x,
            "y": band.y,
            "mean": [band.mean.0, band.mean.1],
            "further": [further.0, further.1],
            "beyond_data": group.is_beyond(*x),
        })
    });
    let mut answer = json!({
        "form": fit.form.name(),
        "parameters": parameters.collect::<Vec<_>>(),
        "rss": fit.rss,
        "residual_sd": fit.inference.residual_sd,
        "n": group.points.len(),
        "df": fit.inference.df,
        "converged": fit.converged,
        "identifiable": fit.is_identifiable(),
        "notes": fit_notes(group),
        "least_squares_on": if fit.scale == Scale::Plain { "y" } else { "ln y" },
        "weighted": group.points.weighted,
        "confidence": fit.inference.confidence,
        "r_squared": fit.r_squared,
        "condition": fit.inference.condition(),
        "x": axes.x,
        "x_unit": axes.x_unit,
        "y": axes.y,
        "y_unit": axes.y_unit,
        "at": places.collect::<Vec<_>>(),
    });
    if let Some(name) = &group.name {
        answer["group"] = json!(name);
    }
    answer
}
