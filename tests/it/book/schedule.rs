//! When a batch is to be looked at: end of heating, cooled, 24 h, 7 d, then weekly.

use jiff::{SignedDuration, Timestamp};
use meltbook::record::schedule::looks;

#[test]
fn looks_go_on_weekly() {
    let finished: Timestamp = "2026-11-02T08:00:00Z".parse().unwrap();
    let after = |hours: i64| finished + SignedDuration::from_hours(hours);
    let none = looks(finished, &[], after(0));
    assert_eq!(
        none.iter().map(|look| look.occasion.as_str()).collect::<Vec<_>>(),
        ["end of heating", "cooled", "24 h", "7 d"]
    );
    assert!(none.iter().all(|look| look.done.is_none()));
    // Nineteen days on: 7 d and week 2 are past, week 3 is the next.
    let looked = [("end of heating".to_owned(), after(1)), ("".to_owned(), after(30))];
    let later = looks(finished, &looked, after(19 * 24));
    let last = later.last().unwrap();
    assert_eq!((last.occasion.as_str(), last.due), ("week 3", after(21 * 24)));
    let open: Vec<&str> =
        later.iter().filter(|look| look.done.is_none()).map(|look| look.occasion.as_str()).collect();
    assert_eq!(open, ["cooled", "7 d", "week 2", "week 3"], "a look counts by its name or by its time");
}
