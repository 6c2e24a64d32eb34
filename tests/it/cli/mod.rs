//! What the commands answer, through the program itself.

mod blend;
mod cautions;
mod component;
mod display;
mod formula;
mod help;
mod json;
mod label;
mod out;
mod plan;
mod screen;
mod sheet;
