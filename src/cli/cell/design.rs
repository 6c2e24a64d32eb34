//! `cell design`: the files that say how cells are built.

use clap::{Args, Subcommand};
use serde_json::{Value, json};

use crate::cli::args::Common;
use crate::cli::outcome::{Failure, Outcome};
use crate::cli::request::{cell_design, designs};
use crate::input::Faults;
use crate::record::{CellDesign, read_design};
use crate::report::view::{design_document, design_list};

/// Cell designs: list and show them; show --source prints the file, to start one of your own
#[derive(Debug, Args)]
pub(super) struct DesignArgs {
    #[command(subcommand)]
    command: DesignCommand,
}

#[derive(Debug, Subcommand)]
enum DesignCommand {
    /// List the designs of the book and the worked ones
    #[command(after_help = "Example:\n  meltbook cell design list")]
    List,
    /// Show a design with its reading schedule
    #[command(
        after_help = "Examples:\n  meltbook cell design show sealed-vial-zinc-carbon\n  meltbook cell design show sealed-vial-zinc-carbon --source --out mine.toml"
    )]
    Show {
        /// The design: a path, a name in the book's designs folder, or a worked one
        #[arg(value_name = "DESIGN")]
        design: String,
        /// The file itself, with its comments
        #[arg(long)]
        source: bool,
    },
}

pub(super) fn run(common: &Common, args: &DesignArgs) -> Result<Outcome, Failure> {
    match &args.command {
        DesignCommand::List => list(common),
        DesignCommand::Show { design, source } => {
            let design = cell_design(common, design)?;
            let mut outcome = Outcome::new("cell design show", answer(&design), design_document(&design));
            outcome.verbatim = source.then(|| design.text.clone());
            Ok(outcome)
        }
    }
}

fn list(common: &Common) -> Result<Outcome, Failure> {
    let mut faults = Faults::none();
    let mut list: Vec<(String, CellDesign)> = Vec::new();
    for (name, origin, text) in designs(common)? {
        list.extend(faults.collect(read_design(&origin, &text)).map(|design| (name, design)));
    }
    let list = faults.or(list)?;
    let answer: Vec<Value> = list
        .iter()
        .map(|(name, design)| json!({ "design": name, "name": design.name, "sealed": design.sealed, "readings": design.schedule.len() }))
        .collect();
    Ok(Outcome::new("cell design list", Value::Array(answer), design_list(&list)))
}

fn answer(design: &CellDesign) -> Value {
    let fields: serde_json::Map<String, Value> =
        design.fields().into_iter().map(|(name, value)| (name.replace(' ', "_"), value.into())).collect();
    let schedule: Vec<Value> =
        design.schedule.iter().map(|due| json!({ "day": due.day, "what": due.what })).collect();
    json!({ "name": design.name, "sealed": design.sealed, "fields": fields, "schedule": schedule })
}
