//! What each command shows, as documents. No view knows a format.

mod amount;
mod cautions;
mod component;
mod finding;
mod formula;
mod plan;
mod recipe;
mod retarget;
mod sheet;
mod trace;
mod why;

pub use cautions::{cautions_document, cautions_in_short, cautions_on_sheet};
pub use component::{component_document, component_list};
pub use finding::plan_warnings;
pub use formula::formula_document;
pub use plan::{plan_background, plan_document};
pub use recipe::{recipe_document, recipe_list};
pub use retarget::retarget_blocks;
pub use sheet::sheet_document;
pub use trace::{
    difference_document, suspect_document, trace_document, trace_figure, trace_page, trace_table,
};
pub use why::why_blocks;
