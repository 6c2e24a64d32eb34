//! What a balance can do.

use serde::{Deserialize, Serialize};

use crate::input::{Fault, Faults, FlagValue};
use crate::quantity::{Mass, Typed};

/// The data of a balance, as on its certificate.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Balance {
    /// Readability: the step of the display.
    pub readability: Mass,
    /// Repeatability as a standard deviation.
    pub repeatability: Option<Mass>,
    /// Linearity as a half-width, taken as rectangular.
    pub linearity: Option<Mass>,
    /// Its name or its data as typed.
    pub text: String,
}

/// How several components are weighed into one flask.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Weighing {
    /// Each by itself: a tare and a load for each.
    #[default]
    Each,
    /// One after another into one flask without taring: each mass is the difference of two readings, and
    /// neighbours share one.
    Cumulative,
}

impl Balance {
    /// The keys of the flag.
    pub const KEYS: [&'static str; 3] = ["d", "repeatability", "linearity"];

    /// Reads `d=0.01g repeatability=0.01g linearity=0.02g`; only `d` must be there.
    pub fn from_flag(flag: &FlagValue) -> Result<Self, Faults> {
        let mut faults = Faults::none();
        let readability = flag.quantity::<Mass>("d", &mut faults);
        let repeatability = flag.quantity("repeatability", &mut faults).map(|typed| typed.value);
        let linearity = flag.quantity("linearity", &mut faults).map(|typed| typed.value);
        if flag.get("d").is_none() {
            let fault = Fault::new("missing_key", "the balance's readability d is missing", flag.place());
            faults.push(fault.with_hint("Write it like \"d=0.01g repeatability=0.01g linearity=0.02g\"."));
        }
        let zero = readability.as_ref().is_some_and(|typed| typed.value <= Mass::ZERO);
        if zero {
            let fault = Fault::new("bad_balance", "the readability d must be above 0", flag.place());
            faults.push(fault.with_hint("Write the step of the display, such as d=0.01g."));
        }
        let text = flag.pairs.iter().map(|pair| format!("{}={}", pair.key, pair.value)).collect::<Vec<_>>();
        let readability =
            readability.unwrap_or(Typed { value: Mass::ZERO, text: String::new(), decimal_comma: false });
        faults.or(Self { readability: readability.value, repeatability, linearity, text: text.join(" ") })
    }

    /// Variance of one reading in g², so that a net mass, the difference of two, has twice as much:
    /// u²(net) = 2 (d/√12)² + s² + 2 (linearity/√3)² (readability on tare and load, repeatability of the
    /// difference; EURACHEM/CITAC QUAM, 7.15 and example A1; the linearity counts twice).
    pub fn reading_variance(&self) -> f64 {
        let rounding = self.readability.get().powi(2) / 12.0;
        let repeating = self.repeatability.map_or(0.0, |s| s.get().powi(2) / 2.0);
        let linearity = self.linearity.map_or(0.0, |l| l.get().powi(2) / 3.0);
        rounding + repeating + linearity
    }

    /// Standard uncertainty of a net mass.
    pub fn net_uncertainty(&self) -> Mass {
        Mass::new((2.0 * self.reading_variance()).sqrt())
    }

    /// Minimum weight by USP general chapter 41: 2000 s, where s is at least 0.41 d.
    pub fn minimum_weight(&self) -> Mass {
        let floor = self.readability.get() * 0.41;
        Mass::new(2000.0 * self.repeatability.map_or(floor, |s| s.get().max(floor)))
    }

    /// A mass as the display shows it.
    pub fn round(&self, mass: Mass) -> Mass {
        on_step((mass / self.readability).round(), self.readability)
    }
}

/// So many steps of a display.
pub(super) fn on_step(steps: f64, step: Mass) -> Mass {
    // 274 × 0.01 leaves dust behind the last digit: cut it where the step's own digits end.
    let decimals = crate::quantity::decimals_for_step(step.get()) as i32;
    let power = 10f64.powi(decimals);
    Mass::new((steps * step.get() * power).round() / power)
}
