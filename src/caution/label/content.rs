//! What stands on a package itself, and what may stand on a fold-out, an outer package or a sheet.

use std::cmp::Reverse;
use std::fmt;

use serde::Serialize;

use super::choice::precautions_for;
use super::omission::{Omitted, kept_statements};
use super::rules::{Content, RULES, Small};
use super::size::{LabelSize, label_size};
use crate::caution::mixture::Mixture;
use crate::caution::pictogram::shown_pictograms;
use crate::caution::review::Review;
use crate::caution::scheme::Scheme;
use crate::caution::statement::{Statement, gravest_signal_word};

/// Where a part of the label stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Placed {
    /// On the package itself.
    OnPackage,
    /// On a fold-out, the outer package or a sheet, to which the package points.
    ElsewhereAllowed,
}

/// A part of a label.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LabelElement {
    /// Its id: "name", "pictograms", "hazard_statements", …
    pub id: String,
    /// What it is, in words.
    pub words: String,
    /// What it says, as far as the cautions know it.
    pub content: Vec<LabelLine>,
    /// Where it stands.
    pub placed: Placed,
}

/// One line of a part.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct LabelLine {
    /// The code of a statement: "H314", "P280", or "H314 presumed" where no measured pH speaks against it.
    pub code: Option<String>,
    /// Its words.
    pub text: String,
}

impl fmt::Display for LabelLine {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.code {
            Some(code) => write!(f, "{code} {}", self.text),
            None => f.write_str(&self.text),
        }
    }
}

impl LabelLine {
    fn plain(text: &str) -> Self {
        Self { code: None, text: text.to_owned() }
    }

    fn coded(code: &str, text: &str) -> Self {
        Self { code: Some(code.to_owned()), text: text.to_owned() }
    }
}

/// The content of a label for a package.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LabelContent {
    /// The scheme: "ghs", "clp" or "hcs".
    pub scheme: &'static str,
    /// Capacity of the package in mL.
    pub capacity_ml: f64,
    /// Its parts in the order of a label.
    pub elements: Vec<LabelElement>,
    /// True if the statements are those of the components and not of a mixture as a whole: no class is reached by
    /// what is known, or one is presumed, and the components say more.
    pub of_components: bool,
    /// What no hazard statement is known for, which proves nothing.
    pub not_known: Vec<String>,
    /// Pictograms that may be left out beside another.
    pub optional_pictograms: Vec<String>,
    /// Hazard statements that another covers.
    pub omitted: Vec<Omitted>,
    /// Precautionary statements beyond those that the scheme asks a label for: they stand elsewhere.
    pub further_precautions: Vec<LabelLine>,
    /// Under what condition the small package carries less; `None` if it carries everything.
    pub reduced: Option<String>,
    /// The line that points to the rest.
    pub pointer: Option<String>,
    /// Size of label and pictogram by CLP; other schemes name none, and it may serve as a guide.
    pub size: Option<LabelSize>,
    /// What a made-up bottle carries in any case.
    pub bench_must: Vec<String>,
    /// What it had better carry.
    pub bench_advised: Vec<String>,
    /// What is never done.
    pub never: Vec<String>,
    /// When a container needs no label.
    pub immediate_use: String,
    /// The sources.
    pub sources: Vec<String>,
}

/// The label of what was reviewed, for a package of this capacity in mL, by the scheme of the review.
pub fn label_content(review: &Review, capacity_ml: f64) -> LabelContent {
    let scheme = Scheme::from_word(review.scheme).unwrap_or_default();
    let whole = RULES.content.iter().find(|content| content.schemes.contains(&scheme));
    let small = smallest(scheme, capacity_ml);
    let facts = Facts::of(review, scheme);
    let elements: Vec<LabelElement> =
        whole.into_iter().flat_map(|whole| facts.elements(whole, small)).collect();
    let less = elements.iter().any(|element| element.placed == Placed::ElsewhereAllowed);
    let bench = &RULES.bench;
    LabelContent {
        scheme: scheme.word(),
        capacity_ml,
        optional_pictograms: optional(&facts.pictograms),
        further_precautions: facts.further_precautions(),
        of_components: facts.of_components,
        not_known: facts.not_known,
        omitted: facts.omitted,
        reduced: small.filter(|_| less).map(|small| small.condition.clone()),
        pointer: less.then(|| bench.pointer.clone()),
        elements,
        size: label_size(capacity_ml),
        bench_must: bench.must.clone(),
        bench_advised: bench.advised.clone(),
        never: bench.never.clone(),
        immediate_use: bench.immediate_use.clone(),
        sources: [whole.map(|whole| &whole.source), small.map(|small| &small.source), Some(&bench.source)]
            .into_iter()
            .flatten()
            .cloned()
            .collect(),
    }
}

impl LabelContent {
    /// All lines of a part, wherever they stand.
    pub fn lines<'s>(&'s self, id: &'s str) -> impl Iterator<Item = &'s LabelLine> {
        self.elements.iter().filter(move |element| element.id == id).flat_map(|element| &element.content)
    }

    /// True if the package itself must carry this part, or some of it.
    pub fn asks_on_package(&self, id: &str) -> bool {
        self.elements.iter().any(|element| element.id == id && element.placed == Placed::OnPackage)
    }

    /// The lines of a part that a small package may leave to a fold-out.
    pub fn spared<'s>(&'s self, id: &'s str) -> impl Iterator<Item = &'s LabelLine> {
        let spared = |element: &&LabelElement| element.placed == Placed::ElsewhereAllowed;
        self.elements.iter().filter(move |element| element.id == id).filter(spared).flat_map(|e| &e.content)
    }
}

fn smallest(scheme: Scheme, capacity_ml: f64) -> Option<&'static Small> {
    let fits = |small: &&Small| small.schemes.contains(&scheme) && capacity_ml <= small.upto_ml;
    RULES.small.iter().filter(fits).min_by(|a, b| a.upto_ml.total_cmp(&b.upto_ml))
}

/// Pictograms that may go beside another of those shown.
fn optional(shown: &[String]) -> Vec<String> {
    let beside = RULES.optional.iter().filter(|rule| rule.beside.iter().any(|code| shown.contains(code)));
    let may_go: Vec<&String> = beside.flat_map(|rule| &rule.may_go).collect();
    shown.iter().filter(|code| may_go.contains(code)).cloned().collect()
}

/// What the review says of the whole: the mixture where its classes say all that a label must, else its components
/// together.
struct Facts {
    names: Vec<String>,
    pictograms: Vec<String>,
    signal_word: Option<String>,
    statements: Vec<Statement>,
    supplements: Vec<LabelLine>,
    omitted: Vec<Omitted>,
    not_known: Vec<String>,
    of_components: bool,
    most_precautions: usize,
}

impl Facts {
    fn of(review: &Review, scheme: Scheme) -> Self {
        let classified = as_a_mixture(review);
        let physical = if classified.is_some() { physical(review) } else { Vec::new() };
        let all = classified.map_or_else(|| of_components(review), |mixture| mixture.statements.clone());
        let all = physical.iter().cloned().chain(all);
        let (euh, hazards): (Vec<Statement>, Vec<Statement>) = all.partition(is_supplement);
        let (kept, omitted) = kept_statements(&hazards);
        let unknown = review.mixture.iter().flat_map(|mixture| &mixture.unknown_statements);
        let coded = |statement: &Statement| LabelLine::coded(&statement.code, &statement.text);
        let missing = review.components.iter().filter(|component| component.missing.is_some());
        let limit = &RULES.precautions;
        Self {
            names: named(review, classified),
            pictograms: classified
                .map_or_else(|| shown_pictograms(&hazards), |mixture| pictograms(mixture, &physical)),
            signal_word: gravest_signal_word(&hazards),
            supplements: euh.iter().map(coded).chain(unknown.map(|said| LabelLine::plain(said))).collect(),
            statements: kept,
            omitted: classified.map_or(omitted, |mixture| mixture.omitted.clone()),
            not_known: missing
                .map(|component| component.name.clone())
                .chain(review.materials.iter().map(|material| material.name.clone()))
                .collect(),
            of_components: classified.is_none() && 1 < review.components.len() + review.materials.len(),
            most_precautions: if limit.schemes.contains(&scheme) { limit.most } else { usize::MAX },
        }
    }

    fn elements(&self, whole: &Content, small: Option<&Small>) -> Vec<LabelElement> {
        let parts = RULES.element.iter().filter(|element| whole.carries.contains(&element.id));
        parts.flat_map(|part| self.placed(&part.id, &part.words, small)).collect()
    }

    /// A part where it stands. A small package that spares the graver statements carries those and no others.
    fn placed(&self, id: &str, words: &str, small: Option<&Small>) -> Vec<LabelElement> {
        let element = |content: Vec<LabelLine>, placed: Placed| LabelElement {
            id: id.to_owned(),
            words: words.to_owned(),
            content,
            placed,
        };
        let Some(small) = small.filter(|small| !small.carries.iter().any(|carried| carried == id)) else {
            return vec![element(self.content(id, |_| true), Placed::OnPackage)];
        };
        let statements = ["hazard_statements", "precautions"].contains(&id);
        if !(small.spares_graver && statements) {
            return vec![element(self.content(id, |_| true), Placed::ElsewhereAllowed)];
        }
        let lesser = |statement: &Statement| RULES.lesser.h_codes.contains(&statement.code);
        let graver = self.content(id, |statement| !lesser(statement));
        let (stays, goes): (Vec<LabelLine>, Vec<LabelLine>) =
            self.content(id, |_| true).into_iter().partition(|line| graver.contains(line));
        let parts = [element(stays, Placed::OnPackage), element(goes, Placed::ElsewhereAllowed)];
        parts.into_iter().filter(|part| !part.content.is_empty()).collect()
    }

    /// What a part says, of the hazard statements that count.
    fn content(&self, id: &str, counts: impl Fn(&Statement) -> bool) -> Vec<LabelLine> {
        let counting: Vec<Statement> = self.statements.iter().filter(|s| counts(s)).cloned().collect();
        let plain = |texts: &[String]| texts.iter().map(|text| LabelLine::plain(text)).collect();
        match id {
            "composition" => plain(&self.names),
            "pictograms" => plain(&self.pictograms),
            "signal_word" => self.signal_word.iter().map(|word| LabelLine::plain(word)).collect(),
            "hazard_statements" => counting.iter().map(|s| LabelLine::coded(&s.code, &s.text)).collect(),
            "precautions" => precaution_lines(&counting).take(self.most_precautions).collect(),
            "supplements" => self.supplements.clone(),
            _ => Vec::new(),
        }
    }

    fn further_precautions(&self) -> Vec<LabelLine> {
        precaution_lines(&self.statements).skip(self.most_precautions).collect()
    }
}

fn precaution_lines(statements: &[Statement]) -> impl Iterator<Item = LabelLine> {
    precautions_for(statements).into_iter().map(|said| {
        let filled = RULES.fill_in.iter().find(|fill| fill.code == said.code);
        let text = filled.map_or_else(|| without_gaps(&said.text), |fill| fill.text.clone());
        LabelLine::coded(&said.code, &text)
    })
}

/// A text without the alternatives that the standard leaves open: "water/…" is water.
fn without_gaps(text: &str) -> String {
    let mut text = text.replace("/…", "");
    while let Some((before, rest)) = text.split_once(" [") {
        let Some((_, after)) = rest.split_once(']') else { break };
        text = format!("{before}{after}");
    }
    text
}

fn is_supplement(statement: &Statement) -> bool {
    statement.code.starts_with("EUH")
}

/// The mixture, if its classes say all that a label must: where one is presumed of its pH, or none is reached by what
/// is known, or a component is still to come, the statements of the components say more.
fn as_a_mixture(review: &Review) -> Option<&Mixture> {
    let says_all = |mixture: &&Mixture| {
        mixture.presumed.is_none() && mixture.lacks.is_empty() && !mixture.statements.is_empty()
    };
    review.mixture.as_ref().filter(says_all)
}

/// Statements on fire, explosion and attack on metals of the components. No rule works them out for a mixture from its
/// composition, and nothing rules them out without a test: until then a label carries them.
fn physical(review: &Review) -> Vec<Statement> {
    let mut physical: Vec<Statement> = Vec::new();
    for component in &review.components {
        for statement in component.statements.iter().filter(|statement| statement.code.starts_with("H2")) {
            if !physical.iter().any(|known| known.code == statement.code) {
                let text = format!("{} ({}; the mixture is not tested)", statement.text, component.name);
                physical.push(Statement { text, ..statement.clone() });
            }
        }
    }
    physical
}

fn pictograms(mixture: &Mixture, physical: &[Statement]) -> Vec<String> {
    let mut shown = mixture.pictograms.clone();
    shown.extend(physical.iter().flat_map(|statement| statement.pictograms.clone()));
    shown.sort();
    shown.dedup();
    shown
}

/// What is presumed, and the statements of all components, the graver signal word first.
fn of_components(review: &Review) -> Vec<Statement> {
    let mut all: Vec<Statement> =
        review.components.iter().flat_map(|component| component.statements.clone()).collect();
    let stated = |code: &str| all.iter().any(|statement| statement.code == code);
    let presumed = review.presumed.as_ref().filter(|presumed| !stated(&presumed.statement.code));
    all.extend(presumed.map(|presumed| Statement {
        code: match presumed.measured_ph {
            Some(_) => presumed.statement.code.clone(),
            None => format!("{} presumed", presumed.statement.code),
        },
        ..presumed.statement.clone()
    }));
    let grade = |statement: &Statement| match statement.signal_word.as_deref() {
        Some("Danger") => 2,
        Some(_) => 1,
        None => 0,
    };
    all.sort_by(|a, b| (Reverse(grade(a)), &a.code).cmp(&(Reverse(grade(b)), &b.code)));
    all.dedup_by(|a, b| a.code == b.code);
    all
}

/// The components that make the classes of the mixture, the gravest class first; all of them without one.
fn named(review: &Review, classified: Option<&Mixture>) -> Vec<String> {
    let Some(mixture) = classified else {
        return review.components.iter().map(|component| component.name.clone()).collect();
    };
    let mut names: Vec<String> = Vec::new();
    for part in mixture.reached.iter().flat_map(|found| &found.sum.parts) {
        if !names.contains(&part.name) {
            names.push(part.name.clone());
        }
    }
    names
}
