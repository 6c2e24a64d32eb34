//! One test binary for the whole project.
// Each check lives in its own file below this one.

// A helper of a test fails by panicking, as the test itself does.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod faults;
mod property;
mod reference;
mod setup;
