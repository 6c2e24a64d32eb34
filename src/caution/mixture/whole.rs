//! All families of rules together, and the label elements that follow.

use serde::Serialize;

use super::acute::{Estimate, acute, unknown_statements};
use super::aquatic::aquatic;
use super::aspiration::aspiration;
use super::class::{Class, Kind};
use super::cmr::cmr;
use super::eye::eye;
use super::finding::{Finding, Findings};
use super::gap::{Gap, gaps, is_mixture, unknown_to_water};
use super::ingredient::{Ingredient, ingredients};
use super::presumed::{Presumed, lifted, presumed};
use super::sensitiser::sensitisers;
use super::single::SingleFindings;
use super::skin::{is_corrosive, skin};
use super::supplement::supplements;
use super::target_organ::target_organs;
use crate::caution::label::{Omitted, kept_statements, precautions_for};
use crate::caution::pictogram::shown_pictograms;
use crate::caution::precaution::Precaution;
use crate::caution::scheme::Scheme;
use crate::caution::statement::{Statement, gravest_signal_word, statement};
use crate::component::{Composition, Hazard};

/// A mixture by the rules of one scheme.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Mixture {
    /// The scheme: "ghs", "clp" or "hcs".
    pub scheme: &'static str,
    /// The classes that it reaches, the gravest first.
    pub classes: Vec<String>,
    /// H codes of a label, after those that another covers are left out.
    pub h_codes: Vec<String>,
    /// EUH codes (CLP alone).
    pub euh_codes: Vec<String>,
    /// Pictograms after the rules of precedence.
    pub pictograms: Vec<String>,
    /// The graver signal word.
    pub signal_word: Option<String>,
    /// Acute toxicity estimate, swallowed; `None` if nothing that counts is known.
    pub ate_oral_mg_per_kg: Option<f64>,
    /// The largest share of unknown acute toxicity by any way in, in % by mass.
    pub unknown_pct: f64,
    /// Statements of both kinds of codes with their texts.
    pub statements: Vec<Statement>,
    /// H statements that the label leaves out, with the one that covers each.
    pub omitted: Vec<Omitted>,
    /// Each class reached, with its sum, limit and components.
    pub reached: Vec<Finding>,
    /// The sums that stay below their limits by what is known.
    pub not_reached: Vec<Finding>,
    /// What is presumed until the pH is measured.
    pub presumed: Option<Presumed>,
    /// What a measured pH says that lifts a presumption.
    pub lifted_by_ph: Option<String>,
    /// Acute toxicity estimates of every way in.
    pub estimates: Vec<Estimate>,
    /// Sentences on what is unknown, as the scheme words them.
    pub unknown_statements: Vec<String>,
    /// Lower limits that the scheme leaves to an authority, and which the mixture reaches.
    pub left_to_authority: Vec<String>,
    /// What is not known and what that leaves open.
    pub gaps: Vec<Gap>,
    /// Names of components that are planned and not in it yet: the classes say nothing of them.
    pub lacks: Vec<String>,
}

/// Classifies a composition; `None` if it has no mass, or is one substance alone.
pub(in crate::caution) fn classify(
    composition: &Composition,
    scheme: Scheme,
    measured_ph: Option<f64>,
) -> Option<Mixture> {
    if !(0.0 < composition.mass().get() && is_mixture(composition)) {
        return None;
    }
    let (ingredients, unknown) = ingredients(composition);
    let acute = acute(&ingredients, unknown, scheme);
    let singles = [sensitisers, cmr, target_organs, aspiration].map(|family| family(&ingredients, scheme));
    let skin = skin(&ingredients, scheme);
    let corrosive = skin.reached.first().filter(|_| is_corrosive(&skin)).cloned();
    let eye = eye(&ingredients, corrosive.as_ref(), scheme);
    let left_to_authority = singles.iter().flat_map(|single| single.left_to_authority.clone()).collect();
    let mut findings = acute.findings.and(skin).and(eye);
    for SingleFindings { findings: found, .. } in singles {
        findings = findings.and(found);
    }
    let findings = findings.and(aquatic(&ingredients, scheme));
    Some(
        Worked {
            ingredients,
            unknown,
            scheme,
            measured_ph,
            findings,
            estimates: acute.estimates,
            left_to_authority,
        }
        .mixture(),
    )
}

impl Mixture {
    /// What a label bears: what is presumed before what was worked out.
    pub fn on_label(&self) -> Vec<Statement> {
        let presumed = self.presumed.iter().map(|presumed| presumed.statement.clone());
        presumed.chain(self.statements.iter().cloned()).collect()
    }

    /// P statements that go with the classes and with what is presumed, the more important first.
    pub fn precautions(&self) -> Vec<Precaution> {
        precautions_for(&self.on_label())
    }
}

/// What the families found, before the label elements are drawn from it.
struct Worked {
    ingredients: Vec<Ingredient>,
    unknown: f64,
    scheme: Scheme,
    measured_ph: Option<f64>,
    findings: Findings,
    estimates: Vec<Estimate>,
    left_to_authority: Vec<String>,
}

impl Worked {
    fn mixture(self) -> Mixture {
        let Findings { mut reached, not_reached } = self.findings;
        reached.sort_by_key(gravity);
        let all: Vec<Statement> = reached.iter().map(|found| statement_of(found, self.scheme)).collect();
        let classes: Vec<Class> = reached.iter().filter_map(|found| found.of).collect();
        let (kept, omitted) = kept_statements(&all);
        let supplements = supplements(&self.ingredients, &classes, self.scheme);
        let mut unknown_statements = unknown_statements(&self.estimates);
        unknown_statements.extend(unknown_to_water(&self.ingredients, self.unknown, self.scheme));
        let oral = self.estimates.iter().find(|estimate| estimate.exposure == "oral");
        Mixture {
            scheme: self.scheme.word(),
            classes: reached.iter().map(|found| found.class.clone()).collect(),
            h_codes: kept.iter().map(|statement| statement.code.clone()).collect(),
            euh_codes: supplements.iter().map(|statement| statement.code.clone()).collect(),
            pictograms: shown_pictograms(&all),
            signal_word: gravest_signal_word(&all),
            ate_oral_mg_per_kg: oral.and_then(|estimate| estimate.ate),
            unknown_pct: self.estimates.iter().map(|estimate| estimate.unknown_pct).fold(0.0, f64::max),
            statements: kept.into_iter().chain(supplements).collect(),
            omitted,
            presumed: presumed(
                &self.ingredients,
                is_worst_for_skin_and_eyes(&classes),
                self.scheme,
                self.measured_ph,
            ),
            lifted_by_ph: lifted(&self.ingredients, self.measured_ph),
            gaps: gaps(&self.ingredients, self.unknown, self.scheme),
            lacks: Vec::new(),
            reached,
            not_reached,
            estimates: self.estimates,
            unknown_statements,
            left_to_authority: self.left_to_authority,
        }
    }
}

fn is_worst_for_skin_and_eyes(classes: &[Class]) -> bool {
    classes.iter().any(|class| class.kind == Kind::SkinCorrosion)
}

fn statement_of(found: &Finding, scheme: Scheme) -> Statement {
    let hazard = Hazard { classes: vec![found.class.clone()], ..Hazard::none_found("") };
    statement(&found.code, &hazard, scheme)
}

/// What kills or cripples first, then what maims, then the rest, each in the order of the chapters.
fn gravity(found: &Finding) -> (usize, Option<Class>) {
    let Some(class) = found.of else { return (9, None) };
    let rank = match (class.kind, class.number()) {
        (Kind::AcuteOral | Kind::AcuteDermal | Kind::AcuteInhalation, 1 | 2) => 0,
        (
            Kind::Mutagen | Kind::Carcinogen | Kind::Reproduction | Kind::OrgansOnce | Kind::OrgansRepeated,
            1,
        )
        | (Kind::RespiratorySensitiser | Kind::Aspiration | Kind::SkinCorrosion, _) => 1,
        (Kind::AcuteOral | Kind::AcuteDermal | Kind::AcuteInhalation, 3) | (Kind::EyeDamage, _) => 2,
        (
            Kind::Mutagen | Kind::Carcinogen | Kind::Reproduction | Kind::OrgansOnce | Kind::OrgansRepeated,
            _,
        )
        | (Kind::Lactation, _) => 3,
        (Kind::AquaticAcute | Kind::AquaticChronic, _) => 6,
        (Kind::AcuteOral | Kind::AcuteDermal | Kind::AcuteInhalation, 4) | (Kind::SkinSensitiser, _) => 4,
        _ => 5,
    };
    (rank, Some(class))
}
