//! Mixture designs: components, bounds, rules, process variables, runs, recipes.

mod constraint;
mod listed;
mod measured;
mod process;
mod recipes;
mod results;
mod runs;
mod space;
mod study;

pub(in crate::cli) use listed::listed_candidates;
pub(in crate::cli) use recipes::{run_plans, run_recipes, write_recipes};
pub(in crate::cli) use runs::{DesignRequest, RunArgs, design_request, drawn_seed};
pub(in crate::cli) use space::SpaceArgs;
pub(in crate::cli) use study::{StudyArgs, StudyRequest, study_request};
