//! The rules of the house, held against the project's own files.

pub mod source;

mod layering;
mod licences;
mod quiet;
mod registered;
mod size;
