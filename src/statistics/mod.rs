//! Statistics on plain numbers: distributions, tolerance factors, sample sizes, curve fits. They work on any
//! numbers, wherever these came from; nothing here knows a cell or a book.
//!
//! Probabilities and quantiles outside of what is defined (a negative number of degrees of freedom, a
//! probability above 1) are NaN, never a panic.

pub mod adjust;
pub mod anova;
pub mod batches;
pub mod comparison;
pub mod curve_fit;
pub mod distribution;
pub mod dixon;
pub mod effect_size;
pub mod fisher;
pub mod grubbs;
pub mod interpolate;
pub mod kruskal_wallis;
pub mod line;
pub mod mann_whitney;
pub mod moments;
pub mod observations;
pub mod pairs;
pub mod power;
pub mod proportion;
pub mod quantile;
pub mod random;
mod rank;
pub mod regression;
pub mod root;
pub mod shapiro_wilk;
pub mod sum;
pub mod summary;
pub mod t_test;
pub mod tolerance;
pub mod variance_test;
