//! What is to be fitted, and what is asked of it.

use clap::{Args, ValueEnum};

use super::measured::{AlsoArg, Wish, of_book};
use super::results::{Results, of_file};
use super::runs::ModelArgs;
use super::space::{Basis, BoundArgs, Named, region};
use crate::cli::args::Common;
use crate::cli::outcome::Failure;
use crate::cli::request::share::share;
use crate::cli::request::{component_table, drawn_seed};
use crate::component::RatioBasis;
use crate::compose::mixture::{Bound, Crossing, Direction, Goal, Model, Region};
use crate::input::{Fault, Faults, Place};
use crate::quantity::parse_number;

/// Confidence of intervals where nothing else is said. The answer states it.
const CONFIDENCE: f64 = 0.95;

/// Where results come from and what is asked of them.
#[derive(Debug, Args)]
pub(in crate::cli) struct ResultArgs {
    /// A CSV file with a column for each component and one of results; without it the book is asked
    #[arg(value_name = "FILE", requires = "value")]
    file: Option<String>,
    /// The components: columns of the file, or names of the component table; separated by commas
    #[arg(long = "part", value_name = "NAME,…", value_delimiter = ',', required = true)]
    parts: Vec<String>,
    /// The column of results
    #[arg(long, value_name = "COLUMN", requires = "file")]
    value: Option<String>,
    /// A column of blocks, such as days: each may shift all results
    #[arg(long, value_name = "COLUMN", requires = "file")]
    block: Option<String>,
    /// A column of batches, or of whole plots: results of one of them share what these differ by
    #[arg(long, value_name = "COLUMN", requires = "file")]
    plot: Option<String>,
    /// The numbers in the file are amounts: they are divided by their sum
    #[arg(long, requires = "file")]
    amounts: bool,
    #[command(flatten)]
    book: BookArgs,
    #[command(flatten)]
    wish: WishArgs,
    #[command(flatten)]
    bounds: BoundArgs,
}

/// Results of the book.
#[derive(Debug, Args)]
#[command(next_help_heading = "Results of the book")]
struct BookArgs {
    /// The property of the batches, as of batch measure; the last value of each counts
    #[arg(long, value_name = "PROPERTY", conflicts_with = "file")]
    property: Option<String>,
    /// Of these batches alone, such as E1..E9; repeatable
    #[arg(long, value_name = "CODE", conflicts_with = "file")]
    batches: Vec<String>,
    /// Batches of this status too, which are left out otherwise; repeatable
    #[arg(long, value_enum, value_name = "STATUS", conflicts_with = "file")]
    also: Vec<AlsoArg>,
    /// Measured at this temperature
    #[arg(long, value_name = "TEMPERATURE", conflicts_with = "file", allow_hyphen_values = true)]
    at: Option<String>,
    /// What the fractions count
    #[arg(long, value_enum, value_name = "BASIS", default_value_t = Basis::Mole, conflicts_with = "file")]
    basis: Basis,
}

/// What is asked of a fit.
#[derive(Debug, Args)]
#[command(next_help_heading = "Model and questions")]
struct WishArgs {
    /// A process variable: a column of the file; of the book water, temperature, or an added component; repeatable
    #[arg(long, value_name = "NAME")]
    process: Vec<String>,
    #[command(flatten)]
    model: ModelArgs,
    /// max, min, or a value to come near [default: both max and min]
    #[arg(long, value_name = "GOAL", allow_hyphen_values = true)]
    goal: Option<String>,
    /// How many further runs to propose
    #[arg(long, value_name = "NUMBER", default_value_t = 3, value_parser = clap::value_parser!(u8).range(0..=50))]
    next: u8,
    /// Along which line traces go
    #[arg(long, value_enum, value_name = "DIRECTION", default_value_t = DirectionArg::Cox)]
    direction: DirectionArg,
    /// How far fractions of repeats may differ [default: 1e-6 in a file, 0.005 of batches]
    #[arg(long, value_name = "NUMBER")]
    alike: Option<String>,
    /// Confidence of intervals [default: 95 %]
    #[arg(long, value_name = "SHARE")]
    confidence: Option<String>,
    /// Seed of the search for further runs [default: drawn by the computer]
    #[arg(long, value_name = "NUMBER")]
    seed: Option<u64>,
}

/// Lines of traces.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum DirectionArg {
    /// Others keep their proportions
    Cox,
    /// What others have above their lower bounds keeps its proportions
    Piepel,
}

/// A typed request.
pub(in crate::cli) struct ResultRequest {
    pub(in crate::cli) results: Results,
    pub(in crate::cli) model: Model,
    pub(in crate::cli) model_is_stated: bool,
    pub(in crate::cli) crossing: Crossing,
    /// Where the best is looked for.
    pub(in crate::cli) region: Region,
    /// True if the person gave bounds; else it is what the results span.
    pub(in crate::cli) region_is_stated: bool,
    pub(in crate::cli) goals: Vec<Goal>,
    pub(in crate::cli) next: usize,
    pub(in crate::cli) direction: Direction,
    pub(in crate::cli) confidence: f64,
    pub(in crate::cli) seed: u64,
}

/// Reads all; faults together.
pub(in crate::cli) fn result_request(common: &Common, args: &ResultArgs) -> Result<ResultRequest, Failure> {
    let mut faults = Faults::none();
    let wish = &args.wish;
    let confidence = match &wish.confidence {
        Some(text) => faults.collect(share("--confidence", text, 0.0, 1.0)),
        None => Some(CONFIDENCE),
    };
    let goals = faults.collect(goals(wish.goal.as_deref()));
    let alike = wish.alike.as_deref().map(|text| faults.collect(share("--alike", text, 0.0, 0.5)));
    let (order, crossing) = wish.model.read(&mut faults);
    let parts = named_parts(args);
    if let [only] = &parts[..] {
        faults.push(one_part(only, args.file.as_deref()));
    }
    let (Some(confidence), Some(goals), Some(order), Some(crossing), true) =
        (confidence, goals, order, crossing, faults.is_empty())
    else {
        return Err(faults.into());
    };
    let mut results = results(common, args, &parts)?;
    results.alike = alike.flatten().unwrap_or(results.alike);
    let model = Model::new(order, results.names.len(), results.variables.clone(), crossing)
        .with_blocks(results.blocks.clone());
    let results = results.by_batch(&model);
    let names: Vec<Named> = results
        .names
        .iter()
        .zip(&parts)
        .map(|(id, given)| Named { id: id.clone(), given: given.clone(), component: None })
        .collect();
    let region_is_stated = args.bounds.is_stated();
    let region = if region_is_stated {
        region(&args.bounds, &names, RatioBasis::Mole, &mut faults)
    } else {
        Region::new(spanned(&results), Vec::new()).ok()
    };
    let Some(region) = faults.or(region)? else { return Err(Faults::none().into()) };
    Ok(ResultRequest {
        model,
        model_is_stated: wish.model.is_stated(),
        crossing,
        region,
        region_is_stated,
        goals,
        next: usize::from(wish.next),
        direction: match wish.direction {
            DirectionArg::Cox => Direction::Cox,
            DirectionArg::Piepel => Direction::Piepel,
        },
        confidence,
        seed: wish.seed.map_or_else(drawn_seed, Ok)?,
        results,
    })
}

/// Names without those that a comma too many left empty.
fn named_parts(args: &ResultArgs) -> Vec<String> {
    let own = args.parts.iter().filter(|part| !part.trim().is_empty());
    let parts: Vec<String> = own.cloned().collect();
    if parts.is_empty() { args.parts.iter().take(1).cloned().collect() } else { parts }
}

/// One component is most likely several that are not parted by commas.
fn one_part(only: &str, file: Option<&str>) -> Fault {
    let place = Place::in_text("--part", only, 0..only.len());
    let mut words: Vec<&str> =
        only.split(|c: char| c.is_whitespace() || c == ';').filter(|word| !word.is_empty()).collect();
    // The second of several words is taken for the file.
    let behind = file.filter(|file| !file.contains(['.', '/', '\\'])).unwrap_or_default();
    words.extend(behind.split(',').filter(|word| !word.is_empty()));
    if 1 < words.len() {
        let message = format!("the components are not parted by commas: {}", words.join(" "));
        let fault = Fault::new("no_commas", message, place);
        return fault.with_hint(format!("Write --part {}, without spaces.", words.join(",")));
    }
    let message = "one component alone is no mixture: its fraction is always 1";
    let fault = Fault::new("one_component", message, place);
    fault.with_hint("Name all of them with commas between, as in --part ChCl,urea,water.")
}

fn results(common: &Common, args: &ResultArgs, parts: &[String]) -> Result<Results, Failure> {
    match (&args.file, &args.value, &args.book.property) {
        (Some(file), Some(value), _) => {
            let columns = (args.block.as_ref(), args.plot.as_ref());
            let table = component_table(common)?;
            of_file(file, parts, value, &args.wish.process, columns, args.amounts, &table)
        }
        (None, _, Some(property)) => of_book(
            common,
            &Wish {
                parts,
                property,
                batches: &args.book.batches,
                variables: &args.wish.process,
                at: args.book.at.as_deref(),
                also: &args.book.also,
                basis: args.book.basis.into(),
            },
        ),
        _ => {
            let fault = Fault::new("no_source", "no results are named", Place::named("the command line"));
            let hint = "Name a file and its column with --value, or a --property of the batches in the book.";
            Err(fault.with_hint(hint).into())
        }
    }
}

/// What the results span, component by component.
fn spanned(results: &Results) -> Vec<Bound> {
    let bound = |at: usize| {
        let values = results.observed.iter().map(|own| own.fractions[at]);
        Bound { low: values.clone().fold(1.0, f64::min), high: values.fold(0.0, f64::max) }
    };
    (0..results.names.len()).map(bound).collect()
}

fn goals(text: Option<&str>) -> Result<Vec<Goal>, Fault> {
    let Some(text) = text else { return Ok(vec![Goal::Maximum, Goal::Minimum]) };
    match text.trim() {
        "max" => Ok(vec![Goal::Maximum]),
        "min" => Ok(vec![Goal::Minimum]),
        other => match parse_number(other) {
            Ok(number) => Ok(vec![Goal::Target(number.value)]),
            Err(_) => {
                let place = Place::in_text("--goal", text, 0..text.len());
                let fault = Fault::new("unknown_goal", format!("unknown goal {text:?}"), place);
                Err(fault.with_hint("Write max, min, or a bare number in the unit of the results."))
            }
        },
    }
}
