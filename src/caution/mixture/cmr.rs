//! What changes germ cells, causes cancer or harms reproduction (chapters 3.5 to 3.7).

use super::class::Kind;
use super::ingredient::Ingredient;
use super::single::{SingleFindings, of_kinds};
use crate::caution::scheme::Scheme;

/// What chapters 3.5 to 3.7 give.
pub(super) fn cmr(ingredients: &[Ingredient], scheme: Scheme) -> SingleFindings {
    of_kinds(ingredients, &[Kind::Mutagen, Kind::Carcinogen, Kind::Reproduction, Kind::Lactation], scheme)
}
