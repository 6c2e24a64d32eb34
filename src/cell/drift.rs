//! Open-circuit voltage against time: the settling part set apart, then a straight line; and an exponential settling
//! through all of it. A voltage that falls is no charge that is lost: no current is derived from it.

use std::cell::OnceCell;

use jiff::{SignedDuration, Timestamp};

use crate::record::reading::{Reading, ReadingKind};
use crate::statistics::curve_fit::{Fit, Form, Points, Scale, fit};
use crate::statistics::line::{Line, line_through};

/// When a cell counts as settled.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Settling {
    /// Readings sooner after building than this are set apart.
    pub until: SignedDuration,
}

/// One open-circuit voltage.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// Weeks after building.
    pub weeks: f64,
    /// Volts.
    pub volts: f64,
    /// Entry of the book.
    pub entry: u64,
}

/// The voltage of one cell over time.
#[derive(Debug, Clone, PartialEq)]
pub struct Drift {
    /// The rule.
    pub settling: Settling,
    /// Set apart: too soon after building.
    pub unsettled: Vec<Point>,
    /// What the line is fitted to.
    pub settled: Vec<Point>,
    /// Left out: read soon after a short circuit.
    pub disturbed: usize,
    /// Left out: read after the cell was retired.
    pub after_end: usize,
    /// Volts against weeks over the settled part; `None` with fewer than two times.
    pub line: Option<Line>,
    /// The fit of [`Self::decay`], once it was asked for: it takes a hundred times as long as the line.
    decay: OnceCell<Option<Fit>>,
}

/// The confidence of the intervals of the exponential settling.
const CONFIDENCE: f64 = 0.95;

const SECONDS_PER_WEEK: f64 = 604_800.0;

/// The drift of a cell that was built at `built`, from its readings in order of time.
pub fn drift(
    readings: &[Reading],
    since_short: &[Option<SignedDuration>],
    built: Timestamp,
    retired: Option<Timestamp>,
    settling: Settling,
) -> Drift {
    let mut drift = Drift {
        settling,
        unsettled: Vec::new(),
        settled: Vec::new(),
        disturbed: 0,
        after_end: 0,
        line: None,
        decay: OnceCell::new(),
    };
    let open = |reading: &&Reading| reading.taken.value.kind() == ReadingKind::OpenCircuit;
    let since = readings.iter().zip(since_short);
    for (reading, since) in since.filter(|(reading, _)| open(reading)) {
        let taken = &reading.taken;
        if retired.is_some_and(|end| end < taken.at) {
            drift.after_end += 1;
            continue;
        }
        if since.is_some() {
            drift.disturbed += 1;
            continue;
        }
        let age = taken.at.duration_since(built);
        let weeks = age.as_secs_f64() / SECONDS_PER_WEEK;
        let point = Point { weeks, volts: taken.value.number(), entry: reading.entry };
        let list = if age < settling.until { &mut drift.unsettled } else { &mut drift.settled };
        list.push(point);
    }
    let points: Vec<(f64, f64)> = drift.settled.iter().map(|point| (point.weeks, point.volts)).collect();
    drift.line = line_through(&points);
    drift
}

impl Drift {
    /// All readings that are not left out, in order of time.
    pub fn all(&self) -> Vec<Point> {
        let mut all: Vec<Point> = self.unsettled.iter().chain(&self.settled).copied().collect();
        all.sort_by(|a, b| a.weeks.total_cmp(&b.weeks));
        all
    }

    /// a + b exp(−weeks/tau) through all that is not left out, in volts and weeks; `None` with too few readings.
    pub fn decay(&self) -> Option<&Fit> {
        self.decay.get_or_init(|| self.settling_fit()).as_ref()
    }

    fn settling_fit(&self) -> Option<Fit> {
        let (weeks, volts): (Vec<f64>, Vec<f64>) =
            self.all().iter().map(|point| (point.weeks, point.volts)).unzip();
        fit(Form::Decay, Scale::Plain, &Points::new(weeks, volts).ok()?, CONFIDENCE).ok()
    }

    /// Fall from the first to the last reading of all, over the first.
    pub fn loss(&self) -> Option<f64> {
        let all = self.all();
        let (first, last) = (all.first()?, all.last()?);
        (first.entry != last.entry && 0.0 < first.volts).then(|| 1.0 - last.volts / first.volts)
    }
}
