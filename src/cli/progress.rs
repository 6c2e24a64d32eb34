//! How far a long work has come, on the screen of whoever waits for it; nothing where standard error is no
//! screen.

use std::io::{self, IsTerminal as _, Read};

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

/// Smaller files are done before anybody looks.
const WORTH_SHOWING: u64 = 8 << 20;

/// A reader that shows how far it is; the bar is gone when it is dropped.
pub(super) struct Progress<R> {
    inner: R,
    bar: ProgressBar,
}

impl<R> Progress<R> {
    /// Around a reader of so many bytes.
    pub(super) fn new(inner: R, total: u64, what: &str) -> Self {
        let shown = WORTH_SHOWING <= total && std::io::stderr().is_terminal();
        let target = if shown { ProgressDrawTarget::stderr() } else { ProgressDrawTarget::hidden() };
        let bar = ProgressBar::with_draw_target(Some(total), target);
        let style = "{msg} {wide_bar} {bytes} of {total_bytes}, {eta} to go";
        bar.set_style(ProgressStyle::with_template(style).unwrap_or_else(|_| ProgressStyle::default_bar()));
        bar.set_message(what.to_owned());
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
