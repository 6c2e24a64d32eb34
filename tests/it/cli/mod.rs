//! What the commands answer, through the program itself.

mod blend;
mod cautions;
mod component;
mod formula;
mod help;
mod json;
mod observations;
mod out;
mod plan;
mod screen;
mod sheet;
