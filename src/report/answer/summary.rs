//! `summary` in JSON.

use serde_json::{Value, json};

use crate::report::view::sentence;
use crate::statistics::summary::Summary;

/// One group. `missing` and `excluded` are cells without a value and cells left out for a cause.
pub fn summary_answer(summary: &Summary, unit: Option<&str>, missing: usize, excluded: usize) -> Value {
    let (shapiro, grubbs, dixon, tolerance) =
        (summary.shapiro_wilk, summary.grubbs, summary.dixon, summary.tolerance);
    json!({
        "group": summary.name,
        "unit": unit,
        "n": summary.moments.n,
        "missing": missing,
        "excluded": excluded,
        "mean": summary.moments.mean,
        "sd": summary.moments.sd(),
        "rsd_pct": summary.rsd_percent(),
        "ci95": summary.mean_interval,
        "sd_ci95": summary.sd_interval,
        "median": summary.median,
        "mad": summary.mad,
        "mad_scaled": summary.mad_scaled(),
        "q1": summary.quartiles[0],
        "q3": summary.quartiles[1],
        "quartile_type": summary.rules.quartiles.number(),
        "min": summary.range[0],
        "max": summary.range[1],
        "shapiro_w": shapiro.map(|test| test.w),
        "shapiro_p": shapiro.map(|test| test.p),
        "grubbs_suspect": grubbs.map(|test| test.suspect),
        "grubbs_g": grubbs.map(|test| test.g),
        "grubbs_critical": grubbs.map(|test| test.critical),
        "grubbs_p": grubbs.map(|test| test.p),
        "dixon_suspect": dixon.map(|test| test.suspect),
        "dixon_r10": dixon.map(|test| test.r10),
        "dixon_p": dixon.map(|test| test.p),
        "tolerance_k": tolerance.map(|tolerance| tolerance.factor),
        "tolerance": tolerance.map(|tolerance| tolerance.interval),
        "tolerance_content": summary.rules.content,
        "tolerance_confidence": summary.rules.confidence,
        "says": sentence(summary),
    })
}
