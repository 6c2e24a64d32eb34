//! A review as a table for programs: alerts, then statements, then what is not known.

use crate::caution::{Alert, ComponentHazard, Review};
use crate::report::document::{Table, column};

/// One row for each alert, statement and gap, worst alerts first.
pub(super) fn cautions_list(review: &Review) -> Table {
    let keys = ["kind", "severity", "code", "about", "text", "way_past", "source"];
    let mut table = Table::new(keys.map(|key| column(key).key(key)));
    review.alerts.iter().for_each(|each| table.push(alert(each)));
    for component in &review.components {
        statements(component).into_iter().for_each(|row| table.push(row));
    }
    for material in &review.materials {
        table.push(gap(&material.name, &material.missing, ""));
    }
    table
}

fn alert(alert: &Alert) -> [String; 7] {
    [
        "alert".to_owned(),
        alert.severity.word().to_owned(),
        alert.id.clone(),
        alert.because.join(", "),
        format!("{}: {}", alert.title, alert.message),
        alert.way_past.words().to_owned(),
        alert.source.clone(),
    ]
}

fn statements(component: &ComponentHazard) -> Vec<[String; 7]> {
    let statement = |statement: &crate::caution::Statement| {
        [
            "statement".to_owned(),
            statement.signal_word.clone().unwrap_or_default(),
            statement.code.clone(),
            component.name.clone(),
            statement.text.clone(),
            String::new(),
            component.source.clone(),
        ]
    };
    let known = component.statements.iter().map(statement);
    known
        .chain(component.missing.iter().map(|missing| gap(&component.name, missing, &component.source)))
        .collect()
}

/// Missing data is a row of its own, so that it can't be taken for absence of hazard.
fn gap(name: &str, missing: &str, source: &str) -> [String; 7] {
    let [kind, about, text, source] = ["no data", name, missing, source].map(str::to_owned);
    [kind, String::new(), String::new(), about, text, String::new(), source]
}
