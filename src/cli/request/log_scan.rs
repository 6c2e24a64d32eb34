//! One pass over a log: what is in it, what is wrong with it, and the hash of its bytes.

use std::path::Path;

use super::log_source::{LogSource, open_log, unreadable};
use super::surroundings::now;
use crate::cell::log::{BadRow, LogRows, LogSummary, Next};
use crate::cli::outcome::Failure;
use crate::cli::progress::Progress;
use crate::input::{Fault, Faults, Place};
use crate::record::{Code, Hash, HashingRead};

/// Bad rows that are shown one by one.
const SHOWN: usize = 10;
/// Bad rows that an entry names one by one; the rest is counted.
const NAMED: usize = 1000;

/// What one pass over a file found.
pub(in crate::cli) struct LogScan {
    pub(in crate::cli) hash: Hash,
    pub(in crate::cli) bytes: u64,
    pub(in crate::cli) summary: LogSummary,
    pub(in crate::cli) cells: Vec<Code>,
    /// The first bad rows.
    pub(in crate::cli) bad: Vec<BadRow>,
    pub(in crate::cli) bad_count: u64,
}

/// Reads a log through and judges every row.
pub(in crate::cli) fn log_scan(source: &LogSource) -> Result<LogScan, Failure> {
    let failed = |error: std::io::Error| unreadable(&source.path, &error);
    let file = Progress::new(open_log(Path::new(&source.path))?, source.bytes, "reading");
    let file = HashingRead::new(file);
    let mut rows = LogRows::new(file, &source.layout).map_err(failed)?;
    let (mut summary, mut bad, mut bad_count) = (LogSummary::default(), Vec::new(), 0);
    loop {
        match rows.next().map_err(failed)? {
            Next::Row(row) => summary.add(&row),
            Next::Bad(row) => {
                bad_count += 1;
                if bad.len() < NAMED {
                    bad.push(row);
                }
            }
            Next::End => break,
        }
    }
    let cells = rows.cells().to_vec();
    let (hash, bytes) = rows.into_inner().finish().map_err(failed)?;
    Ok(LogScan { hash, bytes, summary, cells, bad, bad_count })
}

impl LogScan {
    /// Refuses what is not sound.
    pub(in crate::cli) fn sound(&self, source: &LogSource, skip_bad: bool) -> Result<(), Failure> {
        let mut faults = Faults::none();
        if !skip_bad && 0 < self.bad_count {
            self.report(source, &mut faults);
        } else if self.summary.rows() == 0 {
            let message = format!("no row can be read, and {} are bad", self.bad_count);
            let fault = Fault::new("no_rows", message, Place::named(source.path.as_str()));
            faults.push(fault.with_hint("Check columns, decimal sign and separator."));
        }
        let now = now()?;
        for logged in self.summary.cells(&self.cells).iter().filter(|logged| now < logged.last) {
            let message =
                format!("the last row of {} is of {}, which has not come yet", logged.cell, logged.last);
            let fault = Fault::new("in_the_future", message, Place::named(source.path.as_str()));
            faults.push(fault.with_hint("Check --start, --zone and the clock of the instrument."));
        }
        Ok(faults.or(())?)
    }

    fn report(&self, source: &LogSource, faults: &mut Faults) {
        let good = self.summary.rows();
        let message = match self.bad_count {
            1 => format!("1 row can't be read, {good} can: nothing is taken in"),
            more => format!("{more} rows can't be read, {good} can: nothing is taken in"),
        };
        let fault = Fault::new("bad_rows", message, Place::named(source.path.as_str()));
        faults.push(fault.with_hint("Mend the file, or leave them out with --skip-bad."));
        for row in self.bad.iter().take(SHOWN) {
            let place = Place::named(format!("{}:{}", source.path, row.line));
            faults
                .push(Fault::new("bad_row", row.why.as_str(), place).with_hint("See the line in the file."));
        }
    }
}
