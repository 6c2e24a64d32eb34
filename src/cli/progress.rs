//! How far a long work has come, on the screen of whoever waits for it; nothing where standard error is no
//! screen.

use std::io::{self, IsTerminal as _, Read};
use std::time::{Duration, Instant};

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

/// Smaller files are done before anybody looks.
const WORTH_SHOWING: u64 = 8 << 20;
/// What a person waits for without wondering.
const PATIENCE: Duration = Duration::from_secs(1);

/// A reader that shows how far it is; the bar is gone when it is dropped.
pub(super) struct Progress<R> {
    inner: R,
    bar: ProgressBar,
}

impl<R> Progress<R> {
    /// Around a reader of so many bytes.
    pub(super) fn new(inner: R, total: u64, what: &str) -> Self {
        let bar = bar(total, what, "{msg} {wide_bar} {bytes} of {total_bytes}, {eta} to go");
        if WORTH_SHOWING <= total {
            bar.set_draw_target(screen());
        }
        Self { inner, bar }
    }
}

impl<R: Read> Read for Progress<R> {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        let read = self.inner.read(buffer)?;
        self.bar.inc(read as u64);
        Ok(read)
    }
}

impl<R> Drop for Progress<R> {
    fn drop(&mut self) {
        self.bar.finish_and_clear();
    }
}

/// Steps of a work whose length shows only while it goes on; the bar is gone when it is dropped.
pub(super) struct Steps {
    began: Instant,
    bar: ProgressBar,
}

impl Steps {
    /// So many steps.
    pub(super) fn new(total: usize, what: &str) -> Self {
        Self { began: Instant::now(), bar: bar(total as u64, what, "{msg} {wide_bar} {percent} %") }
    }

    /// One more is done.
    pub(super) fn next(&mut self) {
        self.reach(self.bar.position() as usize + 1);
    }

    /// So many are done.
    pub(super) fn reach(&mut self, done: usize) {
        if self.bar.is_hidden() && PATIENCE <= self.began.elapsed() {
            self.bar.set_draw_target(screen());
        }
        self.bar.set_position(done as u64);
    }

    /// A search from several starts, of which each looks at the runs of a design again and again: the first time tells how
    /// far it is, and what follows holds the place before the next start.
    pub(super) fn of_search(
        starts: usize,
        runs: usize,
        what: &str,
    ) -> (Self, impl Fn(usize, usize) -> usize) {
        let place = move |start: usize, looked: usize| start * runs + looked.min(runs.saturating_sub(1));
        (Self::new(starts * runs, what), place)
    }
}

impl Drop for Steps {
    fn drop(&mut self) {
        self.bar.finish_and_clear();
    }
}

/// A bar that is not shown yet.
fn bar(total: u64, what: &str, style: &str) -> ProgressBar {
    let bar = ProgressBar::with_draw_target(Some(total), ProgressDrawTarget::hidden());
    bar.set_style(ProgressStyle::with_template(style).unwrap_or_else(|_| ProgressStyle::default_bar()));
    bar.with_message(what.to_owned())
}

/// Standard error, if somebody looks at it.
fn screen() -> ProgressDrawTarget {
    if io::stderr().is_terminal() { ProgressDrawTarget::stderr() } else { ProgressDrawTarget::hidden() }
}
