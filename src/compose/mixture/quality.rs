//! What runs can tell of a model before anything is measured.

use super::arrange::Run;
use super::model::Model;
use super::region::is_same;
use crate::statistics::regression::not_estimable;

/// What runs can tell.
#[derive(Debug, Clone, PartialEq)]
pub struct RunQuality {
    /// The places of the terms that they can't tell.
    pub not_estimable: Vec<usize>,
    /// Degrees of freedom for error; negative if there are fewer runs than terms.
    pub df_error: i64,
    /// How many of them come from repeats.
    pub df_pure: usize,
}

/// Counts what is left for error, and names the terms that the runs can't tell.
pub fn run_quality(model: &Model, runs: &[Run]) -> RunQuality {
    let rows: Vec<Vec<f64>> = runs.iter().map(|run| model.row(&run.fractions, &run.setting)).collect();
    let is_repeat = |one: &Run, other: &Run| {
        is_same(&one.fractions, &other.fractions) && is_same(&one.setting, &other.setting)
    };
    let repeats =
        runs.iter().enumerate().filter(|(at, run)| runs[..*at].iter().any(|own| is_repeat(own, run)));
    RunQuality {
        not_estimable: not_estimable(&rows),
        df_error: runs.len() as i64 - model.terms.len() as i64,
        df_pure: repeats.count(),
    }
}
