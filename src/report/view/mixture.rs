//! The mixture as a whole: its classes with sum against limit, what stays below, and what is not known.

use super::amount::short;
use crate::caution::{Finding, Gap, Mixture, Part, Presumed, Scheme, Sum, pictogram};
use crate::report::document::{
    Block, Caution, Table, Text, column, facts, heading, muted, paragraph, strong, text,
};

/// At most so many precautionary statements are shown (CLP Article 28(3) asks for no more on a label).
const PRECAUTIONS: usize = 6;

/// The section on the mixture.
pub(super) fn mixture_section(mixture: &Mixture) -> Vec<Block> {
    let mut blocks = vec![heading(1, format!("The mixture as a whole, by {}", title(mixture)))];
    blocks.extend(mixture.presumed.as_ref().map(presumption));
    blocks.extend(mixture.lifted_by_ph.as_ref().map(|words| Caution::note(sentence(words)).into()));
    blocks.push(label_elements(mixture));
    if mixture.reached.is_empty() {
        blocks.push(paragraph(strong(
            "No class is reached by what is known. That proves nothing: see what is not known below.",
        )));
    } else {
        blocks.push(reached(mixture).into());
    }
    blocks.extend(mixture.unknown_statements.iter().map(|sentence| paragraph(strong(sentence.as_str()))));
    blocks.extend(mixture.left_to_authority.iter().map(|words| Caution::note(words.as_str()).into()));
    if !mixture.not_reached.is_empty() {
        blocks.push(below(mixture).into());
    }
    if !mixture.gaps.is_empty() {
        blocks.push(gaps(&mixture.gaps).into());
    }
    blocks.push(paragraph(muted(
        "Worked out from the composition by the rules of the scheme. A calculated class is an aid, no legal \
         classification; other schemes set other limits, and data on the mixture itself come first.",
    )));
    blocks
}

/// One line: signal word, statements and what is presumed or unknown.
pub(super) fn mixture_in_short(mixture: &Mixture) -> Text {
    let mut words = mixture_statements(mixture);
    for sentence in &mixture.unknown_statements {
        words = words.then("; ").then(sentence.trim_end_matches('.'));
    }
    words
}

/// The same without what is unknown.
pub(super) fn mixture_statements(mixture: &Mixture) -> Text {
    let presumed = mixture.presumed.as_ref().and_then(|presumed| presumed.statement.signal_word.as_ref());
    let signal = presumed.or(mixture.signal_word.as_ref()).map_or(String::new(), |word| format!("{word}. "));
    let statements = mixture.statements.iter().map(|s| format!("{} {}", s.code, s.text));
    let mut parts: Vec<String> = statements.collect();
    if parts.is_empty() {
        parts.push("no class is reached by what is known, which proves nothing".to_owned());
    }
    // What is presumed is worse than anything that was worked out beside it.
    parts.splice(0..0, mixture.presumed.as_ref().map(presumed_words));
    strong(signal).then(parts.join("; "))
}

/// The codes alone, for a close page.
pub(super) fn mixture_codes(mixture: &Mixture) -> String {
    let mut parts: Vec<String> = mixture.presumed.iter().map(presumed_code).collect();
    parts.extend(mixture.signal_word.clone().filter(|_| mixture.presumed.is_none()));
    parts.extend(mixture.h_codes.iter().chain(&mixture.euh_codes).cloned());
    if parts.is_empty() {
        parts.push("no class reached by what is known, which proves nothing".to_owned());
    }
    let mut codes = parts.join(" ");
    if 1.0 <= mixture.unknown_pct {
        codes.push_str(&format!(", {} % of unknown toxicity", short(mixture.unknown_pct, 3)));
    }
    codes
}

/// So many families of classes are all that a scheme has (HCS has none for water).
const EVERY_FAMILY: usize = 7;

fn title(mixture: &Mixture) -> &'static str {
    Scheme::from_word(mixture.scheme).unwrap_or_default().title()
}

fn label_elements(mixture: &Mixture) -> Block {
    let mut lines: Vec<(&str, Text)> = Vec::new();
    lines.extend(signal_words(mixture).map(|words| ("Signal word", words)));
    let statements = mixture.statements.iter();
    lines.extend(statements.map(|s| ("Statement", text(format!("{} {}", s.code, s.text)))));
    if !mixture.pictograms.is_empty() {
        lines.push(("Pictograms", text(pictograms(mixture))));
    }
    let covered = mixture.omitted.iter().map(|o| format!("{} by {}", o.code, o.covered_by));
    let covered: Vec<String> = covered.collect();
    if !covered.is_empty() {
        lines.push(("Covered", muted(covered.join(", "))));
    }
    let precautions = mixture.precautions();
    for precaution in precautions.iter().take(PRECAUTIONS) {
        lines.push(("Precaution", text(format!("{} {}", precaution.code, precaution.text))));
    }
    let further: Vec<&str> = precautions.iter().skip(PRECAUTIONS).map(|p| p.code.as_str()).collect();
    if !further.is_empty() {
        lines.push(("Further", muted(further.join(", "))));
    }
    let ate = mixture.ate_oral_mg_per_kg.map(|ate| format!("{} mg/kg, swallowed", short(ate, 4)));
    lines.extend(ate.map(|ate| ("ATE of the mixture", text(ate))));
    facts(lines)
}

/// The signal word of the classes, and the graver one of what is presumed.
fn signal_words(mixture: &Mixture) -> Option<Text> {
    let reached = mixture.signal_word.as_ref();
    let of_ph = mixture.presumed.as_ref();
    let how = match of_ph.and_then(|presumed| presumed.measured_ph) {
        Some(_) => "by its measured pH",
        None => "as presumed",
    };
    let presumed = of_ph.and_then(|presumed| presumed.statement.signal_word.as_ref());
    match (presumed, reached) {
        (Some(presumed), Some(reached)) if presumed != reached => {
            Some(strong(presumed).then(format!(" {how}; {reached} by what was worked out")))
        }
        (Some(presumed), _) => Some(strong(presumed).then(format!(" {how}"))),
        (None, reached) => reached.map(strong),
    }
}

/// "GHS05 corrosion, GHS07 exclamation mark".
fn pictograms(mixture: &Mixture) -> String {
    let name = |code: &String| {
        pictogram(code).map_or(code.clone(), |known| format!("{code} {}", known.symbol.to_lowercase()))
    };
    mixture.pictograms.iter().map(name).collect::<Vec<_>>().join(", ")
}

fn presumption(presumed: &Presumed) -> Block {
    let title = match presumed.measured_ph {
        Some(ph) => format!("By its measured pH of {ph}: {}", presumed.classes.join(", ")),
        None => format!("Presumed: {}", presumed.classes.join(", ")),
    };
    let because = presumed.because.join(", ");
    let caution = Caution::warn(title);
    let caution =
        if because.is_empty() { caution } else { caution.detail(text("Because of: ").then(because)) };
    caution.detail(sentence(&presumed.settled_by)).source(presumed.source.as_str()).into()
}

/// "Danger H314 presumed until its pH is measured".
fn presumed_code(presumed: &Presumed) -> String {
    let word = presumed.statement.signal_word.as_deref().unwrap_or_default();
    let how = presumed.measured_ph.map_or_else(
        || "presumed until its pH is measured,".to_owned(),
        |ph| format!("by its measured pH of {ph},"),
    );
    format!("{word} {} {how}", presumed.statement.code)
}

fn presumed_words(presumed: &Presumed) -> String {
    let classes = presumed.classes.join(" and ");
    if let Some(ph) = presumed.measured_ph {
        return format!("{classes} by its measured pH of {ph}");
    }
    format!("Presumed {} because of {} until the pH is measured", classes, presumed.because.join(", "))
}

fn reached(mixture: &Mixture) -> Table {
    let table =
        Table::new([column("Class"), column("Because of"), column("Sum against limit"), column("Scheme")]);
    mixture.reached.iter().fold(table, |table, found| {
        table.row([
            strong(found.class.as_str()).then(format!(" {}", found.code)),
            text(because(&found.sum)),
            against(found),
            text(rule(mixture, found)),
        ])
    })
}

fn rule(mixture: &Mixture, found: &Finding) -> String {
    let rule = match found.rule.split_once(':') {
        Some((short, _)) => short,
        None => &found.rule,
    };
    format!("{} {}, {}", mixture.scheme.to_uppercase(), found.chapter, rule)
}

/// "zinc chloride 10 %, ethylene glycol 43 %", the largest part of the sum first.
fn because(sum: &Sum) -> String {
    let mut parts: Vec<&Part> = sum.parts.iter().collect();
    parts.sort_by(|a, b| b.adds.total_cmp(&a.adds));
    let one = |part: &&Part| format!("{} {} % ({})", part.name, short(part.percent, 3), part.counted_as);
    parts.iter().map(one).collect::<Vec<_>>().join("; ")
}

fn against(found: &Finding) -> Text {
    let sum = &found.sum;
    let unit = if sum.unit.is_empty() { String::new() } else { format!(" {}", sum.unit) };
    let Some(value) = sum.value else { return text("nothing known to add up") };
    let sign = match (sum.at_least, sum.is_reached()) {
        (true, true) => "≥",
        (true, false) => "<",
        (false, true) => "≤",
        (false, false) => ">",
    };
    let words = format!("{} = {}{unit} {sign} {}{unit}", sum.what, short(value, 4), short(sum.limit, 4));
    let condition = found.condition.as_ref().map_or(String::new(), |condition| format!("; {condition}"));
    text(words).then(muted(condition))
}

fn below(mixture: &Mixture) -> Table {
    let table = Table::new([column("Class"), column("Because of"), column("Sum against limit")])
        .caption("Below the limit by what is known, which rules nothing out");
    mixture.not_reached.iter().fold(table, |table, found| {
        table.row([text(found.class.as_str()), text(because(&found.sum)), against(found)])
    })
}

fn gaps(gaps: &[Gap]) -> Table {
    let table = Table::new([
        column("Not known"),
        column("Share").unit("%").decimal(),
        column("What is missing"),
        column("Leaves open"),
    ])
    .caption("What is not known, and what that leaves open");
    gaps.iter().fold(table, |table, gap| {
        table.row([gap.name.clone(), short(gap.percent, 3), gap.missing.clone(), open(gap, gaps)])
    })
}

/// What is left open; every class there is in a word.
fn open(gap: &Gap, all: &[Gap]) -> String {
    let most = all.iter().map(|gap| gap.leaves_open.len()).max().unwrap_or(0);
    let everything = EVERY_FAMILY <= gap.leaves_open.len() && gap.leaves_open.len() == most;
    if everything { "every class".to_owned() } else { gap.leaves_open.join("; ") }
}

/// With a capital and a full stop.
fn sentence(words: &str) -> String {
    let mut characters = words.chars();
    let first = characters.next().map(|c| c.to_uppercase().to_string()).unwrap_or_default();
    format!("{first}{}.", characters.as_str())
}
