//! What each command shows, as documents. No view knows a format.

mod amount;
mod batch;
mod blend;
mod bottle;
mod build_sheet;
mod candidates;
mod capacity;
mod cautions;
mod cautions_list;
mod cell;
mod comparison;
mod component;
mod curve;
mod design;
mod due;
mod event_words;
mod figures;
mod finding;
mod fit;
mod formula;
mod history;
mod history_run;
mod liquidus;
mod log;
mod mixture;
mod mixture_design;
mod mixture_fit;
mod moment;
mod plan;
mod ranges;
mod reading;
mod reading_columns;
mod recipe;
mod report;
mod retarget;
mod sample_book;
mod sample_figures;
mod sample_size;
mod sheet;
mod sheet_list;
mod shelf;
mod study;
mod summary;
mod trace;
mod why;

pub(in crate::report) use amount::short;
pub use batch::{
    batch_blocks, batch_document, batch_list, batch_procedure, grams_of, ratio_in_words, window_in_words,
};
pub use blend::{blend_background, blend_document, blend_warnings};
pub use bottle::{Shelf, bottle_document, bottle_list, quality, shelf_states};
pub use build_sheet::build_sheet;
pub use candidates::{
    Candidate, CandidateHazards, CandidateHouse, CandidateList, CandidatePrice, CandidatePrices,
    CandidateRatios, CandidateRecipe, CandidateStock, CandidatesView, LimitTexts, candidates_document,
    ranking_rule,
};
pub use capacity::{capacity_document, capacity_warnings};
pub use cautions::{
    alerts_in_short, cautions_document, cautions_in_short, cautions_on_sheet, cautions_to_sign,
};
pub use cell::{cell_document, cell_list, cell_state};
pub use comparison::{
    ComparisonView, FailedCell, FailureCount, all_tests, comparison_document, comparison_notes, conclusions,
    explanations, stands_out,
};
pub use component::{component_document, component_list};
pub use curve::{CurveView, FittedSeries, WaldenOfSet, WaldenView, curve_document, walden_document};
pub use curve::{curve_law, curve_parameters, curve_silence, measured_at};
pub use design::{design_document, design_list};
pub use due::due_document;
pub use event_words::{cause_words, event_words, reading_words};
pub use figures::{FiguresView, drift_blocks, figures_document, figures_warnings, resistance_blocks};
pub use finding::{plan_warnings, warning_shown};
pub use fit::{FitAxes, FittedGroup, fit_document, fit_notes};
pub use formula::formula_document;
pub use history::{ChangeView, Doubtful, change_document, head_fact, history_document, verify_document};
pub use liquidus::{
    LiquidusComponent, LiquidusHeat, LiquidusOrigin, LiquidusView, LiquidusWater, liquidus_document,
    liquidus_set_names,
};
pub use log::{layout_words, log_document, log_list, log_table, logs_of};
pub use mixture_design::{ChosenView, DesignView, mixture_design_document, mixture_design_notes};
pub use mixture_fit::{MixtureFitView, WholePlots, mixture_fit_document, mixture_fit_notes};
pub use moment::{day, moment, span};
pub use plan::{plan_background, plan_document};
pub use ranges::code_range;
pub use reading::{readings_long, readings_none, readings_wide};
pub use reading_columns::{ReadingRow, readings_columns};
pub use recipe::{procedure_steps, recipe_document, recipe_list};
pub use report::{Meeting, ReportView, ReportedBatch, ReportedMetric, missing, report_document};
pub use retarget::retarget_blocks;
pub use sample_book::{SampleBook, sample_book};
pub use sample_size::{FoundSpread, SizeWords, sample_size_document};
pub use sheet::sheet_document;
pub use shelf::shelf_document;
pub use study::{
    BatchShare, EarlyLook, Matters, PairMatters, StudyComparison, StudyPower, StudyView, build_list_document,
    departure_words, study_comparison_document, study_document, study_list,
};
pub use summary::{SummarisedGroup, SummaryView, sentence, summary_document, summary_table};
pub use trace::{
    difference_document, difference_table, suspect_document, suspect_table, trace_document, trace_figure,
    trace_on_paper, trace_page, trace_table,
};
pub use why::why_blocks;
