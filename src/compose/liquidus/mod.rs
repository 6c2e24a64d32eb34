//! Solid–liquid equilibrium of mixtures whose solids are pure: the relation of Schröder and van Laar,
//! R T ln(x γ) = −ΔG of fusion, with a heat-capacity term, transitions between solids, and activity models
//! (J. M. Prausnitz, R. N. Lichtenthaler, E. G. de Azevedo, Molecular Thermodynamics of Fluid-Phase Equilibria,
//! 3rd ed. 1999, chapter 11).
//!
//! Inside, temperatures are kelvins, energies J/mol and compositions mole fractions in the order of the components.
//! A salt counts as one formula unit that does not dissociate. Solid solutions are outside of all this.

mod bands;
mod binary;
mod draw;
mod drawn_windows;
mod fit;
mod fusion;
mod miscibility;
mod model;
mod nrtl;
mod pairs;
mod predict;
mod published;
mod stability;
mod system;
mod ternary;
mod ternary_bands;
mod ternary_window;
mod window;

pub use bands::{Bands, LiquidAt, Spread, WindowSpread, bands};
pub use binary::{BranchEnd, Diagram, Invariant, InvariantKind, LiquidusPoint, diagram};
pub use draw::{Draws, ModelSpread};
pub use fit::{FitFailure, FittedModel, MeasuredPoint, fit_model};
pub use fusion::{Fusion, SolidTransition};
pub use miscibility::{Gap, Split, gaps, monotectic};
pub use model::{ActivityModel, ModelForm, PairModel};
pub use nrtl::Nrtl;
pub use pairs::{PairTerms, Pairs};
pub use predict::{Binary, Case, Prediction, Question, Residual, Shape, Ternary, predict};
pub use published::published_fusion;
pub use stability::splits;
pub use system::{Solid, System};
pub use ternary::{Surface, TernarySpread, surface, ternary_spread};
pub use ternary_bands::{RegionSpread, region_spread};
pub use ternary_window::{LiquidRange, Region, region};
pub use window::{Window, two_liquids, windows};
