//! What each command shows, as documents. No view knows a format.

mod amount;
mod batch;
mod blend;
mod bottle;
mod build_sheet;
mod cautions;
mod cell;
mod comparison;
mod component;
mod design;
mod due;
mod event_words;
mod figures;
mod finding;
mod fit;
mod formula;
mod history;
mod moment;
mod plan;
mod reading;
mod recipe;
mod retarget;
mod sample_size;
mod sheet;
mod summary;
mod trace;
mod why;

pub use batch::{
    batch_blocks, batch_document, batch_list, batch_procedure, grams_of, ratio_in_words, window_in_words,
};
pub use blend::{blend_background, blend_document, blend_warnings};
pub use bottle::{Shelf, bottle_document, bottle_list, quality, shelf_states};
pub use build_sheet::build_sheet;
pub use cautions::{cautions_document, cautions_in_short, cautions_on_sheet};
pub use cell::{cell_document, cell_list, cell_state};
pub use comparison::{
    ComparisonView, FailedCell, FailureCount, all_tests, comparison_document, comparison_notes, conclusions,
};
pub use component::{component_document, component_list};
pub use design::{design_document, design_list};
pub use due::due_document;
pub use event_words::{cause_words, code_range, event_words, reading_words};
pub use finding::plan_warnings;
pub use fit::{FitAxes, FittedGroup, fit_document, fit_notes};
pub use formula::formula_document;
pub use history::{ChangeView, change_document, head_fact, history_document, verify_document};
pub use moment::{day, moment, span};
pub use plan::{plan_background, plan_document};
pub use reading::{readings_long, readings_none, readings_wide};
pub use recipe::{procedure_steps, recipe_document, recipe_list};
pub use retarget::retarget_blocks;
pub use sample_size::{SizeWords, sample_size_document};
pub use sheet::sheet_document;
pub use summary::{SummarisedGroup, SummaryView, sentence, summary_document, summary_table};
pub use trace::{
    difference_document, suspect_document, trace_document, trace_figure, trace_page, trace_table,
};
pub use why::why_blocks;
