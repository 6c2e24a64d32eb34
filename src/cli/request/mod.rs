//! Arguments into typed requests: every file, table and bottle is read once, and all faults come together.

mod batch;
mod bench;
mod blend_request;
mod book_bottle;
mod bottle;
mod cell_design;
mod cell_review;
mod need;
mod permit;
mod plan_request;
mod recipe_source;
mod record;
mod review;
mod settings;
mod shelf;
mod size;
mod source;
mod surroundings;
mod table;
mod weighed;

pub(super) use batch::{composition_now, here, lives, review_batch, standing};
pub(super) use bench::{bench_values, name_and_unit, with_unit};
pub(super) use blend_request::{BlendOptions, Blended, blended};
pub(super) use cell_design::{cell_design, designs};
pub(super) use cell_review::{CellReview, cell_review};
pub(super) use need::{Need, NeedArgs};
pub(super) use permit::PermitArgs;
pub(super) use plan_request::{PlanOptions, Planned, plan_request, planned_as_asked};
pub(super) use recipe_source::{is_recipe, recipe};
pub(super) use record::{RecordArgs, code, codes, day, moment, past};
pub(super) use review::{ContextArgs, review_plan, review_plan_in};
pub(super) use settings::template as settings_template;
pub(super) use shelf::{ReceiveArgs, heat_warnings, named_quality, quantity, reason, today};
pub(super) use source::read_text;
pub(super) use surroundings::{at_time, clock_is_told, failure, now, open_book, settings, stamp, zone};
pub(super) use table::{component_table, components};
