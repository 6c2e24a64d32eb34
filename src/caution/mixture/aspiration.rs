//! Danger to the lungs when swallowed (chapter 3.10). The viscosity of the mixture decides in the end; where none
//! is measured, the class stands.

use super::class::Kind;
use super::ingredient::Ingredient;
use super::single::{SingleFindings, of_kinds};
use crate::caution::scheme::Scheme;

/// What chapter 3.10 gives.
pub(super) fn aspiration(ingredients: &[Ingredient], scheme: Scheme) -> SingleFindings {
    of_kinds(ingredients, &[Kind::Aspiration], scheme)
}
