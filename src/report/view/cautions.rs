//! Cautions: the whole review, and what of it stands on a plan and on a sheet. Worst first everywhere.

use super::cautions_list::cautions_list;
use super::mixture::{mixture_codes, mixture_in_short, mixture_section};
use super::shelf::waste_table;
use crate::caution::{Alert, ComponentHazard, Context, MaterialHazard, Review, Severity, Statement, WayPast};
use crate::report::document::{
    Block, Caution, Document, Text, WriteIn, bullets, facts, heading, muted, paragraph, strong, text,
    write_ins,
};

/// Everything that is to be read before anything is opened.
pub fn cautions_document(title: &str, review: &Review, context: &Context) -> Document {
    let mut document = Document::new(format!("Cautions: {title}"))
        .with_data(cautions_list(review))
        .with(circumstances(review, context));
    document.push(heading(1, "Alerts"));
    if review.alerts.is_empty() {
        document.push(paragraph("No rule of this program speaks of these materials. That proves nothing."));
    }
    document.extend(review.alerts.iter().map(full_alert));
    document.push(deferral(review));
    document.extend(review.mixture.iter().flat_map(mixture_section));
    document
        .push(heading(1, if review.mixture.is_some() { "What goes into it" } else { "Hazard statements" }));
    for component in &review.components {
        document.extend(component_hazard(component));
    }
    for material in &review.materials {
        document.extend(material_hazard(material));
    }
    if review.mixture.is_none() && 1 < review.components.len() + review.materials.len() {
        document.push(paragraph(
            "No composition is given, so nothing is classified as a mixture: these are the statements of what is at hand.",
        ));
    }
    document.push(heading(1, "At the bench"));
    for practice in &review.practice {
        document.push(heading(2, practice.title.as_str()));
        document.push(bullets(practice.points.iter().map(String::as_str)));
    }
    if !review.waste.is_empty() {
        document.push(heading(2, "waste streams"));
        document.push(waste_table(&review.waste));
    }
    document
}

/// What the review took for granted, so that it can be told from another.
fn circumstances(review: &Review, context: &Context) -> Block {
    let mut done = Vec::new();
    let mut note = |holds: bool, words: &str| {
        if holds {
            done.push(words.to_owned());
        }
    };
    note(context.sealed, "closed in");
    note(context.cell, "in a cell");
    note(context.to_dryness, "taken to dryness");
    note(context.ground, "ground together");
    note(context.short_circuit, "short-circuited");
    note(context.damp_air, "open to damp air");
    if let Some(heat) = context.heat {
        let time = context.time.map_or(String::new(), |time| format!(" for {} h", time.hours()));
        let how = if context.is_heated() { "heated to" } else { "at" };
        done.push(format!("{how} {heat}{time}"));
    } else if context.heated {
        done.push("heated".to_owned());
    }
    let done = if done.is_empty() {
        "nothing stated: mixed and kept open, unheated".to_owned()
    } else {
        done.join(", ")
    };
    let mut lines = vec![("Statements by", text(review.scheme_title)), ("Reviewed as", text(done))];
    lines.extend(review.mixture.as_ref().map(|mixture| ("The mixture", mixture_in_short(mixture))));
    facts(lines)
}

fn deferral(review: &Review) -> Block {
    bullets(review.deferral.iter().map(|sentence| strong(sentence.as_str()))).into()
}

fn severity(severity: Severity) -> crate::report::document::Severity {
    match severity {
        Severity::Block => crate::report::document::Severity::Block,
        Severity::Warn => crate::report::document::Severity::Warn,
        Severity::Note => crate::report::document::Severity::Note,
    }
}

fn full_alert(alert: &Alert) -> Block {
    let mut caution = Caution::new(severity(alert.severity), alert.title.as_str())
        .detail(alert.message.as_str())
        .detail(alert.reason.as_str());
    if !alert.because.is_empty() {
        caution = caution.detail(text("Because of: ").then(alert.because.join(", ")));
    }
    if alert.way_past != WayPast::NotNeeded {
        caution = caution.detail(strong(format!("Way past: {}.", alert.way_past.words())));
    }
    caution.source(format!("{}; rule {}", alert.source, alert.id)).into()
}

fn component_hazard(component: &ComponentHazard) -> Vec<Block> {
    let mut lines: Vec<(&str, Text)> = Vec::new();
    lines.extend(component.signal_word.iter().map(|word| ("Signal word", strong(word))));
    for statement in &component.statements {
        lines.push(("", text(format!("{} {}", statement.code, statement.text))));
    }
    lines.extend(component.missing.iter().map(|missing| ("No data", strong(sentence(missing)))));
    if !component.pictograms.is_empty() {
        lines.push(("Pictograms", text(component.pictograms.join(", "))));
    }
    let mut optional = |label, value: &Option<String>| {
        lines.extend(value.as_ref().map(|value| (label, text(value))));
    };
    let storage =
        component.storage_class.as_ref().map(|c| format!("{}: {} ({})", c.class, c.words, c.source));
    optional("Storage class", &storage);
    optional("Limits", &component.limits);
    optional("Note", &component.note);
    optional("Confidence", &component.confidence);
    if !component.keep_apart.is_empty() {
        lines.push(("Keep apart from", text(component.keep_apart.join("; "))));
    }
    for limit in &component.heat_limits {
        let at = limit.at_celsius.map_or(String::new(), |at| format!("{at} °C: "));
        lines.push((
            "On heating",
            text(format!("{at}{} ", limit.what)).then(muted(format!("({})", limit.source))),
        ));
    }
    lines.push(("Basis", text(format!("{}; {}", component.basis, component.source))));
    vec![heading(2, component.name.as_str()), facts(lines)]
}

fn material_hazard(material: &MaterialHazard) -> Vec<Block> {
    let mut lines = vec![("No data", strong(sentence(&material.missing)))];
    if !material.keep_apart.is_empty() {
        lines.push(("Keep apart from", text(material.keep_apart.join("; "))));
    }
    vec![heading(2, material.name.as_str()), facts(lines)]
}

fn sentence(words: &str) -> String {
    let mut characters = words.chars();
    let first = characters.next().map(|c| c.to_uppercase().to_string()).unwrap_or_default();
    format!("{first}{}.", characters.as_str())
}

/// Every alert in a line or two.
pub fn alerts_in_short(review: &Review) -> Vec<Block> {
    review.alerts.iter().map(|alert| short_alert(alert).into()).collect()
}

/// The cautions beside a plan: every alert in a line or two, the statements of each component, who decides.
pub fn cautions_in_short(review: &Review) -> Vec<Block> {
    let mut blocks = vec![heading(1, "Before a bottle is opened")];
    blocks.extend(alerts_in_short(review));
    let mixture = review.mixture.iter().map(|mixture| ("The mixture", mixture_in_short(mixture)));
    let components =
        review.components.iter().map(|component| (component.name.as_str(), statements(component)));
    blocks.push(facts(mixture.chain(components).collect::<Vec<_>>()));
    blocks.extend(review.deferral.first().map(|first| paragraph(strong(first))));
    blocks
}

/// The cautions on a sheet to be signed: below what blocks, boxes for the written procedure and the person.
pub fn cautions_to_sign(review: &Review) -> Vec<Block> {
    let mut blocks = cautions_on_sheet(review);
    for block in &mut blocks {
        // The boxes say it once for all.
        if let Block::Caution(caution) = block {
            caution.leave_out(WayPast::ProcedureAndPerson.words());
        }
    }
    let boxes = write_ins([
        WriteIn::new("BLOCK is done only with a written procedure; its name").width(3),
        WriteIn::new("Person responsible, and signature").width(3),
    ]);
    if review.needing_procedure().next().is_some() {
        let blocking = review.alerts.iter().filter(|alert| alert.severity == Severity::Block).count();
        blocks.insert(blocking, boxes.into());
    }
    blocks
}

/// So many notes say on a sheet what to do; of more there are the titles alone.
const NOTES_IN_FULL: usize = 2;

/// The cautions on a sheet, set close: what blocks or warns each in its frame, notes together, the gravest statements
/// in words.
pub fn cautions_on_sheet(review: &Review) -> Vec<Block> {
    let grave = |alert: &&Alert| Severity::Warn <= alert.severity;
    let mut blocks: Vec<Block> =
        review.alerts.iter().filter(grave).map(|alert| short_alert(alert).into()).collect();
    // Of many notes the titles say what they are about; what to do is in the procedure and in the whole review.
    let notes: Vec<&Alert> = review.alerts.iter().filter(|alert| !grave(alert)).collect();
    if notes.len() <= NOTES_IN_FULL {
        blocks.extend(notes.into_iter().map(|alert| Block::from(short_alert(alert))));
    } else {
        let mut titles: Vec<&str> = notes.into_iter().map(|alert| alert.title.as_str()).collect();
        titles.dedup();
        blocks.push(Caution::note(titles.join("; ")).into());
    }
    blocks.push(paragraph(
        strong(gravest_in_words(review))
            .then(text(format!(
                "Hazard statements ({}): {}{}. ",
                review.scheme_title,
                of_mixture(review),
                codes(review)
            )))
            .then(strong(
                "The supplier's safety data sheets, local code and qualified persons come before this sheet.",
            )),
    ));
    blocks
}

pub(super) fn short_alert(alert: &Alert) -> Caution {
    let caution = Caution::new(severity(alert.severity), format!("{}: {}", alert.title, alert.message));
    match alert.way_past {
        WayPast::NotNeeded => caution,
        WayPast::ProcedureAndPerson | WayPast::None => caution.detail(alert.way_past.words()),
    }
}

/// The statements of the graver signal word among what is there, each with the components that have it; what the
/// mixture alone has, or is presumed to have, comes first.
fn gravest_in_words(review: &Review) -> String {
    let of_components = || {
        review.components.iter().flat_map(|c| c.statements.iter().map(move |s| (c.name.clone(), s.clone())))
    };
    let stated = |code: &str| of_components().any(|(_, statement)| statement.code == code);
    let presumed = review.presumed.iter().map(|presumed| {
        let how = if presumed.measured_ph.is_some() { "by its measured pH" } else { "as presumed" };
        (format!("the liquid, {how}"), presumed.statement.clone())
    });
    let of_mixture = review.mixture.iter().flat_map(|mixture| mixture.statements.clone());
    let of_mixture = of_mixture.map(|statement| ("the mixture".to_owned(), statement));
    let of_mixture = presumed.chain(of_mixture).filter(|(_, statement)| !stated(&statement.code));
    let all: Vec<(String, Statement)> = of_mixture.chain(of_components()).collect();
    let of_word = |word: &str| all.iter().any(|(_, s)| s.signal_word.as_deref() == Some(word));
    let Some(word) = ["Danger", "Warning"].into_iter().find(|word| of_word(word)) else {
        return String::new();
    };
    let mut told: Vec<(String, Vec<&str>)> = Vec::new();
    for (name, statement) in all.iter().filter(|(_, s)| s.signal_word.as_deref() == Some(word)) {
        let words = format!("{} {}", statement.code, statement.text);
        match told.iter_mut().find(|(known, _)| *known == words) {
            Some((_, names)) => names.push(name),
            None => told.push((words, vec![name])),
        }
    }
    let each: Vec<String> =
        told.into_iter().map(|(words, names)| format!("{words} ({})", names.join(", "))).collect();
    format!("{word}: {}. ", each.join("; "))
}

/// What must be known at a glance, the worst first: what blocks and warns by its title, then signal word and codes.
pub(super) fn hazards_at_a_glance(review: &Review) -> Text {
    let titles = |wanted: fn(&Alert) -> bool| {
        let mut titles: Vec<&str> =
            review.alerts.iter().filter(|alert| wanted(alert)).map(|alert| alert.title.as_str()).collect();
        titles.dedup();
        titles.join("; ")
    };
    let never = titles(|alert| alert.way_past == WayPast::None);
    let block = titles(|alert| alert.severity == Severity::Block && alert.way_past != WayPast::None);
    let warn = titles(|alert| alert.severity == Severity::Warn);
    let said = [("NEVER", never), ("BLOCK", block), ("WARN", warn)].into_iter();
    let said =
        said.filter(|(_, titles)| !titles.is_empty()).map(|(word, titles)| format!("{word}: {titles}. "));
    let of_all = match &review.mixture {
        Some(mixture) => mixture_codes(mixture),
        None => codes(review),
    };
    strong(said.collect::<String>()).then(of_all)
}

/// Signal word and statements in full.
fn statements(component: &ComponentHazard) -> Text {
    if component.missing.is_some() {
        let none_found = component.basis == "none-found";
        let words = if none_found {
            "no data found, which says nothing"
        } else {
            "no statement in the source, which proves nothing"
        };
        return text(words).then(": read its safety data sheet");
    }
    let signal = component.signal_word.as_ref().map_or(String::new(), |word| format!("{word}. "));
    let all = component.statements.iter().map(|s| format!("{} {}", s.code, s.text));
    strong(signal).then(all.collect::<Vec<_>>().join("; "))
}

/// "the mixture Danger H302 H314; from ", or nothing.
fn of_mixture(review: &Review) -> String {
    let words = |mixture| format!("the mixture as a whole {}; its components: ", mixture_codes(mixture));
    review.mixture.as_ref().map_or(String::new(), words)
}

/// Signal word and codes of each component; who has none is named with what that means.
fn codes(review: &Review) -> String {
    let mut parts: Vec<String> = Vec::new();
    let (mut silent, mut unknown) = (Vec::new(), Vec::new());
    for component in &review.components {
        let codes = component.statements.iter().map(|statement| statement.code.as_str()).collect::<Vec<_>>();
        match (codes.is_empty(), component.basis) {
            (true, "none-found") => unknown.push(component.name.as_str()),
            (true, _) => silent.push(component.name.as_str()),
            (false, _) => {
                let signal = component.signal_word.as_ref().map_or(String::new(), |word| format!("{word} "));
                parts.push(format!("{} {signal}{}", component.name, codes.join(" ")));
            }
        }
    }
    if !unknown.is_empty() {
        parts.push(format!("no data found, which says nothing, for {}", unknown.join(", ")));
    }
    if !silent.is_empty() {
        parts.push(format!("no statement in the source, which proves nothing, for {}", silent.join(", ")));
    }
    parts.join("; ")
}
