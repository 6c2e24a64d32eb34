//! `trace`: what was made of what, what a suspect touched, what differs between two sets.

mod between;
mod suspect;

use clap::Args;
use jiff::ZonedDateTime;
use serde_json::Value;

use super::args::Common;
use super::outcome::{Failure, Outcome};
use super::request::{failure, now, open_book, zone};
use crate::book::{Book, BookError, last_code};
use crate::input::{Fault, Faults, Place};
use crate::record::CodeError;
use crate::record::graph::NodeCode;
use crate::report::Format;
use crate::report::answer::trace_answer;
use crate::report::document::Document;
use crate::report::view::{trace_document, trace_figure, trace_page, trace_table};

/// What a code was made of and what it was used in; what a suspect touched; what differs between two sets
///
/// A code is that of a bottle, a dried portion, a batch or a cell; a reading is named by its entry, as R57.
/// --format html has the picture, the trees and the table on one page; --format csv the table of what went where.
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  meltbook trace E1\n  meltbook trace C3 --svg --out c3.svg\n  meltbook trace B1 --format html --out b1.html\n  meltbook trace --suspect B1\n  meltbook trace --suspect 2026-11-02\n  meltbook trace --suspect author:AB --format csv\n  meltbook trace --between C1-C6 \"C7-C10 C12\""
)]
pub(super) struct TraceArgs {
    /// The code
    #[arg(value_name = "CODE")]
    code: Option<String>,
    /// All that this touched, and what of it is still there: a code, a supplier's lot, an instrument, a balance,
    /// a day, an author; unmistakably as instrument:DMM-1
    #[arg(long, value_name = "WHAT")]
    suspect: Option<String>,
    /// What two sets of cells differ in: lots, bottles, batches, doses, designs, days, authors
    #[arg(long, num_args = 2, value_names = ["CODES", "CODES"])]
    between: Vec<String>,
    /// Draw the picture of a code and nothing else, as SVG
    #[arg(long)]
    svg: bool,
}

pub(super) fn run(common: &Common, args: &TraceArgs) -> Result<Outcome, Failure> {
    one_question(common, args)?;
    let now = now()?.to_zoned_datetime(zone());
    match (&args.code, &args.suspect, args.between.as_slice()) {
        (Some(code), _, _) => trace(common, code, args.svg, &now),
        (_, Some(suspect), _) => suspect::run(common, suspect, &now),
        (_, _, [first, second]) => between::run(common, first, second, &now),
        _ => Err(no_question().into()),
    }
}

/// Refuses questions that can't be answered together.
fn one_question(common: &Common, args: &TraceArgs) -> Result<(), Faults> {
    let mut faults = Faults::none();
    let asked = [args.code.is_some(), args.suspect.is_some(), !args.between.is_empty()];
    let asked = asked.into_iter().filter(|asked| *asked).count();
    if 1 < asked {
        let place = Place::named("CODE, --suspect, --between");
        let fault = Fault::new("two_questions", "these are questions of their own", place);
        faults.push(fault.with_hint("Ask one at a time: a code, --suspect WHAT, or --between CODES CODES."));
    }
    if args.svg && args.code.is_none() && 0 < asked {
        let fault = Fault::new("stray_flag", "--svg goes with CODE only", Place::named("--svg"));
        faults.push(fault.with_hint("Draw one code: meltbook trace CODE --svg."));
    }
    if let (true, Some(format)) = (args.svg, common.format.filter(|format| *format != Format::Terminal)) {
        let message = format!("--svg and --format {format} are two forms of one answer");
        let fault = Fault::new("stray_flag", message, Place::named("--svg"));
        faults.push(fault.with_hint("Choose one; --format html has the picture too."));
    }
    faults.or(())
}

fn no_question() -> Fault {
    let place = Place::named("meltbook trace");
    let fault = Fault::new("no_question", "nothing is named that could be traced", place);
    fault.with_hint("Name a code, as in meltbook trace E1, or give --suspect WHAT or --between CODES CODES.")
}

fn trace(common: &Common, text: &str, svg: bool, now: &ZonedDateTime) -> Result<Outcome, Failure> {
    let code = node_code(text)?;
    let book = open_book(common)?;
    let graph = crate::book::trace(&book, &code, now).map_err(|error| explained(&book, &error))?;
    // In a large book each form takes its time: only the one that is asked for is made.
    let format = common.format.unwrap_or_default();
    let document = match format {
        Format::Html => trace_page(&graph),
        Format::Csv => Document::new(code.to_string()).with(trace_table(&graph)),
        Format::Terminal | Format::Markdown if !svg => trace_document(&graph),
        _ => Document::new(code.to_string()),
    };
    let answer = if format == Format::Json { trace_answer(&graph) } else { Value::Null };
    let mut outcome = Outcome::new("trace", answer, document);
    outcome.verbatim = svg.then(|| trace_figure(&graph).svg().to_owned());
    Ok(outcome)
}

fn node_code(text: &str) -> Result<NodeCode, Fault> {
    text.parse().map_err(|error: CodeError| {
        let place = Place::in_text("CODE", text, 0..text.len());
        let hint = format!(
            "{} A reading is R and its entry, as in R57. For a lot, an instrument, a day or an author: --suspect.",
            CodeError::HINT
        );
        Fault::new("bad_code", error.to_string(), place).with_hint(hint)
    })
}

/// What the book says, with what there is instead of a code that it does not have.
fn explained(book: &Book, error: &BookError) -> Failure {
    let BookError::UnknownCode(code) = error else { return failure(error) };
    let kind = code.kind().words();
    let hint = match last_code(book, code.kind()) {
        Ok(Some(last)) => format!("The last {kind} is {last}. {}", error.hint()),
        _ => format!("There is no {kind} yet. {}", error.hint()),
    };
    Fault::new(error.code(), error.to_string(), Place::named("the book")).with_hint(hint).into()
}
