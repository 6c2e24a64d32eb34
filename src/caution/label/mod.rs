//! What a label carries: which statements and pictograms stand beside each other, which precautions go with the
//! classes, and what the size of the package allows. Facts from `data/mixture/label.toml`; local rules decide.

mod choice;
mod content;
mod omission;
mod rules;
mod size;

pub(super) use choice::precautions_for;
pub use content::{LabelContent, LabelElement, LabelLine, Placed, label_content};
pub use omission::Omitted;
pub(super) use omission::{covering_code, kept_statements};
pub use size::{LabelSize, label_size};
