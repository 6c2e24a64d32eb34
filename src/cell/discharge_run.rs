//! What adds up while current flows in one direction.

use super::totals::Totals;

/// Two samples with current at both.
#[derive(Debug, Clone, Copy)]
pub(super) struct Stretch {
    pub(super) from_ns: i64,
    pub(super) seconds: f64,
    pub(super) volts: (f64, f64),
    pub(super) amperes: (f64, f64),
}

/// The sums of one direction, and where they stood when the cut-off was crossed.
#[derive(Debug, Clone)]
pub(super) struct Run {
    pub(super) total: Totals,
    pub(super) cut: Option<(Totals, i64)>,
    /// The first voltage, if it is down at the cut-off already.
    began_below_volts: Option<f64>,
    /// Greatest and least voltage with current.
    highest_volts: f64,
    lowest_volts: f64,
    cut_off_volts: Option<f64>,
}

impl Run {
    pub(super) fn new(cut_off_volts: Option<f64>) -> Self {
        Self {
            total: Totals::default(),
            cut: None,
            began_below_volts: None,
            highest_volts: f64::NEG_INFINITY,
            lowest_volts: f64::INFINITY,
            cut_off_volts,
        }
    }

    pub(super) fn add(&mut self, stretch: &Stretch) {
        let first = stretch.volts.0;
        if self.total == Totals::default() && self.cut_off_volts.is_some_and(|cut_off| first <= cut_off) {
            self.began_below_volts = Some(first);
        }
        self.highest_volts = self.highest_volts.max(first).max(stretch.volts.1);
        self.lowest_volts = self.lowest_volts.min(first).min(stretch.volts.1);
        if let (Some(cut_off), None) = (self.cut_off_volts, self.cut)
            && let Some(share) = stretch.crosses(cut_off)
        {
            let part = stretch.first(share);
            let at_ns = stretch.from_ns + (part.seconds * 1e9).round() as i64;
            self.cut = Some((self.total.plus(&part), at_ns));
        }
        self.total = self.total.plus(stretch);
    }

    /// The first voltage, if it was down at the cut-off and the cell came back above it, or if voltages were below zero:
    /// a bad contact or reversed leads, and no cell that was empty.
    pub(super) fn false_start_volts(&self) -> Option<f64> {
        let came_back = self.cut_off_volts.is_some_and(|cut_off| cut_off < self.highest_volts);
        self.began_below_volts.filter(|_| came_back || self.lowest_volts < 0.0)
    }
}

impl Stretch {
    /// The share of it after which the voltage is down at the cut-off; 0 if it begins there.
    fn crosses(&self, cut_off: f64) -> Option<f64> {
        let (v0, v1) = self.volts;
        if v0 <= cut_off {
            return Some(0.0);
        }
        (v1 <= cut_off).then(|| (v0 - cut_off) / (v0 - v1))
    }

    fn first(&self, share: f64) -> Self {
        let at = |(a, b): (f64, f64)| (a, a + (b - a) * share);
        let seconds = self.seconds * share;
        Self { from_ns: self.from_ns, seconds, volts: at(self.volts), amperes: at(self.amperes) }
    }
}

impl Totals {
    /// Charge and energy under straight lines: ∫I dt = t (I0 + I1)/2 and
    /// ∫V I dt = t (2 V0 I0 + V0 I1 + V1 I0 + 2 V1 I1)/6, both exact for them.
    fn plus(&self, stretch: &Stretch) -> Self {
        let ((v0, v1), (i0, i1)) = (stretch.volts, stretch.amperes);
        let power = (2.0 * v0 * i0 + v0 * i1 + v1 * i0 + 2.0 * v1 * i1) / 6.0;
        Self {
            coulombs: self.coulombs + stretch.seconds * (i0 + i1) / 2.0,
            joules: self.joules + stretch.seconds * power,
            on_s: self.on_s + stretch.seconds,
        }
    }
}
