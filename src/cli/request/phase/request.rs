//! The typed request of `liquidus`.

use clap::Args;

use super::batches::of_batches;
use super::compound::compounds;
use super::measured::{Named, PointsByLine, measured_points};
use super::model::{Models, models};
use super::pure::{Given, PureData, given, pure_data, spoiled, unused};
use crate::cli::args::Common;
use crate::cli::outcome::Failure;
use crate::cli::request::share::share;
use crate::cli::request::table::component_table;
use crate::component::ComponentTable;
use crate::compose::liquidus::{ActivityModel, Case, Fusion, Question, Solid, System};
use crate::input::{Fault, Faults, Place, Warning};
use crate::quantity::Temperature;
use crate::report::view::{LiquidusComponent, LiquidusHeat, LiquidusOrigin};

/// Where nothing else is said. The answer states each of them.
const DRAWS: u32 = 2000;
const SEED: u64 = 1;
const COVERAGE: f64 = 0.95;
/// Steps of the mole fraction: one percent.
const STEPS: usize = 100;

#[derive(Debug, Args)]
#[command(next_help_heading = "What the liquid is made of")]
pub(in crate::cli) struct LiquidusOptions {
    /// Two or three components, by id or alias, or by a name that --pure gives data for
    #[arg(value_name = "COMPONENT", num_args = 1..=3, required = true)]
    names: Vec<String>,
    /// Fusion data instead of those of the table, or for what is in no table: "NAME melts=353.37K fusion=19010J/mol",
    /// each with ± its standard uncertainty where known, and cp=60J/mol/K (liquid less solid),
    /// transition=351K:16kJ/mol (between solids; several with ; between); repeatable
    #[arg(long, value_name = "DATA")]
    pure: Vec<String>,
    /// A solid compound of fixed ratio: "A:B 1:2 melts=300K fusion=20kJ/mol", per mole of A + 2 B; repeatable
    #[arg(long, value_name = "DATA")]
    compound: Vec<String>,
    /// Below this measured glass transition of the mixture nothing is predicted or drawn
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    glass: Option<String>,
    /// ideal [default]; "margules A=-1500J/mol" or A12= A21=; "redlich-kister A= B=" up to D=; "nrtl g12= g21= alpha=0.3".
    /// Without parameters they are fitted to --batch and --points. With three components name the pair, "margules A:B A=…", one
    /// for each
    #[arg(long, value_name = "MODEL", help_heading = "Activity model")]
    model: Vec<String>,
    /// A batch of the book whose liquidus was measured, or a run of them such as E1..E9, or all: those of two components
    /// and nothing else but water, by what was really weighed in; repeatable
    #[arg(long, value_name = "CODE", help_heading = "Activity model")]
    batch: Vec<String>,
    /// A CSV file of measured points of two components, with the names of the columns in its first line
    #[arg(long, value_name = "FILE", requires_all = ["x", "y"], help_heading = "Activity model")]
    points: Option<String>,
    /// Its column of mole fractions of the first component named, or with "mass fraction" or (wt%) in its head of its
    /// share of the mass, which is converted
    #[arg(long, value_name = "COLUMN", requires = "points", help_heading = "Activity model")]
    x: Option<String>,
    /// Its column of temperatures, unit in the head: "T (K)"
    #[arg(long, value_name = "COLUMN", requires = "points", help_heading = "Activity model")]
    y: Option<String>,
    /// Its column of weights: 1/variance, up to a common factor
    #[arg(long, value_name = "COLUMN", requires = "points", help_heading = "Activity model")]
    weights: Option<String>,
    /// Which compositions are predicted to stay liquid down to here, such as "-20 °C"
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true, help_heading = "What is asked")]
    liquid_at: Option<String>,
    /// Random draws for the bands [default: 2000]; 0 for none
    #[arg(long, value_name = "NUMBER", value_parser = clap::value_parser!(u32).range(0..=200_000), help_heading = "What is asked")]
    draws: Option<u32>,
    /// Seed of the draws [default: 1]
    #[arg(long, value_name = "NUMBER", help_heading = "What is asked")]
    seed: Option<u64>,
    /// Share of the draws inside a band, and confidence of fitted parameters [default: 95 %]
    #[arg(long, value_name = "SHARE", help_heading = "What is asked")]
    confidence: Option<String>,
}

/// A typed request.
pub(in crate::cli) struct LiquidusRequest {
    pub(in crate::cli) components: Vec<LiquidusComponent>,
    pub(in crate::cli) cases: Vec<Case>,
    pub(in crate::cli) question: Question,
    pub(in crate::cli) glass: Option<Temperature>,
    /// Where each measured point comes from, in the order of the question's points.
    pub(in crate::cli) origins: Vec<LiquidusOrigin>,
    /// Where points come from, for a fault that is all theirs.
    pub(in crate::cli) points_from: String,
    pub(in crate::cli) warnings: Vec<Warning>,
}

/// Reads table, flags and points once; all faults together.
pub(in crate::cli) fn liquidus_request(
    common: &Common,
    options: &LiquidusOptions,
) -> Result<LiquidusRequest, Failure> {
    let table = component_table(common)?;
    let mut faults = Faults::none();
    if let [only] = &options.names[..] {
        return Err(one_component(only).into());
    }
    let mut given = given(&options.pure, &mut faults);
    let pure = pures(&table, &options.names, &mut given, &mut faults);
    unused(&table, &given, &options.names, &mut faults);
    let question = question(options, &mut faults);
    let glass = temperature("--glass", options.glass.as_ref(), &mut faults);
    let (Some(pure), Some(mut question)) = (pure, question) else { return Err(faults.into()) };
    let names: Vec<Vec<String>> =
        pure.iter().zip(&options.names).map(|(own, given)| names(own, given)).collect();
    let shown: Vec<String> = pure.iter().map(|own| own.name.clone()).collect();
    let Models { spread, fitted } = models(&options.model, &names, &mut faults);
    let compounds = compounds(&options.compound, &names, &shown, &mut faults);
    question.fitted = fitted;
    let mut warnings = Vec::new();
    let origins = points(common, options, &pure, &mut question, &mut warnings, &mut faults)?;
    let sets = combinations(&pure);
    let model = ActivityModel::of(pure.len(), &spread.pairs);
    let cases = sets.into_iter().map(|sets| Case {
        sources: sets.iter().map(|(_, source)| source.clone()).collect(),
        system: system(&pure, &sets, &compounds, model.clone()),
        spread: spread.clone(),
    });
    let cases = cases.collect();
    let components = pure.into_iter().map(described).collect();
    let points_from = options.points.clone().unwrap_or_else(|| "--batch".to_owned());
    Ok(faults.or(LiquidusRequest { components, cases, question, glass, origins, points_from, warnings })?)
}

fn one_component(name: &str) -> Fault {
    let place = Place::in_text("component", name, 0..name.len());
    Fault::new("too_few_components", "a liquidus is that of two or three components", place).with_hint(
        "Name them one by one, as in meltbook liquidus ChCl urea; no ratio is needed, the curve goes over all of them.",
    )
}

fn pures(
    table: &ComponentTable,
    names: &[String],
    given: &mut [Given],
    faults: &mut Faults,
) -> Option<Vec<PureData>> {
    let mut found: Vec<PureData> = Vec::new();
    for name in names {
        if spoiled(table, name, given) {
            continue;
        }
        let Some(next) = faults.collect(pure_data(table, name, given)) else { continue };
        if found.iter().any(|own| own.id.eq_ignore_ascii_case(&next.id)) {
            let place = Place::in_text("component", name.as_str(), 0..name.len());
            let fault = Fault::new("component_twice", format!("{} is named twice", next.name), place);
            faults.push(fault.with_hint("Name two or three different components."));
            continue;
        }
        found.push(next);
    }
    (found.len() == names.len()).then_some(found)
}

/// All that may be typed for a component.
fn names(own: &PureData, given: &str) -> Vec<String> {
    let aliases = own.component.iter().flat_map(|component| component.aliases.clone());
    [own.id.clone(), own.name.clone(), given.to_owned()].into_iter().chain(aliases).collect()
}

fn temperature(flag: &str, text: Option<&String>, faults: &mut Faults) -> Option<Temperature> {
    let text = text?;
    let place = Place::in_text(flag, text.as_str(), 0..text.len());
    faults.collect(text.parse::<Temperature>().map_err(|error| Fault::of_quantity(&error, place)))
}

fn question(options: &LiquidusOptions, faults: &mut Faults) -> Option<Question> {
    let coverage = match &options.confidence {
        Some(text) => faults.collect(share("--confidence", text, 0.0, 1.0)),
        None => Some(COVERAGE),
    };
    let liquid_at = temperature("--liquid-at", options.liquid_at.as_ref(), faults);
    Some(Question {
        draws: options.draws.unwrap_or(DRAWS) as usize,
        seed: options.seed.unwrap_or(SEED),
        coverage: coverage?,
        steps: STEPS,
        liquid_at,
        points: Vec::new(),
        fitted: None,
    })
}

/// Reads the points, if there are any, and says where each comes from.
fn points(
    common: &Common,
    options: &LiquidusOptions,
    pure: &[PureData],
    question: &mut Question,
    warnings: &mut Vec<Warning>,
    faults: &mut Faults,
) -> Result<Vec<LiquidusOrigin>, Failure> {
    let from = if options.points.is_some() { "--points" } else { "--batch" };
    if options.points.is_none() && options.batch.is_empty() {
        without_points(question, faults);
        return Ok(Vec::new());
    }
    if options.names.len() != 2 {
        let fault = Fault::new("points_of_three", "points are read for two components", Place::named(from));
        faults.push(fault.with_hint("Name two components."));
        return Ok(Vec::new());
    }
    let mut origins = Vec::new();
    if let Some((found, left_out)) = collected(of_file(options, pure, warnings), faults)?.flatten() {
        if 0 < left_out {
            let message = format!("{left_out} rows have an empty cell and are left out");
            warnings.push(Warning::new("rows_left_out", message));
        }
        for (point, line) in found {
            question.points.push(point);
            origins.push(LiquidusOrigin::named(format!("line {line}")));
        }
    }
    if !options.batch.is_empty()
        && let Some(found) = collected(of_batches(common, &options.batch, pure), faults)?
    {
        question.points.extend(found.points);
        origins.extend(found.origins);
        warnings.extend(found.warnings);
    }
    Ok(origins)
}

fn of_file(
    options: &LiquidusOptions,
    pure: &[PureData],
    warnings: &mut Vec<Warning>,
) -> Result<Option<PointsByLine>, Failure> {
    let (Some(file), Some(x), Some(y)) = (&options.points, &options.x, &options.y) else { return Ok(None) };
    let named = Named { file, x, y, weights: options.weights.as_deref(), parts: pure };
    measured_points(&named, warnings).map(Some)
}

/// Faults of input are told with all others; any other failure ends the command.
fn collected<T>(found: Result<T, Failure>, faults: &mut Faults) -> Result<Option<T>, Failure> {
    match found {
        Ok(found) => Ok(Some(found)),
        Err(Failure::Input(found)) => {
            faults.extend(found);
            Ok(None)
        }
        Err(failure) => Err(failure),
    }
}

/// A model without parameters asks for points.
fn without_points(question: &Question, faults: &mut Faults) {
    let Some(form) = question.fitted else { return };
    let message = format!("{} has no parameters, and there are no points to fit them to", form.words());
    let given = form.parameters().iter().map(|name| format!("{name}=…J/mol")).collect::<Vec<_>>().join(" ");
    let hint = format!("Give {given}, or points with --batch CODE, or --points FILE --x COLUMN --y COLUMN.");
    faults.push(Fault::new("no_parameters", message, Place::named("--model")).with_hint(hint));
}

/// Every choice among the published sets, those of the first component changing slowest.
fn combinations(pure: &[PureData]) -> Vec<Vec<(Fusion, String)>> {
    pure.iter().fold(vec![Vec::new()], |before, own| {
        let next = before.iter().flat_map(|sets: &Vec<(Fusion, String)>| {
            own.sets.iter().map(move |set| sets.iter().cloned().chain([set.clone()]).collect())
        });
        next.collect()
    })
}

fn system(pure: &[PureData], sets: &[(Fusion, String)], compounds: &[Solid], model: ActivityModel) -> System {
    let solids =
        pure.iter().zip(sets).enumerate().map(|(place, (own, (fusion, _)))| {
            Solid::pure(own.name.clone(), place, pure.len(), fusion.clone())
        });
    System {
        components: pure.iter().map(|own| own.id.clone()).collect(),
        solids: solids.chain(compounds.iter().cloned()).collect(),
        model,
    }
}

fn described(own: PureData) -> LiquidusComponent {
    let limits = own.component.iter().flat_map(|component| &component.heat_limit);
    let heat = limits.filter_map(|limit| {
        Some(LiquidusHeat { from: limit.at?, what: limit.what.clone(), source: limit.source.clone() })
    });
    let note = own.component.as_ref().and_then(|component| component.note.clone());
    LiquidusComponent {
        heat: heat.collect(),
        note: note.filter(|_| 1 < own.sets.len()),
        id: own.id,
        name: own.name,
        without_enthalpy: own.without_enthalpy,
    }
}
