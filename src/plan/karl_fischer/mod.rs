//! Water by Karl Fischer titration: which method, how much sample, what the numbers give, what disturbs it.
//! And water from the gain in mass on standing, where nothing is titrated.

mod disturbance;
mod mass_gain;
mod method;
mod result;
mod titration;

pub use disturbance::{Disturbance, disturbances};
pub use mass_gain::MassGain;
pub use method::{
    COULOMETRIC_AIM, MethodAdvice, TitrationMethod, coulometric_sample, method_for, volumetric_sample,
};
pub use result::{StatedUncertainty, TitrationResult, titrated};
pub use titration::{Found, Titration, TitrationError, charge_of, titrant_of};
