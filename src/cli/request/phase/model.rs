//! `--model`: an activity model by name, with its parameters or to be fitted.

use super::uncertain::uncertain;
use crate::compose::liquidus::{ModelForm, ModelSpread, PairModel};
use crate::input::{Fault, Faults, FlagValue, KeyValue, did_you_mean};
use crate::quantity::{MolarEnthalpy, parse_number};

const FLAG: &str = "--model";
const NAMES: [&str; 4] = ["ideal", "margules", "redlich-kister", "nrtl"];
const KEYS: [&str; 11] = ["A", "B", "C", "D", "A12", "A21", "g12", "g21", "alpha", "terms", "suffixes"];
/// Non-randomness where none is given. The answer states it.
const ALPHA: f64 = 0.3;
/// No non-randomness lies outside of these.
const LEAST_ALPHA: f64 = 0.01;
const MOST_ALPHA: f64 = 1.0;
const MOST_TERMS: usize = 4;
const EXAMPLE: &str = "--model \"margules A=-1500J/mol\"";

/// What all `--model` flags together say.
#[derive(Default)]
pub(super) struct Models {
    /// Models with all parameters.
    pub(super) spread: ModelSpread,
    /// A form that is to be fitted.
    pub(super) fitted: Option<ModelForm>,
}

/// Reads every `--model` for a liquid of these components, each with the names that mean it.
pub(super) fn models(texts: &[String], components: &[Vec<String>], faults: &mut Faults) -> Models {
    let mut models = Models::default();
    let mut flags: Vec<(FlagValue, (usize, usize))> = Vec::new();
    let mut all_ideal = false;
    for text in texts {
        let flag = FlagValue::collecting(FLAG, text, &KEYS, faults);
        let Some((form, pair)) = faults.collect(form_and_pair(&flag, components)) else { continue };
        // "ideal" without a pair is that of all pairs.
        let of_all = form == ModelForm::Ideal && !flag.name.contains(char::is_whitespace);
        let same = |known: &(usize, usize)| *known == pair || *known == (pair.1, pair.0);
        if all_ideal || of_all && !flags.is_empty() || flags.iter().any(|(_, known)| same(known)) {
            let fault = Fault::new("model_twice", "this pair has a model already", flag.place());
            faults.push(fault.with_hint("Give each pair of components one model."));
            continue;
        }
        all_ideal = of_all;
        parameters(&flag, form, pair, components.len(), &mut models, faults);
        flags.push((flag, pair));
    }
    mixed(&models, &flags, faults);
    models
}

/// Polynomials and two liquids give no common model of three components.
fn mixed(models: &Models, flags: &[(FlagValue, (usize, usize))], faults: &mut Faults) {
    let is_nrtl = |pair: &&PairModel| matches!(pair.form, ModelForm::Nrtl(_));
    let count = models.spread.pairs.iter().filter(is_nrtl).count();
    if let Some((flag, _)) = flags.last()
        && 0 < count
        && count < models.spread.pairs.len()
    {
        let fault = Fault::new("model_mixed", "nrtl does not go with the other models", flag.place());
        faults.push(fault.with_hint("Take nrtl for every pair, or for none."));
    }
}

fn bad(flag: &FlagValue, message: impl Into<String>, hint: impl Into<String>) -> Fault {
    Fault::new("bad_model", message, flag.place()).with_hint(hint)
}

fn form_and_pair(
    flag: &FlagValue,
    components: &[Vec<String>],
) -> Result<(ModelForm, (usize, usize)), Faults> {
    let mut words = flag.name.split_whitespace();
    let name = words.next().unwrap_or_default();
    let rest = words.collect::<Vec<_>>().join(" ");
    let form = form(flag, name)?;
    Ok((form, pair(flag, &rest, form, components)?))
}

fn form(flag: &FlagValue, name: &str) -> Result<ModelForm, Faults> {
    let has = |key: &str| flag.get(key).is_some();
    match name {
        "ideal" => Ok(ModelForm::Ideal),
        "margules" if has("A12") || has("A21") => Ok(ModelForm::ThreeSuffix),
        "margules" => match whole(flag, "suffixes", 2..=3)? {
            Some(3) => Ok(ModelForm::ThreeSuffix),
            _ => Ok(ModelForm::TwoSuffix),
        },
        "redlich-kister" => {
            let given = ["A", "B", "C", "D"].iter().rposition(|key| has(key)).map(|last| last + 1);
            let wanted = whole(flag, "terms", 1..=MOST_TERMS)?;
            Ok(ModelForm::RedlichKister(given.or(wanted).unwrap_or(2)))
        }
        "nrtl" => alpha(flag).map(ModelForm::Nrtl),
        _ => {
            let all = format!("The models are {}.", NAMES.join(", "));
            Err(bad(flag, format!("unknown model {name:?}"), did_you_mean(name, NAMES, &all)).into())
        }
    }
}

fn whole(
    flag: &FlagValue,
    key: &str,
    range: std::ops::RangeInclusive<usize>,
) -> Result<Option<usize>, Fault> {
    let Some(pair) = flag.get(key) else { return Ok(None) };
    let read = pair.value.parse::<usize>().ok().filter(|value| range.contains(value));
    read.map(Some).ok_or_else(|| {
        let message = format!("{key} is a whole number from {} to {}", range.start(), range.end());
        Fault::new("bad_model", message, flag.place_of(pair))
            .with_hint(format!("Write it like {key}={}.", range.start()))
    })
}

fn alpha(flag: &FlagValue) -> Result<f64, Faults> {
    let Some(pair) = flag.get("alpha") else { return Ok(ALPHA) };
    let value = parse_number(&pair.value).map(|number| number.value).unwrap_or(f64::NAN);
    if (LEAST_ALPHA..=MOST_ALPHA).contains(&value) {
        return Ok(value);
    }
    let message = format!("alpha must lie between {LEAST_ALPHA} and {MOST_ALPHA}; it is mostly 0.2 to 0.47");
    let fault = Fault::new("bad_alpha", message, flag.place_of(pair));
    Err(fault.with_hint(format!("Write alpha={ALPHA}, or leave it out.")).into())
}

/// "ChCl:urea" behind the name of the model; not needed with two components.
fn pair(
    flag: &FlagValue,
    text: &str,
    form: ModelForm,
    components: &[Vec<String>],
) -> Result<(usize, usize), Faults> {
    if text.is_empty() && (components.len() == 2 || form == ModelForm::Ideal) {
        return Ok((0, 1));
    }
    let names: Vec<&str> = components.iter().filter_map(|names| names.first()).map(String::as_str).collect();
    let place = |name: &str| {
        let same = |own: &String| own.eq_ignore_ascii_case(name.trim());
        components.iter().position(|names| names.iter().any(same))
    };
    let found = text.split_once(':').and_then(|(one, other)| place(one).zip(place(other)));
    found.filter(|(one, other)| one != other).ok_or_else(|| {
        let message = if text.is_empty() {
            "it does not say for which pair of components".to_owned()
        } else {
            format!("{text:?} is no pair of the components {}", names.join(", "))
        };
        let hint = format!("Put the pair behind the name: \"{} {}:{} …\".", form.name(), names[0], names[1]);
        bad(flag, message, hint).into()
    })
}

/// All parameters, or none: then they are to be fitted.
fn parameters(
    flag: &FlagValue,
    form: ModelForm,
    (first, second): (usize, usize),
    components: usize,
    models: &mut Models,
    faults: &mut Faults,
) {
    let names = form.parameters();
    let given: Vec<&KeyValue> = names.iter().filter_map(|name| flag.get(name)).collect();
    let foreign = flag.pairs.iter().find(|pair| {
        let of_form = form != ModelForm::Ideal && matches!(pair.key.as_str(), "alpha" | "terms" | "suffixes");
        !names.contains(&pair.key.as_str()) && !of_form
    });
    if let Some(pair) = foreign.filter(|pair| KEYS.contains(&pair.key.as_str())) {
        let message = format!("{} has no parameter {}", form.words(), pair.key);
        let hint = match names {
            [] => "Leave it out, or take a model that has parameters, such as margules.".to_owned(),
            names => format!("Its parameters are {}.", names.join(", ")),
        };
        faults.push(Fault::new("bad_model", message, flag.place_of(pair)).with_hint(hint));
        return;
    }
    if form == ModelForm::Ideal {
        return;
    }
    if given.is_empty() {
        if components == 2 {
            models.fitted = Some(form);
        } else {
            let hint = "Fit each pair by itself with two components, and give its parameters here.";
            faults.push(bad(flag, "a model of three components is not fitted", hint));
        }
        return;
    }
    if given.len() < names.len() {
        let hint = format!("Give all of {}, or none to have them fitted to --points.", names.join(", "));
        faults.push(bad(flag, format!("{} needs {} parameters", form.words(), names.len()), hint));
        return;
    }
    let read: Vec<(f64, f64)> = given.iter().filter_map(|pair| faults.collect(energy(flag, pair))).collect();
    if read.len() < names.len() {
        return;
    }
    let count = read.len();
    let mut root = vec![0.0; count * count];
    read.iter().enumerate().for_each(|(at, (_, sd))| root[at * count + at] = *sd);
    let parameters = read.iter().map(|(value, _)| *value).collect();
    models.spread.pairs.push(PairModel { first, second, form, parameters });
    models.spread.roots.push(if root.iter().all(|sd| *sd == 0.0) { Vec::new() } else { root });
}

/// An energy with its standard uncertainty, 0 where none is given.
fn energy(flag: &FlagValue, pair: &KeyValue) -> Result<(f64, f64), Fault> {
    let read = uncertain::<MolarEnthalpy>(&pair.value);
    let read = read.map_err(|error| {
        Fault::of_quantity(&error, flag.place_of(pair)).with_hint(format!("Write it like {EXAMPLE}."))
    });
    read.map(|(typed, spread)| (typed.value.get(), spread.unwrap_or(0.0)))
}
