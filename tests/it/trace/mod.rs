//! The thread: the graph against a plain re-computation, and everything that is shown of it.

mod book;
mod graph;
mod kept;
mod picture;
mod sample;
