//! A span of time, as in "one hour at 80 °C".

use super::define::quantity;

quantity!(
    /// A span of time in seconds.
    TimeSpan, "time", base "s",
    units [
        ("s", 1.0), ("min", 60.0), ("h", 3600.0), ("d", 86_400.0), ("day", 86_400.0), ("days", 86_400.0),
        ("week", 604_800.0), ("weeks", 604_800.0), ("minute", 60.0), ("minutes", 60.0), ("hr", 3600.0),
        ("hour", 3600.0), ("hours", 3600.0), ("sec", 1.0), ("second", 1.0), ("seconds", 1.0), ("ms", 1e-3),
    ],
    from 0.0 to 1e10, example "2 h"
);

impl TimeSpan {
    /// The value in hours.
    pub fn hours(self) -> f64 {
        self.get() / 3600.0
    }
}
