//! Figures of cells in JSON.

use jiff::Timestamp;
use serde_json::{Value, json};

use crate::cell::{
    CellDischarge, Drift, FigureRules, Figures, Found, Point, Prediction, Retention, Set, Shot, Shown,
    Totals, Work,
};
use crate::statistics::curve_fit::Fit;

/// All figures. Undefined values are null; figures of voltage and of charge never share a key.
pub fn figures_answer(list: &[Figures], rules: &FigureRules, retention: Option<&Retention>) -> Value {
    json!({
        "cells": list.iter().map(of_cell).collect::<Vec<_>>(),
        "charge_retention": retention.map(of_retention),
        "rules": {
            "within_s": rules.pairing.within.as_secs(),
            "voltmeter_ohm": rules.pairing.voltmeter_ohms,
            "settled_after_s": rules.settling.until.as_secs(),
        },
    })
}

fn of_cell(figures: &Figures) -> Value {
    json!({
        "cell": figures.name(),
        "internal_resistance": figures.resistances.iter().map(found).collect::<Vec<_>>(),
        "contradictions": figures.contradictions.iter().map(found).collect::<Vec<_>>(),
        "predictions": figures.predictions.iter().map(prediction).collect::<Vec<_>>(),
        "voltage_drift": figures.drift.as_ref().map(drift),
        "discharges": figures.discharges.iter().map(discharge).collect::<Vec<_>>(),
    })
}

fn found(found: &Found) -> Value {
    json!({
        "method": found.method.key(),
        "internal_ohm": found.ohms,
        "load_ohm": load(&found.heavy),
        "after_s": found.heavy.after_s,
        "light": shot(&found.light),
        "heavy": shot(&found.heavy),
        "source_v": found.source.emf_volts,
        "most_power_w": found.source.most_watts(),
    })
}

fn load(shot: &Shot) -> Option<f64> {
    Some(shot.shown.outside_ohms()).filter(|ohms| ohms.is_finite())
}

fn shot(shot: &Shot) -> Value {
    let (volts, amperes) = match shot.shown {
        Shown::Open { volts } | Shown::Loaded { volts, .. } => (Some(volts), None),
        Shown::Current { amperes, .. } => (None, Some(amperes)),
    };
    json!({
        "entry": shot.entry,
        "at": shot.at.map(|at| at.to_string()),
        "voltage_v": volts,
        "current_a": amperes,
        "outside_ohm": load(shot),
        "after_s": shot.after_s,
        "disturbed": shot.disturbed,
    })
}

fn prediction(prediction: &Prediction) -> Value {
    json!({
        "source": prediction.source.method.key(),
        "source_v": prediction.source.emf_volts,
        "internal_ohm": prediction.source.ohms,
        "of": shot(&prediction.of),
        "predicted_a": prediction.predicted_amperes,
        "read_a": prediction.read_amperes,
        "off_pct": prediction.off() * 100.0,
    })
}

fn drift(drift: &Drift) -> Value {
    let point =
        |point: &Point| json!({ "entry": point.entry, "weeks": point.weeks, "voltage_v": point.volts });
    let line = drift.line;
    let interval = line.and_then(|line| line.slope_interval(0.95));
    json!({
        "settling": drift.unsettled.iter().map(point).collect::<Vec<_>>(),
        "settled": drift.settled.iter().map(point).collect::<Vec<_>>(),
        "disturbed_left_out": drift.disturbed,
        "after_end_left_out": drift.after_end,
        "slope_v_per_week": line.map(|line| line.slope),
        "slope_se_v_per_week": line.and_then(|line| line.errors).map(|errors| errors.slope),
        "slope_ci95_v_per_week": interval.map(|(low, high)| [low, high]),
        "at_building_v": line.map(|line| line.intercept),
        "fall_pct": drift.loss().map(|loss| loss * 100.0),
        "exponential_settling": drift.decay().map(decay),
    })
}

/// a + b exp(−weeks/tau).
fn decay(fit: &Fit) -> Value {
    let estimate = |at: usize| {
        let estimate = &fit.inference.estimates[at];
        json!({ "value": estimate.value, "sd": estimate.sd, "ci95": estimate.interval })
    };
    json!({
        "settles_at_v": estimate(0),
        "falls_by_v": estimate(1),
        "tau_weeks": estimate(2),
        "residual_sd_v": fit.inference.residual_sd,
        "converged": fit.converged,
        "identifiable": fit.is_identifiable(),
    })
}

fn totals(totals: &Totals) -> Value {
    json!({
        "capacity_mah": totals.milliampere_hours(),
        "energy_mwh": totals.milliwatt_hours(),
        "on_time_s": totals.on_s,
        "mean_voltage_v": totals.mean_volts(),
        "mean_current_a": totals.mean_amperes(),
        "mean_power_w": totals.mean_watts(),
    })
}

fn discharge(discharge: &CellDischarge) -> Value {
    let run = &discharge.discharged;
    let time = |ns: i64| Timestamp::from_nanosecond(i128::from(ns)).ok().map(|time| time.to_string());
    let (work, ohms, amperes) = match run.rule.work {
        Work::Resistance(ohms) => ("resistance", Some(ohms), None),
        Work::Current(amperes) => ("current", None, Some(amperes)),
        Work::Measured => ("measured_current", None, None),
    };
    json!({
        "entries": discharge.entries,
        "work": work,
        "load_ohm": ohms,
        "constant_a": amperes,
        "samples": run.samples,
        "from": time(run.from_ns),
        "to": time(run.to_ns),
        "cut_off_v": run.rule.cut_off_volts,
        "cut_off_reached": run.rule.cut_off_volts.map(|_| run.to_cut_off.is_some()),
        "cut_off_at": run.cut_off_ns.and_then(time),
        "to_cut_off": run.to_cut_off.as_ref().map(totals),
        "total": totals(&run.total),
        "rest_s": run.rest_s,
        "gaps": run.gaps,
        "other_way_mah": run.other_way_coulombs / 3.6,
        "rest_below_a": run.rule.rest_below_amperes,
        "longest_gap_s": run.rule.longest_gap_s,
        "lowest_v": run.lowest_volts,
        "last_v": run.last_volts,
        "oxide_g": discharge.basis.oxide.map(|mass| mass.get()),
        "mah_per_g_oxide": discharge.mah_per_g(),
        "area_cm2": discharge.basis.area.map(|area| area.get()),
        "mah_per_cm2": discharge.mah_per_cm2(),
        "theoretical_mah": discharge.basis.theoretical.map(|charge| charge.milliampere_hours()),
        "of_theoretical_pct": discharge.utilisation().map(|share| share * 100.0),
    })
}

fn of_retention(retention: &Retention) -> Value {
    let set = |set: &Set| json!({ "n": set.n, "mean_mah": set.mean_mah, "sd_mah": set.sd_mah });
    json!({
        "fresh": set(&retention.fresh),
        "stored": set(&retention.stored),
        "stored_s": retention.stored_s,
        "retention_pct": retention.retention * 100.0,
        "retention_u_pct": retention.uncertainty.map(|u| u * 100.0),
        "lost_mah": retention.lost_mah(),
        "loss_pct_per_week": retention.loss_per_week() * 100.0,
        "loss_pct_per_30_d_compound": retention.loss_per_30_days().map(|loss| loss * 100.0),
        "parasitic_a": retention.parasitic_amperes(),
    })
}
