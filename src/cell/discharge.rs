//! A discharge from its samples, one by one as they stream by: charge, energy, time, and where a cut-off is
//! crossed. Between two samples voltage and current are taken as straight lines.

use super::discharge_run::{Run, Stretch};
use super::totals::Totals;

/// What the cell works on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Work {
    /// A constant resistance in ohms: the current is V / R.
    Resistance(f64),
    /// A constant current in amperes.
    Current(f64),
    /// The current is in the samples.
    Measured,
}

/// One sample.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sample {
    /// Nanoseconds since the beginning of 1970, UTC.
    pub at_ns: i64,
    /// Volts.
    pub volts: f64,
    /// Amperes, if they were logged.
    pub amperes: Option<f64>,
}

/// How a discharge is read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DischargeRule {
    /// What the cell works on.
    pub work: Work,
    /// The voltage at which it counts as discharged.
    pub cut_off_volts: Option<f64>,
    /// Less current than this, in amperes, is a rest; it is asked of measured currents alone.
    pub rest_below_amperes: f64,
    /// Samples farther apart than this, in seconds, have a rest between them.
    pub longest_gap_s: f64,
}

/// A discharge while its samples come in.
#[derive(Debug, Clone)]
pub struct Discharge {
    rule: DischargeRule,
    last: Option<(Sample, f64)>,
    first_ns: i64,
    samples: u64,
    lowest_volts: f64,
    rest_s: f64,
    gaps: u64,
    forward: Run,
    backward: Run,
}

/// What a discharge came to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Discharged {
    /// How it was read.
    pub rule: DischargeRule,
    /// How many samples.
    pub samples: u64,
    /// First and last sample.
    pub from_ns: i64,
    /// Last sample.
    pub to_ns: i64,
    /// The whole of it.
    pub total: Totals,
    /// Up to the cut-off; `None` if there is none, it was not reached, or the start was a false one. Nothing, and not
    /// `None`, for a cell that was below it all the time.
    pub to_cut_off: Option<Totals>,
    /// The first voltage with current, if it was at or below the cut-off and the cell came back above it, or stood below
    /// zero: a bad contact or reversed leads.
    pub false_start_volts: Option<f64>,
    /// When the cut-off was crossed.
    pub cut_off_ns: Option<i64>,
    /// Time at rest, in seconds.
    pub rest_s: f64,
    /// Rests that are gaps in the samples.
    pub gaps: u64,
    /// Charge that went the other way, in coulombs.
    pub other_way_coulombs: f64,
    /// The least voltage of all samples.
    pub lowest_volts: f64,
    /// The last voltage.
    pub last_volts: f64,
}

impl Discharge {
    /// A discharge before its first sample.
    pub fn new(rule: DischargeRule) -> Self {
        let run = Run::new(rule.cut_off_volts);
        Self {
            rule,
            last: None,
            first_ns: 0,
            samples: 0,
            lowest_volts: f64::INFINITY,
            rest_s: 0.0,
            gaps: 0,
            forward: run.clone(),
            backward: run,
        }
    }

    /// Takes the next sample; they come in order of time. One without the current that is to be measured is
    /// passed over.
    pub fn push(&mut self, sample: Sample) {
        let Some(amperes) = self.amperes(&sample) else { return };
        self.samples += 1;
        self.lowest_volts = self.lowest_volts.min(sample.volts);
        match self.last {
            Some(last) => self.between(last, (sample, amperes)),
            None => self.first_ns = sample.at_ns,
        }
        self.last = Some((sample, amperes));
    }

    fn amperes(&self, sample: &Sample) -> Option<f64> {
        match self.rule.work {
            Work::Resistance(ohms) => Some(sample.volts / ohms),
            Work::Current(amperes) => Some(amperes),
            Work::Measured => sample.amperes,
        }
    }

    fn between(&mut self, (a, i0): (Sample, f64), (b, i1): (Sample, f64)) {
        let seconds = (b.at_ns - a.at_ns) as f64 * 1e-9;
        if self.rule.longest_gap_s < seconds {
            self.gaps += 1;
            self.rest_s += seconds;
            return;
        }
        let resting =
            |amperes: f64| self.rule.work == Work::Measured && amperes.abs() < self.rule.rest_below_amperes;
        if resting(i0) || resting(i1) || i0 * i1 < 0.0 {
            self.rest_s += seconds;
            return;
        }
        let stretch =
            Stretch { from_ns: a.at_ns, seconds, volts: (a.volts, b.volts), amperes: (i0.abs(), i1.abs()) };
        let run = if i0 + i1 < 0.0 { &mut self.backward } else { &mut self.forward };
        run.add(&stretch);
    }

    /// What it came to; `None` with fewer than two samples. The direction in which more charge went is that of
    /// the discharge, whatever the meter's sign.
    pub fn finish(self) -> Option<Discharged> {
        let (last, _) = self.last.filter(|_| 1 < self.samples)?;
        let (run, other) = if self.forward.total.coulombs < self.backward.total.coulombs {
            (self.backward, self.forward)
        } else {
            (self.forward, self.backward)
        };
        let false_start = run.false_start_volts();
        let cut = run.cut.filter(|_| false_start.is_none());
        Some(Discharged {
            rule: self.rule,
            samples: self.samples,
            from_ns: self.first_ns,
            to_ns: last.at_ns,
            total: run.total,
            to_cut_off: cut.map(|(totals, _)| totals),
            cut_off_ns: cut.map(|(_, at)| at),
            false_start_volts: false_start,
            rest_s: self.rest_s,
            gaps: self.gaps,
            other_way_coulombs: other.total.coulombs,
            lowest_volts: self.lowest_volts,
            last_volts: last.volts,
        })
    }
}

impl Discharged {
    /// Up to the cut-off where it was reached, else the whole.
    pub fn counted(&self) -> Totals {
        self.to_cut_off.unwrap_or(self.total)
    }
}
