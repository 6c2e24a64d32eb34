//! Properties that must hold for any input.

mod blend;
mod caution;
mod classification;
mod formula;
mod made;
mod mixture;
mod plan;
mod retarget;
mod text;
