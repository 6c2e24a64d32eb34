//! Recipes: what to make. A recipe comes from a file or from one line in the trade's notation.

mod amount;
mod builtin;
mod check;
mod file;
mod limit;
mod procedure;
mod recipe_type;
mod shorthand;
mod write;

pub use amount::mass_fraction;
pub use builtin::WORKED_RECIPES;
pub use file::read_recipe;
pub use limit::{Limit, Limited};
pub use procedure::Procedure;
pub use recipe_type::{Recipe, SolutionDensity};
pub use shorthand::{is_shorthand, read_shorthand};
