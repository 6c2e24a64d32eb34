//! Properties that must hold for any input.

mod blend;
mod candidates;
mod caution;
mod classification;
mod curve_fit;
mod formula;
mod liquidus;
mod liquidus_stability;
mod liquidus_windows;
mod made;
mod mixture;
mod mixture_design;
mod plan;
mod retarget;
mod samples;
mod simulation;
mod statistics;
mod text;
