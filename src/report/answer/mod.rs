//! The answers in JSON, with the keys that scripts rely on. Values are in the unit that a key names, in
//! full double precision; what is undefined is null.

mod batch;
mod blend;
mod candidates;
mod capacity;
mod cautions;
mod comparison;
mod component;
mod curve;
mod figures;
mod fit;
mod formula;
mod label;
mod liquidus;
mod mixture_design;
mod mixture_fit;
mod plan;
mod retarget;
mod sample_size;
mod summary;
mod trace;

pub use batch::{batch_answer, batch_row};
pub use blend::blend_answer;
pub use candidates::candidates_answer;
pub use capacity::capacity_answer;
pub use cautions::{cautions_answer, cautions_beside, shelf_answer};
pub use comparison::comparison_answer;
pub use component::component_answer;
pub use curve::{curve_answer, walden_answer};
pub use figures::figures_answer;
pub use fit::fit_answer;
pub use formula::formula_answer;
pub use label::label_answer;
pub use liquidus::liquidus_answer;
pub use mixture_design::mixture_design_answer;
pub use mixture_fit::mixture_fit_answer;
pub use plan::plan_answer;
pub use retarget::retarget_answer;
pub use sample_size::sample_size_answer;
pub use summary::summary_answer;
pub use trace::{difference_answer, suspect_answer, trace_answer};
