//! From the arguments of `plan` and `sheet` to one request. Here alone are their defaults.

use clap::Args;

use super::book_bottle::{ByCode, by_code};
use super::bottle::supplies;
use super::recipe_source::recipe;
use super::review::scheme_of;
use super::settings::Settings;
use super::size::{SizeArgs, parsed};
use super::surroundings::settings;
use super::table::component_table;
use super::weighed::weighed as real;
use crate::caution::Scheme;
use crate::cli::args::Common;
use crate::cli::outcome::Failure;
use crate::component::{Component, ComponentId, ComponentTable};
use crate::input::{Fault, Faults, FlagValue, Place, Warning};
use crate::plan::{
    AirDensity, Balance, LiquidsAt, Plan, PlanError, PlanRequest, Size, Supply, Tolerance, Weighed, Weighing,
    plan,
};
use crate::quantity::{Density, Mass, Relative, Temperature, Typed};
use crate::recipe::{Recipe, SolutionDensity};
use crate::record::Code;

/// Ratio tolerance where neither recipe nor person states one (design decision of this project, printed
/// as a default wherever it is used).
const TOLERANCE: Relative = Relative::new(0.01);
/// Temperature of liquids measured by volume, where none is stated.
const LIQUIDS_AT: Temperature = Temperature::from_celsius(25.0);

/// What is planned, and from what.
#[derive(Debug, Args)]
pub(in crate::cli) struct PlanOptions {
    /// A path (has a slash or .toml), a shorthand such as "ChCl:urea 1:2", or a recipe's name
    #[arg(value_name = "RECIPE")]
    pub(in crate::cli) recipe: String,
    #[command(flatten)]
    size: SizeArgs,
    #[command(flatten)]
    supply: SupplyArgs,
    #[command(flatten)]
    instrument: InstrumentArgs,
}

#[derive(Debug, Args)]
#[command(next_help_heading = "Bottles and stock")]
struct SupplyArgs {
    /// What a component is taken from, or the code of a bottle of the book; repeatable. Keys: form, assay,
    /// assay_u, basis (dried, as-is, as-hydrate), moisture, moisture_u, density, density_at, label
    #[arg(long = "bottle", value_name = "NAME key=value… or CODE", allow_hyphen_values = true)]
    bottles: Vec<String>,
    /// How much of a component there is, such as "ChCl 12.4g"; repeatable. Without a size it gives the
    /// largest batch
    #[arg(long = "have", value_name = "NAME MASS", allow_hyphen_values = true)]
    stocks: Vec<String>,
    /// Density of the final solution, such as "1.205 g/mL at 25 °C"
    #[arg(long, value_name = "DENSITY", allow_hyphen_values = true)]
    density: Option<String>,
    /// Temperature of liquids that are measured by volume [default: 25 °C]
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    at: Option<String>,
}

#[derive(Debug, Args)]
#[command(next_help_heading = "Balance and tolerance")]
struct InstrumentArgs {
    /// The balance: d (readability), repeatability (standard deviation), linearity (half-width)
    #[arg(long, value_name = "d=… repeatability=… linearity=…", allow_hyphen_values = true)]
    balance: Option<String>,
    /// Weigh one after another into one flask without taring: neighbours are correlated
    #[arg(long, requires = "balance")]
    cumulative: bool,
    /// How far a ratio may be off [default: the recipe's, else 1 %]
    #[arg(long, value_name = "PERCENT", allow_hyphen_values = true)]
    tolerance: Option<String>,
    /// Flag masses below the minimum weight of USP general chapter 41
    #[arg(long, requires = "balance")]
    minimum_weight: bool,
    /// Correct for air buoyancy in air of this density, such as "1.2 kg/m3"
    #[arg(long, value_name = "DENSITY", allow_hyphen_values = true)]
    air_density: Option<String>,
}

/// A plan with what it was made from.
pub(in crate::cli) struct Planned {
    pub(in crate::cli) plan: Plan,
    pub(in crate::cli) warnings: Vec<Warning>,
    /// Components that are taken from bottles of the book.
    pub(in crate::cli) bottles: Vec<(ComponentId, Code)>,
    /// The scheme of the book, else the usual one.
    pub(in crate::cli) scheme: Scheme,
}

/// Reads everything once and plans.
///
/// `weighed` is what the balance really showed, if anything is in the flask already.
pub(in crate::cli) fn plan_request(
    common: &Common,
    options: &PlanOptions,
    weighed: &[String],
) -> Result<Planned, Failure> {
    let table = component_table(common)?;
    let settings = settings(common)?;
    let mut faults = Faults::none();
    let mut warnings = Vec::new();
    let recipe = match recipe(common, &table, &options.recipe) {
        Ok(recipe) => Some(recipe),
        Err(Failure::Input(found)) => {
            faults.extend(found);
            None
        }
        Err(storage) => return Err(storage),
    };
    let ByCode { supplies, bottles, described } =
        by_code(common, &options.supply.bottles, &table, &mut faults)?;
    let at_hand = AtHand { supplies, described, weighed: real(weighed, &table, &mut faults, &mut warnings) };
    let request = request(options, recipe, at_hand, &table, settings.as_ref(), &mut faults, &mut warnings);
    let Some(request) = request.filter(|_| faults.is_empty()) else { return Err(faults.into()) };
    let plan = plan(request, &table).map_err(|error| {
        Fault::new(error.code(), error.to_string(), place(options, &error)).with_hint(error.hint())
    })?;
    let scheme = scheme_of(settings.as_ref());
    Ok(Planned { plan, warnings, bottles, scheme })
}

/// Where the person gave what a plan fails for.
fn place(options: &PlanOptions, error: &PlanError) -> Place {
    match error {
        PlanError::EmptyBatch => Place::named("the batch size"),
        PlanError::AmountOfMassRatio => Place::named("--amount"),
        PlanError::NoStock | PlanError::EmptyStock { .. } => Place::named("--have"),
        PlanError::BadAir { .. } => Place::named("--air-density"),
        PlanError::NoTolerance => Place::named("--tolerance"),
        PlanError::BadDensity { .. } => Place::named("--bottle"),
        PlanError::DensityNeeded { by_size: true, .. } => options.size.volume_place(),
        PlanError::DensityNeeded { by_size: false, .. }
        | PlanError::NoRoom
        | PlanError::NoSolvent
        | PlanError::NothingDry
        | PlanError::NotInRecipe { .. } => {
            Place::in_text("RECIPE", options.recipe.as_str(), 0..options.recipe.len())
        }
    }
}

/// The bottles that stand in the book, the flags that describe others, and what is in the flask already.
struct AtHand {
    supplies: Vec<Supply>,
    described: Vec<String>,
    weighed: Vec<Weighed>,
}

fn request(
    options: &PlanOptions,
    recipe: Option<Recipe>,
    at_hand: AtHand,
    table: &ComponentTable,
    settings: Option<&Settings>,
    faults: &mut Faults,
    warnings: &mut Vec<Warning>,
) -> Option<PlanRequest> {
    let stocked = !options.supply.stocks.is_empty() || !at_hand.supplies.is_empty();
    let size = options.size.size(stocked, faults, warnings);
    let supplies = faults.collect(supplies(
        at_hand.supplies,
        &at_hand.described,
        &options.supply.stocks,
        table,
        warnings,
    ));
    let density = options.supply.density.as_ref().and_then(|text| faults.collect(solution_density(text)));
    let liquids_at = liquids_at(options.supply.at.as_deref(), faults, warnings);
    let instrument = &options.instrument;
    let balance = instrument.balance.as_ref().and_then(|text| faults.collect(balance(text, settings)));
    let stated =
        instrument.tolerance.as_ref().map(|text| parsed::<Relative>("--tolerance", text, faults, warnings));
    let air = instrument.air_density.as_ref();
    let air = air.and_then(|text| parsed("--air-density", text, faults, warnings)).map(AirDensity);
    let (recipe, supplies) = (recipe?, supplies?);
    refuse_strangers(&recipe, &supplies, &at_hand.weighed, table, faults);
    let stated = stated.flatten().or_else(|| recipe.ratio_tolerance.clone());
    let stated = stated.or_else(|| settings.and_then(|settings| settings.tolerance.clone()));
    let tolerance = tolerance(stated, faults);
    Some(PlanRequest {
        recipe,
        size: size?,
        supplies,
        balance,
        weighing: if instrument.cumulative { Weighing::Cumulative } else { Weighing::Each },
        tolerance,
        liquids_at,
        density,
        air,
        weighed: at_hand.weighed,
        minimum_weight: instrument.minimum_weight,
    })
}

fn tolerance(stated: Option<Typed<Relative>>, faults: &mut Faults) -> Tolerance {
    let Some(typed) = stated else { return Tolerance { value: TOLERANCE, stated: false } };
    if typed.value <= Relative::ZERO || Relative::new(1.0) <= typed.value {
        let message = format!("the ratio tolerance {} must lie between 0 and 100 %", typed.text);
        let place = Place::in_text("--tolerance", typed.text.as_str(), 0..typed.text.len());
        let fault = Fault::new("bad_tolerance", message, place);
        faults.push(fault.with_hint("Write it like \"1 %\"."));
    }
    Tolerance { value: typed.value, stated: true }
}

fn liquids_at(text: Option<&str>, faults: &mut Faults, warnings: &mut Vec<Warning>) -> LiquidsAt {
    let typed = text.and_then(|text| parsed::<Temperature>("--at", text, faults, warnings));
    LiquidsAt { value: typed.as_ref().map_or(LIQUIDS_AT, |typed| typed.value), typed }
}

/// `1.205 g/mL at 25 °C`, the temperature being optional but missed.
fn solution_density(text: &str) -> Result<SolutionDensity, Faults> {
    let (density, at) = match text.split_once(" at ") {
        Some((density, at)) => (density, Some(at)),
        None => (text, None),
    };
    let place = |part: &str| {
        let start = text.find(part).unwrap_or(0);
        Place::in_text("--density", text, start..start + part.len())
    };
    let mut faults = Faults::none();
    let value = Typed::<Density>::parse(density).map_err(|error| Fault::of_quantity(&error, place(density)));
    let value = faults.collect(value);
    let at = at.and_then(|at| {
        let typed = Typed::<Temperature>::parse(at).map_err(|error| Fault::of_quantity(&error, place(at)));
        faults.collect(typed)
    });
    match value {
        Some(value) if value.value <= Density::ZERO => {
            let fault = Fault::new("bad_density", "a density must be above 0", place(density));
            Err(fault.with_hint("Write it like \"1.205 g/mL at 25 °C\".").into())
        }
        Some(value) if faults.is_empty() => Ok(SolutionDensity { value, at, source: None }),
        _ => Err(faults),
    }
}

fn balance(text: &str, settings: Option<&Settings>) -> Result<Balance, Faults> {
    let flag = FlagValue::parse("--balance", text, &Balance::KEYS)?;
    if let Some(balance) = settings.and_then(|settings| settings.balance(&flag)) {
        return Ok(balance);
    }
    if !flag.name.is_empty() {
        let message = format!("no balance is called {:?}", flag.name);
        let fault = Fault::new("unknown_balance", message, flag.place());
        return Err(fault
            .with_hint("Give its data: \"d=0.01g repeatability=0.01g linearity=0.02g\".")
            .into());
    }
    Balance::from_flag(&flag)
}

/// A bottle or stock of something that the recipe does not hold is most likely a slip.
fn refuse_strangers(
    recipe: &Recipe,
    supplies: &[Supply],
    weighed: &[Weighed],
    table: &ComponentTable,
    faults: &mut Faults,
) {
    let flag_of = |supply: &Supply| match (&supply.stock, &supply.label) {
        (Some(_), None) => "--have",
        _ => "--bottle",
    };
    let supplies = supplies.iter().map(|supply| (&supply.component, flag_of(supply)));
    for (component, flag) in supplies.chain(weighed.iter().map(|weighed| (&weighed.component, "--weighed"))) {
        let asked = recipe.proportions.components().any(|other| other.id == *component);
        let added_water = component.as_str() == "water" && recipe.proportions.water.is_some();
        if !asked && !added_water {
            let message = format!("{component} is not in the recipe");
            let known: Vec<String> = recipe.proportions.components().map(|c| c.id.to_string()).collect();
            let hint = form_hint(component, recipe, table)
                .unwrap_or_else(|| format!("The recipe holds {}.", known.join(", ")));
            faults.push(Fault::new("not_in_recipe", message, Place::named(flag)).with_hint(hint));
        }
    }
}

/// A hydrate of what the recipe asks for, or the other way round, is told by its form.
fn form_hint(stranger: &ComponentId, recipe: &Recipe, table: &ComponentTable) -> Option<String> {
    let stranger = table.get(stranger.as_str())?;
    let parent = |component: &Component| component.hydrate_of.clone().unwrap_or_else(|| component.id.clone());
    let asked = recipe.proportions.components().find(|asked| parent(asked) == parent(stranger))?;
    if asked.hydrate_of.is_some() {
        return Some(format!("The recipe asks for {}: plan with that, or change the recipe.", asked.id));
    }
    Some(format!(
        "It is a hydrate of {0}: name that and the form of what is in the bottle, as in \"{0} form={1}H2O\".",
        asked.id,
        stranger.crystal_water()
    ))
}

/// What a recipe makes out of pure, dry components: good enough to judge fractions by, with the water that is
/// added. `None` where the recipe alone does not say it, such as mol/L without a density.
pub(in crate::cli) fn planned_as_asked(recipe: &Recipe, table: &ComponentTable) -> Option<Plan> {
    hundred_grams(recipe, table).ok()
}

/// 100 g of a recipe out of pure, dry components.
pub(super) fn hundred_grams(recipe: &Recipe, table: &ComponentTable) -> Result<Plan, PlanError> {
    let mass = Typed { value: Mass::new(100.0), text: "100 g".to_owned(), decimal_comma: false };
    plan_as_asked(recipe, mass, table)
}

/// A plan out of pure, dry components with nothing else stated.
pub(super) fn plan_as_asked(
    recipe: &Recipe,
    mass: Typed<Mass>,
    table: &ComponentTable,
) -> Result<Plan, PlanError> {
    plan_out_of(recipe, mass, Vec::new(), table)
}

/// A plan out of these supplies with nothing else stated; what has none counts as pure and dry.
pub(super) fn plan_out_of(
    recipe: &Recipe,
    mass: Typed<Mass>,
    supplies: Vec<Supply>,
    table: &ComponentTable,
) -> Result<Plan, PlanError> {
    let request = PlanRequest {
        recipe: recipe.clone(),
        size: Size::Mass(mass),
        supplies,
        balance: None,
        weighing: Weighing::Each,
        tolerance: Tolerance { value: TOLERANCE, stated: false },
        liquids_at: LiquidsAt { value: LIQUIDS_AT, typed: None },
        density: None,
        air: None,
        weighed: Vec::new(),
        minimum_weight: false,
    };
    plan(request, table)
}
