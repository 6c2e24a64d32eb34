//! The question behind `sample-size`, from its flags.

use clap::Args;

use super::baseline::baseline_spread;
use super::measure::Measure;
use super::share::share;
use crate::cli::args::Common;
use crate::cli::outcome::Failure;
use crate::input::{Fault, Faults, Place, Warning};
use crate::quantity::parse_number;
use crate::report::view::SizeWords;
use crate::statistics::power::{Aim, MOST, Question, Tails, effect_of_means};

/// Where nothing else is said. The answer states each of them.
const POWER: f64 = 0.8;
const ALPHA: f64 = 0.05;
const CONFIDENCE: f64 = 0.95;
const COVERAGE: f64 = 0.95;
const SURE: f64 = 0.9;

#[derive(Debug, Args)]
#[command(next_help_heading = "What the cells are wanted for (one of these)")]
pub(in crate::cli) struct SampleSizeOptions {
    /// The smallest true difference between two electrolytes that is worth finding, such as "15 mV"
    #[arg(long, value_name = "SIZE", allow_hyphen_values = true)]
    difference: Option<String>,
    /// True means that are worth telling apart, such as "1.30 1.31 1.33 V"
    #[arg(long, value_name = "LIST", allow_hyphen_values = true)]
    means: Option<String>,
    /// To know a mean to within this much to each side
    #[arg(long, value_name = "SIZE", allow_hyphen_values = true)]
    half_width: Option<String>,
    /// To know the spread itself: the true one at most so much above the one found, such as "50 %"
    #[arg(long, value_name = "PERCENT", allow_hyphen_values = true)]
    spread_within: Option<String>,
    /// To say where nearly all further cells lie: to within this much of the mean, or a bare number of
    /// standard deviations
    #[arg(long, value_name = "SIZE or NUMBER", allow_hyphen_values = true)]
    tolerance: Option<String>,
    /// So many cells per electrolyte are there: what they can find or say
    #[arg(long, value_name = "NUMBER", value_parser = clap::value_parser!(u32).range(2..=100_000))]
    per_group: Option<u32>,
    /// The standard deviation between cells of one electrolyte, such as "12 mV"; or take it from the book, with
    /// --baseline
    #[arg(long, value_name = "SIZE", allow_hyphen_values = true, help_heading = "What is known or assumed")]
    sd: Option<String>,
    /// Take the standard deviation from the cells of this electrolyte of the book (a recipe's name or a lot), with
    /// --metric: that between cells of one batch
    #[arg(
        long,
        value_name = "ELECTROLYTE or BATCH",
        requires = "metric",
        conflicts_with = "sd",
        help_heading = "What is known or assumed"
    )]
    baseline: Option<String>,
    /// What is taken of each cell for that: "voltage day=14"; the help of compare has all
    #[arg(
        long,
        value_name = "NAME key=value…",
        requires = "baseline",
        help_heading = "What is known or assumed"
    )]
    metric: Option<String>,
    /// How many electrolytes [default: 2, or 1 where none are compared]
    #[arg(long, value_name = "NUMBER", value_parser = clap::value_parser!(u32).range(1..=1000), help_heading = "What is known or assumed")]
    groups: Option<u32>,
    /// The probability of finding the difference if it is there [default: 0.8]
    #[arg(long, value_name = "SHARE", allow_hyphen_values = true, help_heading = "What is known or assumed")]
    power: Option<String>,
    /// The probability of finding one that is not there [default: 0.05]
    #[arg(long, value_name = "SHARE", allow_hyphen_values = true, help_heading = "What is known or assumed")]
    alpha: Option<String>,
    /// Only one direction counts, chosen before the first reading
    #[arg(long, help_heading = "What is known or assumed")]
    one_sided: bool,
    /// Confidence of an interval, a spread or a tolerance statement [default: 95 %]
    #[arg(long, value_name = "SHARE", allow_hyphen_values = true, help_heading = "What is known or assumed")]
    confidence: Option<String>,
    /// The share of all further cells that a tolerance statement is about [default: 95 %]
    #[arg(long, value_name = "SHARE", allow_hyphen_values = true, help_heading = "What is known or assumed")]
    coverage: Option<String>,
    /// The share of cells that will leak, short or be spilled: spare cells are added
    #[arg(long, value_name = "SHARE", allow_hyphen_values = true, help_heading = "What is known or assumed")]
    loss: Option<String>,
    /// How sure it shall be that enough survive in every group [default: 90 %]
    #[arg(
        long,
        value_name = "SHARE",
        allow_hyphen_values = true,
        requires = "loss",
        help_heading = "What is known or assumed"
    )]
    sure: Option<String>,
}

/// A question with the words and units in which it was asked.
pub(in crate::cli) struct SampleSizeRequest {
    pub(in crate::cli) question: Question,
    pub(in crate::cli) words: SizeWords,
    pub(in crate::cli) warnings: Vec<Warning>,
}

/// The typed request; all faults together.
pub(in crate::cli) fn sample_size_request(
    common: &Common,
    options: &SampleSizeOptions,
) -> Result<SampleSizeRequest, Failure> {
    let baseline = options.baseline.as_deref().zip(options.metric.as_deref());
    let found = baseline.map(|(name, metric)| baseline_spread(common, name, metric)).transpose()?;
    let given = |faults: &mut Faults| {
        options.sd.as_ref().and_then(|text| faults.collect(Measure::positive("--sd", text)))
    };
    let mut request =
        asked(options, |faults| found.as_ref().map(|found| found.sd.clone()).or_else(|| given(faults)))?;
    if let Some(found) = found {
        request.words.found = Some(found.words(&request));
        request.warnings = found.warnings;
    }
    Ok(request)
}

fn asked(
    options: &SampleSizeOptions,
    sd: impl Fn(&mut Faults) -> Option<Measure>,
) -> Result<SampleSizeRequest, Faults> {
    let mut faults = Faults::none();
    let mut shared = |flag: &str, text: &Option<String>, otherwise: f64| match text {
        Some(text) => faults.collect(share(flag, text, 0.0, 1.0)).unwrap_or(otherwise),
        None => otherwise,
    };
    let power = shared("--power", &options.power, POWER);
    let alpha = shared("--alpha", &options.alpha, ALPHA);
    let confidence = shared("--confidence", &options.confidence, CONFIDENCE);
    let coverage = shared("--coverage", &options.coverage, COVERAGE);
    let sure = shared("--sure", &options.sure, SURE);
    let loss = options.loss.as_ref().map(|_| shared("--loss", &options.loss, 0.0));
    if power <= alpha {
        let fault = Fault::new("bad_share", "the power is not above alpha", Place::named("--power"));
        faults.push(fault.with_hint("Cells that find nothing still find something with probability alpha."));
    }
    let sd = sd(&mut faults);
    // A spread that can't be read is no spread that is missing.
    let unread = options.sd.is_some() && sd.is_none();
    let aim = match aim(options, sd.as_ref()) {
        Err(fault) if unread && fault.code == "no_spread" => None,
        aim => faults.collect(aim),
    };
    let groups = options.groups.map(|groups| groups as usize);
    let Some((aim, mut words)) = aim else { return faults.or(None).and_then(no_request) };
    let compared = matches!(aim, Aim::Difference(_) | Aim::Means(_) | Aim::Detect);
    let groups = match (aim, groups) {
        (Aim::Means(_), given) => means_count(options, given, &mut faults),
        (_, Some(given)) => given,
        (_, None) => {
            if compared {
                2
            } else {
                1
            }
        }
    };
    report_groups(options, compared, groups, &mut faults);
    words.loss = options.loss.clone();
    let tails = if options.one_sided { Tails::One } else { Tails::Two };
    let per_group = options.per_group.map(|given| given as usize);
    let question = Question { aim, groups, per_group, power, alpha, tails, confidence, coverage, loss, sure };
    faults.or(SampleSizeRequest { question, words, warnings: Vec::new() })
}

/// No request without a fault: the place where the aim was missing said so.
fn no_request(_: Option<SampleSizeRequest>) -> Result<SampleSizeRequest, Faults> {
    Err(no_aim().into())
}

/// What to say where no number of cells is enough.
pub(in crate::cli) fn never_enough() -> Fault {
    let message = format!("not even {MOST} cells per electrolyte are enough");
    Fault::new("never_enough", message, Place::named("the command line"))
        .with_hint("Ask for less, or find out where the spread between the cells comes from.")
}

fn no_aim() -> Fault {
    Fault::new("no_aim", "it is not said what the cells are wanted for", Place::named("the command line"))
        .with_hint("Say for example --difference \"15 mV\" --sd \"12 mV\".")
}

fn aim(options: &SampleSizeOptions, sd: Option<&Measure>) -> Result<(Aim, SizeWords), Fault> {
    let given = [
        ("--difference", &options.difference),
        ("--means", &options.means),
        ("--half-width", &options.half_width),
        ("--spread-within", &options.spread_within),
        ("--tolerance", &options.tolerance),
    ];
    let given: Vec<(&'static str, &String)> =
        given.into_iter().filter_map(|(flag, text)| Some((flag, text.as_ref()?))).collect();
    match given[..] {
        [] if options.per_group.is_some() => {
            let sd = sd.ok_or_else(|| no_spread("--per-group"))?;
            Ok((Aim::Detect, words(sd, Some(sd.value), None)))
        }
        [] => Err(no_aim()),
        [("--spread-within", text)] => {
            let more = share("--spread-within", text, 0.0, 1000.0)?;
            Ok((Aim::Spread(1.0 + more), SizeWords { target: Some(1.0 + more), ..SizeWords::default() }))
        }
        [("--tolerance", text)] => tolerance(text, sd),
        [("--means", text)] => means(text, sd.ok_or_else(|| no_spread("--means"))?),
        [(flag, text)] => {
            let size = Measure::positive(flag, text)?;
            let sd = sd.ok_or_else(|| no_spread(flag))?;
            let own = sd.in_unit_of(&size)?;
            let effect = size.value / own;
            let aim = if flag == "--difference" { Aim::Difference(effect) } else { Aim::HalfWidth(effect) };
            Ok((aim, words(&size, Some(own), Some(size.value))))
        }
        _ => {
            let flags: Vec<&str> = given.iter().map(|(flag, _)| *flag).collect();
            let message = format!("{} ask for different things", flags.join(" and "));
            let fault = Fault::new("two_aims", message, Place::named(flags.join(" ")));
            Err(fault.with_hint("Ask one question at a time, and build for the largest answer."))
        }
    }
}

fn words(unit: &Measure, sd: Option<f64>, target: Option<f64>) -> SizeWords {
    SizeWords { unit: unit.unit.clone(), sd, target, ..SizeWords::default() }
}

fn no_spread(flag: &str) -> Fault {
    let message = format!("{flag} needs the spread between cells of one electrolyte");
    Fault::new("no_spread", message, Place::named("--sd"))
        .with_hint(
            "Say it as in --sd \"12 mV\", or take it from cells of the book: --baseline E1 --metric \"voltage day=14\".",
        )
}

/// A bare number is the factor itself; a size needs the spread.
fn tolerance(text: &str, sd: Option<&Measure>) -> Result<(Aim, SizeWords), Fault> {
    let size = Measure::positive("--tolerance", text)?;
    let Some(sd) = sd.filter(|sd| !size.unit.is_empty() || sd.unit.is_empty()) else {
        if size.unit.is_empty() {
            return Ok((
                Aim::Tolerance(size.value),
                SizeWords { target: Some(size.value), ..SizeWords::default() },
            ));
        }
        return Err(no_spread("--tolerance"));
    };
    let own = sd.in_unit_of(&size)?;
    Ok((Aim::Tolerance(size.value / own), words(&size, Some(own), Some(size.value))))
}

/// Numbers, the last with the unit of all.
fn list_of_means(text: &str) -> Result<(Vec<f64>, Measure), Fault> {
    let numbers = text.split_whitespace().take_while(|word| parse_number(word).is_ok());
    let count = numbers.clone().count();
    let unit = text.split_whitespace().skip(count).collect::<Vec<_>>().join(" ");
    let values: Vec<f64> = numbers.filter_map(|word| Some(parse_number(word).ok()?.value)).collect();
    let spread = values.iter().any(|value| *value != values[0]);
    if values.len() < 2 || !spread || unit.split_whitespace().nth(1).is_some() {
        let place = Place::in_text("--means", text, 0..text.len());
        let fault =
            Fault::new("bad_measure", format!("{text:?} is no list of two or more different means"), place);
        return Err(fault.with_hint("Write it like --means \"1.30 1.31 1.33 V\"."));
    }
    Measure::parse("--means", &format!("{} {unit}", values[0])).map(|first| (values, first))
}

fn means(text: &str, sd: &Measure) -> Result<(Aim, SizeWords), Fault> {
    let (values, first) = list_of_means(text)?;
    let own = sd.in_unit_of(&first)?;
    let range = values.iter().fold(f64::NEG_INFINITY, |most, value| most.max(*value))
        - values.iter().fold(f64::INFINITY, |least, value| least.min(*value));
    Ok((Aim::Means(effect_of_means(&values, own)), words(&first, Some(own), Some(range))))
}

fn means_count(options: &SampleSizeOptions, given: Option<usize>, faults: &mut Faults) -> usize {
    let text = options.means.as_deref().unwrap_or_default();
    let count = list_of_means(text).map_or(2, |(values, _)| values.len());
    if given.is_some_and(|given| given != count) {
        let fault =
            Fault::new("bad_groups", format!("--means lists {count} electrolytes"), Place::named("--groups"));
        faults.push(fault.with_hint("Leave --groups out: the list of means says how many there are."));
    }
    count
}

fn report_groups(options: &SampleSizeOptions, compared: bool, groups: usize, faults: &mut Faults) {
    let mut push = |message: &str, flag: &str, hint: &str| {
        faults.push(Fault::new("bad_groups", message, Place::named(flag)).with_hint(hint));
    };
    if compared && groups < 2 {
        push("one electrolyte can't be compared", "--groups", "Give the number of electrolytes, 2 or more.");
    }
    if compared && options.one_sided && 2 < groups {
        push(
            "several electrolytes have no one direction",
            "--one-sided",
            "Leave it out, or compare two of them.",
        );
    }
    if !compared && options.one_sided {
        push("only a comparison has a direction", "--one-sided", "Leave it out.");
    }
}
