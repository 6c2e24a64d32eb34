//! The unit in a column's head: "Voltage (V)", "I [mA]", "t/s", "voltage_mV".

/// What a column holds, by its unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Holds {
    Volts,
    Amperes,
    Seconds,
}

const UNITS: [(&str, Holds, f64); 22] = [
    ("V", Holds::Volts, 1.0),
    ("mV", Holds::Volts, 1e-3),
    ("µV", Holds::Volts, 1e-6),
    ("uV", Holds::Volts, 1e-6),
    ("A", Holds::Amperes, 1.0),
    ("mA", Holds::Amperes, 1e-3),
    ("µA", Holds::Amperes, 1e-6),
    ("uA", Holds::Amperes, 1e-6),
    ("nA", Holds::Amperes, 1e-9),
    ("ms", Holds::Seconds, 1e-3),
    ("s", Holds::Seconds, 1.0),
    ("sec", Holds::Seconds, 1.0),
    ("seconds", Holds::Seconds, 1.0),
    ("min", Holds::Seconds, 60.0),
    ("minutes", Holds::Seconds, 60.0),
    ("h", Holds::Seconds, 3600.0),
    ("hr", Holds::Seconds, 3600.0),
    ("hours", Holds::Seconds, 3600.0),
    ("d", Holds::Seconds, 86_400.0),
    ("days", Holds::Seconds, 86_400.0),
    ("volts", Holds::Volts, 1.0),
    ("amps", Holds::Amperes, 1.0),
];

/// What a unit means; an m stands for milli and never for mega.
pub(super) fn unit(symbol: &str) -> Option<(Holds, f64)> {
    let folded = symbol.trim().replace('\u{03bc}', "\u{00b5}");
    let find = |wanted: &str| {
        UNITS.iter().find(|(known, ..)| *known == wanted).map(|(_, holds, factor)| (*holds, *factor))
    };
    let lower = || {
        let wanted = folded.to_lowercase();
        (!folded.starts_with('M'))
            .then(|| UNITS.iter().find(|(known, ..)| known.to_lowercase() == wanted))
            .flatten()
    };
    find(&folded).or_else(|| lower().map(|(_, holds, factor)| (*holds, *factor)))
}

/// The symbols of what a column may hold, for a hint.
pub(super) fn symbols(of: Holds) -> String {
    let fits = UNITS.iter().filter(|(_, holds, _)| *holds == of).map(|(symbol, ..)| *symbol);
    fits.collect::<Vec<_>>().join(", ")
}

/// The unit that a head ends with, if it is one.
pub(super) fn in_head(head: &str) -> Option<&str> {
    let head = head.trim();
    let bracketed = [('(', ')'), ('[', ']')].into_iter().find_map(|(open, close)| {
        let inner = head.strip_suffix(close)?;
        Some(inner[inner.rfind(open)? + 1..].trim())
    });
    let tail = || ['/', '_', ' '].into_iter().find_map(|sign| Some(head[head.rfind(sign)? + 1..].trim()));
    bracketed.or_else(tail).filter(|symbol| unit(symbol).is_some())
}
