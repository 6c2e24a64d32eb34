//! What is wrong with a weighing, with what would do instead.

use serde::{Deserialize, Serialize};

use crate::quantity::Mass;

/// A finding about one line.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "flag", rename_all = "snake_case")]
pub enum Flag {
    /// The balance's expanded uncertainty (k = 2) takes more than half of the window.
    BalanceTooCoarse {
        /// A mass of this component that would do on this balance.
        mass_that_would_do: Mass,
        /// A batch that would have that mass of it.
        batch_that_would_do: Mass,
        /// Standard uncertainty of a balance that would do for this mass.
        balance_that_would_do: Mass,
    },
    /// Below the balance's minimum weight by USP general chapter 41.
    BelowMinimumWeight {
        /// The minimum weight.
        minimum: Mass,
    },
    /// The uncertainty takes up the whole tolerance, so there is no window.
    ToleranceUsedUp {
        /// The tolerance that is asked for, relative.
        tolerance: f64,
        /// The expanded uncertainty of the ratio (k = 2), relative.
        expanded: f64,
    },
    /// No digit that the display can show lies inside the window, so there is none to aim at.
    NoStepInWindow {
        /// The step of the display.
        step: Mass,
        /// A mass of this component in whose window a digit always lies.
        mass_that_would_do: Mass,
        /// A batch that would have that mass of it.
        batch_that_would_do: Mass,
    },
    /// The mass rounds to nothing on this balance.
    RoundsToZero,
    /// Buoyancy is asked for, but the component's density is unknown, so no target of the plan is corrected.
    BuoyancyNotCorrected,
    /// More is needed than the stock holds.
    NotEnough {
        /// What is missing.
        missing: Mass,
    },
}

impl Flag {
    /// Every name, the gravest first.
    pub const CODES: [&'static str; 7] = [
        "not_enough",
        "tolerance_used_up",
        "rounds_to_zero",
        "no_step_in_window",
        "balance_too_coarse",
        "below_minimum_weight",
        "buoyancy_not_corrected",
    ];

    /// The stable name.
    pub const fn code(&self) -> &'static str {
        match self {
            Self::BalanceTooCoarse { .. } => "balance_too_coarse",
            Self::BelowMinimumWeight { .. } => "below_minimum_weight",
            Self::ToleranceUsedUp { .. } => "tolerance_used_up",
            Self::NoStepInWindow { .. } => "no_step_in_window",
            Self::RoundsToZero => "rounds_to_zero",
            Self::BuoyancyNotCorrected => "buoyancy_not_corrected",
            Self::NotEnough { .. } => "not_enough",
        }
    }
}
