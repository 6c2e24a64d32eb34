//! Acute toxicity by the additivity formula (chapter 3.1), each way in for itself.

use serde::Serialize;

use super::class::{Class, Kind};
use super::finding::{Finding, Findings};
use super::ingredient::Ingredient;
use super::limit::Exposure;
use super::rules::{Bands, RULES};
use super::sum::{Part, Sum};
use crate::caution::scheme::Scheme;

/// A way in with its toxicity estimate for the mixture.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Estimate {
    /// "oral", "dermal", "gas", "vapour" or "dust", which stands for mist too.
    pub exposure: &'static str,
    /// The estimate of the mixture; `None` where nothing that counts is known.
    pub ate: Option<f64>,
    /// Its unit.
    pub unit: String,
    /// How much of the mixture is of unknown acute toxicity this way, in %.
    pub unknown_pct: f64,
    /// The formula that was used.
    pub formula: String,
    /// What was added up: C / ATE of each component.
    pub parts: Vec<Part>,
}

/// What chapter 3.1 gives.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Acute {
    pub(super) findings: Findings,
    pub(super) estimates: Vec<Estimate>,
}

/// A way in: its kind of class, its word, and whether its form was said by the source.
struct Way {
    kind: Kind,
    exposure: Exposure,
    word: &'static str,
}

const WAYS: [Way; 5] = [
    Way { kind: Kind::AcuteOral, exposure: Exposure::Oral, word: "oral" },
    Way { kind: Kind::AcuteDermal, exposure: Exposure::Dermal, word: "dermal" },
    Way { kind: Kind::AcuteInhalation, exposure: Exposure::Gas, word: "gas" },
    Way { kind: Kind::AcuteInhalation, exposure: Exposure::Vapour, word: "vapour" },
    Way { kind: Kind::AcuteInhalation, exposure: Exposure::Dust, word: "dust" },
];

/// An ingredient's estimate, and where it is from.
struct Known {
    ate: f64,
    counted_as: String,
    /// The source names the form, where that matters.
    form_named: bool,
}

/// Works out every way in. `unknown` is what nobody knows, in %.
pub(super) fn acute(ingredients: &[Ingredient], unknown: f64, scheme: Scheme) -> Acute {
    let mut acute = Acute::default();
    let mut inhalation: Vec<(Finding, bool)> = Vec::new();
    for way in &WAYS {
        let Some((estimate, finding, form_named)) = way.work_out(ingredients, unknown, scheme) else {
            continue;
        };
        acute.estimates.push(estimate);
        match way.kind {
            Kind::AcuteInhalation => inhalation.push((finding, form_named)),
            _ => acute.findings = acute.findings.and(Findings::first_of([finding])),
        }
    }
    acute.findings = acute.findings.and(gravest(inhalation));
    acute
}

/// Where no source names a form, vapour and dust are both worked out and the graver counts.
fn gravest(mut inhalation: Vec<(Finding, bool)>) -> Findings {
    inhalation.sort_by_key(|(finding, _)| {
        (!finding.sum.is_reached(), finding.of.map_or(usize::MAX, Class::number))
    });
    let first = inhalation.into_iter().next().map(|(finding, _)| finding);
    Findings::first_of(first)
}

impl Way {
    /// The estimate of the mixture and the class that it gives; `None` where no component counts.
    fn work_out(
        &self,
        ingredients: &[Ingredient],
        unknown: f64,
        scheme: Scheme,
    ) -> Option<(Estimate, Finding, bool)> {
        let rules = &RULES.acute;
        let bands = rules.bands(self.exposure);
        let mut parts = Vec::new();
        let mut form_named = true;
        for ingredient in ingredients {
            let Some(known) = self.known(ingredient, bands) else { continue };
            if bands.last(scheme) < known.ate || ingredient.percent < cutoff(bands, known.ate) {
                continue;
            }
            form_named &= known.form_named;
            parts.push(Part::new(ingredient, ingredient.percent / known.ate, known.counted_as));
        }
        let unknown = unknown + self.unknown(ingredients);
        let over: f64 = parts.iter().map(|part| part.adds).sum();
        if parts.is_empty() && (unknown <= 0.0 || self.kind == Kind::AcuteInhalation) {
            return None;
        }
        let corrected = rules.unknown_above < unknown;
        let whole = if corrected { 100.0 - unknown } else { 100.0 };
        let estimate = Estimate {
            exposure: self.word,
            ate: (0.0 < over).then(|| whole / over),
            unit: bands.unit.clone(),
            unknown_pct: unknown,
            formula: if corrected { rules.formula_unknown.clone() } else { rules.formula.clone() },
            parts,
        };
        let finding = self.finding(&estimate, bands, scheme, form_named)?;
        Some((estimate, finding, form_named))
    }

    fn finding(
        &self,
        estimate: &Estimate,
        bands: &Bands,
        scheme: Scheme,
        form_named: bool,
    ) -> Option<Finding> {
        let rules = &RULES.acute;
        let found = estimate.ate.and_then(|ate| bands.category(ate, scheme));
        let last = bands.upto.iter().position(|upto| *upto == bands.last(scheme))? + 1;
        let (category, limit) = found.unwrap_or((last, bands.last(scheme)));
        let class = Class::new(self.kind, &category.to_string())?;
        let sum = Sum {
            what: "ATE of the mixture".to_owned(),
            value: estimate.ate,
            limit,
            unit: bands.unit.clone(),
            at_least: false,
            parts: estimate.parts.clone(),
        };
        let rule = if rules.unknown_above < estimate.unknown_pct {
            "additivity formula with the unknown taken out"
        } else {
            "additivity formula"
        };
        let mut finding = Finding::new(class, rule, sum, &rules.chapter, &rules.source);
        if self.kind == Kind::AcuteInhalation {
            if form_named {
                finding.class = format!("Acute Tox. {category} (inhalation, {})", self.word);
            } else {
                finding.condition =
                    Some(format!("worked out as {}: the sources name no form", self.form_words()));
            }
        }
        Some(finding)
    }

    fn form_words(&self) -> &'static str {
        match self.exposure {
            Exposure::Gas => "gas",
            Exposure::Vapour => "vapour, which is graver here than dust",
            _ => "dust or mist, which is graver here than vapour",
        }
    }

    /// An estimate of the source, else the point that stands for the category.
    fn known(&self, ingredient: &Ingredient, bands: &Bands) -> Option<Known> {
        if let Some(ate) = ingredient.estimate(self.exposure) {
            let counted_as = format!("ATE {ate} {}", bands.unit);
            return Some(Known { ate, counted_as, form_named: true });
        }
        let forms = [Exposure::Gas, Exposure::Vapour, Exposure::Dust];
        let inhaled = self.kind == Kind::AcuteInhalation;
        let elsewhere = inhaled && forms.iter().any(|form| ingredient.estimate(*form).is_some());
        if elsewhere || (inhaled && ingredient.gas != (self.exposure == Exposure::Gas)) {
            return None;
        }
        let class = ingredient.class(self.kind)?;
        let ate = *bands.point.get(class.number().checked_sub(1)?)?;
        let counted_as = format!("{class}, point estimate {ate} {}", bands.unit);
        Some(Known { ate, counted_as, form_named: !inhaled || ingredient.gas })
    }

    /// How much of the components is unknown this way, in %.
    fn unknown(&self, ingredients: &[Ingredient]) -> f64 {
        let forms: &[Exposure] = match self.kind {
            Kind::AcuteInhalation => &[Exposure::Gas, Exposure::Vapour, Exposure::Dust],
            _ => std::slice::from_ref(&self.exposure),
        };
        let nothing = |ingredient: &&Ingredient| {
            ingredient.is_unknown()
                && ingredient.class(self.kind).is_none()
                && forms.iter().all(|form| ingredient.estimate(*form).is_none())
        };
        ingredients.iter().filter(nothing).map(|ingredient| ingredient.percent).sum()
    }
}

/// Below this an ingredient of such toxicity is left out.
fn cutoff(bands: &Bands, ate: f64) -> f64 {
    let cutoff = &RULES.cutoff;
    let grave = bands.upto.get(2).is_some_and(|third| ate <= *third);
    if grave { cutoff.acute_category_1_to_3 } else { cutoff.acute_category_4_and_5 }
}

/// The category that an oral estimate belongs to, 1 to 4, whatever the scheme.
pub(in crate::caution) fn estimate_category(estimate: f64) -> Option<usize> {
    RULES.acute.bands(Exposure::Oral).category(estimate, Scheme::Clp).map(|(category, _)| category)
}

/// The sentences on what is of unknown toxicity, for each way in of which any part is unknown.
pub(super) fn unknown_statements(estimates: &[Estimate]) -> Vec<String> {
    let rules = &RULES.acute;
    let mut statements: Vec<String> = Vec::new();
    for estimate in estimates.iter().filter(|e| rules.unknown_statement_from <= e.unknown_pct) {
        let way = match estimate.exposure {
            "gas" | "vapour" | "dust" => "inhalation",
            other => other,
        };
        let percent = percent(estimate.unknown_pct);
        let statement =
            format!("{percent} % of the mixture consists of ingredients of unknown acute {way} toxicity.");
        if !statements.contains(&statement) {
            statements.push(statement);
        }
    }
    statements
}

/// Three digits, without zeros at the end.
pub(super) fn percent(value: f64) -> String {
    let text = if 99.95 <= value { format!("{value:.0}") } else { format!("{value:.2}") };
    let text = if (9.995..99.95).contains(&value) { format!("{value:.1}") } else { text };
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}
