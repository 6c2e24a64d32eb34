//! `batch list` and `batch show`.

use clap::Args;
use serde_json::Value;

use crate::book::batch_codes;
use crate::cli::args::Common;
use crate::cli::outcome::{Failure, Outcome};
use crate::cli::request::{code, failure, open_book, review_batch, scheme_here, standing};
use crate::record::life::BatchStatus;
use crate::report::answer::{batch_answer, batch_row};
use crate::report::standing::Standing;
use crate::report::view::{batch_document, batch_list};

/// List the batches with what is left
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  meltbook batch list")]
pub(super) struct ListArgs {
    /// Also those that were rejected or are used up
    #[arg(long)]
    all: bool,
}

/// Show the life of one batch
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  meltbook batch show E1")]
pub(super) struct ShowArgs {
    /// The batch
    #[arg(value_name = "CODE")]
    code: String,
}

pub(super) fn list(common: &Common, args: &ListArgs) -> Result<Outcome, Failure> {
    let book = open_book(common)?;
    let codes = batch_codes(&book).map_err(|error| failure(&error))?;
    let standings = codes.iter().map(|code| standing(&book, code)).collect::<Result<Vec<_>, _>>()?;
    let shown: Vec<Standing> =
        standings.into_iter().filter(|standing| args.all || is_in_use(standing)).collect();
    let answer: Vec<Value> = shown.iter().map(batch_row).collect();
    Ok(Outcome::new("batch list", Value::Array(answer), batch_list(&shown)))
}

fn is_in_use(standing: &Standing) -> bool {
    let life = &standing.life;
    let used_up = life.status != BatchStatus::Started && life.left_g() <= 1e-9;
    life.status != BatchStatus::Rejected && !used_up
}

pub(super) fn show(common: &Common, args: &ShowArgs) -> Result<Outcome, Failure> {
    let code = code("CODE", &args.code)?;
    let standing = standing(&open_book(common)?, &code)?;
    let document = batch_document(&standing, &review_batch(&standing, scheme_here(common)?));
    Ok(Outcome::new("batch show", batch_answer(&standing), document))
}
