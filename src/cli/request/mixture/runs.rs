//! How points become runs, and what is made of them.

use clap::Args;

use super::process::variables;
use super::space::{Space, SpaceArgs, space};
use crate::cli::args::Common;
use crate::cli::outcome::Failure;
use crate::cli::request::{drawn_seed, quantity};
use crate::compose::mixture::{Arrangement, Crossing, Model, Order, Process, settings};
use crate::input::{Fault, Faults, Place, did_you_mean};
use crate::quantity::{Mass, Typed};

/// Runs of one design: more are made by nobody.
pub(super) const MOST_RUNS: usize = 5000;

/// What every design takes.
#[derive(Debug, Args)]
#[command(next_help_heading = "Runs")]
pub(in crate::cli) struct RunArgs {
    /// A process variable, such as "water levels=1 3 unit=wt%"; repeatable. All compositions are run at all of them
    #[arg(long, value_name = "NAME levels=… unit=…", allow_hyphen_values = true)]
    process: Vec<String>,
    /// A process variable that is set once for a whole plot, since changing it is slow; repeatable
    #[arg(long, value_name = "NAME")]
    hard: Vec<String>,
    /// Run each point so often
    #[arg(long, value_name = "NUMBER", default_value_t = 1, value_parser = clap::value_parser!(u16).range(1..=100))]
    replicates: u16,
    /// Add so many runs in the centre, at each setting of the process variables
    #[arg(long, value_name = "NUMBER", default_value_t = 0, value_parser = clap::value_parser!(u16).range(0..=100))]
    centre: u16,
    /// Share the runs over so many blocks, such as days
    #[arg(long, value_name = "NUMBER", default_value_t = 1, value_parser = clap::value_parser!(u16).range(1..=100))]
    blocks: u16,
    /// Seed of the random order [default: drawn by the computer]
    #[arg(long, value_name = "NUMBER")]
    seed: Option<u64>,
    #[command(flatten)]
    model: ModelArgs,
    /// Write a recipe for each run into this folder, ready for plan and batch start
    #[arg(long, value_name = "DIR")]
    pub(in crate::cli) recipes: Option<String>,
    /// Mass of each batch, for what is needed in all
    #[arg(long, value_name = "MASS", allow_hyphen_values = true)]
    mass: Option<String>,
}

/// Which model the runs are for.
#[derive(Debug, Args)]
pub(in crate::cli) struct ModelArgs {
    /// linear, quadratic, special-cubic or full-cubic [default: quadratic]
    #[arg(long, value_name = "MODEL")]
    model: Option<String>,
    /// How process variables act: on every term of the mixture, on its linear ones, or alike at all compositions
    /// (every, linear, common) [default: every]
    #[arg(long, value_name = "HOW")]
    crossed: Option<String>,
}

/// A typed request for a design.
pub(in crate::cli) struct DesignRequest {
    pub(in crate::cli) space: Space,
    pub(in crate::cli) model: Model,
    pub(in crate::cli) model_is_stated: bool,
    pub(in crate::cli) crossing: Crossing,
    pub(in crate::cli) centre: usize,
    pub(in crate::cli) arrangement: Arrangement,
    pub(in crate::cli) mass: Option<Typed<Mass>>,
}

impl DesignRequest {
    /// The process variables.
    pub(in crate::cli) fn variables(&self) -> &[Process] {
        self.model.variables()
    }

    /// Refuses blocks that would stay empty.
    pub(in crate::cli) fn check_blocks(&self, runs: usize) -> Result<(), Fault> {
        let blocks = self.arrangement.blocks;
        if blocks <= runs {
            return Ok(());
        }
        let message = format!("{runs} runs can't fill {blocks} blocks");
        Err(Fault::new("too_many_blocks", message, Place::named("--blocks"))
            .with_hint("Choose fewer blocks, each of 2 runs or more, or repeat runs with --replicates."))
    }

    /// Refuses what nobody would make.
    pub(in crate::cli) fn check_size(&self, points: usize, settings: usize) -> Result<(), Fault> {
        let runs = points.saturating_mul(settings).saturating_mul(self.arrangement.replicates);
        if runs <= MOST_RUNS {
            return Ok(());
        }
        let message = format!("this would be {runs} runs, and {MOST_RUNS} are allowed");
        let fault = Fault::new("too_large", message, Place::named("the command line"));
        Err(fault.with_hint("Choose a subset with mixture optimal, or mix fewer components."))
    }
}

/// Reads all; faults together.
pub(in crate::cli) fn design_request(
    common: &Common,
    space_args: &SpaceArgs,
    args: &RunArgs,
) -> Result<DesignRequest, Failure> {
    let mut faults = Faults::none();
    let space = space(common, space_args, &mut faults)?;
    let names = space.as_ref().map(|space| space.names.as_slice()).unwrap_or_default();
    let variables = variables(&args.process, &args.hard, names, &mut faults);
    let mass = args.mass.as_ref().and_then(|text| faults.collect(quantity::<Mass>("--mass", text)));
    if mass.as_ref().is_some_and(|mass| mass.value <= Mass::ZERO) {
        let fault = Fault::new("empty_batch", "a batch needs a mass above 0", Place::named("--mass"));
        faults.push(fault.with_hint("Write it like --mass \"20 g\"."));
    }
    if 1 < args.blocks && variables.iter().any(|variable| variable.is_hard) {
        let fault = Fault::new(
            "blocks_and_plots",
            "--blocks and --hard both say which runs stand together",
            Place::named("--blocks --hard"),
        );
        faults.push(fault.with_hint("Keep one of them; with --hard, --replicates repeats the whole plots."));
    }
    let (order, crossing) = args.model.read(&mut faults);
    let (Some(space), Some((order, crossing)), true) = (space, order.zip(crossing), faults.is_empty()) else {
        return Err(faults.into());
    };
    let count = settings(&variables).len();
    let seed = args.seed.map_or_else(drawn_seed, Ok)?;
    let request = DesignRequest {
        model: Model::new(order, space.names.len(), variables, crossing),
        model_is_stated: args.model.is_stated(),
        crossing,
        centre: usize::from(args.centre),
        arrangement: Arrangement {
            replicates: usize::from(args.replicates),
            blocks: usize::from(args.blocks),
            seed,
        },
        mass,
        space,
    };
    request.check_size(1, count)?;
    Ok(request)
}

impl ModelArgs {
    /// True if the person chose the model.
    pub(super) fn is_stated(&self) -> bool {
        self.model.is_some()
    }

    /// The order of the model and how process variables act.
    pub(super) fn read(&self, faults: &mut Faults) -> (Option<Order>, Option<Crossing>) {
        let order = match self.model.as_deref() {
            None => Some(Order::Quadratic),
            Some(text) => faults.collect(order(text)),
        };
        let crossing = match self.crossed.as_deref() {
            None => Some(Crossing::Every),
            Some(text) => faults.collect(crossing(text)),
        };
        (order, crossing)
    }
}

fn order(text: &str) -> Result<Order, Fault> {
    let known = Order::ALL.map(Order::name);
    Order::ALL.into_iter().find(|order| order.name() == text.trim()).ok_or_else(|| {
        let place = Place::in_text("--model", text, 0..text.len());
        Fault::new("unknown_model", format!("unknown model {text:?}"), place).with_hint(one_of(text, &known))
    })
}

fn crossing(text: &str) -> Result<Crossing, Fault> {
    match text.trim() {
        "every" => Ok(Crossing::Every),
        "linear" => Ok(Crossing::Linear),
        "common" => Ok(Crossing::Common),
        _ => {
            let place = Place::in_text("--crossed", text, 0..text.len());
            let message = format!("unknown way to cross {text:?}");
            let hint = one_of(text, &["every", "linear", "common"]);
            Err(Fault::new("unknown_crossing", message, place).with_hint(hint))
        }
    }
}

fn one_of(text: &str, known: &[&str]) -> String {
    did_you_mean(text, known.iter().copied(), &format!("Write one of {}.", known.join(", ")))
}
