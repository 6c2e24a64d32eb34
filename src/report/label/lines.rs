//! The lines of a label at a type size, with more or less left off.

use super::content::{Against, LabelContent};
use super::hazards::{LabelHazards, LabelStatement};
use super::stock::LabelStock;
use crate::report::lettering::{Weight, drawable, wrap};

/// From one line to the next, in units of the type size.
pub(super) const LEADING: f64 = 1.18;
/// Signal words are larger than the rest by this.
const SIGNAL: f64 = 1.25;

/// A line of text, sizes in millimetres.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Line {
    pub text: String,
    pub weight: Weight,
    pub size: f64,
}

/// What is left off or said in fewer words, one after the other, until the rest fits. What matters least is
/// first; what even the smallest package carries stays longest: signal word, pictograms and codes of statements.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Cut {
    Note,
    Precautions,
    Supplements,
    /// The texts of statements that a package as small as this may leave to a fold-out.
    SparedTexts,
    /// All texts of statements but that of the gravest.
    StatementTexts,
    PictogramNames,
    Storage,
    NamesOfNotKnown,
    /// Lines that end half empty.
    LinesOfTheirOwn,
    WhyAgainst,
    /// The names of what is in it; short names and numbers stay.
    LongComposition,
    GravestText,
    Composition,
    Blocks,
    EndOfName,
    Who,
    Dated,
    Statements,
    UseBy,
    LongDeferral,
    Pictograms,
}

impl Cut {
    pub(super) const IN_ORDER: [Self; 21] = [
        Self::Note,
        Self::Precautions,
        Self::Supplements,
        Self::SparedTexts,
        Self::StatementTexts,
        Self::PictogramNames,
        Self::Storage,
        Self::NamesOfNotKnown,
        Self::LinesOfTheirOwn,
        Self::WhyAgainst,
        Self::LongComposition,
        Self::GravestText,
        Self::Composition,
        Self::Blocks,
        Self::Who,
        Self::Dated,
        Self::EndOfName,
        Self::Statements,
        Self::UseBy,
        Self::LongDeferral,
        Self::Pictograms,
    ];

    /// What is missing then; `None` if nothing is, or if this label has nothing of it.
    fn missing(self, label: &LabelContent) -> Option<&'static str> {
        let hazards = &label.hazards;
        let (is_missing, words) = match self {
            Self::StatementTexts => (1 < hazards.statements.len(), "texts of hazard statements"),
            Self::SparedTexts => {
                (hazards.statements.iter().any(|statement| statement.spared), "texts of hazard statements")
            }
            Self::Precautions => (!hazards.precautions.is_empty(), "precautionary statements"),
            Self::Supplements => (!hazards.supplements.is_empty(), "supplemental statements"),
            Self::Blocks => (hazards.blocks().next().is_some(), "what is blocked"),
            Self::GravestText => (hazards.statements.len() == 1, "text of the hazard statement"),
            // Codes stand for names, few words for many; whether a name is cut depends on its line.
            Self::PictogramNames | Self::LongDeferral | Self::EndOfName | Self::LinesOfTheirOwn => {
                (false, "")
            }
            Self::Note => (label.note.is_some(), "note"),
            Self::NamesOfNotKnown => (
                !hazards.not_known.is_empty() && !hazards.are_not_known(),
                "names of what is of unknown hazard",
            ),
            Self::Storage => (label.storage.is_some(), "storage"),
            Self::LongComposition => (label.composition.is_some(), "part of the composition"),
            Self::Composition => (label.composition.is_some(), "composition"),
            Self::WhyAgainst => {
                let why = label.against.as_ref().and_then(|against| against.why.as_ref());
                (why.is_some(), "the reason against its use")
            }
            Self::Pictograms => (!hazards.pictograms.is_empty(), "pictograms"),
            Self::Who => (label.who.is_some(), "who"),
            Self::Statements => (!hazards.statements.is_empty(), "hazard statements"),
            Self::Dated => (label.dated.is_some(), "date"),
            Self::UseBy => (label.use_by.is_some(), "use-by date"),
        };
        is_missing.then_some(words)
    }
}

/// Signal word with pictograms, or the words that say that nothing is known.
pub(super) fn signal(label: &LabelContent, cuts: &[Cut]) -> String {
    let hazards = &label.hazards;
    if hazards.are_not_known() {
        return "HAZARDS NOT KNOWN".to_owned();
    }
    let word = hazards.signal_word.map_or("HAZARDS", |signal| signal.word());
    let shown = match (cuts.contains(&Cut::Pictograms), cuts.contains(&Cut::PictogramNames)) {
        (true, _) => String::new(),
        (false, true) => in_codes(&hazards.pictograms),
        (false, false) => hazards.pictogram_names().join(", "),
    };
    if shown.is_empty() { word.to_owned() } else { format!("{word}: {shown}") }
}

/// Codes of pictograms in few signs: GHS05/07/09.
fn in_codes(codes: &[String]) -> String {
    let short = |(at, code): (usize, &String)| match code.strip_prefix("GHS") {
        Some(number) if 0 < at => number.to_owned(),
        _ => code.clone(),
    };
    codes.iter().enumerate().map(short).collect::<Vec<_>>().join("/")
}

/// All lines of a label, and what is left off.
pub(super) struct Lines {
    pub lines: Vec<Line>,
    pub left_off: Vec<&'static str>,
    wide: f64,
}

/// Signal word first, then what it is, then the rest.
pub(super) fn lines(label: &LabelContent, stock: LabelStock, cuts: &[Cut], size: f64, wide: f64) -> Lines {
    let mut lines = Lines { lines: Vec::new(), left_off: left_off(label, cuts), wide };
    // Where every line counts, the signal word is no larger than the rest, but bold.
    let enlarged = if cuts.contains(&Cut::LinesOfTheirOwn) { 1.0 } else { SIGNAL };
    lines.add(&signal(label, cuts), Weight::Bold, enlarged * size);
    let (against, may_be_cut) = (against(label, cuts), cuts.contains(&Cut::EndOfName));
    if stock == LabelStock::CellSleeve && !against.is_empty() {
        lines.add_name(&format!("{against}; {}", label.name), may_be_cut, size);
    } else {
        lines.add(&against, Weight::Bold, size);
        lines.add_name(&label.name, may_be_cut, size);
    }
    let kept = |cut: Cut, value: &Option<String>| value.clone().filter(|_| !cuts.contains(&cut));
    let together = |parts: [Option<String>; 2]| parts.into_iter().flatten().collect::<Vec<_>>().join("; ");
    let dated = label.dated.as_ref().map(|(what, date)| format!("{what} {date}"));
    let use_by = label.use_by.as_ref().map(|date| format!("use by {date}"));
    let parts = [
        (blocks(label, cuts), Weight::Bold),
        (hazards(label, cuts), Weight::Regular),
        (precautions(label, cuts), Weight::Regular),
        (composition(label, cuts).unwrap_or_default(), Weight::Regular),
        (together([kept(Cut::Dated, &dated), kept(Cut::UseBy, &use_by)]), Weight::Bold),
        (together([kept(Cut::Who, &label.who), kept(Cut::Storage, &label.storage)]), Weight::Regular),
        (kept(Cut::Note, &label.note).unwrap_or_default(), Weight::Regular),
        (last_line(label, stock, cuts, &lines.left_off), Weight::Regular),
    ];
    if stock == LabelStock::CellSleeve || cuts.contains(&Cut::LinesOfTheirOwn) {
        // A sleeve has so few lines that none can end half empty.
        let filled = parts.iter().map(|(text, _)| text.trim()).filter(|text| !text.is_empty());
        lines.add(&filled.collect::<Vec<_>>().join("; "), Weight::Regular, size);
        return lines;
    }
    for (text, weight) in parts {
        lines.add(&text, weight, size);
    }
    lines
}

/// What is against using it; without the reason where that has no room.
fn against(label: &LabelContent, cuts: &[Cut]) -> String {
    let in_words = |against: &Against| match cuts.contains(&Cut::WhyAgainst) {
        true => against.what.words().to_owned(),
        false => against.in_full(),
    };
    label.against.as_ref().map(in_words).unwrap_or_default()
}

fn composition(label: &LabelContent, cuts: &[Cut]) -> Option<String> {
    let long = label.composition.as_ref().filter(|_| !cuts.contains(&Cut::LongComposition));
    let either = long.or(label.composition_in_short.as_ref());
    either.filter(|_| !cuts.contains(&Cut::Composition)).cloned()
}

/// Each thing once: what is left off whole is not named by its parts too.
fn left_off(label: &LabelContent, cuts: &[Cut]) -> Vec<&'static str> {
    let told = |cut: &Cut| match cut {
        Cut::SparedTexts => cuts.contains(&Cut::StatementTexts),
        Cut::StatementTexts | Cut::GravestText => cuts.contains(&Cut::Statements),
        Cut::LongComposition => cuts.contains(&Cut::Composition),
        _ => false,
    };
    cuts.iter().filter(|cut| !told(cut)).filter_map(|cut| cut.missing(label)).collect()
}

/// Statements, and what none is known for.
fn hazards(label: &LabelContent, cuts: &[Cut]) -> String {
    let hazards = &label.hazards;
    if hazards.are_not_known() {
        return String::new();
    }
    let stated = if cuts.contains(&Cut::Statements) { String::new() } else { statements(hazards, cuts) };
    let names = &hazards.not_known;
    let not_known = match names.len() {
        0 => return stated,
        count if cuts.contains(&Cut::NamesOfNotKnown) => format!("not known for {count} more"),
        _ => format!("no statement known for {}, which proves nothing", names.join(", ")),
    };
    if stated.is_empty() { format!("hazards: {not_known}") } else { format!("{stated}; {not_known}") }
}

/// In full, or the text of the gravest and the codes of the others, or codes alone.
fn statements(hazards: &LabelHazards, cuts: &[Cut]) -> String {
    let whose = if hazards.of_components { "Of components: " } else { "" };
    let with_text =
        |statement: &LabelStatement| format!("{} {}", statement.code, statement.text.trim_end_matches('.'));
    let codes = |statements: &[LabelStatement]| {
        statements.iter().map(|statement| statement.code.clone()).collect::<Vec<_>>().join(" ")
    };
    let in_few = |statement: &LabelStatement| match statement.spared && cuts.contains(&Cut::SparedTexts) {
        true => statement.code.clone(),
        false => with_text(statement),
    };
    let stated = match hazards.statements.as_slice() {
        all if cuts.contains(&Cut::GravestText) => codes(all),
        [gravest, others @ ..] if !others.is_empty() && cuts.contains(&Cut::StatementTexts) => {
            format!("{}; {}", with_text(gravest), codes(others))
        }
        all => all.iter().map(in_few).collect::<Vec<_>>().join("; "),
    };
    if stated.is_empty() { stated } else { format!("{whose}{stated}") }
}

/// What must not be done outside a written procedure, or never; and the procedure that was named.
fn blocks(label: &LabelContent, cuts: &[Cut]) -> String {
    if cuts.contains(&Cut::Blocks) {
        return label.permit.clone().unwrap_or_default();
    }
    let titles = label.hazards.blocks().map(|alert| alert.title.clone());
    titles.chain(label.permit.clone()).collect::<Vec<_>>().join("; ")
}

fn precautions(label: &LabelContent, cuts: &[Cut]) -> String {
    let hazards = &label.hazards;
    let precautions = hazards.precautions.iter().filter(|_| !cuts.contains(&Cut::Precautions));
    let supplements = hazards.supplements.iter().filter(|_| !cuts.contains(&Cut::Supplements));
    let said = precautions.map(|said| said.text.clone()).chain(supplements.cloned());
    said.collect::<Vec<_>>().join(" ")
}

/// Who decides, and where the rest is: on the fold-out if the scheme asks for any of it.
fn last_line(label: &LabelContent, stock: LabelStock, cuts: &[Cut], left_off: &[&str]) -> String {
    let long = stock == LabelStock::Bottle && !cuts.contains(&Cut::LongDeferral);
    let deferral = if long { "Read the supplier's safety data sheet first" } else { "read the SDS" };
    match left_off {
        [] => deferral.to_owned(),
        _ if needs_fold_out(label, left_off) => format!("{deferral}; more: fold-out"),
        _ => format!("{deferral}; more: sheet"),
    }
}

/// True if something has no room that the scheme, or practice at the bench, asks a label for. A note or a shelf
/// is not such a thing.
pub(super) fn needs_fold_out(label: &LabelContent, left_off: &[&str]) -> bool {
    let may_be_missing = ["note", "storage", "the reason against its use"];
    label.hazards.rule.is_some() && left_off.iter().any(|words| !may_be_missing.contains(words))
}

/// What of that stands on the fold-out, and what does not: cells of a set share one, which leaves out what each has of
/// its own.
pub(super) fn on_fold_out<'w>(
    label: &LabelContent,
    stock: LabelStock,
    left_off: &[&'w str],
) -> (Vec<&'w str>, Vec<&'w str>) {
    if !needs_fold_out(label, left_off) {
        return (Vec::new(), left_off.to_vec());
    }
    let own = ["note", "storage", "composition", "part of the composition", "who", "date", "use-by date"];
    left_off.iter().partition(|words| stock != LabelStock::CellSleeve || !own.contains(*words))
}

/// What even the smallest package carries itself, wherever the rest is (CLP Annex I 1.5.1.2, from memory), of what
/// has no room.
pub(super) fn missing_on_package<'w>(left_off: &[&'w str]) -> Vec<&'w str> {
    let carried = ["pictograms", "end of the name"];
    left_off.iter().filter(|words| carried.contains(*words)).copied().collect()
}

impl Lines {
    fn add(&mut self, text: &str, weight: Weight, size: f64) {
        let wrapped = wrap(&drawable(text), weight, self.wide / size);
        self.lines.extend(wrapped.into_iter().map(|text| Line { text, weight, size }));
    }

    /// A name that may be cut and is longer than a line ends in dots.
    fn add_name(&mut self, name: &str, may_be_cut: bool, size: f64) {
        let most = self.wide / size;
        if !may_be_cut || wrap(&drawable(name), Weight::Bold, most).len() < 2 {
            return self.add(name, Weight::Bold, size);
        }
        let short = wrap(&drawable(name), Weight::Bold, most - 1.5);
        let text = short.first().map(|line| format!("{line} …")).unwrap_or_default();
        self.lines.push(Line { text, weight: Weight::Bold, size });
        self.left_off.push("end of the name");
    }
}
