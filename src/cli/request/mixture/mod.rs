//! Mixture designs: components, bounds, rules, process variables, runs, recipes.

mod constraint;
mod listed;
mod measured;
mod others;
mod process;
mod recipes;
mod result_request;
mod results;
mod runs;
mod space;

pub(in crate::cli) use listed::listed_candidates;
pub(in crate::cli) use recipes::{RunRecipe, noted, run_plans, run_recipes, write_recipes};
pub(in crate::cli) use result_request::{ResultArgs, ResultRequest, result_request};
pub(in crate::cli) use results::PlotsOf;
pub(in crate::cli) use runs::{DesignRequest, RunArgs, design_request};
pub(in crate::cli) use space::SpaceArgs;
