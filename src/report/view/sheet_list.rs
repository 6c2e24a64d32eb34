//! The weighings of a sheet as a table for programs: one number in a cell, parts and additions together.

use super::amount::{ends, planned, short};
use super::plan::asked;
use crate::plan::{Line, Plan};
use crate::quantity::Mass;
use crate::report::document::{Table, column};

/// One row for each thing to weigh, in order. The flask holds `before_g` before it and `after_g` after it.
pub(super) fn sheet_list(plan: &Plan) -> Table {
    let keys = [
        "number",
        "component",
        "asked",
        "bottle",
        "target_g",
        "low_g",
        "high_g",
        "volume_ml",
        "before_g",
        "after_g",
    ];
    let mut table = Table::new(keys.map(|key| column(key).key(key)));
    let mut before = Mass::ZERO;
    for (number, line) in (1..).zip(&plan.lines) {
        table.push(row(plan, number, line, before));
        before = before + line.shown();
    }
    table
}

fn row(plan: &Plan, number: usize, line: &Line, before: Mass) -> [String; 10] {
    let (low, high) =
        line.window.map(|window| ends(window, plan.request.balance.as_ref())).unwrap_or_default();
    [
        number.to_string(),
        line.component.id.to_string(),
        asked(line),
        line.supply.label.clone().unwrap_or_default(),
        planned(line.target(), plan),
        low,
        high,
        line.volume.as_ref().map_or(String::new(), |volume| short(volume.volume.get(), 4)),
        planned(before, plan),
        planned(before + line.shown(), plan),
    ]
}
