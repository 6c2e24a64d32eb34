//! Times as people read them, in the zone of the reader.

use jiff::tz::TimeZone;
use jiff::{SignedDuration, Timestamp};

/// "2026-11-25 09:30".
pub fn moment(time: Timestamp, zone: &TimeZone) -> String {
    time.to_zoned_datetime(zone.clone()).strftime("%Y-%m-%d %H:%M").to_string()
}

/// "2026-11-25".
pub fn day(time: Timestamp, zone: &TimeZone) -> String {
    time.to_zoned_datetime(zone.clone()).strftime("%Y-%m-%d").to_string()
}

/// "3 d" from two days on, hours below, minutes below two hours.
pub fn span(span: SignedDuration) -> String {
    let hours = span.as_hours();
    match hours {
        48.. => format!("{} d", hours / 24),
        2..48 => format!("{hours} h"),
        _ => format!("{} min", span.as_mins()),
    }
}
