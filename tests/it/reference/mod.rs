//! Checks against values from outside the project; the source stands beside each.

mod chemistry;
mod components;
mod practice;
mod uncertainty;
mod weighing;
