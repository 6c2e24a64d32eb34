//! The candidates, one a row.

use super::model::{Candidate, CandidatesView};
use super::words;
use crate::compose::candidates::{LimitKind, Place};
use crate::report::document::{Column, Table, Text, column, strong, text};

/// A column for each thing that is asked or known; what is neither has none.
pub(super) fn ranked(view: &CandidatesView, shown: &[&Candidate]) -> Table {
    let kinds: Vec<LimitKind> = LimitKind::ALL.into_iter().filter(|kind| has_column(view, *kind)).collect();
    let mut columns = vec![column("").right(), column("Candidate")];
    columns.extend(kinds.iter().flat_map(|kind| heads(view, *kind)));
    let mut table = Table::new(columns);
    for (at, own) in shown.iter().enumerate() {
        let refused = own.standing.place() == Place::Refused;
        let rank = if refused { strong("×") } else { text((at + 1).to_string()) };
        let mut row: Vec<Text> = vec![rank, words::short_recipe(&own.combination).into()];
        row.extend(kinds.iter().flat_map(|kind| cells(own, *kind)));
        table.push(row);
    }
    table
}

fn has_column(view: &CandidatesView, kind: LimitKind) -> bool {
    match kind {
        LimitKind::Price => view.limits.asks(kind) || !view.prices.per_gram.is_empty(),
        LimitKind::InHouse => view.limits.asks(kind) || view.stock.grams.is_some(),
        _ => true,
    }
}

fn heads(view: &CandidatesView, kind: LimitKind) -> Vec<Column> {
    let per_kg = view.prices.currency.as_deref().map(|currency| format!("{currency}/kg"));
    match kind {
        LimitKind::LiquidAt => vec![column("Liquid from").unit("°C"), column("By")],
        LimitKind::Hazards => vec![column("Signal word")],
        LimitKind::Alerts => vec![column("Alert")],
        LimitKind::Price => vec![column("Price").unit(per_kg.unwrap_or_default())],
        LimitKind::Hygroscopic => vec![column("Takes up water")],
        LimitKind::InHouse => vec![column("House").unit("g")],
    }
}

fn cells(own: &Candidate, kind: LimitKind) -> Vec<Text> {
    let word = match kind {
        LimitKind::LiquidAt => words::liquid(own),
        LimitKind::Hazards => words::signal(own),
        LimitKind::Alerts => own.facts.alerts.worst.map(words::alert_level).unwrap_or_default().to_owned(),
        LimitKind::Price => words::price(own),
        LimitKind::Hygroscopic => words::moistness(own),
        LimitKind::InHouse => words::house(own),
    };
    let shown: Text = format!("{}{word}", words::sign(own.standing.verdict(kind))).into();
    match kind {
        LimitKind::LiquidAt => vec![shown, words::liquid_by(own).into()],
        _ => vec![shown],
    }
}
