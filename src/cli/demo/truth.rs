//! The model behind the readings of the sample book. It is invented, and written down in
//! `data/demo/truth.toml`, so that a statistic can be tried on readings whose truth is known.

use jiff::Timestamp;
use rand_chacha::ChaCha20Rng;
use rand_chacha::rand_core::{Rng as _, SeedableRng as _};
use serde::Deserialize;

use crate::record::Hash;

pub(super) const TEXT: &str = include_str!("../../../data/demo/truth.toml");

/// The parameters; the file says what each means.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Truth {
    settle_d: f64,
    settle_sd: f64,
    loss_sd: f64,
    batch_sd_v: f64,
    cell_sd_v: f64,
    noise_sd_v: f64,
    per_degree_v: f64,
    shorted_v: f64,
    shorted_h: f64,
    batch_sd_ohms: f64,
    cell_sd_ohms: f64,
    growth_per_d: f64,
    noise_sd_of_load: f64,
    noise_sd_of_short: f64,
    polarised_v: f64,
    kept_of_short: f64,
    load_ohms: f64,
    meter_ohms: f64,
    dose_sd_of_liquid: f64,
    dose_sd_of_mix: f64,
    room_c: f64,
    room_sd_c: f64,
    humidity_pct: f64,
    humidity_sd_pct: f64,
    liquid: Vec<Liquid>,
    failure: Vec<Failed>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Liquid {
    #[serde(rename = "name")]
    _name: String,
    batches: Vec<String>,
    rest_v: f64,
    loss_v_per_d: f64,
    settle_v: f64,
    ohms: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Failed {
    cell: String,
    from: Timestamp,
    times_volts: f64,
    loss_v_per_d: f64,
    times_ohms: f64,
}

/// A cell that is read: its code, what it holds, its age, when it was last shorted.
pub(super) struct Subject<'a> {
    pub(super) cell: &'a str,
    pub(super) batch: &'a str,
    pub(super) built: Timestamp,
    pub(super) shorted: Option<Timestamp>,
}

/// The truth with the seed of its chance.
pub(super) struct Nature {
    truth: Truth,
    seed: u64,
}

impl Nature {
    /// Reads the parameters.
    pub(super) fn new(seed: u64) -> Result<Self, toml::de::Error> {
        Ok(Self { truth: toml::from_str(TEXT)?, seed })
    }

    /// Volts without a load; `None` of a batch that the model does not know.
    pub(super) fn open_circuit(&self, of: &Subject<'_>, at: Timestamp) -> Option<f64> {
        let noise = self.truth.noise_sd_v * self.chance(&["open circuit", of.cell, &at.to_string()]);
        Some(self.volts(of, at)? + noise)
    }

    /// Volts under the load.
    pub(super) fn under_load(&self, of: &Subject<'_>, at: Timestamp) -> Option<f64> {
        let truth = &self.truth;
        let share = truth.load_ohms / (truth.load_ohms + self.ohms(of, at)?);
        let noise = 1.0 + truth.noise_sd_of_load * self.chance(&["load", of.cell, &at.to_string()]);
        Some(((self.volts(of, at)? * share - truth.polarised_v) * noise).max(0.0))
    }

    /// Amperes through the meter.
    pub(super) fn short_circuit(&self, of: &Subject<'_>, at: Timestamp) -> Option<f64> {
        let truth = &self.truth;
        let noise = 1.0 + truth.noise_sd_of_short * self.chance(&["short", of.cell, &at.to_string()]);
        let through = self.ohms(of, at)? + truth.meter_ohms;
        Some((truth.kept_of_short * self.volts(of, at)? / through * noise).max(0.0))
    }

    /// What is really dosed of a batch into a cell, in place of the planned mass.
    pub(super) fn dose(&self, cell: &str, batch: &str, planned_g: f64) -> f64 {
        let mix = batch.starts_with('M');
        let sd = if mix { self.truth.dose_sd_of_mix } else { self.truth.dose_sd_of_liquid };
        planned_g * (1.0 + sd * self.chance(&["dose", cell, batch]))
    }

    /// The temperature of the room in °C.
    pub(super) fn room(&self, at: Timestamp) -> f64 {
        self.truth.room_c + self.truth.room_sd_c * self.chance(&["room", &at.to_string()[..10]])
    }

    /// The relative humidity of the room in percent.
    pub(super) fn humidity(&self, at: Timestamp) -> f64 {
        let chance = self.chance(&["humidity", &at.to_string()[..10]]);
        self.truth.humidity_pct + self.truth.humidity_sd_pct * chance
    }

    fn volts(&self, of: &Subject<'_>, at: Timestamp) -> Option<f64> {
        let (truth, liquid) = (&self.truth, self.liquid(of.batch)?);
        let days = days(of.built, at);
        let batch = truth.batch_sd_v * self.chance(&["volts of batch", of.batch]);
        let cell = truth.cell_sd_v * self.chance(&["volts of cell", of.cell]);
        let settling = truth.settle_d * (truth.settle_sd * self.chance(&["settling", of.cell])).exp();
        let loss = liquid.loss_v_per_d * (truth.loss_sd * self.chance(&["loss", of.cell])).exp();
        let shorted = of.shorted.map_or(0.0, |shorted| {
            truth.shorted_v * (-24.0 * self::days(shorted, at) / truth.shorted_h).exp()
        });
        let warm = truth.per_degree_v * (self.room(at) - truth.room_c);
        let volts = liquid.rest_v + batch + cell + liquid.settle_v * (-days / settling).exp() - loss * days
            + warm
            - shorted;
        let failed = self.failed(of, at);
        Some(failed.map_or(volts, |failed| {
            (volts * failed.times_volts - failed.loss_v_per_d * self::days(failed.from, at)).max(0.01)
        }))
    }

    fn ohms(&self, of: &Subject<'_>, at: Timestamp) -> Option<f64> {
        let truth = &self.truth;
        let spread = truth.batch_sd_ohms * self.chance(&["ohms of batch", of.batch])
            + truth.cell_sd_ohms * self.chance(&["ohms of cell", of.cell]);
        let grown = 1.0 + truth.growth_per_d * days(of.built, at);
        let failed = self.failed(of, at).map_or(1.0, |failed| failed.times_ohms);
        Some(self.liquid(of.batch)?.ohms * spread.exp() * grown * failed)
    }

    fn liquid(&self, batch: &str) -> Option<&Liquid> {
        self.truth.liquid.iter().find(|liquid| liquid.batches.iter().any(|own| own == batch))
    }

    fn failed(&self, of: &Subject<'_>, at: Timestamp) -> Option<&Failed> {
        self.truth.failure.iter().find(|failed| failed.cell == of.cell && failed.from <= at)
    }

    /// A standard normal number that belongs to these words and the seed alone, so that nothing that is asked
    /// before changes it. ChaCha20 by the SHA-256 of the words; Box and Muller, Ann. Math. Stat. 1958, 29, 610.
    fn chance(&self, words: &[&str]) -> f64 {
        let told = format!("{}\n{}", self.seed, words.join("\n"));
        let mut random = ChaCha20Rng::from_seed(*Hash::of(told.as_bytes()).as_bytes());
        // 53 bits, above 0 and at most 1, so that its logarithm is finite.
        let mut uniform = || ((random.next_u64() >> 11) + 1) as f64 / (1_u64 << 53) as f64;
        let (radius, angle) = (uniform(), uniform());
        (-2.0 * radius.ln()).sqrt() * (std::f64::consts::TAU * angle).cos()
    }
}

fn days(from: Timestamp, to: Timestamp) -> f64 {
    to.duration_since(from).as_secs_f64() / 86_400.0
}
