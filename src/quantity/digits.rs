//! How many digits to show: as many as the uncertainty or the instrument supports.

/// Decimals that a reading step such as 0.01 needs: 2 for 0.01, 0 for 1, 1 for 0.5; at most 12.
pub fn decimals_for_step(step: f64) -> usize {
    let mut decimals = 0;
    let mut scaled = step;
    while decimals < 12 && (scaled - scaled.round()).abs() > 1e-9 * scaled.abs() {
        scaled *= 10.0;
        decimals += 1;
    }
    decimals
}

/// Decimals that show two significant digits of a standard uncertainty (JCGM 100:2008, 7.2.6).
/// Zero, negative or non-finite uncertainty gives `fallback`.
pub fn decimals_for_uncertainty(uncertainty: f64, fallback: usize) -> usize {
    if uncertainty.is_nan() || uncertainty <= 0.0 || uncertainty.is_infinite() {
        return fallback;
    }
    let exponent = uncertainty.log10().floor();
    (1.0 - exponent).clamp(0.0, 9.0) as usize
}

/// A value printed to the digits of its uncertainty.
pub fn to_digits_of(value: f64, uncertainty: f64, fallback: usize) -> String {
    format!("{value:.*}", decimals_for_uncertainty(uncertainty, fallback))
}

/// A value printed to `digits` significant digits, without exponent.
pub fn significant(value: f64, digits: usize) -> String {
    if value == 0.0 || !value.is_finite() {
        return format!("{value}");
    }
    let exponent = value.abs().log10().floor() as i64;
    let decimals = (digits as i64 - 1 - exponent).clamp(0, 12) as usize;
    format!("{value:.decimals$}")
}
