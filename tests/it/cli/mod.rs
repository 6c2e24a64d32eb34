//! What the commands answer, through the program itself.

mod blend;
mod candidates;
mod cautions;
mod compare_told;
mod component;
mod curve;
mod curve_sources;
mod display;
mod fit;
mod formula;
mod help;
mod json;
mod label;
mod liquidus;
mod liquidus_limits;
mod liquidus_points;
mod manual;
mod mixture;
mod mixture_told;
mod observations;
mod out;
mod plan;
mod sample_size;
mod scenarios;
mod screen;
mod sheet;
