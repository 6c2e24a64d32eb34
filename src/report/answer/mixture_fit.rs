//! What results say of a mixture, in JSON.

use serde_json::{Map, Value, json};

use super::mixture_design::crossing_word;
use crate::compose::mixture::{Direction, Goal, NextRun, Optimum, Study, TracePoint};
use crate::report::view::{MixtureFitView, mixture_fit_notes};

/// `{response, model, n, estimable, parameters: [{term, value, sd, t, p, low, high}], …}`; without an estimable model
/// `not_estimable` names the terms.
pub fn mixture_fit_answer(view: &MixtureFitView<'_>) -> Value {
    let mut answer = json!({
        "response": view.response,
        "unit": view.unit,
        "components": view.names,
        "model": {
            "name": view.model.order.name(),
            "crossed": crossing_word(view.crossing),
            "terms": view.terms(&(0..view.model.terms.len()).collect::<Vec<_>>()),
        },
        "n": view.observed.len(),
        "distinct": view.distinct,
        "next_is_beyond": view.next_is_beyond,
        "whole_plots": view.plots.as_ref().map(|own| json!({
            "column": own.column,
            "plots": own.plots.count,
            "split": own.plots.split,
            "terms_between_plots": view.terms(&own.plots.between),
        })),
        "batches": view.batches.map(|(column, readings, _)| json!({ "column": column, "readings": readings })),
        "estimable": view.study.is_ok(),
        "not_estimable": view.study.as_ref().err().map_or(Vec::new(), |places| view.terms(places)),
        "next": view.next.as_ref().map(|next| next.iter().map(|run| of_next(view, run)).collect::<Vec<_>>()),
        "seed": view.seed,
        "notes": mixture_fit_notes(view),
    });
    let Ok(study) = &view.study else { return answer };
    answer["parameters"] = parameters(view, study);
    answer["confidence"] = json!(study.regression.confidence);
    answer["anova"] = anova(study);
    answer["lack_of_fit"] = lack_of_fit(study);
    answer["results"] = results(view, study);
    answer["optimum"] = view.optima.iter().map(|own| of_optimum(view, own)).collect();
    answer["traces"] = traces(view);
    let shifts = view.model.blocks().iter().zip(study.shifts());
    let shifts: Map<String, Value> = shifts.map(|(name, shift)| (name.clone(), json!(shift))).collect();
    answer["blocks"] = Value::Object(shifts);
    answer
}

fn parameters(view: &MixtureFitView<'_>, study: &Study) -> Value {
    let one = |(at, own): (usize, &crate::statistics::regression::Coefficient)| {
        json!({
            "term": view.model.column_name(at, &view.names),
            "value": own.value,
            "sd": own.sd,
            "t": own.t,
            "p": own.p,
            "low": own.interval.0,
            "high": own.interval.1,
        })
    };
    study.regression.coefficients.iter().enumerate().map(one).collect()
}

fn anova(study: &Study) -> Value {
    let variance = &study.regression.variance;
    json!({
        "ss_total": variance.ss_total,
        "ss_model": variance.ss_model(),
        "df_model": variance.df_model(),
        "ss_error": variance.ss_error,
        "df_error": variance.df_error(),
        "residual_sd": variance.residual_sd(),
        "f": variance.test().map(|test| test.f),
        "p": variance.test().map(|test| test.p),
        "r_squared": variance.r_squared(),
        "r_squared_adjusted": variance.adjusted_r_squared(),
        "press": variance.press,
        "r_squared_predicted": variance.predicted_r_squared(),
        "r_squared_about_zero": variance.r_squared_about_zero(),
        "condition": study.regression.condition,
    })
}

fn lack_of_fit(study: &Study) -> Value {
    let lack = &study.lack_of_fit;
    json!({
        "ss_pure_error": lack.ss_pure,
        "df_pure_error": lack.df_pure,
        "ss_lack_of_fit": lack.ss_lack,
        "df_lack_of_fit": lack.df_lack,
        "f": lack.test.map(|test| test.f),
        "p": lack.test.map(|test| test.p),
    })
}

fn results(view: &MixtureFitView<'_>, study: &Study) -> Value {
    let studentized = study.regression.studentized();
    let one = |(at, own): (usize, &crate::compose::mixture::Observed)| {
        json!({
            "from": view.labels[at],
            "fractions": named(&view.names, &own.fractions),
            "process": of_setting(view, &own.setting),
            "measured": own.response,
            "fitted": study.regression.fitted[at],
            "residual": study.regression.residuals[at],
            "studentized": studentized[at],
            "leverage": study.regression.leverage[at],
        })
    };
    view.observed.iter().enumerate().map(one).collect()
}

fn of_optimum(view: &MixtureFitView<'_>, own: &Optimum) -> Value {
    let goal = match own.goal {
        Goal::Maximum => json!("max"),
        Goal::Minimum => json!("min"),
        Goal::Target(target) => json!(target),
    };
    let alike = own.alike.as_ref().map(|bounds| -> Map<String, Value> {
        let bounds = view.names.iter().zip(bounds);
        bounds.map(|(name, bound)| ((*name).to_owned(), json!([bound.low, bound.high]))).collect()
    });
    json!({
        "goal": goal,
        "fractions": named(&view.names, &own.fractions),
        "process": of_setting(view, &own.setting),
        "value": own.value,
        "mean": [own.value - own.reach, own.value + own.reach],
        "further": [own.value - own.further_reach, own.value + own.further_reach],
        "alike": alike,
    })
}

fn of_next(view: &MixtureFitView<'_>, own: &NextRun) -> Value {
    json!({
        "fractions": named(&view.names, &own.fractions),
        "process": of_setting(view, &own.setting),
        "unit_sd": own.unit_sd,
    })
}

fn traces(view: &MixtureFitView<'_>) -> Value {
    let direction = match view.direction {
        Direction::Cox => "cox",
        Direction::Piepel => "piepel",
    };
    let point = |own: &TracePoint| json!({ "change": own.change, "value": own.value, "low": own.value - own.reach, "high": own.value + own.reach });
    let lines: Map<String, Value> = view
        .names
        .iter()
        .zip(&view.traces)
        .map(|(name, trace)| ((*name).to_owned(), trace.iter().map(point).collect()))
        .collect();
    json!({
        "direction": direction,
        "reference": named(&view.names, &view.reference.0),
        "process": of_setting(view, &view.reference.1),
        "lines": lines,
    })
}

fn named(names: &[&str], values: &[f64]) -> Map<String, Value> {
    names.iter().zip(values).map(|(name, value)| ((*name).to_owned(), json!(value))).collect()
}

fn of_setting(view: &MixtureFitView<'_>, setting: &[f64]) -> Map<String, Value> {
    let names: Vec<&str> = view.variables().iter().map(|own| own.name.as_str()).collect();
    named(&names, setting)
}
