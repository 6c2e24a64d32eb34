//! What the commands answer, through the program itself.

mod blend;
mod candidates;
mod cautions;
mod component;
mod curve;
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
mod observations;
mod out;
mod plan;
mod sample_size;
mod scenarios;
mod screen;
mod sheet;
