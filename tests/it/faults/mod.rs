//! What is refused, and what is said: code, message and the way out.

mod bottle;
mod component;
mod plan;
mod recipe;

use meltbook::input::Faults;

/// The one fault of a text, as `code: message` and hint.
#[track_caller]
fn check<T: std::fmt::Debug>(read: Result<T, Faults>, told: &str, hint: &str) {
    let faults = read.unwrap_err();
    let all: Vec<String> = faults.iter().map(|fault| format!("{}: {}", fault.code, fault.message)).collect();
    assert_eq!(all, [told]);
    assert_eq!(faults.iter().next().unwrap().hint.as_deref(), Some(hint));
}
