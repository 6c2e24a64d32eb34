//! Self-discharge: the charge that stored cells still give against fresh cells of the same lot. It is the lost
//! capacity alone; a voltage that falls says nothing of it.

/// Capacities of one set of cells.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Set {
    /// How many cells.
    pub n: usize,
    /// Mean, in mAh.
    pub mean_mah: f64,
    /// Standard deviation, in mAh; `None` with one cell.
    pub sd_mah: Option<f64>,
}

/// What stored cells still give.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Retention {
    /// The fresh cells.
    pub fresh: Set,
    /// The stored cells.
    pub stored: Set,
    /// Storage, in seconds.
    pub stored_s: f64,
    /// Stored over fresh.
    pub retention: f64,
    /// Its standard uncertainty, first order, from the spread of both sets; `None` unless both have two cells.
    pub uncertainty: Option<f64>,
}

const SECONDS_PER_WEEK: f64 = 604_800.0;
const SECONDS_PER_MONTH: f64 = 30.0 * 86_400.0;

/// Charge retention after storage (the ratio of IEC 60086-3:2021, 5.4: stored to fresh, of the same lot).
/// `None` if a set is empty, a fresh mean is not above 0, or no time went by.
pub fn retention(fresh_mah: &[f64], stored_mah: &[f64], stored_s: f64) -> Option<Retention> {
    let (fresh, stored) = (set(fresh_mah)?, set(stored_mah)?);
    if fresh.mean_mah <= 0.0 || stored_s <= 0.0 {
        return None;
    }
    let retention = stored.mean_mah / fresh.mean_mah;
    let relative = |set: &Set| set.sd_mah.map(|sd| (sd / set.mean_mah).powi(2) / set.n as f64);
    let uncertainty =
        relative(&fresh).zip(relative(&stored)).map(|(fresh, stored)| retention * (fresh + stored).sqrt());
    Some(Retention { fresh, stored, stored_s, retention, uncertainty })
}

fn set(capacities: &[f64]) -> Option<Set> {
    let n = capacities.len();
    let mean = capacities.iter().sum::<f64>() / n as f64;
    let square = capacities.iter().map(|capacity| (capacity - mean).powi(2)).sum::<f64>();
    let sd_mah = (1 < n).then(|| (square / (n as f64 - 1.0)).sqrt());
    (0 < n && mean.is_finite()).then_some(Set { n, mean_mah: mean, sd_mah })
}

impl Retention {
    /// Lost charge for each cell, in mAh.
    pub fn lost_mah(&self) -> f64 {
        self.fresh.mean_mah - self.stored.mean_mah
    }

    /// Weeks of storage.
    pub fn weeks(&self) -> f64 {
        self.stored_s / SECONDS_PER_WEEK
    }

    /// Loss for each week as if it were the same every week, over the fresh capacity.
    pub fn loss_per_week(&self) -> f64 {
        (1.0 - self.retention) / self.weeks()
    }

    /// Loss in 30 days as if it were the same share of what is left each day.
    pub fn loss_per_30_days(&self) -> Option<f64> {
        (0.0 < self.retention).then(|| 1.0 - self.retention.powf(SECONDS_PER_MONTH / self.stored_s))
    }

    /// The constant current that would have taken the lost charge in the time of storage, in amperes.
    pub fn parasitic_amperes(&self) -> f64 {
        self.lost_mah() * 3.6 / self.stored_s
    }
}
