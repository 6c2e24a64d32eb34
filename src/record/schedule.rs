//! When a batch is to be looked at: at the end of heating, when it has cooled, after 24 h, after 7 d, and
//! then every week as long as some of it is left (common practice: crystals come late).

use jiff::{SignedDuration, Timestamp};

/// One look that is planned.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Look {
    /// The occasion, as it is recorded.
    pub occasion: String,
    /// When it is due.
    pub due: Timestamp,
    /// When it was done, if it was.
    pub done: Option<Timestamp>,
}

/// Time to cool before a batch is looked at again (common practice).
const COOLING: SignedDuration = SignedDuration::from_hours(2);
const DAY: SignedDuration = SignedDuration::from_hours(24);
const WEEK: SignedDuration = SignedDuration::from_hours(168);

/// The looks of a batch that was finished at `finished`, up to the next one after `now`. `looked` are the
/// occasions and times of those that were recorded: a look counts for a planned one by its occasion, or by
/// falling between it and the next.
pub fn looks(finished: Timestamp, looked: &[(String, Timestamp)], now: Timestamp) -> Vec<Look> {
    let mut planned = vec![
        ("end of heating".to_owned(), finished),
        ("cooled".to_owned(), finished + COOLING),
        ("24 h".to_owned(), finished + DAY),
        ("7 d".to_owned(), finished + WEEK),
    ];
    let mut week = 2;
    while planned.last().is_some_and(|(_, due)| *due <= now) {
        planned.push((format!("week {week}"), finished + WEEK * week));
        week += 1;
    }
    let ends: Vec<Option<Timestamp>> = (1..=planned.len()).map(|at| planned.get(at).map(|p| p.1)).collect();
    let done = |occasion: &str, due: Timestamp, end: Option<Timestamp>| {
        let fits = |(name, at): &&(String, Timestamp)| {
            let named = name.trim().eq_ignore_ascii_case(occasion);
            named || (due <= *at && end.is_none_or(|end| *at < end))
        };
        looked.iter().filter(fits).map(|(_, at)| *at).min()
    };
    planned
        .into_iter()
        .zip(ends)
        .map(|((occasion, due), end)| Look { done: done(&occasion, due, end), occasion, due })
        .collect()
}
