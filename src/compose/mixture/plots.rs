//! Whole plots: results that share one batch, or one setting that is made once, and what they can't tell of an error.
//!
//! Terms that are the same for all results of a plot are told by what plots differ by, and that is no part of an error that
//! is taken from single results (J. A. Cornell, Experiments with Mixtures, 3rd ed. 2002, on split plots; G. E. P. Box and S.
//! Jones, J. Appl. Stat. 19 (1992) 3; volumes and pages from memory).

use super::model::Model;
use super::study::Observed;

/// Values of a column of the model that differ by less are the same.
const SAME: f64 = 1e-9;

/// Results in plots.
#[derive(Debug, Clone, PartialEq)]
pub struct Plots {
    /// How many plots there are.
    pub count: usize,
    /// How many of them hold results that differ in the model.
    pub split: usize,
    /// The columns of the model that differ between plots alone.
    pub between: Vec<usize>,
}

/// What plots do to a model; `None` where none is split. `of` says the plot of each result.
pub fn plots(model: &Model, observed: &[Observed], of: &[usize], alike: f64) -> Option<Plots> {
    let rows: Vec<Vec<f64>> =
        observed.iter().map(|own| model.row_in(&own.fractions, &own.setting, own.block)).collect();
    let mut plots: Vec<usize> = of.to_vec();
    plots.sort_unstable();
    plots.dedup();
    let within = |plot: usize| rows.iter().zip(of).filter(move |(_, of)| **of == plot).map(|(row, _)| row);
    let tolerance = alike.max(SAME);
    let varies = |column: usize, plot: usize| {
        let first = within(plot).next().map_or(f64::NAN, |row| row[column]);
        within(plot).any(|row| tolerance < (row[column] - first).abs())
    };
    let columns = rows.first().map_or(0, Vec::len);
    let split = plots.iter().filter(|plot| (0..columns).any(|column| varies(column, **plot))).count();
    let between: Vec<usize> =
        (0..columns).filter(|column| plots.iter().all(|plot| !varies(*column, *plot))).collect();
    (1 < plots.len() && 0 < split && !between.is_empty()).then_some(Plots {
        count: plots.len(),
        split,
        between,
    })
}

/// Results of one composition as a plot each: what they would be if each composition had been made once.
pub fn by_composition(observed: &[Observed], alike: f64) -> Vec<usize> {
    let same = |one: &Observed, other: &Observed| {
        one.fractions.iter().zip(&other.fractions).all(|(a, b)| (a - b).abs() <= alike)
    };
    let first = |own: &Observed| observed.iter().position(|other| same(own, other)).unwrap_or_default();
    observed.iter().map(first).collect()
}
