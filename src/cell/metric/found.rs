//! What was found of one cell, before it is judged whether it counts.

/// A value of a cell, and the days after building up to which the metric looked for it.
pub(super) struct Found {
    pub(super) value: Result<f64, String>,
    pub(super) until_d: f64,
}
