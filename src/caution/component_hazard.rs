//! What is known of one component's hazards, and what is not.

use serde::Serialize;

use super::keep_apart::keep_apart;
use super::pictogram::shown_pictograms;
use super::scheme::Scheme;
use super::statement::{Statement, gravest_signal_word, statement};
use super::storage::StorageClass;
use super::subject::Member;
use crate::component::{Component, HazardBasis};
use crate::quantity::Temperature;

/// The hazards of one component.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ComponentHazard {
    /// Its id.
    pub component: String,
    /// Its name.
    pub name: String,
    /// Its H codes.
    pub h_codes: Vec<String>,
    /// Its EUH codes.
    pub euh_codes: Vec<String>,
    /// The statements of both.
    pub statements: Vec<Statement>,
    /// Classes with categories as the source writes them.
    pub classes: Vec<String>,
    /// Pictograms by the rules of precedence.
    pub pictograms: Vec<String>,
    /// "Danger" or "Warning", the graver.
    pub signal_word: Option<String>,
    /// Where the classification comes from: "harmonised", "supplier" or "none-found".
    pub basis: &'static str,
    /// Index number in CLP Annex VI.
    pub index_no: Option<String>,
    /// Specific concentration limits as the source writes them.
    pub limits: Option<String>,
    /// How far the source can be relied on.
    pub confidence: Option<String>,
    /// What else must be known.
    pub note: Option<String>,
    /// The source.
    pub source: String,
    /// What is missing, in words. Its absence is no statement about the component.
    pub missing: Option<String>,
    /// What to keep it apart from.
    pub keep_apart: Vec<String>,
    /// Its storage class; `None` where no hazard data was found, or none is asked for.
    pub storage_class: Option<StorageClass>,
    /// What is listed to happen on heating.
    pub heat_limits: Vec<ListedHeatLimit>,
}

/// What is listed to happen on heating.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ListedHeatLimit {
    /// From this temperature in °C; `None` where the source names none.
    pub at_celsius: Option<f64>,
    /// What happens.
    pub what: String,
    /// The source.
    pub source: String,
}

impl ComponentHazard {
    /// From the component table, in the texts of a scheme.
    pub(super) fn new(component: &Component, scheme: Scheme) -> Self {
        let hazard = &component.hazard;
        let codes = hazard.codes.iter().chain(&hazard.euh);
        let statements: Vec<Statement> = codes.map(|code| statement(code, hazard, scheme)).collect();
        Self {
            component: component.id.to_string(),
            name: component.name.clone(),
            h_codes: hazard.codes.clone(),
            euh_codes: hazard.euh.clone(),
            classes: hazard.classes.clone(),
            pictograms: shown_pictograms(&statements),
            signal_word: gravest_signal_word(&statements),
            statements,
            basis: hazard.basis.word(),
            index_no: hazard.index_no.clone(),
            limits: hazard.limits.clone(),
            confidence: hazard.confidence.clone(),
            note: hazard.note.clone(),
            source: hazard.source.clone(),
            missing: missing(component),
            keep_apart: keep_apart(&Member::of_component(component)),
            storage_class: None,
            heat_limits: component.heat_limit.iter().map(ListedHeatLimit::new).collect(),
        }
    }
}

impl ListedHeatLimit {
    fn new(limit: &crate::component::HeatLimit) -> Self {
        Self {
            at_celsius: limit.at.map(Temperature::celsius),
            what: limit.what.clone(),
            source: limit.source.clone(),
        }
    }
}

fn missing(component: &Component) -> Option<String> {
    let name = &component.name;
    let hazard = &component.hazard;
    if hazard.basis == HazardBasis::NoneFound {
        return Some(format!(
            "no hazard data was found for {name}; that says nothing about its hazards: \
             read the supplier's safety data sheet"
        ));
    }
    (hazard.codes.is_empty() && hazard.euh.is_empty()).then(|| {
        format!(
            "the source gives no hazard statement for {name}; that does not prove that there is no hazard, \
             and other suppliers may give some: read the supplier's safety data sheet"
        )
    })
}
