//! How the water of a bottle's content depends on what is stated of the bottle.
//!
//! Per gram of content with assay a, moisture w and f grams in the bottle's form, of which the share ρ is
//! anhydrous: the water is w + f (1 − ρ), or 1 − f ρ where an assay above 1 says that crystal water is gone.
//! f is a (1 − w) for an assay of the dried substance or none, and a for one of the content.

use super::Correction;
use crate::component::{AssayBasis, Quality};

/// Derivatives of the water in some grams out of a bottle, in grams per unit of each fraction.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::plan) struct WaterSensitivity {
    /// To the assay.
    pub(in crate::plan) assay: f64,
    /// To the moisture.
    pub(in crate::plan) moisture: f64,
}

/// The derivatives at a correction of a bottle.
pub(in crate::plan) fn water_sensitivity(correction: &Correction, quality: &Quality) -> WaterSensitivity {
    let (gross, in_form, anhydrous) =
        (correction.gross.get(), correction.in_form.get(), correction.anhydrous.get());
    let crystal_water = in_form - anhydrous;
    let assay = if gross < in_form { -anhydrous } else { crystal_water } / quality.assay_value();
    let by_moisture = crystal_water / (1.0 - quality.moisture_value());
    let moisture = if counts_dry(quality) { gross - by_moisture } else { gross };
    WaterSensitivity { assay, moisture }
}

/// True if moisture comes on top of what the assay counts, so that more of it leaves less of the component.
pub(in crate::plan) fn counts_dry(quality: &Quality) -> bool {
    quality.assay.is_none() || quality.basis == AssayBasis::Dried
}
