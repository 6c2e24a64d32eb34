//! Dates with times of day: ISO 8601 ("2026-11-25T09:30:00.5Z", "2026-11-25 09:30"), with slashes year first,
//! and "25.11.2026 09:30:00". A time without an offset is one of the log's zone.

use jiff::civil::DateTime;
use jiff::tz::{AmbiguousOffset, TimeZone};

/// Reads times; neighbours mostly share their minute, which is worked out once.
#[derive(Debug, Clone)]
pub(super) struct Moments {
    zone: TimeZone,
    minute: Option<Minute>,
    last_ns: i64,
}

/// A minute of the zone's clock: when it begins. Where clocks are set back it comes twice.
#[derive(Debug, Clone, Copy)]
struct Minute {
    named: [u32; 5],
    begins_ns: i64,
    again_ns: Option<i64>,
}

/// Year, month, day, hour, minute, then nanoseconds of the minute, then the offset in seconds if it is written.
struct Written {
    named: [u32; 5],
    ns: i64,
    offset_s: Option<i64>,
}

const NS: i64 = 1_000_000_000;

impl Moments {
    pub(super) fn new(zone: TimeZone) -> Self {
        Self { zone, minute: None, last_ns: i64::MIN }
    }

    /// Nanoseconds since 1970, UTC; `None` if it is no time, or one that the zone's clocks skip. Where clocks are
    /// set back, the second round is meant as soon as the first would run backwards.
    pub(super) fn read(&mut self, field: &[u8]) -> Option<i64> {
        let written = written(field)?;
        let at = match written.offset_s {
            Some(offset) => utc(written.named)? + written.ns - offset * NS,
            None => self.of_zone(&written)?,
        };
        self.last_ns = at;
        Some(at)
    }

    fn of_zone(&mut self, written: &Written) -> Option<i64> {
        let minute = match self.minute {
            Some(minute) if minute.named == written.named => minute,
            _ => self.minute(written.named)?,
        };
        self.minute = Some(minute);
        let first = minute.begins_ns + written.ns;
        Some(match minute.again_ns {
            Some(again) if first < self.last_ns => again + written.ns,
            _ => first,
        })
    }

    fn minute(&self, named: [u32; 5]) -> Option<Minute> {
        let utc = utc(named)?;
        let less = |offset: jiff::tz::Offset| utc - i64::from(offset.seconds()) * NS;
        let (begins_ns, again_ns) = match self.zone.to_ambiguous_timestamp(civil(named)?).offset() {
            AmbiguousOffset::Unambiguous { offset } => (less(offset), None),
            AmbiguousOffset::Fold { before, after } => (less(before), Some(less(after))),
            AmbiguousOffset::Gap { .. } => return None,
        };
        Some(Minute { named, begins_ns, again_ns })
    }
}

/// A zone by its name in the time zone database, or as an offset from UTC such as `+01:00`.
pub fn zone(name: &str) -> Option<TimeZone> {
    let fixed = || {
        let seconds = offset(name.as_bytes())??;
        Some(TimeZone::fixed(jiff::tz::Offset::from_seconds(i32::try_from(seconds).ok()?).ok()?))
    };
    TimeZone::get(name.trim()).ok().or_else(fixed)
}

fn civil([year, month, day, hour, minute]: [u32; 5]) -> Option<DateTime> {
    let small = |number: u32| i8::try_from(number).ok();
    let year = i16::try_from(year).ok()?;
    DateTime::new(year, small(month)?, small(day)?, small(hour)?, small(minute)?, 0, 0).ok()
}

/// The named minute as if it were one of UTC.
fn utc(named: [u32; 5]) -> Option<i64> {
    // Outside these years a count of nanoseconds has no room.
    if !(1700..2200).contains(&named[0]) {
        return None;
    }
    let timestamp = TimeZone::UTC.to_timestamp(civil(named)?).ok()?;
    Some(timestamp.as_second() * NS)
}

fn written(field: &[u8]) -> Option<Written> {
    let mut rest = field;
    let (first, sign) = (digits(&mut rest)?, sign(&mut rest)?);
    let second = digits(&mut rest)?;
    (self::sign(&mut rest)? == sign).then_some(())?;
    let third = digits(&mut rest)?;
    let (year, month, day) = match sign {
        b'-' | b'/' if 1000 <= first => (first, second, third),
        b'.' if 1000 <= third => (third, second, first),
        _ => return None,
    };
    if rest.is_empty() {
        // A day alone is no time of a sample.
        return None;
    }
    if !matches!(self::sign(&mut rest)?, b'T' | b't' | b' ') {
        return None;
    }
    let hour = digits(&mut rest)?;
    (self::sign(&mut rest)? == b':').then_some(())?;
    let minute = digits(&mut rest)?;
    let ns = seconds(&mut rest)?;
    let offset_s = offset(rest)?;
    Some(Written { named: [year, month, day, hour, minute], ns, offset_s })
}

fn digits(rest: &mut &[u8]) -> Option<u32> {
    let count = rest.iter().take_while(|byte| byte.is_ascii_digit()).count();
    if count == 0 || 4 < count {
        return None;
    }
    let number = rest[..count].iter().fold(0, |number, byte| number * 10 + u32::from(byte - b'0'));
    *rest = &rest[count..];
    Some(number)
}

fn sign(rest: &mut &[u8]) -> Option<u8> {
    let (first, others) = rest.split_first()?;
    *rest = others;
    Some(*first)
}

/// `:30.5` as nanoseconds; nothing is 0.
fn seconds(rest: &mut &[u8]) -> Option<i64> {
    if rest.first() != Some(&b':') {
        return Some(0);
    }
    sign(rest);
    let whole = digits(rest).filter(|seconds| *seconds < 60)?;
    let mut ns = i64::from(whole) * NS;
    if matches!(rest.first(), Some(b'.' | b',')) {
        sign(rest);
        let count = rest.iter().take_while(|byte| byte.is_ascii_digit()).count();
        let mut place = NS / 10;
        for byte in &rest[..count] {
            ns += i64::from(byte - b'0') * place;
            place /= 10;
        }
        *rest = &rest[count..];
        (0 < count).then_some(())?;
    }
    Some(ns)
}

/// `Z`, `+01:00`, `+0100`, `+01`; nothing is no offset.
#[allow(clippy::option_option, reason = "no time at all, and a time without an offset, are told apart")]
fn offset(rest: &[u8]) -> Option<Option<i64>> {
    let rest = rest.trim_ascii();
    match rest.split_first() {
        None => Some(None),
        Some((b'Z' | b'z', [])) => Some(Some(0)),
        Some((first @ (b'+' | b'-'), digits)) => {
            let digits: Vec<u8> = digits.iter().copied().filter(|byte| *byte != b':').collect();
            let number = std::str::from_utf8(&digits).ok()?.parse::<i64>().ok()?;
            let (hours, minutes) = match digits.len() {
                2 => (number, 0),
                4 => (number / 100, number % 100),
                _ => return None,
            };
            let seconds = (hours * 60 + minutes) * 60;
            (hours < 24 && minutes < 60).then_some(Some(if *first == b'-' { -seconds } else { seconds }))
        }
        Some(_) => None,
    }
}
