//! How many cells are enough: power, sizes and what a size can detect.
//!
//! Sizes are per group, whole where a number of cells is asked for and real where a curve is drawn. A size
//! that would be above [`MOST`] is `None`.

mod anova;
mod interval;
mod loss;
mod question;
mod size;
mod spread;
mod tolerance;
mod two_sample;

pub use anova::{anova_detectable_effect, anova_power, anova_size, effect_of_extremes, effect_of_means};
pub use interval::{half_width, half_width_size};
pub use loss::{enough_survive, size_with_spares};
pub use question::{Aim, Enough, Question};
pub use size::MOST;
pub use spread::{spread_ratio, spread_size};
pub use tolerance::{order_statistic_size, tolerance_size};
pub use two_sample::{Tails, detectable_effect, two_sample_power, two_sample_real_size, two_sample_size};
