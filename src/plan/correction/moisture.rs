//! Moisture: water beside the crystal water.

use crate::component::{AssayBasis, Quality};
use crate::quantity::Mass;

/// The mass with moisture. An assay of the dried substance leaves it out, so it comes on top:
/// m / (1 − w). An assay of the content as it is has counted it already.
pub(super) fn wet(after_assay: Mass, quality: &Quality) -> Mass {
    match (&quality.assay, quality.basis) {
        (Some(_), AssayBasis::AsIs | AssayBasis::AsHydrate) => after_assay,
        (None, _) | (Some(_), AssayBasis::Dried) => after_assay / (1.0 - quality.moisture_value()),
    }
}
