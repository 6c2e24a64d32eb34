//! `study list`.

use clap::Args;
use serde_json::{Value, json};

use crate::book::studies;
use crate::cli::args::Common;
use crate::cli::outcome::{Failure, Outcome};
use crate::cli::request::{failure, open_book, zone};
use crate::report::view::study_list;

/// List the studies
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  meltbook study list")]
pub(super) struct ListArgs {}

pub(super) fn run(common: &Common, _: &ListArgs) -> Result<Outcome, Failure> {
    let studies = studies(&open_book(common)?).map_err(|error| failure(&error))?;
    let row = |study: &crate::record::study::Study| {
        json!({
            "code": study.planned.code.to_string(),
            "question": study.planned.question,
            "metric": study.planned.metric,
            "written": study.written.to_string(),
            "author": study.author,
            "ends": study.planned.ends.to_string(),
            "cells": study.cells.len(),
            "looks": study.looks.len(),
        })
    };
    let answer: Vec<Value> = studies.iter().map(row).collect();
    Ok(Outcome::new("study list", Value::Array(answer), study_list(&studies, &zone())))
}
