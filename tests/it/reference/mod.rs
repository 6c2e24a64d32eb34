//! Checks against values from outside the project; the source stands beside each.

mod blend;
mod cell;
mod chemistry;
mod components;
mod curve_fits;
mod discharge;
mod distributions;
mod exact_tests;
mod hazard_check;
mod hazard_data;
mod hazard_heat;
mod hazard_rules;
mod karl_fischer;
mod label_rules;
mod made;
mod mixture_limits;
mod mixture_worked;
mod outliers;
mod power;
mod practice;
mod replicates;
mod rows;
mod shelf;
mod uncertainty;
mod univariate;
mod weighing;
pub mod worked_case;
