//! Hazards on a label: what is known, what the scheme asks for, and in words what is not known.

use crate::caution::{
    LabelContent as Asked, LabelLine, LabelSize, Review, Severity, WayPast, label_content, pictogram,
};
use crate::report::view::short;

/// What is known of hazards. The default knows nothing, and a label then says so.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct LabelHazards {
    /// The graver of the signal words.
    pub signal_word: Option<SignalWord>,
    /// Codes of pictograms, `GHS01` to `GHS09`, after the rules of precedence.
    pub pictograms: Vec<String>,
    /// Hazard statements, the gravest first.
    pub statements: Vec<LabelStatement>,
    /// Precautionary statements, as many as the scheme asks for.
    pub precautions: Vec<LabelStatement>,
    /// Supplemental statements, and the shares that are unknown, as the scheme words them.
    pub supplements: Vec<String>,
    /// The substances that the scheme has a label name.
    pub contains: Vec<String>,
    /// What must not happen with it, the gravest first: alerts that block or warn.
    pub alerts: Vec<LabelAlert>,
    /// Names of what no hazard statement is known for. That proves nothing about it.
    pub not_known: Vec<String>,
    /// The statements are those of the components and not of the mixture as a whole.
    pub of_components: bool,
    /// By whose rules all this was chosen. `None` where nothing was reviewed.
    pub rule: Option<LabelRule>,
}

/// The two signal words of the GHS (Rev. 11, 1.4.10.5.2).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum SignalWord {
    /// The lesser.
    Warning,
    /// The graver.
    Danger,
}

/// A hazard or precautionary statement.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LabelStatement {
    /// Its code: `H302`.
    pub code: String,
    /// Its text.
    pub text: String,
    /// True if a package as small as this may leave it to a fold-out.
    pub spared: bool,
}

/// An alert on a label.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LabelAlert {
    /// How grave it is.
    pub severity: Severity,
    /// What lets the work go on.
    pub way_past: WayPast,
    /// What meets what.
    pub title: String,
    /// What to do or leave.
    pub message: String,
}

/// The package that a label is for.
#[derive(Debug, Clone, PartialEq)]
pub struct Package {
    /// Its capacity in mL.
    pub capacity_ml: f64,
    /// Where that comes from, in words.
    pub from: String,
}

/// By whose rules a label was put together.
#[derive(Debug, Clone, PartialEq)]
pub struct LabelRule {
    /// The scheme's word: "ghs", "clp" or "hcs".
    pub scheme: &'static str,
    /// The scheme with its edition.
    pub scheme_title: &'static str,
    /// The package.
    pub package: Package,
    /// What a package as small as this may leave to a fold-out, and under what condition.
    pub reduced: Option<(Vec<String>, String)>,
    /// Least size of label and pictogram; asked for by CLP, a guide elsewhere.
    pub size: Option<LabelSize>,
    /// Statements that another covers, as "H400 (H410)".
    pub covered: Vec<String>,
    /// Precautionary statements beyond those that the scheme asks for.
    pub further_precautions: usize,
    /// The sources.
    pub sources: Vec<String>,
}

impl SignalWord {
    /// As it is printed.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Warning => "WARNING",
            Self::Danger => "DANGER",
        }
    }

    fn of(word: &str) -> Option<Self> {
        match word {
            "Danger" => Some(Self::Danger),
            "Warning" => Some(Self::Warning),
            _ => None,
        }
    }
}

impl LabelHazards {
    /// From a review of everything that is in the bottle, batch or cell, for a package, by the review's scheme.
    pub fn of(review: &Review, package: Package) -> Self {
        let asked = label_content(review, package.capacity_ml);
        let texts = |id: &str| asked.lines(id).map(ToString::to_string).collect::<Vec<_>>();
        let grave = review.alerts.iter().filter(|alert| Severity::Warn <= alert.severity);
        Self {
            signal_word: asked.lines("signal_word").filter_map(|line| SignalWord::of(&line.text)).max(),
            pictograms: texts("pictograms"),
            statements: statements(&asked, "hazard_statements"),
            precautions: statements(&asked, "precautions"),
            supplements: texts("supplements"),
            contains: if asked.of_components { Vec::new() } else { texts("composition") },
            alerts: grave
                .map(|alert| LabelAlert {
                    severity: alert.severity,
                    way_past: alert.way_past,
                    title: alert.title.clone(),
                    message: alert.message.clone(),
                })
                .collect(),
            not_known: asked.not_known.clone(),
            of_components: asked.of_components,
            rule: Some(LabelRule::of(&asked, review, package)),
        }
    }

    /// True if not one statement is known.
    pub fn are_not_known(&self) -> bool {
        self.statements.is_empty() && self.signal_word.is_none() && self.pictograms.is_empty()
    }

    /// What the pictograms show, in words; a code that is none stays as it is.
    pub(super) fn pictogram_names(&self) -> Vec<String> {
        self.pictograms.iter().map(|code| pictogram_name(code)).collect()
    }

    /// What must not be done outside a written procedure, or never, in a few words each.
    pub(super) fn blocks(&self) -> impl Iterator<Item = &LabelAlert> {
        self.alerts.iter().filter(|alert| alert.severity == Severity::Block)
    }
}

impl Package {
    /// One of which only the contents in grams are known, at so many millilitres for each gram.
    pub fn of_contents(grams: f64, ml_per_g: f64) -> Self {
        let capacity_ml = ml_per_g * grams;
        let (whole, held) = (short(capacity_ml, 2), short(grams, 3));
        let from = format!("{whole} mL, taken as {ml_per_g} mL for each of {held} g: --capacity says better");
        Self { capacity_ml, from }
    }
}

/// What a pictogram shows, in words.
pub(super) fn pictogram_name(code: &str) -> String {
    pictogram(code).map_or(code.to_owned(), |known| known.symbol.to_lowercase())
}

impl LabelRule {
    fn of(asked: &Asked, review: &Review, package: Package) -> Self {
        let spared = asked.elements.iter().filter(|element| !asked.asks_on_package(&element.id));
        let mut may_go: Vec<String> = spared.map(|element| element.words.clone()).collect();
        let codes = |id: &str| asked.spared(id).filter_map(|line| line.code.clone()).collect::<Vec<_>>();
        let partly = ["hazard_statements", "precautions"].into_iter().filter(|id| asked.asks_on_package(id));
        may_go.extend(partly.flat_map(codes));
        Self {
            scheme: asked.scheme,
            scheme_title: review.scheme_title,
            package,
            reduced: asked.reduced.clone().map(|condition| (may_go, condition)),
            size: asked.size.clone(),
            covered: asked.omitted.iter().map(|o| format!("{} ({})", o.code, o.covered_by)).collect(),
            further_precautions: asked.further_precautions.len(),
            sources: asked.sources.clone(),
        }
    }
}

fn statements(asked: &Asked, id: &str) -> Vec<LabelStatement> {
    let spared: Vec<&LabelLine> = asked.spared(id).collect();
    let coded = asked.lines(id).filter_map(|line| {
        let (code, text) = (line.code.clone()?, line.text.clone());
        Some(LabelStatement { code, text, spared: spared.contains(&line) })
    });
    coded.collect()
}
