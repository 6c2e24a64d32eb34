//! Damage to organs by one exposure or by many (chapters 3.8 and 3.9). Irritation of airways and drowsiness are
//! each summed for themselves.

use super::class::Kind;
use super::ingredient::Ingredient;
use super::single::{SingleFindings, of_kinds};
use crate::caution::scheme::Scheme;

/// What chapters 3.8 and 3.9 give.
pub(super) fn target_organs(ingredients: &[Ingredient], scheme: Scheme) -> SingleFindings {
    let kinds = [Kind::OrgansOnce, Kind::AirwayIrritation, Kind::Narcosis, Kind::OrgansRepeated];
    of_kinds(ingredients, &kinds, scheme)
}
