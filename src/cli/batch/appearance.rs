//! `batch appearance`: what is seen, on a schedule.

use std::path::Path;

use clap::Args;

use super::answer::{plain, record};
use crate::cli::args::Common;
use crate::cli::outcome::{Failure, Outcome};
use crate::cli::request::{RecordArgs, code, failure, open_book, quantity, standing};
use crate::input::{Fault, Faults, Place};
use crate::quantity::Temperature;
use crate::record::Event;
use crate::record::batch::AppearanceSeen;
use crate::record::schedule::Look;

/// Record what is seen: clarity, colour, crystals, phases, bubbles
#[derive(Debug, Args)]
#[command(
    after_help = "Example:\n  meltbook batch appearance E1 --clarity clear --colour colourless --crystals none --phases 1 \\\n      --bubbles none --temperature \"23 °C\" --occasion \"24 h\""
)]
pub(super) struct AppearanceArgs {
    /// The batch
    #[arg(value_name = "CODE")]
    code: String,
    /// Clear, hazy, turbid
    #[arg(long, value_name = "WORD")]
    clarity: String,
    /// End of heating, cooled, 24 h, 7 d, week 2, after cold hold, after seeding [default: the one that is due]
    #[arg(long, value_name = "TEXT")]
    occasion: Option<String>,
    /// Colour in words
    #[arg(long, value_name = "TEXT")]
    colour: Option<String>,
    /// Crystals in words; none is a finding too
    #[arg(long, value_name = "TEXT")]
    crystals: Option<String>,
    /// How many liquid phases
    #[arg(long, value_name = "NUMBER", allow_hyphen_values = true)]
    phases: Option<String>,
    /// Bubbles in words
    #[arg(long, value_name = "TEXT")]
    bubbles: Option<String>,
    /// Temperature of the liquid
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    temperature: Option<String>,
    /// A picture; a copy is kept in the book
    #[arg(long, value_name = "FILE")]
    picture: Option<String>,
    /// Anything else
    #[arg(long, value_name = "TEXT")]
    note: Option<String>,
    #[command(flatten)]
    record: RecordArgs,
}

pub(super) fn run(common: &Common, args: &AppearanceArgs) -> Result<Outcome, Failure> {
    let code = code("CODE", &args.code)?;
    let mut faults = Faults::none();
    let phases = args.phases.as_ref().and_then(|text| faults.collect(phases(text)));
    let temperature = args.temperature.as_ref();
    let temperature =
        temperature.and_then(|text| faults.collect(quantity::<Temperature>("--temperature", text)));
    if let Some(path) = args.picture.as_ref().filter(|path| !Path::new(path).is_file()) {
        let fault =
            Fault::new("file_not_found", format!("there is no file {path}"), Place::named("--picture"));
        faults.push(fault.with_hint("Check the path and the folder that you are in."));
    }
    if !faults.is_empty() {
        return Err(faults.into());
    }
    let at = args.record.at()?;
    let book = open_book(common)?;
    let occasion = match &args.occasion {
        Some(occasion) => occasion.clone(),
        None => due(&standing(&book, &code)?.looks, at),
    };
    let picture = args.picture.as_ref().map(|path| book.keep_file(Path::new(path)));
    let picture = picture.transpose().map_err(|error| failure(&error))?;
    drop(book);
    let seen = AppearanceSeen {
        batch: code.clone(),
        occasion,
        clarity: args.clarity.trim().to_owned(),
        colour: args.colour.clone(),
        crystals: args.crystals.clone(),
        phases,
        bubbles: args.bubbles.clone(),
        temperature,
        picture,
        note: args.note.clone(),
        at,
    };
    record(common, &args.record, &code, Event::BatchAppearance(seen), "Looked at", plain)
}

/// The latest look that is due and not done.
fn due(looks: &[Look], at: jiff::Timestamp) -> String {
    let due = looks.iter().rfind(|look| look.done.is_none() && look.due <= at);
    due.map_or("unscheduled".to_owned(), |look| look.occasion.clone())
}

fn phases(text: &str) -> Result<u8, Fault> {
    text.trim().parse::<u8>().ok().filter(|phases| 1 <= *phases).ok_or_else(|| {
        let place = Place::in_text("--phases", text, 0..text.len());
        Fault::new("bad_phases", format!("{text:?} is no number of liquid phases"), place)
            .with_hint("Write it like --phases 1.")
    })
}
