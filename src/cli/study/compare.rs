//! `compare --study`: what a study asked, and where the work departed from it.

use serde_json::{Value, json};

use crate::book::{Book, BookError};
use crate::cell::metric::Metric;
use crate::cli::args::Common;
use crate::cli::judged::{self, Judged};
use crate::cli::outcome::{Failure, Outcome};
use crate::cli::request::{
    self, Observed, StudyRecords, code, failure, in_unit, open_book, stamp, study_observed,
};
use crate::input::{Fault, Place};
use crate::record::Event;
use crate::record::study::{Asked, Departure, Looked, StudyMethod};
use crate::report::answer::comparison_answer;
use crate::report::view::{
    EarlyLook, Matters, PairMatters, StudyComparison, comparison_document, departure_words,
    study_comparison_document,
};
use crate::statistics::comparison::Method;

/// What is asked, as far as flags say it; the study says the rest.
pub(in crate::cli) struct StudyQuestion<'a> {
    /// The command that asks: a look names it.
    pub(in crate::cli) command: &'static str,
    pub(in crate::cli) study: &'a str,
    pub(in crate::cli) metric: Option<&'a str>,
    pub(in crate::cli) method: Option<StudyMethod>,
    pub(in crate::cli) baseline: Option<&'a str>,
    /// Who looks, for the entry of a look before the planned end.
    pub(in crate::cli) by: Option<&'a str>,
    /// Nothing is written, and the answer says so.
    pub(in crate::cli) unrecorded: bool,
}

pub(in crate::cli) fn compared(common: &Common, question: &StudyQuestion<'_>) -> Result<Outcome, Failure> {
    let code = code("--study", question.study)?;
    let mut book = open_book(common)?;
    let records = StudyRecords::read(&book, &code)?;
    let asked = asked(question, &records)?;
    let metric = Metric::parse_at(&format!("the metric of {code}"), &asked.metric)?;
    let observed = study_observed(common, &book, &records, &metric)?;
    let judged = judged::judged(&observed, &of_asked(&asked))?;
    let departures = records.departures(Some(&asked));
    // Nothing is shown before the look is recorded.
    let look = looked(common, question, &mut book, &records, &observed, &departures)?;
    let view = judged.view(&observed);
    let matters = matters(&records, &judged, &observed, &asked);
    let around = StudyComparison {
        study: &records.study,
        look: look.as_ref(),
        departures: &departures,
        matters: &matters,
        zone: &records.zone,
    };
    let document = study_comparison_document(&around, &comparison_document(&view));
    let mut answer = comparison_answer(&view);
    answer["study"] = of_study(&around);
    let mut outcome = Outcome::new("compare", answer, document);
    outcome.warnings.clone_from(&judged.warnings);
    Ok(outcome)
}

/// The study's own question, with what flags say otherwise.
pub(in crate::cli) fn asked(question: &StudyQuestion<'_>, records: &StudyRecords) -> Result<Asked, Failure> {
    let mut asked = Asked::as_planned(&records.study);
    if let Some(text) = question.metric {
        asked.metric = Metric::parse(text)?.to_string();
    }
    if let Some(method) = question.method {
        asked.method = method;
    }
    if let Some(baseline) = question.baseline {
        asked.baseline = Some(baseline.to_owned());
    }
    Ok(asked)
}

/// The same as a question to groups of observations.
pub(in crate::cli) fn of_asked(asked: &Asked) -> judged::Asked<'_> {
    let method = match asked.method {
        StudyMethod::Welch => Method::Welch,
        StudyMethod::Classical => Method::Classical,
        StudyMethod::Ranks => Method::Ranks,
    };
    judged::Asked { method, baseline: asked.baseline.as_deref(), confidence: asked.confidence }
}

/// Records a look before the planned end. `None` on its day or after it.
pub(in crate::cli) fn looked(
    common: &Common,
    question: &StudyQuestion<'_>,
    book: &mut Book,
    records: &StudyRecords,
    observed: &Observed,
    departures: &[Departure],
) -> Result<Option<EarlyLook>, Failure> {
    let days_before_end = records.days_before_end();
    if days_before_end == 0 {
        return Ok(None);
    }
    let count = departures.iter().find_map(|departure| match departure {
        Departure::EarlyLooks { looks, .. } => Some(*looks),
        _ => None,
    });
    let number = count.unwrap_or(1);
    if question.unrecorded {
        return Ok(Some(EarlyLook { number, days_before_end, entry: None }));
    }
    let settings = request::settings(common)?;
    let stamp = stamp(question.by, settings.as_ref()).map_err(named_otherwise)?;
    let with_value: usize = observed.groups.iter().map(|group| group.values.len()).sum();
    let looked = Looked {
        study: records.study.planned.code.clone(),
        command: command(question),
        with_value: u32::try_from(with_value).unwrap_or(u32::MAX),
        of: u32::try_from(records.cells.len()).unwrap_or(u32::MAX),
        at: records.now,
    };
    let entry = book.write(&stamp, |writer| writer.append(&Event::StudyLooked(looked.clone())));
    let entry = entry.map_err(|error| not_recorded(&error))?;
    Ok(Some(EarlyLook { number, days_before_end, entry: Some(entry) }))
}

/// Here --by says what makes a group.
fn named_otherwise(failed: Failure) -> Failure {
    if failed.faults().iter().all(|fault| fault.code != "no_author") {
        return failed;
    }
    let message = "a look before the planned end is recorded, and nobody is named who looks";
    Fault::new("no_author", message, Place::named("--author"))
        .with_hint("Give initials with --author AB, or set author = \"AB\" in meltbook.toml.")
        .into()
}

/// Nothing is shown of a look that can't be recorded, unless that is asked for.
fn not_recorded(error: &BookError) -> Failure {
    if error.is_input() {
        return failure(error);
    }
    let hint = format!("{} To look without recording it: --unrecorded; the answer says so.", error.hint());
    Failure::Storage(
        Fault::new(error.code(), error.to_string(), Place::named("the book")).with_hint(hint).into(),
    )
}

/// The command as it could be typed again.
fn command(question: &StudyQuestion<'_>) -> String {
    let mut text = format!("meltbook {} --study {}", question.command, question.study.trim());
    let flags = [
        ("--metric", question.metric.map(|metric| format!("{metric:?}"))),
        ("--method", question.method.map(|method| method.word().to_owned())),
        ("--baseline", question.baseline.map(|name| format!("{name:?}"))),
    ];
    for (flag, value) in flags.into_iter().filter_map(|(flag, value)| Some((flag, value?))) {
        text.push_str(&format!(" {flag} {value}"));
    }
    text
}

/// Each pair against the smallest difference that matters, in the unit in which that was said.
fn matters(records: &StudyRecords, judged: &Judged, observed: &Observed, asked: &Asked) -> Vec<PairMatters> {
    let unit = observed.unit.as_deref().unwrap_or_default();
    let smallest = records.study.planned.smallest.as_ref();
    let Some((size, in_own)) = smallest.and_then(|size| Some((size, in_unit(size, unit)?))) else {
        return Vec::new();
    };
    let factor = size.value() / in_own;
    let comparison = judged.view(observed).comparison;
    let name = |place: usize| comparison.members[place].name.clone();
    let pair = |pair: &crate::statistics::comparison::Pair| PairMatters {
        a: name(pair.a),
        b: name(pair.b),
        interval: pair.interval.map(|limits| limits.map(|limit| limit * factor)),
        smallest: size.value(),
        unit: size.unit().to_owned(),
        confidence: asked.confidence,
    };
    comparison.pairs.iter().map(pair).collect()
}

fn of_study(view: &StudyComparison<'_>) -> Value {
    let planned = &view.study.planned;
    let look = view.look.map(
        |look| json!({ "number": look.number, "days_before_end": look.days_before_end, "entry": look.entry }),
    );
    let matters = view.matters.iter().map(|pair| {
        let word = match pair.matters() {
            Matters::Within => "within",
            Matters::Beyond => "beyond",
            Matters::Open => "open",
            Matters::NoLimits => "no_limits",
        };
        json!({ "a": pair.a, "b": pair.b, "limits": pair.interval, "unit": pair.unit, "matters": word })
    });
    json!({
        "code": planned.code.to_string(),
        "written": view.study.written.to_string(),
        "ends": planned.ends.to_string(),
        "look": look,
        "smallest_difference": planned.smallest.as_ref().map(ToString::to_string),
        "against_smallest": matters.collect::<Vec<_>>(),
        "departures": view.departures.iter().map(|departure| departure_words(departure, view.zone)).collect::<Vec<_>>(),
    })
}
