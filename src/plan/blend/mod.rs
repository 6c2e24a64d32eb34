//! Liquids poured together, and a mixture brought to another ratio or water content, by moles.

mod adjust;
mod error;
mod pour;
mod whole;

pub use adjust::{Added, Adjustment, Wish, WishedRatio, adjust};
pub use error::BlendError;
pub use pour::{Liquid, LiquidSource, blend, ratio_in};
pub use whole::{Blend, RatioAs};
