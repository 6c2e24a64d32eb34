//! What a discharge adds up to.

/// Charge, energy and time with current.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Totals {
    /// Coulombs.
    pub coulombs: f64,
    /// Joules.
    pub joules: f64,
    /// Seconds with current.
    pub on_s: f64,
}

impl Totals {
    /// Milliampere hours.
    pub fn milliampere_hours(&self) -> f64 {
        self.coulombs / 3.6
    }

    /// Milliwatt hours.
    pub fn milliwatt_hours(&self) -> f64 {
        self.joules / 3.6
    }

    /// Mean voltage: energy over charge.
    pub fn mean_volts(&self) -> Option<f64> {
        (0.0 < self.coulombs).then(|| self.joules / self.coulombs)
    }

    /// Mean current in amperes while it flowed.
    pub fn mean_amperes(&self) -> Option<f64> {
        (0.0 < self.on_s).then(|| self.coulombs / self.on_s)
    }

    /// Mean power in watts while current flowed.
    pub fn mean_watts(&self) -> Option<f64> {
        (0.0 < self.on_s).then(|| self.joules / self.on_s)
    }
}
