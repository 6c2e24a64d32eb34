//! Which components are mixed, within which bounds.

use std::sync::Arc;

use clap::{Args, ValueEnum};

use super::constraint::constraint;
use crate::cli::args::Common;
use crate::cli::outcome::Failure;
use crate::cli::request::component_table;
use crate::component::{Component, ComponentTable, RatioBasis};
use crate::compose::mixture::{Bound, Constraint, Region, RegionError};
use crate::input::{Fault, Faults, FlagValue, KeyValue, Place, Warning, did_you_mean};
use crate::quantity::parse_number;

/// More components than this are no mixture to design runs for.
const MOST_COMPONENTS: usize = 30;
/// Fractions that differ by less are the same, as typed.
const SAME: f64 = 1e-9;

/// Components, what their fractions count, and bounds.
#[derive(Debug, Args)]
pub(in crate::cli) struct SpaceArgs {
    /// The components that are mixed: names of the component table, or names of your own
    #[arg(value_name = "COMPONENT", required = true)]
    mixed: Vec<String>,
    #[command(flatten)]
    pub(super) bounds: BoundArgs,
    /// What the fractions count
    #[arg(long, value_enum, value_name = "BASIS", default_value_t = Basis::Mole)]
    basis: Basis,
}

/// Bounds and constraints.
#[derive(Debug, Args)]
pub(in crate::cli) struct BoundArgs {
    /// Least and most of a component, such as "urea from=0.5 to=0.8"; repeatable
    #[arg(long = "bound", value_name = "NAME from=… to=…", allow_hyphen_values = true)]
    bounds: Vec<String>,
    /// What else must hold, such as "urea >= 2 ChCl" or "ChCl + urea <= 0.9"; repeatable
    #[arg(long = "where", value_name = "RULE", allow_hyphen_values = true)]
    rules: Vec<String>,
}

/// What fractions count.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(in crate::cli) enum Basis {
    /// Moles
    Mole,
    /// Grams of the pure components
    Mass,
}

/// A component of a mixture.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::cli) struct Named {
    /// Its id in the table, or the name as given.
    pub(in crate::cli) id: String,
    /// As given.
    pub(in crate::cli) given: String,
    /// The component; `None` for a name of one's own.
    pub(in crate::cli) component: Option<Arc<Component>>,
}

/// What may be mixed.
pub(in crate::cli) struct Space {
    pub(in crate::cli) names: Vec<Named>,
    pub(in crate::cli) basis: RatioBasis,
    pub(in crate::cli) region: Region,
    /// The rules as typed.
    pub(in crate::cli) rules: Vec<String>,
    pub(in crate::cli) table: ComponentTable,
    pub(in crate::cli) warnings: Vec<Warning>,
}

impl BoundArgs {
    /// True if anything is bounded.
    pub(super) fn is_stated(&self) -> bool {
        !self.bounds.is_empty() || !self.rules.is_empty()
    }
}

impl From<Basis> for RatioBasis {
    fn from(basis: Basis) -> Self {
        match basis {
            Basis::Mole => Self::Mole,
            Basis::Mass => Self::Mass,
        }
    }
}

/// Reads components and bounds; all faults together.
pub(super) fn space(
    common: &Common,
    args: &SpaceArgs,
    faults: &mut Faults,
) -> Result<Option<Space>, Failure> {
    let table = component_table(common)?;
    let mut warnings = Vec::new();
    let names = named(&args.mixed, &table, &mut warnings, faults);
    if let ([only], 1) = (names.as_slice(), args.mixed.len()) {
        let message = format!("{} alone is no mixture: its fraction is always 1", only.given);
        let fault = Fault::new("one_component", message, Place::named("COMPONENT"));
        faults.push(fault.with_hint("Name the others as well, each a word of its own."));
    }
    // What is wrong with the names is told; bounds on fewer than two mean nothing.
    if names.len() < 2 {
        return Ok(None);
    }
    if MOST_COMPONENTS < names.len() {
        let message = format!("{} components are more than {MOST_COMPONENTS}", names.len());
        let fault = Fault::new("too_large", message, Place::named("COMPONENT"));
        faults.push(fault.with_hint("Keep what is not to be varied at one amount, and leave it out here."));
        return Ok(None);
    }
    let basis = args.basis.into();
    let region = region(&args.bounds, &names, basis, faults);
    Ok(region.map(|region| {
        warnings.extend(unreached(&region, &names));
        Space { names, basis, region, rules: args.bounds.rules.clone(), table, warnings }
    }))
}

/// The components by their names; one of the table only counts once.
pub(super) fn named(
    given: &[String],
    table: &ComponentTable,
    warnings: &mut Vec<Warning>,
    faults: &mut Faults,
) -> Vec<Named> {
    let mut names: Vec<Named> = Vec::new();
    let place = |given: &str| Place::in_text("COMPONENT", given, 0..given.len());
    for given in given {
        let component = table.find(given).ok().cloned();
        let id = component.as_ref().map_or(given.trim().to_owned(), |component| component.id.to_string());
        let readable = !id.is_empty() && !id.contains(|c: char| c.is_whitespace() || "=<>*,;\"".contains(c));
        if !readable || parse_number(&id).is_ok() {
            let fault = Fault::new("bad_name", format!("{given:?} is no name of a component"), place(given));
            faults.push(fault.with_hint(words_of_their_own(given, table)));
            continue;
        }
        if names.iter().any(|known| known.id == id) {
            let fault = Fault::new("component_twice", format!("{id} is named twice"), place(given));
            faults.push(fault.with_hint("Keep one of the two."));
            continue;
        }
        if component.is_none() {
            warnings.push(own_name(given, table));
        }
        names.push(Named { id, given: given.clone(), component });
    }
    names
}

/// Several components in one word are to be parted; a name of one's own is to be written as one.
fn words_of_their_own(given: &str, table: &ComponentTable) -> String {
    let parts = given.split(|c: char| c.is_whitespace() || ",;".contains(c)).filter(|part| !part.is_empty());
    let parts: Vec<&str> = parts.collect();
    if 1 < parts.len() && parts.iter().all(|part| table.find(part).is_ok()) {
        return format!("Write each component as a word of its own, without commas: {}.", parts.join(" "));
    }
    "Write a word with a letter in it, hyphens instead of spaces.".to_owned()
}

fn own_name(given: &str, table: &ComponentTable) -> Warning {
    let known = table.iter().map(|component| component.id.as_str());
    let hint = did_you_mean(given, known, "");
    let hint = if hint.is_empty() { String::new() } else { format!(" ({hint})") };
    Warning::new(
        "own_name",
        format!("{given} is not in the component table: taken as a name of your own{hint}"),
    )
}

/// The region; `None` with the faults collected.
pub(super) fn region(
    args: &BoundArgs,
    names: &[Named],
    basis: RatioBasis,
    faults: &mut Faults,
) -> Option<Region> {
    let before = faults.iter().count();
    let bounds = bounds(&args.bounds, names, basis, faults);
    let rules: Vec<Constraint> =
        args.rules.iter().filter_map(|rule| faults.collect(constraint(rule, names))).collect();
    if before < faults.iter().count() {
        return None;
    }
    faults.collect(Region::new(bounds, rules).map_err(|error| refusal(&error, args, names)))
}

fn bounds(texts: &[String], names: &[Named], basis: RatioBasis, faults: &mut Faults) -> Vec<Bound> {
    let mut bounds = vec![Bound::FREE; names.len()];
    let mut given: Vec<usize> = Vec::new();
    for text in texts {
        let Some(flag) = faults.collect(FlagValue::parse("--bound", text, &["from", "to"])) else { continue };
        let Some(at) = faults.collect(place_of(&flag.name, names, &flag.place())) else { continue };
        if given.contains(&at) {
            let message = format!("{} is bounded twice", names[at].given);
            faults.push(
                Fault::new("bound_twice", message, flag.place())
                    .with_hint("Write both ends into one --bound, as in \"urea from=0.5 to=0.8\"."),
            );
            continue;
        }
        given.push(at);
        if flag.pairs.is_empty() {
            let fault = Fault::new("no_bound", format!("{text:?} bounds nothing"), flag.place());
            faults.push(fault.with_hint("Write it like \"urea from=0.5 to=0.8\"; one of the two is enough."));
        }
        let mut end = |key: &str, free: f64| {
            flag.get(key).map_or(Some(free), |pair| faults.collect(fraction(&flag, pair, basis)))
        };
        if let (Some(low), Some(high)) = (end("from", 0.0), end("to", 1.0)) {
            bounds[at] = Bound { low, high };
        }
    }
    bounds
}

/// A fraction: `0.5`, `50 mol%`, `50 wt%`. A percentage of the other kind, or of nobody knows what, is refused.
fn fraction(flag: &FlagValue, pair: &KeyValue, basis: RatioBasis) -> Result<f64, Fault> {
    let text = pair.value.trim();
    let (own, other) = match basis {
        RatioBasis::Mole => ("mol%", "wt%"),
        RatioBasis::Mass => ("wt%", "mol%"),
    };
    let fault = |message: String| {
        Fault::new("bad_bound", message, flag.place_of(pair))
            .with_hint(format!("Write a fraction from 0 to 1, or a percentage with {own}."))
    };
    if text.ends_with(other) {
        return Err(fault(format!(
            "{text:?} does not count what the fractions do here, which is by {}",
            basis.word()
        )));
    }
    if text.ends_with('%') && !text.ends_with(own) {
        return Err(fault(format!("{text:?} does not say what it is a percentage of")));
    }
    let (number, unit) = match text.strip_suffix(own) {
        Some(number) => (number, 0.01),
        None => (text, 1.0),
    };
    let value =
        parse_number(number).map_err(|problem| fault(format!("{text:?} is no fraction: {problem}")))?;
    let value = value.value * unit;
    if (0.0..=1.0).contains(&value) {
        Ok(value)
    } else {
        Err(fault(format!("{text:?} does not lie between 0 and 1")))
    }
}

/// Which of the components a name means, by what was given or by the id.
pub(super) fn place_of(name: &str, names: &[Named], place: &Place) -> Result<usize, Fault> {
    let means = |own: &Named| {
        let alias = own.component.as_ref().is_some_and(|component| {
            component.aliases.iter().any(|alias| alias.eq_ignore_ascii_case(name)) || component.name == name
        });
        own.given.eq_ignore_ascii_case(name) || own.id.eq_ignore_ascii_case(name) || alias
    };
    names.iter().position(means).ok_or_else(|| {
        let known = || names.iter().map(|own| own.given.as_str());
        let all = format!("They are {}.", known().collect::<Vec<_>>().join(", "));
        Fault::new("not_mixed", format!("{name:?} is none of the components that are mixed"), place.clone())
            .with_hint(did_you_mean(name, known(), &all))
    })
}

fn refusal(error: &RegionError, args: &BoundArgs, names: &[Named]) -> Fault {
    let place = match error {
        RegionError::Empty(at) => args.rules.get(*at).map_or_else(
            || Place::named("--where"),
            |rule| Place::in_text("--where", rule.as_str(), 0..rule.len()),
        ),
        _ => Place::named("--bound"),
    };
    let code = match error {
        RegionError::BadBound { .. } => "bad_bound",
        RegionError::TooMuch(_) | RegionError::TooLittle(_) | RegionError::Empty(_) => "bounds_contradict",
        RegionError::Nothing | RegionError::TooMany => "too_large",
    };
    let (message, hint) = match error {
        RegionError::BadBound { component, low, high } => (
            format!("{} can't lie between {low} and {high}", names[*component].given),
            "Write the least behind from= and the most behind to=.",
        ),
        RegionError::TooMuch(_) | RegionError::TooLittle(_) => {
            (error.to_string(), "All fractions together are 1: widen the bounds.")
        }
        RegionError::Empty(_) => (
            "no composition meets this rule together with the bounds and rules before it".to_owned(),
            "Loosen it, or one of the others.",
        ),
        RegionError::Nothing | RegionError::TooMany => {
            (error.to_string(), "Leave out bounds that are reached anyway, or mix fewer components.")
        }
    };
    Fault::new(code, message, place).with_hint(hint)
}

/// Bounds that the others never let a component reach.
fn unreached(region: &Region, names: &[Named]) -> Vec<Warning> {
    let mut warnings = Vec::new();
    for (at, (name, bound)) in names.iter().zip(region.bounds()).enumerate() {
        let reach = region.reach(at);
        if reach.high + SAME < bound.high && bound.high < 1.0 {
            let message = format!(
                "{} never reaches {}: the other bounds leave it {} at most",
                name.given,
                bound.high,
                rounded(reach.high)
            );
            warnings.push(Warning::new("bound_not_reached", message));
        }
        if bound.low + SAME < reach.low && 0.0 < bound.low {
            let message = format!(
                "{} never falls to {}: the other bounds leave it {} at least",
                name.given,
                bound.low,
                rounded(reach.low)
            );
            warnings.push(Warning::new("bound_not_reached", message));
        }
        if reach.high - reach.low < SAME && region.vertices().count() != 1 {
            let message = format!("the bounds leave {} one fraction, {}", name.given, rounded(reach.low));
            warnings.push(Warning::new("pinned", message));
        }
    }
    warnings
}

/// A number without the last digits of arithmetic.
fn rounded(value: f64) -> f64 {
    (value * 1e9).round() / 1e9
}
