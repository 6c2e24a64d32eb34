//! Which coefficients a set of rows can tell.

use nalgebra::DMatrix;

/// A direction whose singular value, of columns scaled to length 1, is this small beside the greatest is not seen
/// by the rows: settings are known to a few digits, and their rounding must not pass for information.
const SEEN: f64 = 1e-9;
/// A coefficient is told if its unit vector lies in the directions that are seen, but for rounding.
const WHOLE: f64 = 1e-6;

/// The places of the columns whose coefficients the rows can't tell: βⱼ is estimable exactly if its unit vector is a
/// combination of rows (S. R. Searle, Linear Models, 1971, 5.4).
pub fn not_estimable(rows: &[Vec<f64>]) -> Vec<usize> {
    let Some((seen, columns)) = seen(rows) else { return Vec::new() };
    let share = |column: usize| seen.iter().map(|direction| direction[column].powi(2)).sum::<f64>();
    (0..columns).filter(|column| share(*column) < 1.0 - WHOLE).collect()
}

/// How many coefficients, or combinations of them, the rows can tell.
pub fn rank(rows: &[Vec<f64>]) -> usize {
    seen(rows).map_or(0, |(seen, _)| seen.len())
}

/// An orthonormal base of the directions that the rows see; `None` without rows or columns.
fn seen(rows: &[Vec<f64>]) -> Option<(Vec<Vec<f64>>, usize)> {
    let columns = rows.first().map(Vec::len).filter(|columns| 0 < *columns)?;
    let mut x = DMatrix::from_fn(rows.len(), columns, |row, column| rows[row][column]);
    for mut column in x.column_iter_mut() {
        let length = column.norm();
        if 0.0 < length {
            column.scale_mut(1.0 / length);
        }
    }
    let svd = x.svd(false, true);
    let directions = svd.v_t?;
    let greatest = svd.singular_values.max();
    let is_seen = |at: &usize| SEEN * greatest < svd.singular_values[*at];
    let base = (0..svd.singular_values.len()).filter(is_seen);
    Some((base.map(|at| directions.row(at).iter().copied().collect()).collect(), columns))
}
