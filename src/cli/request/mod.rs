//! Arguments into typed requests: every file, table and bottle is read once, and all faults come together.

mod blend_request;
mod bottle;
mod plan_request;
mod recipe_source;
mod review;
mod size;
mod source;
mod table;
mod weighed;

pub(super) use blend_request::{BlendOptions, Blended, blended};
pub(super) use plan_request::{PlanOptions, Planned, composition_as_asked, plan_request};
pub(super) use recipe_source::{is_recipe, recipe};
pub(super) use review::{ContextArgs, review_plan};
pub(super) use source::read_text;
pub(super) use table::{component_table, components};
pub(super) use weighed::weighed;
