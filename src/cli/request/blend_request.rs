//! From the arguments of `blend` to liquids and a wish.

use std::sync::Arc;

use clap::Args;

use super::batch::{composition_now, standing};
use super::bottle::supplies;
use super::plan_request::hundred_grams;
use super::recipe_source::recipe_of;
use super::size::comma_warning;
use super::surroundings::open_book;
use super::table::component_table;
use crate::cli::args::Common;
use crate::cli::outcome::Failure;
use crate::component::{Component, ComponentTable, Composition, Part, Proportions, RatioBasis};
use crate::input::{Fault, Faults, FlagValue, Place, Warning};
use crate::plan::{
    Blend, BlendError, Liquid, LiquidSource, PlanError, RatioAs, Supply, Wish, WishedRatio, adjust, blend,
};
use crate::quantity::{Mass, MassFraction, Typed};
use crate::recipe::{Recipe, mass_fraction, read_shorthand};
use crate::record::Code;

const LIQUID: &str = "--liquid";

/// What is blended, and what it is to become.
#[derive(Debug, Args)]
pub(in crate::cli) struct BlendOptions {
    /// A liquid by its recipe (a shorthand, path or name) and mass, or a batch by its code; repeatable. The
    /// recipe's water is the liquid's water; of a batch without a mass all that is left is taken
    #[arg(long = "liquid", value_name = "RECIPE or CODE mass=…", required = true)]
    liquids: Vec<String>,
    /// The ratio that it is to have: says what to add
    #[arg(long, value_name = "RATIO", help_heading = "What it is to become")]
    ratio: Option<String>,
    /// The water that it is to hold, of the whole: says what to add, or what must be dried first
    #[arg(long, value_name = "WT%", allow_hyphen_values = true, help_heading = "What it is to become")]
    water: Option<String>,
    /// What an added component is taken from; repeatable. Keys as in `plan`: form, assay, assay_u, basis,
    /// moisture, moisture_u, label
    #[arg(
        long = "bottle",
        value_name = "NAME key=value…",
        help_heading = "What it is to become",
        allow_hyphen_values = true
    )]
    bottles: Vec<String>,
}

/// A blend, and what to say of the arguments.
pub(in crate::cli) struct Blended {
    pub(in crate::cli) blend: Blend,
    /// The wish as typed.
    pub(in crate::cli) wish: Vec<(&'static str, String)>,
    pub(in crate::cli) warnings: Vec<Warning>,
}

/// A liquid and how its ratio was stated.
struct Stated {
    liquid: Liquid,
    proportions: Proportions,
}

/// Reads everything once, blends, and says what to add.
pub(in crate::cli) fn blended(common: &Common, options: &BlendOptions) -> Result<Blended, Failure> {
    let table = component_table(common)?;
    let mut faults = Faults::none();
    let mut warnings = Vec::new();
    let mut stated = Vec::new();
    for text in &options.liquids {
        match stated_liquid(common, text, &table, &mut warnings) {
            Ok(liquid) => stated.push(liquid),
            Err(Failure::Input(found)) => faults.extend(found),
            Err(storage) => return Err(storage),
        }
    }
    let ratio = options.ratio.as_ref().and_then(|text| faults.collect(wished_ratio(text, &table)));
    let water = options.water.as_ref().and_then(|text| faults.collect(wished_water(text)));
    let supplies = faults.collect(supplies(Vec::new(), &options.bottles, &[], &table, &mut warnings));
    refuse_water_twice(ratio.as_ref(), options, &mut faults);
    let supplies = supplies.unwrap_or_default();
    if options.ratio.is_none() || ratio.is_some() {
        refuse_strangers(ratio.as_ref(), &supplies, &mut faults);
    }
    let (Some(ratio_as), true) = (ratio_as(&stated, ratio.as_ref()), faults.is_empty()) else {
        return Err(faults.into());
    };
    let wish = Wish { ratio, water: water.map(|typed| typed.value) };
    let liquids: Vec<Liquid> = stated.into_iter().map(|stated| stated.liquid).collect();
    let blend = answer(liquids, wish, &supplies, ratio_as, &table).map_err(|error| fault(&error, options))?;
    let asked = [("To the ratio", &options.ratio), ("To water", &options.water)];
    let wish = asked.into_iter().filter_map(|(label, text)| Some((label, text.as_ref()?.trim().to_owned())));
    Ok(Blended { blend, wish: wish.collect(), warnings })
}

fn answer(
    liquids: Vec<Liquid>,
    wish: Wish,
    supplies: &[Supply],
    ratio_as: RatioAs,
    table: &ComponentTable,
) -> Result<Blend, BlendError> {
    let composition = blend(&liquids)?;
    let wished = wish.ratio.is_some() || wish.water.is_some();
    let wish = match table.get(Component::WATER).filter(|_| wished) {
        Some(water) => {
            let adjustment = adjust(&composition, &wish, supplies, water)?;
            Some((wish, adjustment))
        }
        None => None,
    };
    Ok(Blend { liquids, composition, wish, ratio_as })
}

/// Where the person gave what a blend fails for.
fn fault(error: &BlendError, options: &BlendOptions) -> Fault {
    let given = |flag: &str, text: &Option<String>| {
        text.as_ref()
            .map_or_else(|| Place::named(flag), |text| Place::in_text(flag, text.as_str(), 0..text.len()))
    };
    let place = match error {
        BlendError::NoLiquid | BlendError::EmptyLiquid { .. } => Place::named(LIQUID),
        BlendError::NothingOfRatio => given("--ratio", &options.ratio),
        BlendError::AllWater { .. } => given("--water", &options.water),
    };
    Fault::new(error.code(), error.to_string(), place).with_hint(error.hint())
}

/// `ChCl:urea 1:2 to 2 wt% water mass=60g`.
fn stated_liquid(
    common: &Common,
    text: &str,
    table: &ComponentTable,
    warnings: &mut Vec<Warning>,
) -> Result<Stated, Failure> {
    let flag = FlagValue::parse(LIQUID, text, &["mass"])?;
    if flag.name.is_empty() {
        let fault = Fault::new("no_name", "the recipe of the liquid is missing", flag.place());
        return Err(fault.with_hint("Write it like --liquid \"ChCl:urea 1:2 mass=60g\".").into());
    }
    if let Some(code) = flag.name.parse::<Code>().ok().filter(|code| code.kind().is_batch()) {
        return stated_batch(common, &flag, &code);
    }
    let mut faults = Faults::none();
    let mass = flag.quantity::<Mass>("mass", &mut faults);
    if flag.get("mass").is_none() {
        let fault = Fault::new("no_mass", "the mass of the liquid is missing", flag.place());
        faults.push(fault.with_hint("Write it like --liquid \"ChCl:urea 1:2 mass=60g\"."));
    }
    if mass.as_ref().is_some_and(|mass| mass.value <= Mass::ZERO) {
        let error = BlendError::EmptyLiquid { text: flag.name.clone() };
        let fault = Fault::new(error.code(), error.to_string(), flag.place());
        faults.push(fault.with_hint(error.hint()));
    }
    let recipe = match recipe_of(LIQUID, common, table, &flag.name) {
        Ok(recipe) => Some(recipe),
        Err(Failure::Input(found)) => {
            faults.extend(found);
            None
        }
        Err(storage) => return Err(storage),
    };
    let composition = recipe.as_ref().and_then(|recipe| {
        faults.collect(composition_of(recipe, table).map_err(|error| no_composition(&error, &flag)))
    });
    let (Some(mass), Some(recipe), Some(composition)) = (mass, recipe, composition) else {
        return Err(faults.into());
    };
    if !faults.is_empty() {
        return Err(faults.into());
    }
    warnings.extend(comma_warning(LIQUID, &mass));
    let liquid = Liquid { source: LiquidSource::Recipe(recipe.name), composition, mass: mass.value };
    Ok(Stated { liquid, proportions: recipe.proportions })
}

/// `E1 mass=30g`: a batch as it is now.
fn stated_batch(common: &Common, flag: &FlagValue, code: &Code) -> Result<Stated, Failure> {
    let mut faults = Faults::none();
    let mass = flag.quantity::<Mass>("mass", &mut faults);
    if !faults.is_empty() {
        return Err(faults.into());
    }
    let standing = standing(&open_book(common)?, code)?;
    let empty = || {
        let error = BlendError::EmptyLiquid { text: code.to_string() };
        Failure::from(Fault::new(error.code(), error.to_string(), flag.place()).with_hint(error.hint()))
    };
    let composition = composition_now(&standing).ok_or_else(empty)?;
    let mass = mass.map_or(composition.mass(), |mass| mass.value);
    if mass <= Mass::ZERO {
        return Err(empty());
    }
    let made = standing.made.iter().flat_map(|made| &made.composition.constituents);
    let of_plan = standing.targets.iter().flat_map(|targets| targets.parts());
    let parts: Vec<Part> = of_plan
        .filter_map(|line| {
            let mut made = made.clone();
            let own = made.find(|own| own.component.id == line.component)?;
            Some(Part { component: Arc::clone(&own.component), ratio: line.ratio()? })
        })
        .collect();
    let blended = || made.clone().filter(|own| own.in_ratio);
    let parts = if parts.is_empty() {
        blended().map(|own| Part { component: Arc::clone(&own.component), ratio: 1.0 }).collect()
    } else {
        parts
    };
    Ok(Stated {
        liquid: Liquid { source: LiquidSource::Batch(code.to_string()), composition, mass },
        proportions: Proportions { basis: standing.basis(), parts, additions: Vec::new(), water: None },
    })
}

/// What a liquid of this recipe is. One whose hydrates bring more water than the recipe states has been
/// dried to what it states.
fn composition_of(recipe: &Recipe, table: &ComponentTable) -> Result<Composition, PlanError> {
    let plan = hundred_grams(recipe, table)?;
    let mut composition = plan.composition;
    composition.water = composition.water - plan.dry_first.unwrap_or(Mass::ZERO);
    Ok(composition)
}

fn no_composition(error: &PlanError, flag: &FlagValue) -> Fault {
    let hint = match error {
        PlanError::DensityNeeded { .. } => "Give the salt as mol/kg or wt%, or a recipe with its density.",
        other => other.hint(),
    };
    Fault::new(error.code(), error.to_string(), flag.place()).with_hint(hint)
}

/// A ratio and nothing else.
fn wished_ratio(text: &str, table: &ComponentTable) -> Result<WishedRatio, Faults> {
    let recipe = read_shorthand("--ratio", text, table)?;
    let Proportions { basis, parts, additions, water } = recipe.proportions;
    if additions.is_empty() && water.is_none() {
        return Ok(WishedRatio { basis, parts });
    }
    let place = Place::in_text("--ratio", text, 0..text.len());
    let fault = Fault::new("not_a_ratio", format!("{text:?} says more than a ratio"), place);
    Err(fault
        .with_hint("Give the ratio alone, as in \"ChCl:urea 1:2.2\", and the water with --water.")
        .into())
}

fn wished_water(text: &str) -> Result<Typed<MassFraction>, Fault> {
    mass_fraction(text.trim(), Place::in_text("--water", text, 0..text.len()))
}

fn refuse_water_twice(ratio: Option<&WishedRatio>, options: &BlendOptions, faults: &mut Faults) {
    let in_ratio = ratio.is_some_and(|ratio| ratio.parts.iter().any(|part| part.component.is_water()));
    if let (true, Some(text)) = (in_ratio, &options.water) {
        let place = Place::in_text("--water", text.as_str(), 0..text.len());
        let message = "water stands in the ratio and as a target: only one can hold";
        faults.push(Fault::new("water_twice", message, place).with_hint("Leave one of the two out."));
    }
}

/// A bottle of something that is not to be added is most likely a slip.
fn refuse_strangers(ratio: Option<&WishedRatio>, supplies: &[Supply], faults: &mut Faults) {
    let names: Vec<&str> =
        ratio.iter().flat_map(|ratio| &ratio.parts).map(|part| part.component.id.as_str()).collect();
    for supply in supplies.iter().filter(|supply| !names.contains(&supply.component.as_str())) {
        let message = format!("{} is not in the ratio that is asked for", supply.component);
        let hint = match names.as_slice() {
            [] => "Say what ratio it is to have, as in --ratio \"ChCl:urea 1:2.2\".".to_owned(),
            names => format!("The ratio holds {}.", names.join(", ")),
        };
        faults.push(Fault::new("not_in_recipe", message, Place::named("--bottle")).with_hint(hint));
    }
}

/// The wished ratio's first part at its number, or else the first liquid's.
fn ratio_as(stated: &[Stated], wished: Option<&WishedRatio>) -> Option<RatioAs> {
    let parts = wished.map(|ratio| &ratio.parts).or(stated.first().map(|first| &first.proportions.parts));
    let first = parts?.first()?;
    let own = stated.iter().flat_map(|stated| &stated.proportions.parts);
    let mut all = own.chain(wished.iter().flat_map(|ratio| &ratio.parts));
    let by_mass = stated.iter().all(|stated| stated.proportions.basis == RatioBasis::Mass);
    let own_basis = if by_mass { RatioBasis::Mass } else { RatioBasis::Mole };
    Some(RatioAs {
        basis: wished.map_or(own_basis, |ratio| ratio.basis),
        with_water: all.any(|part| part.component.is_water()),
        one: first.component.id.clone(),
        number: first.ratio,
    })
}
