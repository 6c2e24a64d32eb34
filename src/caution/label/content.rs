//! What stands on a package itself, and what may stand on a fold-out, an outer package or a sheet.

use serde::Serialize;

use super::choice::precautions_for;
use super::omission::{Omitted, kept_statements};
use super::rules::{Content, RULES, Small};
use super::size::{LabelSize, label_size};
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
    pub content: Vec<String>,
    /// Where it stands.
    pub placed: Placed,
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
    /// Pictograms that may be left out beside another.
    pub optional_pictograms: Vec<String>,
    /// Hazard statements that another covers.
    pub omitted: Vec<Omitted>,
    /// Precautionary statements beyond the six of a label: they stand elsewhere.
    pub further_precautions: Vec<String>,
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
    let facts = Facts::of(review);
    let elements: Vec<LabelElement> =
        whole.into_iter().flat_map(|whole| facts.elements(whole, small)).collect();
    let less = elements.iter().any(|element| element.placed == Placed::ElsewhereAllowed);
    let bench = &RULES.bench;
    LabelContent {
        scheme: scheme.word(),
        capacity_ml,
        optional_pictograms: optional(&facts.pictograms),
        further_precautions: facts.precautions.iter().skip(RULES.precautions.most).cloned().collect(),
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

/// What the review says of the whole: the mixture if it is classified, else its components together.
struct Facts {
    names: Vec<String>,
    pictograms: Vec<String>,
    signal_word: Option<String>,
    statements: Vec<Statement>,
    precautions: Vec<String>,
    supplements: Vec<String>,
    omitted: Vec<Omitted>,
}

impl Facts {
    fn of(review: &Review) -> Self {
        let in_words = |statement: &Statement| format!("{} {}", statement.code, statement.text);
        let (hazards, supplements, omitted, unknown) = match &review.mixture {
            Some(mixture) => {
                let (euh, hazards) = mixture.statements.iter().cloned().partition(is_supplement);
                (hazards, euh, mixture.omitted.clone(), mixture.unknown_statements.clone())
            }
            None => {
                let all = review.components.iter().flat_map(|component| component.statements.clone());
                let (euh, hazards): (Vec<_>, Vec<_>) = all.partition(is_supplement);
                let (kept, omitted) = kept_statements(&hazards);
                (kept, euh, omitted, Vec::new())
            }
        };
        let shown = match &review.mixture {
            Some(mixture) => mixture.pictograms.clone(),
            None => shown_pictograms(&hazards),
        };
        Self {
            names: named(review),
            pictograms: shown,
            signal_word: gravest_signal_word(&hazards),
            precautions: precautions_for(&hazards).iter().map(|p| format!("{} {}", p.code, p.text)).collect(),
            supplements: supplements.iter().map(in_words).chain(unknown).collect(),
            statements: hazards,
            omitted,
        }
    }

    fn elements(&self, whole: &Content, small: Option<&Small>) -> Vec<LabelElement> {
        let parts = RULES.element.iter().filter(|element| whole.carries.contains(&element.id));
        parts.flat_map(|part| self.placed(&part.id, &part.words, small)).collect()
    }

    /// A part where it stands. A small package that spares the graver statements carries those and no others.
    fn placed(&self, id: &str, words: &str, small: Option<&Small>) -> Vec<LabelElement> {
        let element = |content: Vec<String>, placed: Placed| LabelElement {
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
        let stays = self.content(id, |statement| !lesser(statement));
        let goes = self.content(id, |_| true).into_iter().filter(|line| !stays.contains(line)).collect();
        let parts = [element(stays.clone(), Placed::OnPackage), element(goes, Placed::ElsewhereAllowed)];
        parts.into_iter().filter(|part| !part.content.is_empty()).collect()
    }

    /// What a part says, of the hazard statements that count.
    fn content(&self, id: &str, counts: impl Fn(&Statement) -> bool) -> Vec<String> {
        let counting: Vec<Statement> = self.statements.iter().filter(|s| counts(s)).cloned().collect();
        match id {
            "composition" => self.names.clone(),
            "pictograms" => self.pictograms.clone(),
            "signal_word" => self.signal_word.iter().cloned().collect(),
            "hazard_statements" => counting.iter().map(|s| format!("{} {}", s.code, s.text)).collect(),
            "precautions" => {
                let all = precautions_for(&counting);
                all.iter().take(RULES.precautions.most).map(|p| format!("{} {}", p.code, p.text)).collect()
            }
            "supplements" => self.supplements.clone(),
            _ => Vec::new(),
        }
    }
}

fn is_supplement(statement: &Statement) -> bool {
    statement.code.starts_with("EUH")
}

/// The components that make the classes of the mixture, the gravest class first; all of them without one.
fn named(review: &Review) -> Vec<String> {
    let Some(mixture) = &review.mixture else {
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
