//! `label`: labels of bottles, batches and cells, for print.

use clap::{Args, ValueEnum};
use serde_json::json;

use super::args::Common;
use super::outcome::{Failure, Outcome};
use super::request::{LabelSource, Paper, codes_collecting};
use crate::input::{Fault, Faults, Place, Warning};
use crate::record::{Code, CodeKind};
use crate::report::answer::label_answer;
use crate::report::html::PageSize;
use crate::report::label::{
    LabelContent, LabelError, LabelRun, LabelStock, label_drawing, label_overview, label_sheets,
    labels_per_page,
};

/// Labels of bottles, batches and cells, each with its code as QR code, what is in it, its dates and hazards
///
/// The screen shows what the labels say and what has no room on them; --out FILE writes the page to print. Print
/// it at its own size and cut along the lines. What the scheme asks for and a label has no room for stands on a
/// fold-out behind the labels, to tie on, fold round, or stick on as a larger label.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  meltbook label C1-C12 --out sleeves.html
  meltbook label E1 --scheme clp --capacity \"50 mL\" --out vial.html
  meltbook label E1 M1 --on bottle --copies 2 --skip 3 --paper letter --out bottles.html")]
pub(super) struct LabelArgs {
    /// What the labels are for; a run of codes as C1-C12
    #[arg(value_name = "CODE", required = true)]
    codes: Vec<String>,
    /// What they are stuck on [default: a bottle for bottles, a vial for batches, a cell sleeve for cells]
    #[arg(long, value_enum, value_name = "WHAT")]
    on: Option<On>,
    /// So many of each
    #[arg(long, value_name = "NUMBER", default_value_t = 1, value_parser = clap::value_parser!(u16).range(1..=100))]
    copies: u16,
    /// Leave so many places of the first page empty, because they were used before
    #[arg(long, value_name = "NUMBER", default_value_t = 0)]
    skip: usize,
    /// By whose rules and texts: ghs, clp or hcs [default: of meltbook.toml, else ghs]
    #[arg(long, value_name = "SCHEME")]
    scheme: Option<String>,
    /// What each package holds when full: small ones may carry less [default: 2 mL for each gram that was put in]
    #[arg(long, value_name = "VOLUME", allow_hyphen_values = true)]
    capacity: Option<String>,
    /// The paper
    #[arg(long, value_enum, default_value_t = Paper::A4)]
    paper: Paper,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
enum On {
    /// 38 mm × 19 mm
    Vial,
    /// 64 mm × 37 mm
    Bottle,
    /// 48 mm × 14 mm
    CellSleeve,
}

impl On {
    const fn stock(self) -> LabelStock {
        match self {
            Self::Vial => LabelStock::Vial,
            Self::Bottle => LabelStock::Bottle,
            Self::CellSleeve => LabelStock::CellSleeve,
        }
    }
}

pub(super) fn run(common: &Common, args: &LabelArgs) -> Result<Outcome, Failure> {
    let mut faults = Faults::none();
    let codes = codes_collecting("CODE", &args.codes, &mut faults);
    let stocks = stocks(args, &codes);
    let paper = args.paper.size();
    faults.collect(check_skip(args.skip, &stocks, paper));
    let mut source =
        LabelSource::open(common, args.scheme.as_deref(), args.capacity.as_deref(), &mut faults)?;
    let mut labels: Vec<(LabelStock, Vec<LabelContent>)> = Vec::new();
    for stock in stocks {
        let of_stock: Vec<&Code> = codes.iter().filter(|code| stock_of(args, code) == stock).collect();
        labels.push((stock, contents(&mut source, &of_stock, &mut faults)?));
    }
    let labels = faults.or(labels)?;
    let mut outcome = outcome(&labels, args, paper).map_err(|error| unprintable(&error))?;
    outcome.warnings = source.warnings;
    outcome.warnings.extend(too_small(&labels)?);
    outcome.paper = paper;
    Ok(outcome)
}

/// The labels of some codes; those that the book does not know are collected as faults.
fn contents(
    source: &mut LabelSource,
    codes: &[&Code],
    faults: &mut Faults,
) -> Result<Vec<LabelContent>, Failure> {
    let mut contents = Vec::with_capacity(codes.len());
    for code in codes {
        match source.content(code) {
            Ok(content) => contents.push(content),
            Err(Failure::Input(found)) => faults.extend(found),
            Err(failure) => return Err(failure),
        }
    }
    Ok(contents)
}

fn outcome(
    labels: &[(LabelStock, Vec<LabelContent>)],
    args: &LabelArgs,
    paper: PageSize,
) -> Result<Outcome, LabelError> {
    let copied: Vec<Vec<LabelContent>> =
        labels.iter().map(|(_, labels)| copies(labels, usize::from(args.copies))).collect();
    let pages = labels.iter().zip(&copied);
    let pages: Vec<LabelRun<'_>> =
        pages.map(|((stock, _), labels)| LabelRun { stock: *stock, labels, skip: args.skip }).collect();
    let mut answers = Vec::new();
    for (stock, labels) in labels {
        for label in labels {
            answers.push(label_answer(label, *stock)?);
        }
    }
    let answer = json!({ "copies": args.copies, "skip": args.skip, "labels": answers });
    let runs = labels.iter().map(|(stock, labels)| LabelRun { stock: *stock, labels, skip: args.skip });
    let document = label_overview(&runs.collect::<Vec<_>>(), usize::from(args.copies), paper)?;
    let mut outcome = Outcome::new("label", answer, document);
    outcome.page = Some(label_sheets(&pages, paper)?);
    Ok(outcome)
}

/// Labels on which even that has no room which the smallest package carries itself.
fn too_small(labels: &[(LabelStock, Vec<LabelContent>)]) -> Result<Vec<Warning>, Failure> {
    let mut warnings = Vec::new();
    for (stock, labels) in labels {
        for label in labels {
            let lacks = label_drawing(label, *stock).map_err(|error| unprintable(&error))?.too_small_for;
            if !lacks.is_empty() {
                let lacks = lacks.join(", ");
                let message = format!(
                    "{} does not fit a {stock} label: {lacks}; take a larger label (--on bottle), or stick on the \
                     fold-out as the label",
                    label.code
                );
                warnings.push(Warning::new("label_too_small", message));
            }
        }
    }
    Ok(warnings)
}

fn copies(labels: &[LabelContent], copies: usize) -> Vec<LabelContent> {
    labels.iter().flat_map(|label| std::iter::repeat_n(label.clone(), copies)).collect()
}

/// The size of each label, in the order in which the codes ask for it.
fn stocks(args: &LabelArgs, codes: &[Code]) -> Vec<LabelStock> {
    let mut stocks: Vec<LabelStock> = Vec::new();
    for code in codes {
        let stock = stock_of(args, code);
        if !stocks.contains(&stock) {
            stocks.push(stock);
        }
    }
    stocks
}

fn stock_of(args: &LabelArgs, code: &Code) -> LabelStock {
    let own = match code.kind() {
        CodeKind::Bottle => LabelStock::Bottle,
        CodeKind::Electrolyte | CodeKind::StockSolution | CodeKind::CathodeMix => LabelStock::Vial,
        // A study is refused when its content is asked for.
        CodeKind::Cell | CodeKind::Study => LabelStock::CellSleeve,
    };
    args.on.map_or(own, On::stock)
}

/// Places are skipped on one sheet of one size.
fn check_skip(skip: usize, stocks: &[LabelStock], paper: PageSize) -> Result<(), Fault> {
    let fault = |message: String, hint: &str| {
        let place = Place::in_text("--skip", skip.to_string(), 0..skip.to_string().len());
        Err(Fault::new("bad_skip", message, place).with_hint(hint))
    };
    match stocks {
        _ if skip == 0 => Ok(()),
        [one] => {
            let places = labels_per_page(*one, paper);
            if skip < places {
                return Ok(());
            }
            let message = format!("{skip} places are skipped, and a page has {places} of a {one} label");
            fault(message, "Skip fewer, or begin with a new sheet.")
        }
        several => {
            let names = several.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ");
            let message = format!("labels of several sizes are asked for: {names}");
            fault(message, "Print those of one size at a time, or choose one size for all with --on.")
        }
    }
}

/// Only a code that is far longer than a book's can be.
fn unprintable(error: &LabelError) -> Failure {
    Fault::new("unprintable_label", error.to_string(), Place::named("CODE"))
        .with_hint("Choose a larger label with --on bottle.")
        .into()
}
