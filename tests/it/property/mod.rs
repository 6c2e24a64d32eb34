//! Properties that must hold for any input.

mod caution;
mod formula;
