//! The value between the points around a place.

/// The value at `x`, on the straight line between the points (x, y) on both sides of it; points at the same x are
/// averaged. `None` unless there is one at or before `x` and one at or after it.
pub fn interpolate(points: &[(f64, f64)], x: f64) -> Option<f64> {
    let mean_at = |x: f64| {
        let values: Vec<f64> = points.iter().filter(|point| point.0 == x).map(|point| point.1).collect();
        values.iter().sum::<f64>() / values.len() as f64
    };
    let before = points.iter().map(|point| point.0).filter(|&own| own <= x).reduce(f64::max)?;
    let after = points.iter().map(|point| point.0).filter(|&own| x <= own).reduce(f64::min)?;
    let (low, high) = (mean_at(before), mean_at(after));
    Some(if before == after { low } else { low + (high - low) * (x - before) / (after - before) })
}
