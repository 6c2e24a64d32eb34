//! The typed request of `candidates`.

use clap::Args;

use super::house::{all_bottles, stock};
use super::limit::{AlertLimit, MoistnessLimit, SignalLimit, price_limit, typed};
use super::lists::list;
use super::price_file::price_file;
use super::prices::prices;
use super::ratio::ratios;
use crate::caution::Scheme;
use crate::cli::args::Common;
use crate::cli::outcome::Failure;
use crate::cli::request::review::{scheme, scheme_here};
use crate::cli::request::table::component_table;
use crate::component::{ComponentTable, RatioBasis, Role};
use crate::compose::candidates::{Combinations, Limits, combinations};
use crate::input::{Fault, Faults, Place, Warning};
use crate::quantity::{Mass, Temperature};
use crate::recipe::{Recipe, WORKED_RECIPES, read_recipe};
use crate::report::view::{CandidateList, CandidatePrices, CandidateRatios, CandidateStock, LimitTexts};

/// Where nothing else is said. The answer states each of them.
const RATIOS: [&[f64]; 2] = [&[1.0, 1.0], &[1.0, 2.0]];
const RATIOS_OF_THREE: [&[f64]; 1] = [&[1.0, 1.0, 1.0]];
const TOP: usize = 12;
/// More than this nobody reads, and it would take long.
const MOST: usize = 20_000;

#[derive(Debug, Args)]
#[command(next_help_heading = "What is combined")]
pub(in crate::cli) struct CandidatesOptions {
    /// A component, or a role for all of its components, such as salt; repeatable [default: acceptor]
    #[arg(long = "acceptor", value_name = "COMPONENT or ROLE")]
    acceptors: Vec<String>,
    /// The same for the second place; repeatable [default: donor]
    #[arg(long = "donor", value_name = "COMPONENT or ROLE")]
    donors: Vec<String>,
    /// A third component of every candidate; repeatable
    #[arg(long = "third", value_name = "COMPONENT or ROLE")]
    thirds: Vec<String>,
    /// Moles of acceptor to donor (to the third); repeatable [default: 1:1 and 1:2; of three 1:1:1]
    #[arg(long = "ratio", value_name = "RATIO", allow_hyphen_values = true)]
    ratios: Vec<String>,
    /// Liquid at this temperature: measured melting points, else the ideal liquidus, lie at or below it
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true, help_heading = "Your limits")]
    liquid_at: Option<String>,
    /// The signal word of the mixture's classification is less than this
    #[arg(long, value_enum, value_name = "LEVEL", help_heading = "Your limits")]
    hazards_below: Option<SignalLimit>,
    /// The gravest alert for components that meet is less than this; what blocks is never proposed
    #[arg(long, value_enum, value_name = "LEVEL", help_heading = "Your limits")]
    alerts_below: Option<AlertLimit>,
    /// A kilogram of the liquid costs less than this, such as "80 EUR/kg"
    #[arg(long, value_name = "PRICE", allow_hyphen_values = true, help_heading = "Your limits")]
    price_below: Option<String>,
    /// Every component takes up water from air less readily than this
    #[arg(long, value_enum, value_name = "LEVEL", help_heading = "Your limits")]
    hygroscopic_below: Option<MoistnessLimit>,
    /// The bottles of the book hold enough for a batch of this mass
    #[arg(long, value_name = "MASS", allow_hyphen_values = true, help_heading = "Your limits")]
    in_house: Option<String>,
    /// Your own prices, a CSV file with the columns component, price with the currency in its head ("price (EUR)"),
    /// and amount ("500 g"); before the prices of the book's bottles
    #[arg(long, value_name = "FILE", help_heading = "What it rests on")]
    price: Option<String>,
    /// By whose rules mixtures are classified: ghs, clp or hcs [default: of meltbook.toml, else ghs]
    #[arg(long, value_name = "SCHEME", help_heading = "What it rests on")]
    scheme: Option<String>,
    /// How many are shown; JSON and CSV hold all [default: 12]
    #[arg(long, value_name = "NUMBER", help_heading = "What is shown")]
    top: Option<usize>,
    /// Only those that meet every limit
    #[arg(long, help_heading = "What is shown")]
    only_meeting: bool,
}

/// A typed request.
pub(in crate::cli) struct CandidatesRequest {
    pub(in crate::cli) lists: Vec<CandidateList>,
    pub(in crate::cli) ratios: CandidateRatios,
    pub(in crate::cli) combinations: Combinations,
    pub(in crate::cli) limits: Limits,
    pub(in crate::cli) texts: LimitTexts,
    pub(in crate::cli) prices: CandidatePrices,
    pub(in crate::cli) stock: CandidateStock,
    pub(in crate::cli) recipes: Vec<(&'static str, Recipe)>,
    pub(in crate::cli) scheme: Scheme,
    pub(in crate::cli) top: usize,
    pub(in crate::cli) only_meeting: bool,
    pub(in crate::cli) warnings: Vec<Warning>,
}

/// Reads table, flags, prices and bottles once; all faults together.
pub(in crate::cli) fn candidates_request(
    common: &Common,
    options: &CandidatesOptions,
) -> Result<CandidatesRequest, Failure> {
    let table = component_table(common)?;
    let mut faults = Faults::none();
    let lists = lists(&table, options, &mut faults);
    let usual: &[&[f64]] = if lists.len() == 3 { &RATIOS_OF_THREE } else { &RATIOS };
    let moles = ratios(&options.ratios, lists.len(), usual, &mut faults);
    let (mut limits, mut texts) = limits(options, &mut faults);
    let limit = options.price_below.as_ref().and_then(|text| faults.collect(price_limit(text)));
    let limit_text = options.price_below.as_deref().unwrap_or_default();
    let file = match options.price.as_ref().map(|path| price_file(path, &table)).transpose() {
        Err(Failure::Input(found)) => {
            faults.extend(found);
            None
        }
        other => other?,
    };
    let bottles = all_bottles(common)?;
    let shelf = bottles.as_deref().unwrap_or_default();
    let found = prices(file, shelf, limit.as_ref().map(|limit| (limit, limit_text)), &mut faults);
    limits.price_below_per_kg = limit.map(|limit| limit.per_kg);
    texts.price = options.price_below.clone();
    let scheme = match &options.scheme {
        Some(word) => faults.collect(scheme(word)).unwrap_or_default(),
        None => scheme_here(common)?,
    };
    refuse_too_many(&lists, moles.len(), &mut faults);
    faults.or(())?;
    let stock = CandidateStock { grams: bottles.as_deref().map(stock).transpose()? };
    let warnings = no_book(&stock, &limits).into_iter().collect();
    let components: Vec<_> = lists.iter().map(|list| list.components.clone()).collect();
    Ok(CandidatesRequest {
        combinations: combinations(&components, &moles),
        ratios: CandidateRatios { moles, by_default: options.ratios.is_empty() },
        lists,
        limits,
        texts,
        prices: found,
        stock,
        recipes: recipes(&table),
        scheme,
        top: options.top.unwrap_or(TOP),
        only_meeting: options.only_meeting,
        warnings,
    })
}

fn lists(table: &ComponentTable, options: &CandidatesOptions, faults: &mut Faults) -> Vec<CandidateList> {
    let mut lists = vec![
        list(table, "--acceptor", &options.acceptors, Role::Acceptor, faults),
        list(table, "--donor", &options.donors, Role::Donor, faults),
    ];
    if !options.thirds.is_empty() {
        lists.push(list(table, "--third", &options.thirds, Role::Donor, faults));
    }
    lists
}

fn limits(options: &CandidatesOptions, faults: &mut Faults) -> (Limits, LimitTexts) {
    let liquid_at = typed::<Temperature>("--liquid-at", options.liquid_at.as_ref(), faults);
    let in_house = typed::<Mass>("--in-house", options.in_house.as_ref(), faults);
    let limits = Limits {
        liquid_at_k: liquid_at.as_ref().map(|typed| typed.value.kelvin()),
        hazards_below: options.hazards_below.map(SignalLimit::level),
        alerts_below: options.alerts_below.map(AlertLimit::level),
        price_below_per_kg: None,
        hygroscopic_below: options.hygroscopic_below.map(MoistnessLimit::level),
        in_house_g: in_house.as_ref().map(|typed| typed.value.get()),
    };
    let texts = LimitTexts {
        liquid_at: liquid_at.map(|typed| typed.text),
        price: None,
        in_house: in_house.map(|typed| typed.text),
    };
    (limits, texts)
}

fn refuse_too_many(lists: &[CandidateList], ratios: usize, faults: &mut Faults) {
    let count = lists.iter().map(|list| list.components.len()).product::<usize>() * ratios;
    if MOST < count {
        let message = format!("{count} combinations are more than {MOST}");
        let fault = Fault::new("too_many_candidates", message, Place::named("the command line"));
        faults.push(fault.with_hint("Name some components instead of all of a role, or give fewer ratios."));
    }
}

fn no_book(stock: &CandidateStock, limits: &Limits) -> Option<Warning> {
    let message =
        "there is no book here or above, so that nobody knows what is in the house: name one with --book DIR";
    (stock.grams.is_none() && limits.in_house_g.is_some()).then(|| Warning::new("no_book", message))
}

/// The worked recipes that are nothing but a mole ratio. They are read by the table in force; one that it breaks is
/// left out.
fn recipes(table: &ComponentTable) -> Vec<(&'static str, Recipe)> {
    let read = WORKED_RECIPES
        .iter()
        .filter_map(|(name, text)| Some((*name, read_recipe(&format!("{name}.toml"), text, table).ok()?)));
    let bare = |recipe: &Recipe| {
        let proportions = &recipe.proportions;
        proportions.basis == RatioBasis::Mole
            && proportions.additions.is_empty()
            && proportions.water.is_none()
    };
    read.filter(|(_, recipe)| bare(recipe)).collect()
}
