//! Times that count from the start of a log.

use super::fields::number;

/// Nanoseconds of a number in a unit of so many seconds, or of `h:mm:ss` with a fraction.
pub(super) fn nanoseconds(field: &[u8], factor: f64, decimal_comma: bool) -> Option<i64> {
    let seconds = if field.contains(&b':') {
        clock(field, decimal_comma)?
    } else {
        number(field, decimal_comma)? * factor
    };
    // Beyond this a count of nanoseconds has no room; it is 190 years.
    let fits = (0.0..6e9).contains(&seconds);
    fits.then(|| (seconds * 1e9).round() as i64)
}

fn clock(field: &[u8], decimal_comma: bool) -> Option<f64> {
    let mut parts = field.split(|byte| *byte == b':');
    let whole = |part: Option<&[u8]>| std::str::from_utf8(part?).ok()?.parse::<u32>().ok();
    let (hours, minutes) = (whole(parts.next())?, whole(parts.next())?);
    let seconds = match parts.next() {
        Some(part) => number(part, decimal_comma)?,
        None => 0.0,
    };
    let fits = minutes < 60 && (0.0..60.0).contains(&seconds) && parts.next().is_none();
    fits.then(|| f64::from(hours) * 3600.0 + f64::from(minutes) * 60.0 + seconds)
}
