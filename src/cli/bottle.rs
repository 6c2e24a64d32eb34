//! `bottle`: what stands on the shelf.

use clap::{Args, Subcommand};
use serde_json::{Value, json};

use super::args::Common;
use super::outcome::{Failure, Outcome};
use super::request::{
    self, Need, NeedArgs, ReceiveArgs, RecordArgs, code, failure, named_quality, open_book, quantity, stamp,
};
use crate::book::{bottle, bottles};
use crate::input::{Faults, Warning};
use crate::quantity::{FractionInterval, Mass, Temperature, TimeSpan};
use crate::record::bottle::Bottle;
use crate::record::bottle::{Disposed, Dried, LeftWeighed, Opened, Received};
use crate::record::{Code, CodeKind, Event};
use crate::report::document::{Document, facts, paragraph};
use crate::report::view::{Shelf, bottle_document, bottle_list, shelf_states};

/// Bottles: take in, open, dry a portion, weigh what is left, give to waste; what must be bought
#[derive(Debug, Args)]
pub(super) struct BottleArgs {
    #[command(subcommand)]
    command: BottleCommand,
}

#[derive(Debug, Subcommand)]
enum BottleCommand {
    /// Take in a package of a component
    #[command(
        after_help = "Example:\n  meltbook bottle receive \"ChCl assay=98% basis=dried moisture=1.5%\" --net \"500 g\" \\\n      --supplier \"the supplier\" --lot 4711 --price \"45.50 EUR\" --expires 2028-10-01"
    )]
    Receive(Box<ReceiveArgs>),
    /// Note that a bottle was opened for the first time
    #[command(after_help = "Example:\n  meltbook bottle open B1")]
    Open {
        /// The bottle
        #[arg(value_name = "CODE")]
        code: String,
        #[command(flatten)]
        record: RecordArgs,
    },
    /// Dry a portion; it is a bottle of its own from then on, with its own moisture
    #[command(
        after_help = "Example:\n  meltbook bottle dry B1 --taken \"50 g\" --dried \"49.2 g\" --heat \"80 °C\" --for \"12 h\" \\\n      --atmosphere vacuum --moisture 0.05%"
    )]
    Dry {
        /// The bottle that the portion is taken from
        #[arg(value_name = "CODE")]
        code: String,
        /// Mass that was taken
        #[arg(long, value_name = "MASS", allow_hyphen_values = true)]
        taken: String,
        /// Mass after drying
        #[arg(long, value_name = "MASS", allow_hyphen_values = true)]
        dried: String,
        /// Temperature of drying
        #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
        heat: Option<String>,
        /// Time at that temperature
        #[arg(long = "for", value_name = "TIME", allow_hyphen_values = true)]
        time: Option<String>,
        /// Vacuum, nitrogen, air
        #[arg(long, value_name = "GAS")]
        atmosphere: Option<String>,
        /// Moisture of the dried portion, if it was measured
        #[arg(long, value_name = "PERCENT", allow_hyphen_values = true)]
        moisture: Option<String>,
        #[command(flatten)]
        record: RecordArgs,
    },
    /// Weigh what is left in a bottle
    #[command(after_help = "Example:\n  meltbook bottle weigh B1 \"312.4 g\"")]
    Weigh {
        /// The bottle
        #[arg(value_name = "CODE")]
        code: String,
        /// Mass of the content
        #[arg(value_name = "MASS", allow_hyphen_values = true)]
        left: String,
        #[command(flatten)]
        record: RecordArgs,
    },
    /// Note that a bottle was given to waste; --because says why and which way
    #[command(
        after_help = "Example:\n  meltbook bottle dispose B1 --because \"past its date, to the salt waste\""
    )]
    Dispose {
        /// The bottle
        #[arg(value_name = "CODE")]
        code: String,
        #[command(flatten)]
        record: RecordArgs,
    },
    /// List the bottles with what is left, near or past their date, and stale moisture
    #[command(after_help = "Example:\n  meltbook bottle list")]
    List {
        /// Also those that are gone
        #[arg(long)]
        all: bool,
    },
    /// Show all that is known of a bottle
    #[command(after_help = "Example:\n  meltbook bottle show B1")]
    Show {
        /// The bottle
        #[arg(value_name = "CODE")]
        code: String,
    },
    /// What must be bought for batches of these recipes, and what they cost
    #[command(
        after_help = "Example:\n  meltbook bottle need \"ChCl:urea 1:2\" \"ChCl:glycerol 1:2\" --mass \"200 g\" --cells 24"
    )]
    Need(NeedArgs),
}

pub(super) fn run(common: &Common, args: &BottleArgs) -> Result<Outcome, Failure> {
    match &args.command {
        BottleCommand::Receive(args) => receive(common, args),
        BottleCommand::Open { code, record } => {
            let at = record.at()?;
            record_one(common, record, code, |code| Ok(Event::BottleOpened(Opened { code, at })))
        }
        BottleCommand::Weigh { code, left, record } => {
            let at = record.at()?;
            let left = quantity::<Mass>("MASS", left)?;
            record_one(common, record, code, |code| Ok(Event::BottleWeighed(LeftWeighed { code, left, at })))
        }
        BottleCommand::Dispose { code, record } => {
            let at = record.at()?;
            let reason = request::reason(record, "why the bottle goes and which way")?;
            record_one(common, record, code, |code| Ok(Event::BottleDisposed(Disposed { code, reason, at })))
        }
        BottleCommand::Dry { .. } => dry(common, &args.command),
        BottleCommand::List { all } => list(common, *all),
        BottleCommand::Show { code } => show(common, code),
        BottleCommand::Need(args) => need(common, args),
    }
}

fn receive(common: &Common, args: &ReceiveArgs) -> Result<Outcome, Failure> {
    let table = request::component_table(common)?;
    let settings = request::settings(common)?;
    let mut faults = Faults::none();
    let named = faults.collect(named_quality("bottle receive", &args.component, &table));
    let facts = faults.collect(args.facts());
    let (Some((component, quality)), Some(facts)) = (named, facts) else { return Err(faults.into()) };
    let stamp = stamp(args.record.by.as_deref(), settings.as_ref())?;
    let received = match facts.received {
        Some(day) => day,
        None => request::today()?,
    };
    let mut book = open_book(common)?;
    let code = book
        .write(&stamp, |writer| {
            let code = writer.next_code(CodeKind::Bottle)?;
            writer.append(&Event::BottleReceived(Received {
                code: code.clone(),
                component: component.id.clone(),
                name: component.name.clone(),
                quality,
                supplier: args.supplier.clone(),
                supplier_lot: args.lot.clone(),
                net: facts.net,
                price: facts.price,
                received,
                expires: facts.expires,
                storage: args.storage.clone(),
                note: args.note.clone(),
            }))?;
            Ok(code)
        })
        .map_err(|error| failure(&error))?;
    answer(common, &code, "Taken in", Vec::new())
}

/// Records one event about one bottle and shows the bottle.
fn record_one(
    common: &Common,
    record: &RecordArgs,
    text: &str,
    event: impl FnOnce(Code) -> Result<Event, Failure>,
) -> Result<Outcome, Failure> {
    let code = code("CODE", text)?;
    let settings = request::settings(common)?;
    let stamp = stamp(record.by.as_deref(), settings.as_ref())?;
    let event = event(code.clone())?;
    let mut book = open_book(common)?;
    book.write(&stamp, |writer| writer.append(&event)).map_err(|error| failure(&error))?;
    answer(common, &code, "Recorded", Vec::new())
}

fn dry(common: &Common, command: &BottleCommand) -> Result<Outcome, Failure> {
    let BottleCommand::Dry { code: from, taken, dried, heat, time, atmosphere, moisture, record } = command
    else {
        return Err(Failure::Input(Faults::none()));
    };
    let from = code("CODE", from)?;
    let mut faults = Faults::none();
    let taken = faults.collect(quantity::<Mass>("--taken", taken));
    let dried = faults.collect(quantity::<Mass>("--dried", dried));
    let heat = heat.as_ref().and_then(|text| faults.collect(quantity::<Temperature>("--heat", text)));
    let time = time.as_ref().and_then(|text| faults.collect(quantity::<TimeSpan>("--for", text)));
    let moisture = moisture.as_ref().and_then(|text| faults.collect(interval("--moisture", text)));
    let (Some(taken), Some(dried), true) = (taken, dried, faults.is_empty()) else {
        return Err(faults.into());
    };
    let at = record.at()?;
    let settings = request::settings(common)?;
    let stamp = stamp(record.by.as_deref(), settings.as_ref())?;
    let table = request::component_table(common)?;
    let mut book = open_book(common)?;
    let parent = bottle(&book, &from).map_err(|error| failure(&error))?;
    let warnings = heat.as_ref().map(|heat| request::heat_warnings(&table, &parent.component, heat.value));
    let code = book
        .write(&stamp, |writer| {
            let code = writer.next_code(CodeKind::Bottle)?;
            let atmosphere = atmosphere.clone();
            let event =
                Dried { code: code.clone(), from, taken, dried, heat, time, atmosphere, moisture, at };
            writer.append(&Event::BottleDried(event))?;
            Ok(code)
        })
        .map_err(|error| failure(&error))?;
    answer(common, &code, "Dried", warnings.unwrap_or_default())
}

fn interval(flag: &str, text: &str) -> Result<FractionInterval, crate::input::Fault> {
    FractionInterval::parse(text).map_err(|error| {
        let place = crate::input::Place::in_text(flag, text, 0..text.len());
        crate::input::Fault::of_quantity(&error, place)
    })
}

/// The bottle as it stands after an entry, with the head of the book.
fn answer(common: &Common, code: &Code, title: &str, warnings: Vec<Warning>) -> Result<Outcome, Failure> {
    let book = open_book(common)?;
    let row = bottle(&book, code).map_err(|error| failure(&error))?;
    let (entry, head) = book.head().map_err(|error| failure(&error))?;
    let shelf = Shelf::of(&row, request::today()?);
    let warnings: Vec<Warning> = warnings.into_iter().chain(more_than_it_came_with(&row)).collect();
    let mut document = Document::new(format!("{title}: {code}"));
    document.extend(bottle_document(&row, &shelf).blocks().to_vec());
    document.push(facts([("Entry", format!("{entry}, head {}", head.short()))]));
    document.extend(warnings.iter().map(|w| crate::report::document::Caution::warn(w.message.as_str())));
    let mut value = bottle_answer(&row, &shelf);
    value["entry"] = json!(entry);
    value["head"] = json!(head.to_string());
    let mut outcome = Outcome::new("bottle show", value, document);
    outcome.warnings = warnings;
    Ok(outcome)
}

/// A bottle may hold a little more than its label says, and no multiple of it.
fn more_than_it_came_with(bottle: &Bottle) -> Option<Warning> {
    let message = format!(
        "{} now holds {:.2} g by the last weighing and came with {:.2} g: if one of the two is a slip, put it right with \
         meltbook correct",
        bottle.code, bottle.left_g, bottle.net_g
    );
    (MOST_OVER * bottle.net_g < bottle.left_g).then(|| Warning::new("more_than_it_came_with", message))
}

/// How far above its label a filled bottle is taken as plausible (common practice: a few percent).
const MOST_OVER: f64 = 1.05;

fn list(common: &Common, all: bool) -> Result<Outcome, Failure> {
    let book = open_book(common)?;
    let today = request::today()?;
    let rows = bottles(&book).map_err(|error| failure(&error))?;
    let shelves = rows.into_iter().filter(|row| all || row.disposed.is_none());
    let shelves: Vec<(Bottle, Shelf)> = shelves.map(|row| (row.clone(), Shelf::of(&row, today))).collect();
    let answer: Vec<Value> = shelves.iter().map(|(row, shelf)| bottle_answer(row, shelf)).collect();
    let mut document = bottle_list(&shelves);
    if shelves.is_empty() {
        document.push(paragraph("No bottle yet. Take one in with: meltbook bottle receive."));
    }
    Ok(Outcome::new("bottle list", Value::Array(answer), document))
}

fn show(common: &Common, text: &str) -> Result<Outcome, Failure> {
    let code = code("CODE", text)?;
    let book = open_book(common)?;
    let row = bottle(&book, &code).map_err(|error| failure(&error))?;
    let shelf = Shelf::of(&row, request::today()?);
    Ok(Outcome::new("bottle show", bottle_answer(&row, &shelf), bottle_document(&row, &shelf)))
}

fn need(common: &Common, args: &NeedArgs) -> Result<Outcome, Failure> {
    let table = request::component_table(common)?;
    let book = open_book(common)?;
    let rows = bottles(&book).map_err(|error| failure(&error))?;
    let need = Need::of(common, args, &table, &rows, request::today()?)?;
    let mut outcome = Outcome::new("bottle need", need.answer(), need.document());
    outcome.no = need.is_short();
    Ok(outcome)
}

fn bottle_answer(row: &Bottle, shelf: &Shelf) -> Value {
    json!({
        "code": row.code.to_string(),
        "component": row.component,
        "name": row.name,
        "quality": row.quality,
        "supplier": row.supplier,
        "supplier_lot": row.supplier_lot,
        "net_g": row.net_g,
        "left_g": row.left_g,
        "price": row.price.as_ref().map(|(amount, _)| amount),
        "currency": row.price.as_ref().map(|(_, currency)| currency),
        "received": row.received,
        "expires": row.expires,
        "opened": row.opened,
        "disposed": row.disposed,
        "dried_from": row.dried_from.as_ref().map(ToString::to_string),
        "storage": row.storage,
        "note": row.note,
        "states": shelf_states(shelf),
    })
}
