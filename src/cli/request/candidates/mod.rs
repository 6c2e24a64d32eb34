//! What `candidates` is asked: lists of components, ratios, limits, a person's own prices, what is in the house.

mod house;
mod limit;
mod lists;
mod price_file;
mod prices;
mod ratio;
mod request;

pub(in crate::cli) use request::{CandidatesOptions, CandidatesRequest, candidates_request};
