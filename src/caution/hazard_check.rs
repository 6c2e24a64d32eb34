//! A person's own hazard data held against the statements: unknown codes, classes that contradict the codes or each
//! other, a basis that is missing.

use super::label::covering_code;
use super::mixture::{Class, OwnLimits, estimate_category};
use super::precaution::precaution;
use super::statement::{hazard_codes, hazard_status, supplemental_codes};
use crate::component::{Component, Hazard, HazardBasis};
use crate::input::did_you_mean;

/// Something that is wrong or doubtful in a component's hazard data.
#[derive(Debug, Clone, PartialEq)]
pub struct HazardFinding {
    /// Its name for scripts.
    pub code: HazardFault,
    /// What is wrong: lower case, no full stop.
    pub message: String,
    /// The way out.
    pub hint: String,
    /// The text that it is about, as it stands in the table; `None` for the hazard data as a whole.
    pub about: Option<String>,
}

/// The kinds of findings.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HazardFault {
    /// A code that no table of statements has.
    UnknownCode,
    /// A class whose code is missing.
    ClassWithoutCode,
    /// A class and a code of one kind that name different categories.
    Contradiction,
    /// A harmonised classification without its index number.
    NoIndex,
    /// No hazard data at all, or limits that are not understood: nothing is wrong, much is open.
    Doubt,
}

/// Pairs of codes of which a substance carries one at most.
const EITHER: [(&str, &str); 4] = [("H314", "H315"), ("H318", "H319"), ("H318", "H320"), ("H319", "H320")];

/// All findings of a component.
pub fn check_hazard(component: &Component) -> Vec<HazardFinding> {
    let hazard = &component.hazard;
    let mut findings: Vec<HazardFinding> = unknown_codes(hazard);
    findings.extend(classes_without_codes(hazard));
    findings.extend(codes_against_classes(hazard));
    findings.extend(codes_against_codes(hazard));
    findings.extend(estimate_against_code(hazard));
    findings.extend(missing_index(hazard));
    findings.extend(doubts(component));
    findings
}

fn finding(
    code: HazardFault,
    message: String,
    hint: impl Into<String>,
    about: Option<&str>,
) -> HazardFinding {
    HazardFinding { code, message, hint: hint.into(), about: about.map(str::to_owned) }
}

fn unknown_codes(hazard: &Hazard) -> Vec<HazardFinding> {
    let unknown = |code: &&String| {
        !hazard_codes().any(|known| known == code.as_str())
            && !supplemental_codes().any(|known| known == code.as_str())
    };
    let told = |code: &String| {
        let known = hazard_codes().chain(supplemental_codes());
        let hint = if precaution(code).is_some() {
            "Precautionary statements are chosen by the classes: leave them out.".to_owned()
        } else {
            did_you_mean(code, known, "Copy it again from section 2 of the safety data sheet.")
        };
        let message = format!("{code} is no hazard statement of GHS, CLP or HCS");
        finding(HazardFault::UnknownCode, message, hint, Some(code))
    };
    hazard.codes.iter().chain(&hazard.euh).filter(unknown).map(told).collect()
}

/// Classes of the texts whose code, or one that covers it, is not among the codes.
fn classes_without_codes(hazard: &Hazard) -> Vec<HazardFinding> {
    let carried = |class: &Class| {
        let code = class.code();
        let has = |code: &str| hazard.codes.iter().any(|own| own.starts_with(code));
        has(code) || covering_code(code).is_some_and(has)
    };
    let told = |text: &String| {
        let meant = Class::written(text);
        let first = meant.first()?;
        let missing = !meant.iter().any(carried);
        let message = format!("the class {text:?} goes with {}, which is not among the codes", first.code());
        let hint = format!("Add {:?} to the codes, or correct the class.", first.code());
        missing.then(|| finding(HazardFault::ClassWithoutCode, message, hint, Some(text)))
    };
    hazard.classes.iter().filter_map(told).collect()
}

/// Codes whose kind the texts name with another category alone: H302 beside "Acute Tox. 3".
fn codes_against_classes(hazard: &Hazard) -> Vec<HazardFinding> {
    let told = |code: &String| {
        let own = *Class::all_of(std::slice::from_ref(code), &[]).first()?;
        let texts: Vec<&String> =
            hazard.classes.iter().filter(|text| Class::is_named_in(own, text)).collect();
        let agrees = texts.iter().any(|text| Class::may_be(own.code(), text));
        let text = texts.first().filter(|_| !agrees)?;
        let message = format!("{code} and the class {text:?} name different categories");
        let hint = "Copy both again from section 2 of the safety data sheet.";
        Some(finding(HazardFault::Contradiction, message, hint, Some(text)))
    };
    hazard.codes.iter().filter_map(told).collect()
}

/// Two codes of one kind, or a grave one beside the lesser one that it takes in.
fn codes_against_codes(hazard: &Hazard) -> Vec<HazardFinding> {
    let mut findings = Vec::new();
    for (at, one) in hazard.codes.iter().enumerate() {
        for other in &hazard.codes[at + 1..] {
            if exclude_each_other(one, other) {
                let message =
                    format!("{one} and {other} contradict each other: one substance has one of the two");
                let hint = "Keep the one that section 2 of the safety data sheet gives.";
                findings.push(finding(HazardFault::Contradiction, message, hint, Some(other)));
            }
        }
    }
    findings
}

fn exclude_each_other(one: &str, other: &str) -> bool {
    let listed = |a: &str, b: &str| {
        (one.starts_with(a) && other.starts_with(b)) || (one.starts_with(b) && other.starts_with(a))
    };
    if EITHER.iter().any(|(a, b)| listed(a, b)) {
        return true;
    }
    // A substance may harm fertility surely and the unborn by suspicion (H360F with H361d).
    if listed("H360", "H361") {
        return false;
    }
    let kind = |code: &str| Class::all_of(&[code.to_owned()], &[]).first().map(|class| class.kind);
    kind(one).is_some() && kind(one) == kind(other) && one.get(..4) != other.get(..4)
}

/// An estimate for the mixture formula that belongs to another category than the code.
fn estimate_against_code(hazard: &Hazard) -> Option<HazardFinding> {
    let estimate = hazard.ate_oral_mg_per_kg?;
    let category = estimate_category(estimate)?;
    let codes = ["H300", "H300", "H301", "H302"];
    let wanted = codes.get(category - 1)?;
    let own = hazard.codes.iter().find(|code| codes.contains(&code.as_str()));
    // Category 2 begins where its point estimate lies, so H300 fits up to 50 mg/kg.
    (own.map(String::as_str) != Some(*wanted)).then(|| {
        let beside = own.map_or("no code for swallowing".to_owned(), String::clone);
        let message = format!(
            "an estimate of {estimate} mg/kg is category {category} ({wanted}), but there is {beside}"
        );
        let hint = "Correct the estimate or the code; a converted point estimate is 5, 100 or 500 mg/kg.";
        finding(HazardFault::Contradiction, message, hint, Some("ate_oral_mg_per_kg"))
    })
}

fn missing_index(hazard: &Hazard) -> Option<HazardFinding> {
    let missing = hazard.basis == HazardBasis::Harmonised && hazard.index_no.is_none();
    let message = "a harmonised classification has an index number, and none is given".to_owned();
    let hint = "Add index_no = \"603-027-00-1\" as in CLP Annex VI, or write basis = \"supplier\".";
    missing.then(|| finding(HazardFault::NoIndex, message, hint, Some("harmonised")))
}

/// What is open without being wrong.
fn doubts(component: &Component) -> Vec<HazardFinding> {
    let hazard = &component.hazard;
    let name = component.id.as_str();
    let mut doubts = Vec::new();
    if hazard.basis == HazardBasis::NoneFound {
        let message =
            format!("nothing is known of the hazards of {name}: it counts as unknown in every mixture");
        doubts.push(finding(HazardFault::Doubt, message, "", None));
    }
    let limits = hazard.limits.as_deref().map(OwnLimits::read).unwrap_or_default();
    for piece in &limits.unread {
        let message =
            format!("{piece:?} in the limits of {name} is not understood, so it counts in no mixture");
        doubts.push(finding(HazardFault::Doubt, message, "", Some(piece)));
    }
    for code in &hazard.codes {
        let status = hazard_status(code).filter(|status| status.starts_with("deleted"));
        doubts.extend(status.map(|status| {
            let message = format!("{code} of {name} is {status} in GHS Rev.11");
            finding(HazardFault::Doubt, message, "", Some(code))
        }));
    }
    doubts
}
