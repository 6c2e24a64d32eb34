//! `study plan`: a study is written down.

use clap::Args;

use super::answer::of_study;
use super::show::shown;
use crate::cli::args::Common;
use crate::cli::outcome::{Failure, Outcome};
use crate::cli::request::{
    self, StudyAround, StudyOptions, all_batches, failure, now, open_book, stamp, study_power, study_request,
    today,
};
use crate::input::Warning;
use crate::record::study::Planned;
use crate::record::{CodeKind, Event};
use crate::report::document::facts;

/// Write down what is to be compared, before the first reading
///
/// By flags, or a file of the same names (TOML; electrolytes, readings and causes are lists there). What is not said
/// has a default that the answer states. The date of the study is that of its entry: written after a reading of its
/// cells, it says so for ever. It can be corrected, and shows both then.
#[derive(Debug, Args)]
#[command(after_help = "\
Example:
  meltbook study plan --question \"Does the second liquid hold its voltage longer?\" \\
      --electrolyte \"E1 name=A\" --electrolyte \"E2 name=B\" --metric \"voltage day=14\" \\
      --cells 6 --ends 2026-12-20 --blocks \"operator AB CD\" \\
      --reading \"open-circuit every=7d until=14d\" --difference \"20 mV\" --sd \"12 mV\"")]
pub(super) struct PlanArgs {
    #[command(flatten)]
    options: StudyOptions,
    /// Initials of who writes it; before MELTBOOK_AUTHOR and meltbook.toml
    #[arg(long, value_name = "INITIALS", help_heading = "The entry")]
    by: Option<String>,
}

pub(super) fn run(common: &Common, args: &PlanArgs) -> Result<Outcome, Failure> {
    let settings = request::settings(common)?;
    let stamp = stamp(args.by.as_deref(), settings.as_ref())?;
    let mut book = open_book(common)?;
    let batches = all_batches(&book)?;
    let around = StudyAround { common, batches: &batches, today: today()?, at: now()? };
    let planned = study_request(&args.options, &around)?;
    let code = book.write(&stamp, |writer| {
        let code = writer.next_code(CodeKind::Study)?;
        writer.append(&Event::StudyPlanned(Box::new(Planned { code: code.clone(), ..planned.clone() })))?;
        Ok(code)
    });
    let code = code.map_err(|error| failure(&error))?;
    let (records, mut document) = shown(&book, &code)?;
    let head = book.head().map_err(|error| failure(&error))?;
    document.push(facts([("Entry", format!("{}, head {}", head.0, head.1.short()))]));
    let shortfall = study_power(&planned).and_then(|power| power.shortfall());
    let mut outcome = Outcome::new("study plan", of_study(&records), document);
    outcome.warnings.extend(shortfall.map(|message| Warning::new("not_enough_cells", message)));
    Ok(outcome)
}
