//! One test binary for the whole project.
// Each check lives in its own file below this one.

// A test says what it expects by failing, in its helper functions too, which clippy does not see as tests.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod book;
mod cli;
mod demo;
mod faults;
mod gallery;
mod golden;
mod house;
mod labels;
mod property;
mod readme;
mod reference;
mod render;
mod run;
mod setup;
mod story;
mod trace;
