//! Linear least squares with what judges it: errors, leverage, leave-one-out, lack of fit, and which terms the
//! observations can tell at all.

mod estimable;
mod fitted;
mod lack_of_fit;

pub use estimable::{not_estimable, rank};
pub use fitted::{Coefficient, Regression, Variance};
pub use lack_of_fit::LackOfFit;
