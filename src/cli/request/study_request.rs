//! A study as it is to be recorded: every fault of what was given together, and every default.

use jiff::civil::Date;

use super::cell_request::blocks;
use super::recipe_source::{is_recipe, recipe_of};
use super::record::day;
use super::seed::drawn_seed;
use super::share::share;
use super::study_power::{in_unit, no_size_of};
use super::study_wish::{Given, StudyOptions, StudyWish, study_wish};
use super::table::component_table;
use crate::cell::metric::Metric;
use crate::cli::args::Common;
use crate::cli::outcome::Failure;
use crate::component::ComponentTable;
use crate::input::{Fault, Faults, FlagValue, Place, did_you_mean};
use crate::quantity::TimeSpan;
use crate::record::cell::{Cause, DueReading};
use crate::record::life::BatchLife;
use crate::record::reading::ReadingKind;
use crate::record::study::{Planned, Size, Studied, StudyMethod};
use crate::record::{Code, CodeKind};

/// Where nothing else is said. The answer states each of them.
const CONFIDENCE: f64 = 0.95;
const CAUSES: [Cause; 4] = [Cause::Leak, Cause::Short, Cause::Dry, Cause::WrongDose];
/// A schedule longer than this was not meant.
const MOST_READINGS: f64 = 1000.0;
const DAY_S: f64 = 86_400.0;

/// What is around a study: the batches of the book and the day.
pub(in crate::cli) struct StudyAround<'a> {
    pub(in crate::cli) common: &'a Common,
    pub(in crate::cli) batches: &'a [BatchLife],
    pub(in crate::cli) today: Date,
    pub(in crate::cli) at: jiff::Timestamp,
}

/// The study; its code stands for one that the book has not given yet.
pub(in crate::cli) fn study_request(
    options: &StudyOptions,
    around: &StudyAround<'_>,
) -> Result<Planned, Failure> {
    let wish = study_wish(options)?;
    let table = component_table(around.common)?;
    let mut faults = Faults::none();
    missing(&wish, &mut faults);
    let electrolytes: Vec<Studied> =
        wish.electrolytes.iter().filter_map(|given| faults.collect(studied(given, &table, around))).collect();
    let mut read = Reader { faults };
    let ends = read.one(&wish.ends, |given| ends(given, around.today));
    let blocks = read.one(&wish.blocks, study_blocks);
    let schedule: Vec<DueReading> = read.many(&wish.readings, readings).into_iter().flatten().collect();
    let causes = read.many(&wish.causes, cause);
    let (smallest, spread) = (read.one(&wish.difference, size), read.one(&wish.sd, size));
    let method = read.one(&wish.method, method);
    let confidence =
        read.one(&wish.confidence, |given| share(&given.origin, &given.text, 0.5, 1.0).map_err(Faults::from));
    let said = wish.metric.clone().filter(|given| !given.text.trim().is_empty());
    let metric = read.one(&said, |given| Metric::parse_at(&given.origin, &given.text));
    // Which names there are is known only where all of them could be read.
    let all_read = electrolytes.len() == wish.electrolytes.len();
    let named = wish.baseline.clone().filter(|_| all_read);
    let baseline = read.one(&named, |given| baseline(given, &electrolytes));
    let mut faults = read.faults;
    for (given, size) in [(&wish.difference, &smallest), (&wish.sd, &spread)] {
        let (Some(given), Some(size), Some(metric)) = (given, size, &metric) else { continue };
        if in_unit(size, metric.unit()).is_none() {
            let message = no_size_of(size, metric);
            faults.push(given.fault("unit_mixed", message, format!("Give it in {}.", metric.unit())));
        }
    }
    let each = wish.cells.unwrap_or(2);
    let blocks = blocks.unwrap_or_else(|| numbered(each as usize));
    if let Some(given) = wish.blocks.as_ref().filter(|_| !(each as usize).is_multiple_of(blocks.len())) {
        let message = format!(
            "{each} cells of each electrolyte can't be shared equally between {} blocks",
            blocks.len()
        );
        faults.push(given.fault(
            "uneven_blocks",
            message,
            "Plan as many blocks as divide the number of cells.",
        ));
    }
    let seed = match wish.seed {
        Some(seed) => seed,
        None => drawn_seed()?,
    };
    let code = Code::new(CodeKind::Study, 0);
    Ok(faults.or(Planned {
        code,
        question: wish.question.map(|given| given.text.trim().to_owned()).unwrap_or_default(),
        electrolytes,
        metric: metric.map(|metric| metric.to_string()).unwrap_or_default(),
        per_electrolyte: each,
        blocks,
        seed,
        schedule: sorted(schedule),
        ends: ends.unwrap_or(around.today),
        causes: if causes.is_empty() { CAUSES.to_vec() } else { causes },
        smallest,
        spread,
        baseline,
        method: method.unwrap_or(StudyMethod::Welch),
        confidence: confidence.unwrap_or(CONFIDENCE),
        at: around.at,
    })?)
}

/// Reads what is there and collects what is wrong with it.
struct Reader {
    faults: Faults,
}

impl Reader {
    fn one<T>(&mut self, given: &Option<Given>, read: impl FnOnce(&Given) -> Result<T, Faults>) -> Option<T> {
        self.faults.collect(read(given.as_ref()?))
    }

    fn many<T>(&mut self, given: &[Given], read: impl Fn(&Given) -> Result<T, Faults>) -> Vec<T> {
        given.iter().filter_map(|given| self.faults.collect(read(given))).collect()
    }
}

/// What every study has, each that is not there.
fn missing(wish: &StudyWish, faults: &mut Faults) {
    let said = |given: &Option<Given>| given.as_ref().is_some_and(|given| !given.text.trim().is_empty());
    let needed = [
        (
            said(&wish.question),
            "question",
            "the question in words, as in --question \"Does A hold its voltage longer than B?\"",
        ),
        (
            1 < wish.electrolytes.len(),
            "electrolyte",
            "two electrolytes or more, as in --electrolyte \"E1 name=A\" --electrolyte \"E2 name=B\"",
        ),
        (said(&wish.metric), "metric", "the value that is compared, as in --metric \"voltage day=14\""),
        (wish.cells.is_some(), "cells", "the number of cells of each electrolyte, as in --cells 6"),
        (said(&wish.ends), "ends", "the day of the comparison, as in --ends 2027-01-15"),
    ];
    for (_, name, hint) in needed.into_iter().filter(|(there, ..)| !there) {
        let place = Place::named(wish.file.as_deref().unwrap_or("study plan"));
        let message = match name {
            "electrolyte" => "the study names fewer than two electrolytes".to_owned(),
            "cells" => "the study names no number of cells".to_owned(),
            "ends" => "the study names no planned end".to_owned(),
            other => format!("the study names no {other}"),
        };
        faults.push(Fault::new("study_incomplete", message, place).with_hint(format!("Give {hint}.")));
    }
}

/// `E1 E8 name=A`, or a recipe with or without a name.
fn studied(given: &Given, table: &ComponentTable, around: &StudyAround<'_>) -> Result<Studied, Faults> {
    let flag = FlagValue::parse(&given.origin, &given.text, &["name"])?;
    let own_name = flag.get("name").map(|pair| pair.value.clone()).filter(|name| !name.is_empty());
    let words = flag.name.split([' ', ',']).filter(|word| !word.is_empty());
    let codes: Option<Vec<Code>> = words.map(|word| word.parse().ok()).collect();
    if let Some(batches) = codes.filter(|codes| !codes.is_empty()) {
        return of_batches(given, batches, own_name, around);
    }
    let made = |life: &&BatchLife| life.name == flag.name;
    let recipe = if around.batches.iter().any(|life| made(&life)) {
        flag.name.clone()
    } else if is_recipe(around.common, &flag.name) {
        recipe_of(&given.origin, around.common, table, &flag.name)
            .map_err(|failure| failure.faults().clone())?
            .name
    } else {
        let names = around.batches.iter().map(|life| life.name.as_str());
        let otherwise = "Name a recipe, as in meltbook batch start, or batches by their codes.";
        let hint = did_you_mean(&flag.name, names, otherwise);
        let message = format!("{:?} is neither a recipe nor batches", flag.name);
        return Err(given.fault("unknown_electrolyte", message, hint).into());
    };
    Ok(Studied {
        name: own_name.unwrap_or_else(|| recipe.clone()),
        recipe: Some(recipe),
        batches: Vec::new(),
    })
}

fn of_batches(
    given: &Given,
    batches: Vec<Code>,
    own_name: Option<String>,
    around: &StudyAround<'_>,
) -> Result<Studied, Faults> {
    let mut faults = Faults::none();
    let life = |code: &Code| around.batches.iter().find(|life| life.code == *code);
    for code in batches.iter().filter(|code| life(code).is_none()) {
        let hint = "See the batches with: meltbook batch list --all.";
        faults.push(given.fault("unknown_code", format!("the book has no batch {code}"), hint));
    }
    let recipe = |code: &Code| life(code).map(|life| life.name.clone()).unwrap_or_default();
    let first = batches.first().map(recipe).unwrap_or_default();
    let codes = || batches.iter().map(ToString::to_string).collect::<Vec<_>>().join(" and ");
    let one_recipe = batches.iter().all(|code| recipe(code) == first);
    let name = own_name.unwrap_or_else(|| if one_recipe { first } else { codes() });
    faults.or(Studied { name, recipe: None, batches })
}

fn ends(given: &Given, today: Date) -> Result<Date, Faults> {
    let ends = day(&given.origin, &given.text)?;
    if today < ends {
        return Ok(ends);
    }
    let message = format!("the planned end {ends} is not after today, {today}");
    let hint = "A study is written before its data are there; what is there already is compared without one.";
    Err(given.fault("end_not_ahead", message, hint).into())
}

/// A number of blocks, or their names.
fn study_blocks(given: &Given) -> Result<Vec<String>, Faults> {
    match given.text.trim().parse::<usize>() {
        Ok(count) if (1..=10_000).contains(&count) => Ok(numbered(count)),
        _ => Ok(blocks(&given.origin, &given.text)?),
    }
}

fn numbered(count: usize) -> Vec<String> {
    (1..=count).map(|number| format!("block {number}")).collect()
}

/// `open-circuit every=7d until=42d`.
fn readings(given: &Given) -> Result<Vec<DueReading>, Faults> {
    let mut faults = Faults::none();
    let flag = FlagValue::collecting(&given.origin, &given.text, &["after", "every", "until"], &mut faults);
    let kind = ReadingKind::from_word(&flag.name);
    if kind.is_none() {
        let words = ReadingKind::ALL.map(ReadingKind::word);
        let hint = did_you_mean(&flag.name, words, &format!("What can be read is {}.", words.join(", ")));
        faults.push(given.fault("unknown_reading", format!("{:?} can't be read", flag.name), hint));
    }
    let mut in_days =
        |key: &str| flag.quantity::<TimeSpan>(key, &mut faults).map(|typed| typed.value.get() / DAY_S);
    let days = match (in_days("after"), in_days("every"), in_days("until")) {
        (Some(after), None, None) if 0.0 < after => vec![after],
        (None, Some(every), Some(until)) if 0.0 < every && until / every < MOST_READINGS => {
            // A last day that only rounding puts past the end is meant.
            let last = (until / every + 1e-9).floor() as u32;
            (1..=last).map(|time| f64::from(time) * every).collect()
        }
        _ => {
            let hint = "Write it like \"open-circuit every=7d until=42d\" or \"under-load after=14d\".";
            if faults.is_empty() {
                faults.push(given.fault("bad_schedule", "these times make no schedule".to_owned(), hint));
            }
            Vec::new()
        }
    };
    let what = kind.map(ReadingKind::word).unwrap_or_default();
    faults.or(days.into_iter().map(|day| DueReading { day, what: what.to_owned() }).collect())
}

fn sorted(mut schedule: Vec<DueReading>) -> Vec<DueReading> {
    schedule.sort_by(|a, b| a.day.total_cmp(&b.day).then_with(|| a.what.cmp(&b.what)));
    schedule.dedup();
    schedule
}

/// A cause of failure; the end of the test is none.
fn cause(given: &Given) -> Result<Cause, Faults> {
    match super::cause::cause(&given.origin, &given.text)? {
        Cause::EndOfTest => {
            let hint = "A cell whose test is over has not failed, and its value counts.";
            Err(given
                .fault("no_failure", "end-of-test is no cause to leave a cell out".to_owned(), hint)
                .into())
        }
        cause => Ok(cause),
    }
}

fn size(given: &Given) -> Result<Size, Faults> {
    given.text.parse().map_err(|error: crate::record::study::SizeError| {
        given
            .fault("bad_measure", error.to_string(), "Write a number and its unit, such as \"15 mV\".")
            .into()
    })
}

/// A method by its word.
pub(in crate::cli) fn method(given: &Given) -> Result<StudyMethod, Faults> {
    let all = [StudyMethod::Welch, StudyMethod::Classical, StudyMethod::Ranks];
    let found = all.into_iter().find(|method| method.word() == given.text.trim());
    found.ok_or_else(|| {
        let hint = did_you_mean(
            given.text.trim(),
            all.map(StudyMethod::word),
            "The methods are welch, classical and ranks.",
        );
        given.fault("unknown_method", format!("{:?} is no method", given.text), hint).into()
    })
}

fn baseline(given: &Given, electrolytes: &[Studied]) -> Result<String, Faults> {
    let names = || electrolytes.iter().map(|studied| studied.name.as_str());
    if let Some(name) = names().find(|name| *name == given.text.trim()) {
        return Ok(name.to_owned());
    }
    let all = format!("The electrolytes are {}.", names().collect::<Vec<_>>().join(", "));
    let hint = did_you_mean(&given.text, names(), &all);
    Err(given.fault("unknown_group", format!("no electrolyte is called {:?}", given.text), hint).into())
}
