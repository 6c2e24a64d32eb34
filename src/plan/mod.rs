//! From a ratio to grams and back: corrections one by one, everything solved together, windows,
//! uncertainty, stocks, re-targeting, and what stands on the weighing sheet.
//!
//! Nothing here knows a database or a clock: a bottle is its quality, and every default is in the request.

mod accept;
mod balance;
mod blend;
mod budget;
mod build;
mod conventions;
mod correction;
mod error;
mod flag;
mod karl_fischer;
mod limiting;
mod made;
mod plan_type;
mod ratio;
mod request;
mod retarget;
mod size;
mod solve;
mod supply;
mod targets;
mod why;
mod window;

pub use accept::accept;
pub use balance::{Balance, Weighing};
pub use blend::{
    Added, Adjustment, Blend, BlendError, Liquid, LiquidSource, RatioAs, Wish, WishedRatio, adjust, blend,
    ratio_in,
};
pub use build::plan;
pub use conventions::{Convention, conventions};
pub use correction::{AirDensity, Correction, balance_reading, true_mass};
pub use error::PlanError;
pub use flag::Flag;
pub use karl_fischer::{
    COULOMETRIC_AIM, Disturbance, Found, MassGain, MethodAdvice, StatedUncertainty, Titration,
    TitrationError, TitrationMethod, TitrationResult, charge_of, coulometric_sample, disturbances,
    method_for, titrant_of, titrated, volumetric_sample,
};
pub use limiting::{Limiting, StockUse};
pub use made::{
    ComponentEstimate, Estimate, Estimates, InAir, Made, MadeAddition, MadeAs, MadeContent, MadeWater, made,
};
pub use plan_type::{Line, LineKind, LiquidVolume, Plan, RatioResult};
pub use request::{LiquidsAt, PlanRequest, Tolerance};
pub use retarget::{Retarget, RetargetLine, Weighed, retarget};
pub use size::{Dose, Size};
pub use supply::{BottleDensity, Supply};
pub use targets::{TargetLine, Targets};
pub use why::{Step, why};
pub use window::Window;
