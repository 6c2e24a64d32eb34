//! Distributions: the common ones, and those that answer how many cells are enough and which of several
//! electrolytes differ.
//!
//! For each: the probability up to a value (`_cdf`), the probability above it (`_upper`, exact in the tail,
//! not one minus the other), and the value below which a share lies (`_quantile`). Those of several groups are
//! types with the same three, which remember what they found out. Degrees of freedom need not be whole.

mod common;
mod dunnett;
mod noncentral_f;
mod noncentral_t;
mod scale;
mod studentized_range;

pub use common::{
    chi_squared_cdf, chi_squared_quantile, chi_squared_upper, f_cdf, f_quantile, f_upper, normal_cdf,
    normal_density, normal_quantile, normal_upper, student_t_cdf, student_t_quantile, student_t_upper,
};
pub use dunnett::{Dunnett, Sides};
pub use noncentral_f::{noncentral_f_cdf, noncentral_f_upper};
pub use noncentral_t::{noncentral_t_cdf, noncentral_t_quantile, noncentral_t_upper};
pub use studentized_range::StudentizedRange;
