//! What happens to a batch: an electrolyte, a stock solution or a cathode mix. Only raw facts stand here;
//! targets, ratios and water contents are computed from them.

use std::sync::Arc;

use jiff::Timestamp;
use serde::{Deserialize, Serialize};

use super::code::Code;
use super::entry::Hash;
use super::limit::FrozenLimit;
use crate::component::{Component, ComponentId, Quality, RatioBasis};
use crate::quantity::{Mass, MassFraction, Relative, Temperature, TimeSpan, Typed};

/// A batch was begun from a plan.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Started {
    /// Its lot code.
    pub code: Code,
    /// The plan, frozen.
    pub plan: FrozenPlan,
    /// What lets it go on in spite of alerts that block.
    pub permit: Option<Permit>,
    /// Why, in spite of a bottle that is past its date, disposed of or empty.
    #[serde(default)]
    pub because: Option<String>,
    /// When.
    pub at: Timestamp,
}

/// A named written procedure and the person responsible, for alerts that block.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Permit {
    /// The procedure, by the name under which it can be found.
    pub procedure: String,
    /// The person responsible.
    pub person: String,
    /// Ids of the alerts.
    pub alerts: Vec<String>,
}

/// What a batch was planned from, complete in itself.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FrozenPlan {
    /// Name of the recipe.
    pub recipe: String,
    /// The recipe's own text, or the shorthand.
    pub recipe_text: String,
    /// What the ratio counts.
    pub basis: RatioBasis,
    /// How far a ratio may be off, relative.
    pub tolerance: f64,
    /// The size in words.
    pub size: String,
    /// Planned mass in the flask, in grams.
    pub mass_g: f64,
    /// Planned water of the batch, as a mass fraction.
    pub water: f64,
    /// The target that the recipe states for water, as a mass fraction.
    pub water_target: Option<f64>,
    /// The balance, if one was stated.
    pub balance: Option<FrozenBalance>,
    /// What to weigh, in order.
    pub lines: Vec<FrozenLine>,
    /// What the numbers count, a sentence each.
    pub conventions: Vec<String>,
    /// The procedure, a line each.
    pub procedure: Vec<String>,
    /// What a batch has to meet before it is released.
    #[serde(default)]
    pub limits: Vec<FrozenLimit>,
    /// True if the components are weighed one after another into one flask without taring.
    #[serde(default)]
    pub cumulative: bool,
}

/// A balance as it was used.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FrozenBalance {
    /// Its name or data as typed.
    pub text: String,
    /// Readability in grams.
    pub readability_g: f64,
    /// Repeatability in grams.
    pub repeatability_g: Option<f64>,
    /// Linearity in grams.
    pub linearity_g: Option<f64>,
}

/// One component of a frozen plan.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FrozenLine {
    /// The component as the table described it that day.
    pub component: Arc<Component>,
    /// What the line is in the recipe.
    pub part: FrozenPart,
    /// The bottle that it was planned from, if one was named.
    pub bottle: Option<Code>,
    /// Its quality.
    pub quality: Quality,
    /// Target on the balance's display, in grams.
    pub target_g: f64,
    /// Least and most that the window allows, in grams.
    pub window_g: Option<(f64, f64)>,
    /// What the ratio counts of it at the target: moles, or grams.
    pub counted: f64,
    /// Water that it brings at the target, in grams.
    pub water_g: f64,
    /// Mass at the target, in grams: the display's number unless buoyancy is corrected for.
    pub mass_g: f64,
    /// Densities of the air and of what is weighed in g/mL, if buoyancy is corrected for.
    #[serde(default)]
    pub in_air_g_per_ml: Option<(f64, f64)>,
}

/// What a line is in the recipe.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum FrozenPart {
    /// A part with its number in the ratio.
    Ratio(f64),
    /// An addition with its amount as typed.
    Addition(String),
    /// Water to a target.
    Water,
}

/// A mass was put into the flask out of a bottle, or of something that no bottle is known of.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Weighed {
    /// The batch.
    pub batch: Code,
    /// The component.
    pub component: ComponentId,
    /// The component as the table described it that day.
    pub entry: Arc<Component>,
    /// The bottle.
    pub from: Option<Code>,
    /// Quality of what was weighed.
    pub quality: Quality,
    /// The net mass.
    pub mass: Typed<Mass>,
    /// How it was weighed.
    pub how: HowWeighed,
    /// Relative humidity of the room.
    pub humidity: Option<Typed<Relative>>,
    /// How long the bottle was open.
    pub open: Option<Typed<TimeSpan>>,
    /// True if it goes beyond the recipe, as after a titration.
    pub later: bool,
    /// Why, in spite of a limit.
    pub because: Option<String>,
    /// What lets it go on in spite of an alert that blocks and that it brings.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub permit: Option<Permit>,
    /// When.
    pub at: Timestamp,
}

/// How a net mass came about.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum HowWeighed {
    /// The display showed it.
    Net,
    /// With and without the load.
    GrossAndTare {
        /// With.
        gross: Typed<Mass>,
        /// Without.
        tare: Typed<Mass>,
    },
    /// The bottle before and after.
    ByDifference {
        /// Before.
        before: Typed<Mass>,
        /// After.
        after: Typed<Mass>,
    },
}

/// Some of another batch was put in: a stock solution, a blend.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Added {
    /// The batch that it went into.
    pub batch: Code,
    /// The batch that it came from.
    pub from: Code,
    /// How much.
    pub mass: Typed<Mass>,
    /// Why, in spite of a limit.
    pub because: Option<String>,
    /// What lets it go on in spite of an alert that blocks and that it brings.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub permit: Option<Permit>,
    /// When.
    pub at: Timestamp,
}

/// Several liquids became one: a batch without a plan of its own.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Blended {
    /// Its lot code.
    pub code: Code,
    /// What it is called.
    pub name: String,
    /// What went in.
    pub from: Vec<BlendPart>,
    /// What lets it go on in spite of alerts that block.
    #[serde(default)]
    pub permit: Option<Permit>,
    /// Why, in spite of a limit.
    pub because: Option<String>,
    /// When.
    pub at: Timestamp,
}

/// One liquid of a blend.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct BlendPart {
    /// The batch.
    pub batch: Code,
    /// How much of it.
    pub mass: Typed<Mass>,
}

/// Making is over.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Finished {
    /// The batch.
    pub batch: Code,
    /// Heating and stirring, grinding, evaporation.
    pub route: Option<String>,
    /// The hottest it got.
    pub heat: Option<Typed<Temperature>>,
    /// How long it was hot.
    pub time: Option<Typed<TimeSpan>>,
    /// Gas over it.
    pub atmosphere: Option<String>,
    /// What showed that it was done.
    pub end: Option<String>,
    /// What was there afterwards; less than what went in if something evaporated or stuck to the flask.
    pub mass: Option<Typed<Mass>>,
    /// Why, in spite of a limit.
    #[serde(default)]
    pub because: Option<String>,
    /// When.
    pub at: Timestamp,
}

/// Water was measured.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct WaterMeasured {
    /// The batch.
    pub batch: Code,
    /// Karl Fischer coulometric or volumetric, mass gain, loss on drying.
    pub method: String,
    /// Each replicate: sample mass in grams and water found in milligrams, drift and blank not yet taken off.
    pub replicates: Vec<WaterReplicate>,
    /// Drift in micrograms per minute.
    pub drift_ug_per_min: Option<f64>,
    /// Blank in micrograms per sample.
    pub blank_ug: Option<f64>,
    /// A result that was only read off.
    pub result: Option<Typed<MassFraction>>,
    /// The instrument.
    pub instrument: Option<String>,
    /// When.
    pub at: Timestamp,
}

impl WaterMeasured {
    /// What the samples took out of the batch.
    pub fn taken(&self) -> Mass {
        self.replicates.iter().map(|replicate| replicate.sample.value).sum()
    }
}

/// One titration.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct WaterReplicate {
    /// Mass of the sample.
    pub sample: Typed<Mass>,
    /// Water found, as the instrument shows it.
    pub water: Typed<Mass>,
    /// How long the titration took, for the drift.
    pub time: Option<Typed<TimeSpan>>,
}

/// Somebody looked at it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct AppearanceSeen {
    /// The batch.
    pub batch: Code,
    /// End of heating, cooled, 24 h, 7 d, weekly, after cold hold, after seeding.
    pub occasion: String,
    /// Clear, hazy, turbid.
    pub clarity: String,
    /// In words.
    pub colour: Option<String>,
    /// Crystals in words; "none" is a finding, nothing is not.
    pub crystals: Option<String>,
    /// How many liquid phases.
    pub phases: Option<u8>,
    /// Bubbles in words.
    pub bubbles: Option<String>,
    /// Temperature of the liquid.
    pub temperature: Option<Typed<Temperature>>,
    /// A picture in the book's files.
    pub picture: Option<Hash>,
    /// Anything else.
    pub note: Option<String>,
    /// When.
    pub at: Timestamp,
}

/// A property was measured.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PropertyMeasured {
    /// The batch.
    pub batch: Code,
    /// Density, viscosity, conductivity, pH, melting onset, liquidus, glass transition, crystallisation on
    /// cooling, cold crystallisation: by its id.
    pub property: String,
    /// The value in the unit that belongs to the property.
    pub value: f64,
    /// As typed.
    pub text: String,
    /// Standard uncertainty in the same unit.
    pub uncertainty: Option<f64>,
    /// Temperature of the measurement.
    pub temperature: Option<Typed<Temperature>>,
    /// The method.
    pub method: Option<String>,
    /// Kelvin per minute.
    pub scan_rate_k_per_min: Option<f64>,
    /// The instrument.
    pub instrument: Option<String>,
    /// When.
    pub at: Timestamp,
}

/// It meets its recipe's limits, and that is what is said.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Released {
    /// The batch.
    pub batch: Code,
    /// What was compared with what, a sentence each.
    pub basis: Vec<String>,
    /// Why, in spite of a limit that it does not meet.
    pub because: Option<String>,
    /// When.
    pub at: Timestamp,
}

/// It is not to be used.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Rejected {
    /// The batch.
    pub batch: Code,
    /// Why.
    pub reason: String,
    /// What was compared with what, a sentence each.
    pub basis: Vec<String>,
    /// When.
    pub at: Timestamp,
}

/// Some of it went to waste.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Wasted {
    /// The batch.
    pub batch: Code,
    /// How much.
    pub mass: Typed<Mass>,
    /// Why and which way.
    pub reason: String,
    /// When.
    pub at: Timestamp,
}

/// What is left was weighed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct LeftWeighed {
    /// The batch.
    pub batch: Code,
    /// What is left.
    pub left: Typed<Mass>,
    /// When.
    pub at: Timestamp,
}
