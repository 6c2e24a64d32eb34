//! Arguments into typed requests: every file, table and bottle is read once, and all faults come together.

mod at_hand;
mod batch;
mod bench;
mod blend_request;
mod book_bottle;
mod bottle;
mod capacity_request;
mod cell_design;
mod cell_review;
mod discharge;
mod electrode;
mod figure_rules;
mod fit_request;
mod hazard_data;
mod label;
mod log_mapping;
mod log_scan;
mod log_source;
mod measure;
mod mixture;
mod need;
mod observations;
mod paper;
mod per_cell;
mod permit;
mod phase;
mod plan_request;
mod property;
mod recipe_source;
mod record;
mod review;
mod sample_size_request;
mod settings;
mod share;
mod shelf;
mod size;
mod source;
mod summary_rules;
mod surroundings;
mod table;
mod weighed;

pub(super) use at_hand::{AtHand, at_hand, items_on_shelf};
pub(super) use batch::{composition_now, here, lives, review_batch, standing};
pub(super) use bench::{bench_values, with_unit};
pub(super) use blend_request::{BlendOptions, Blended, blended};
pub(super) use capacity_request::{CapacityOptions, capacity_of_cell, capacity_request};
pub(super) use cell_design::{cell_design, designs};
pub(super) use cell_review::{CellReview, cell_review};
pub(super) use discharge::{DischargeOptions, DischargeWish, Series, discharges, discharges_of_file};
pub(super) use figure_rules::{RuleOptions, usual_rules};
pub(super) use fit_request::{FitOptions, FitRequest, fit_request};
pub(super) use hazard_data::hazard_warnings;
pub(super) use label::LabelSource;
pub(super) use log_mapping::mapping_text;
pub(super) use log_scan::{LogScan, log_scan};
pub(super) use log_source::{LogOptions, LogSource, log_source};
pub(super) use mixture::{
    DesignRequest, RunArgs, SpaceArgs, StudyArgs, StudyRequest, design_request, drawn_seed,
    listed_candidates, run_plans, run_recipes, study_request, write_recipes,
};
pub(super) use need::{Need, NeedArgs};
pub(super) use observations::{ObservationArgs, Observed, ObservedGroup, observed};
pub(super) use paper::Paper;
pub(super) use permit::PermitArgs;
pub(super) use phase::{LiquidusOptions, LiquidusRequest, liquidus_request};
pub(super) use plan_request::{PlanOptions, Planned, plan_request};
pub(super) use property::{CurveOptions, CurveRequest, curve_request};
pub(super) use recipe_source::recipe;
pub(super) use record::{RecordArgs, code, codes, day, moment, past};
pub(super) use review::{ContextArgs, review_plan, review_plan_in, scheme_here, scheme_of};
pub(super) use sample_size_request::{SampleSizeOptions, never_enough, sample_size_request};
pub(super) use settings::template as settings_template;
pub(super) use shelf::{ReceiveArgs, heat_warnings, named_quality, quantity, reason, today};
pub(super) use source::{read_text, write_new};
pub(super) use summary_rules::{SummaryRuleArgs, summary_rules};
pub(super) use surroundings::{
    at_time, book_folder, clock_is_told, failure, now, open_book, settings, stamp, zone,
};
pub(super) use table::{component_table, components};
