//! The typed request of `curve`.

use clap::Args;

use super::batches::of_batches;
use super::file::{Named, of_file};
use super::liquid::{Parts, words};
use crate::cli::args::Common;
use crate::cli::outcome::Failure;
use crate::cli::request::share::share;
use crate::cli::request::table::component_table;
use crate::component::{Proportions, RatioBasis};
use crate::compose::curve::{Series, published_mixtures, published_series};
use crate::input::{Fault, Faults, Place, Warning, did_you_mean};
use crate::quantity::{MassFraction, Property, Temperature};
use crate::recipe::read_shorthand;
use crate::statistics::curve_fit::Form;

/// Confidence where nothing else is said. The answer states it.
const CONFIDENCE: f64 = 0.95;

/// What can be asked for, by the word for it.
const WORDS: [&str; 4] = ["density", "viscosity", "conductivity", WALDEN];
const WALDEN: &str = "walden";

#[derive(Debug, Args)]
#[command(next_help_heading = "Which liquid, and where its values come from")]
pub(in crate::cli) struct CurveOptions {
    /// A liquid with published values here, in the trade's notation: "ChCl:EG 1:2"
    #[arg(value_name = "LIQUID")]
    pub(super) liquid: Option<String>,
    /// density, viscosity, conductivity, or walden (conductivity times viscosity, molar where a density is known)
    #[arg(long, value_name = "PROPERTY")]
    pub(super) property: String,
    /// A batch of the book with its measured values; repeatable
    #[arg(long, value_name = "CODE")]
    pub(super) batch: Vec<String>,
    /// A CSV file with the names of the columns in its first line, units in brackets
    #[arg(long, value_name = "FILE", requires_all = ["x", "y"])]
    pub(super) points: Option<String>,
    /// Its column of temperatures
    #[arg(long, value_name = "COLUMN", requires = "points")]
    pub(super) x: Option<String>,
    /// Its column of values (for walden: of conductivities)
    #[arg(long, value_name = "COLUMN", requires = "points")]
    pub(super) y: Option<String>,
    /// For walden: its column of viscosities
    #[arg(long, value_name = "COLUMN", requires = "points")]
    pub(super) viscosity: Option<String>,
    /// For walden: its column of densities
    #[arg(long, value_name = "COLUMN", requires = "points")]
    pub(super) density: Option<String>,
    /// For walden: the salt whose moles are counted [default: the only salt in it]
    #[arg(long, value_name = "COMPONENT")]
    pub(super) carrier: Option<String>,
    /// For walden: mass of the liquid that holds one mole of the salt, where no LIQUID or batch says it: "263.8 g/mol"
    #[arg(long, value_name = "MASS", requires = "points")]
    pub(super) mass_per_mole: Option<String>,
    /// Its column of water, such as "water (wt%)"
    #[arg(long, value_name = "COLUMN", requires = "points")]
    pub(super) water_column: Option<String>,
    /// Its column of names: one curve for each
    #[arg(long, value_name = "COLUMN", requires = "points")]
    pub(super) by: Option<String>,
    /// The law: line [default for density], vft [default for the others] or arrhenius
    #[arg(long, value_name = "FORM", help_heading = "What is asked")]
    form: Option<String>,
    /// Say what the curve has at this temperature, such as "40 °C"; repeatable
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true, help_heading = "What is asked")]
    at: Vec<String>,
    /// And at this water content, such as "2 wt%"
    #[arg(long, value_name = "FRACTION", help_heading = "What is asked")]
    water: Option<String>,
    /// Confidence of intervals and bands [default: 95 %]
    #[arg(long, value_name = "SHARE", help_heading = "What is asked")]
    confidence: Option<String>,
}

/// A typed request.
pub(in crate::cli) struct CurveRequest {
    pub(in crate::cli) property: Property,
    pub(in crate::cli) liquid: Option<String>,
    /// The file and its column of names, if both were given.
    pub(in crate::cli) by: Option<(String, String)>,
    /// The series of the property.
    pub(in crate::cli) series: Vec<Series>,
    pub(in crate::cli) form: Form,
    pub(in crate::cli) at: Vec<Temperature>,
    pub(in crate::cli) water: Option<MassFraction>,
    pub(in crate::cli) confidence: f64,
    pub(in crate::cli) warnings: Vec<Warning>,
}

/// Reads table, book, file and flags once; all faults together. `None` if Walden's product is asked for.
pub(in crate::cli) fn curve_request(
    common: &Common,
    options: &CurveOptions,
) -> Result<Option<CurveRequest>, Failure> {
    let mut faults = Faults::none();
    let word = faults.collect(word(&options.property));
    let at = temperatures(&options.at, &mut faults);
    let water = options.water.as_ref().and_then(|text| {
        let place = Place::in_text("--water", text.as_str(), 0..text.len());
        faults.collect(text.parse::<MassFraction>().map_err(|error| Fault::of_quantity(&error, place)))
    });
    let confidence = match &options.confidence {
        Some(text) => faults.collect(share("--confidence", text, 0.0, 1.0)),
        None => Some(CONFIDENCE),
    };
    let property = word.and_then(Property::from_id);
    let form = faults.collect(form(options.form.as_ref(), property));
    if word == Some(WALDEN) {
        faults.extend(not_of_walden(options));
    }
    let (Some(_), Some(form), Some(confidence), true) = (word, form, confidence, faults.is_empty()) else {
        return Err(faults.into());
    };
    let Some(property) = property else { return Ok(None) };
    let water = match &options.liquid {
        Some(liquid) => water_of_name(common, liquid, water)?,
        None => water,
    };
    let mut warnings = Vec::new();
    let series = gathered(common, options, property, &mut warnings)?;
    let liquid = options.liquid.clone();
    let by = options.points.clone().zip(options.by.clone());
    Ok(Some(CurveRequest { property, liquid, by, series, form, at, water, confidence, warnings }))
}

/// What is asked of a curve and not of pairs as they were measured.
fn not_of_walden(options: &CurveOptions) -> Faults {
    let mut faults = Faults::none();
    let given = [
        ("--at", !options.at.is_empty()),
        ("--water", options.water.is_some()),
        ("--form", options.form.is_some()),
        ("--confidence", options.confidence.is_some()),
    ];
    for (flag, _) in given.into_iter().filter(|(_, is_given)| *is_given) {
        let message = format!("{flag} asks something of a curve, and Walden's product has none");
        let hint = format!(
            "Leave {flag} out: pairs stand at the temperatures where both were measured. For other temperatures ask for \
             --property viscosity and --property conductivity."
        );
        faults.push(Fault::new("stray_flag", message, Place::named(flag)).with_hint(hint));
    }
    faults
}

fn word(text: &str) -> Result<&'static str, Fault> {
    WORDS.into_iter().find(|word| word.eq_ignore_ascii_case(text.trim())).ok_or_else(|| {
        let place = Place::in_text("--property", text, 0..text.len());
        let hint = did_you_mean(text, WORDS, &format!("A curve is drawn of {}.", WORDS.join(", ")));
        Fault::new("unknown_property", format!("no curve is drawn of {text:?}"), place).with_hint(hint)
    })
}

fn form(text: Option<&String>, property: Option<Property>) -> Result<Form, Fault> {
    let Some(text) = text else {
        return Ok(if property == Some(Property::Density) { Form::Line } else { Form::Vft });
    };
    let forms = [Form::Line, Form::Vft, Form::Arrhenius];
    forms.into_iter().find(|form| form.name() == text).ok_or_else(|| {
        let names = forms.map(Form::name);
        let place = Place::in_text("--form", text.as_str(), 0..text.len());
        Fault::new("unknown_form", format!("unknown form {text:?}"), place).with_hint(did_you_mean(
            text,
            names,
            &format!("The forms are {}.", names.join(", ")),
        ))
    })
}

fn temperatures(texts: &[String], faults: &mut Faults) -> Vec<Temperature> {
    let read = |text: &String| {
        let place = Place::in_text("--at", text.as_str(), 0..text.len());
        text.parse::<Temperature>().map_err(|error| Fault::of_quantity(&error, place))
    };
    texts.iter().filter_map(|text| faults.collect(read(text))).collect()
}

/// The water that the name of a liquid states, or that of --water.
fn water_of_name(
    common: &Common,
    liquid: &str,
    asked: Option<MassFraction>,
) -> Result<Option<MassFraction>, Failure> {
    let recipe = read_shorthand("LIQUID", liquid, &component_table(common)?)?;
    let Some(named) = recipe.proportions.water else { return Ok(asked) };
    if asked.is_some_and(|asked| 1e-9 < (asked.get() - named.value.get()).abs()) {
        let place = Place::in_text("LIQUID", liquid, 0..liquid.len());
        let message = format!("the liquid is named with {} water, and --water says otherwise", named.text);
        return Err(Fault::new("water_twice", message, place).with_hint("Keep one of the two.").into());
    }
    Ok(Some(named.value))
}

/// Components of a liquid with their ratio, published acceptor first.
fn parts_of(common: &Common, liquid: &str) -> Result<Parts, Failure> {
    let recipe = read_shorthand("LIQUID", liquid, &component_table(common)?)?;
    if let Some((acceptor, donor, ratio)) = pair(&recipe.proportions) {
        let ratio: Vec<f64> = ratio.split(':').filter_map(|own| own.parse().ok()).collect();
        if let [one, other] = ratio[..] {
            return Ok(vec![(acceptor, one), (donor, other)]);
        }
    }
    let parts = recipe.proportions.parts.iter();
    Ok(parts.map(|part| (part.component.id.as_str().to_owned(), part.ratio)).collect())
}

/// All series of a property, from wherever was named. Values of a file are those of the liquid that is named beside it.
fn gathered(
    common: &Common,
    options: &CurveOptions,
    property: Property,
    warnings: &mut Vec<Warning>,
) -> Result<Vec<Series>, Failure> {
    let mut series = Vec::new();
    let known = options.liquid.as_ref().map(|liquid| parts_of(common, liquid)).transpose()?;
    let liquid = known.as_ref().map(words);
    if let (Some(file), Some(x), Some(y)) = (&options.points, &options.x, &options.y) {
        let named = Named { file, x, y, water: options.water_column.as_deref(), by: options.by.as_deref() };
        let (own, left_out) = of_file(&named, property)?;
        if 0 < left_out {
            let message = format!("{left_out} rows have an empty cell and are left out");
            warnings.push(Warning::new("rows_left_out", message));
        }
        series.extend(own.into_iter().map(|own| own.of_liquid(liquid.clone())));
    }
    if !options.batch.is_empty() {
        series.extend(of_batches(common, &options.batch, property, known)?);
    }
    if let Some(name) = &options.liquid {
        let own = published(common, name, property)?;
        series.extend(own.into_iter().map(|own| own.of_liquid(liquid.clone())));
    }
    if options.liquid.is_none() && series.is_empty() && options.batch.is_empty() {
        return Err(no_source().into());
    }
    if series.iter().all(|own| own.points.is_empty()) {
        let message =
            format!("no {} with its temperature is recorded of {}", property.id(), options.batch.join(", "));
        let fault = Fault::new("nothing_measured", message, Place::named("--batch"));
        return Err(fault
            .with_hint("Record it with: meltbook batch measure CODE PROPERTY VALUE --at TEMPERATURE.")
            .into());
    }
    Ok(series)
}

pub(super) fn no_source() -> Fault {
    let message = "there is no liquid, batch or file to take values from";
    Fault::new("nothing_measured", message, Place::named("curve"))
        .with_hint("Name a liquid (\"ChCl:EG 1:2\"), --batch CODE, or --points FILE.")
}

pub(super) fn published(common: &Common, liquid: &str, property: Property) -> Result<Vec<Series>, Failure> {
    let table = component_table(common)?;
    let recipe = read_shorthand("LIQUID", liquid, &table)?;
    let found = pair(&recipe.proportions).map(|(acceptor, donor, ratio)| {
        let straight = published_series(property, (&acceptor, &donor), &ratio);
        (straight, acceptor, donor, ratio)
    });
    match found {
        Some((series, ..)) if !series.is_empty() => Ok(series),
        _ => {
            let known = published_mixtures(property);
            let known: Vec<String> =
                known.iter().map(|own| format!("{}:{} {}", own.acceptor, own.donor, own.ratio)).collect();
            let place = Place::in_text("LIQUID", liquid, 0..liquid.len());
            let message = format!("no published {} of {liquid:?} comes with the program", property.id());
            let hint = format!(
                "Published here: {}. Give your own with --points FILE or --batch CODE; none is estimated.",
                known.join(", ")
            );
            Err(Fault::new("nothing_published", message, place).with_hint(hint).into())
        }
    }
}

/// Acceptor and donor of a liquid of two parts by moles, and their ratio in its least terms: "1:2".
pub(super) fn pair(proportions: &Proportions) -> Option<(String, String, String)> {
    let [one, other] = &proportions.parts[..] else { return None };
    if proportions.basis != RatioBasis::Mole || !proportions.additions.is_empty() {
        return None;
    }
    let ids = [one, other].map(|part| part.component.id.as_str().to_owned());
    let ratio = (one.ratio, other.ratio);
    let turned = published_mixtures(Property::Density)
        .iter()
        .chain(&published_mixtures(Property::Viscosity))
        .any(|own| own.acceptor == ids[1] && own.donor == ids[0]);
    let [one, other] = ids;
    let (acceptor, donor, (a, b)) =
        if turned { (other, one, (ratio.1, ratio.0)) } else { (one, other, ratio) };
    let least = a.min(b);
    Some((acceptor, donor, format!("{}:{}", a / least, b / least)))
}
