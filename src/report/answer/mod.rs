//! The answers in JSON, with the keys that scripts rely on. Values are in the unit that a key names, in
//! full double precision; what is undefined is null.

mod batch;
mod blend;
mod cautions;
mod comparison;
mod component;
mod fit;
mod formula;
mod plan;
mod retarget;
mod sample_size;
mod summary;
mod trace;

pub use batch::{batch_answer, batch_row};
pub use blend::blend_answer;
pub use cautions::{cautions_answer, cautions_beside};
pub use comparison::comparison_answer;
pub use component::component_answer;
pub use fit::fit_answer;
pub use formula::formula_answer;
pub use plan::plan_answer;
pub use retarget::retarget_answer;
pub use sample_size::sample_size_answer;
pub use summary::summary_answer;
pub use trace::{difference_answer, trace_answer};
