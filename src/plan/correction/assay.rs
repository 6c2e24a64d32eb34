//! The assay: how much of the bottle's content counts.

use crate::component::{AssayBasis, Quality};
use crate::quantity::Mass;

/// The mass of bottle content that holds `pure`, before moisture: pure / assay. With no assay the content
/// is pure but for its moisture, on every basis.
pub(super) fn gross_of_pure(pure: Mass, quality: &Quality) -> Mass {
    match (&quality.assay, quality.basis) {
        (None, _) => pure,
        (Some(assay), AssayBasis::Dried | AssayBasis::AsIs | AssayBasis::AsHydrate) => {
            pure / assay.value.get()
        }
    }
}
