//! `batch finish`: how it was made, and what was there afterwards.

use clap::Args;

use super::answer::{answer, plain, write};
use crate::cli::args::Common;
use crate::cli::outcome::{Failure, Outcome};
use crate::cli::request::{self, RecordArgs, code, heat_warnings, open_book, quantity, standing};
use crate::input::Faults;
use crate::quantity::{Mass, Temperature, TimeSpan};
use crate::record::Event;
use crate::record::batch::Finished;

/// Record the end of making it: route, heat, atmosphere, end point, yield
#[derive(Debug, Args)]
#[command(
    after_help = "Example:\n  meltbook batch finish E2 --route \"heated and stirred\" --heat \"70 °C\" --for \"1 h\" \\\n      --atmosphere air --end \"clear and uniform\" --mass \"32.38 g\""
)]
pub(super) struct FinishArgs {
    /// The batch
    #[arg(value_name = "CODE")]
    code: String,
    /// Heated and stirred, ground, evaporated
    #[arg(long, value_name = "TEXT")]
    route: Option<String>,
    /// The hottest it got
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    heat: Option<String>,
    /// How long it was hot
    #[arg(long = "for", value_name = "TIME", allow_hyphen_values = true)]
    time: Option<String>,
    /// Gas over it
    #[arg(long, value_name = "GAS")]
    atmosphere: Option<String>,
    /// What showed that it was done
    #[arg(long, value_name = "TEXT")]
    end: Option<String>,
    /// Mass that was there afterwards; what lacks was lost in making
    #[arg(long, visible_alias = "yield", value_name = "MASS", allow_hyphen_values = true)]
    mass: Option<String>,
    #[command(flatten)]
    record: RecordArgs,
}

pub(super) fn run(common: &Common, args: &FinishArgs) -> Result<Outcome, Failure> {
    let code = code("CODE", &args.code)?;
    let mut faults = Faults::none();
    let heat = args.heat.as_ref().and_then(|text| faults.collect(quantity::<Temperature>("--heat", text)));
    let time = args.time.as_ref().and_then(|text| faults.collect(quantity::<TimeSpan>("--for", text)));
    let mass = args.mass.as_ref().and_then(|text| faults.collect(quantity::<Mass>("--mass", text)));
    if !faults.is_empty() {
        return Err(faults.into());
    }
    let table = request::component_table(common)?;
    let warnings = match &heat {
        Some(heat) => {
            let made = standing(&open_book(common)?, &code)?.made;
            let inside = made.iter().flat_map(|made| &made.composition.constituents);
            inside.flat_map(|own| heat_warnings(&table, own.component.id.as_str(), heat.value)).collect()
        }
        None => Vec::new(),
    };
    let finished = Finished {
        batch: code.clone(),
        route: args.route.clone(),
        heat,
        time,
        atmosphere: args.atmosphere.clone(),
        end: args.end.clone(),
        mass,
        because: args.record.because.clone(),
        at: args.record.at()?,
    };
    write(common, &args.record, |writer| writer.append(&Event::BatchFinished(finished)).map(|_| ()))?;
    answer(common, &code, "Finished", warnings, plain)
}
