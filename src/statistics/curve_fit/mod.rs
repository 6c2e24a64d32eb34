//! Curves through points by least squares: any curve ([`minimum`]), linear ones ([`linear`]) and the forms that
//! a bench has use for ([`Form`]), each with an honest word on whether the points can tell its parameters.

mod dual;
mod form;
mod inference;
pub mod linear;
mod points;
mod runs;
mod search;
mod solve;

pub use dual::{Dual, MOST_PARAMETERS};
pub use form::{Form, GAS_CONSTANT};
pub use inference::{Band, Estimate, Inference};
pub use linear::{Factor, LinearFit, least_squares};
pub use points::{Points, PointsError};
pub use runs::fewer_runs;
pub use search::{Doubt, Fit, FitError, Scale, fit};
pub use solve::{Curve, Minimum, minimum};
