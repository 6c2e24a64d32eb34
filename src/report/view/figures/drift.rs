//! Open-circuit voltage against time.

use super::cell_of;
use crate::cell::{Drift, Figures};
use crate::report::document::{Block, Table, column, paragraph};
use crate::report::view::amount::short;

const SECONDS_PER_DAY: i64 = 86_400;

/// The table and its rule; empty without two readings of any cell.
pub fn drift_blocks(list: &[Figures]) -> Vec<Block> {
    let read = |drift: &Drift| 1 < drift.settled.len() + drift.unsettled.len();
    let drifts: Vec<(&Figures, &Drift)> = list
        .iter()
        .filter_map(|figures| Some((figures, figures.drift.as_ref()?)))
        .filter(|(_, drift)| read(drift))
        .collect();
    let Some((_, first)) = drifts.first() else { return Vec::new() };
    let days = first.settling.until.as_secs() as f64 / SECONDS_PER_DAY as f64;
    let mut table = Table::new([
        column("Cell").key("cell"),
        column("Settling").key("settling").right(),
        column("Settled").key("settled").right(),
        column("Left out").key("left_out").right(),
        column("Slope").unit("mV/week").key("slope_mv_per_week").decimal(),
        column("95 % interval").unit("mV/week").key("slope_ci95"),
        column("First to last").unit("%").key("fall_pct").decimal(),
    ]);
    for (figures, drift) in &drifts {
        table.push(row(figures, drift));
    }
    let rule = format!(
        "Settling: readings sooner than {} d after building are set apart (--settled-after). Slope: a straight line \
         through the settled ones by least squares, with Student's t. Left out: within 24 h of a short circuit, and \
         after the cell's end. A fall of voltage is no loss of charge, and no current follows from it.",
        short(days, 3)
    );
    vec![table.into(), paragraph(rule)]
}

fn row(figures: &Figures, drift: &Drift) -> [String; 7] {
    let interval = drift.line.and_then(|line| line.slope_interval(0.95));
    let interval =
        interval.map(|(low, high)| format!("{} to {}", short(low * 1000.0, 3), short(high * 1000.0, 3)));
    let missing = match drift.settled.len() {
        0 | 1 => "needs two settled readings",
        _ => "needs three settled readings",
    };
    [
        cell_of(figures),
        drift.unsettled.len().to_string(),
        drift.settled.len().to_string(),
        (drift.disturbed + drift.after_end).to_string(),
        drift.line.map_or(String::new(), |line| short(line.slope * 1000.0, 3)),
        interval.unwrap_or_else(|| missing.to_owned()),
        drift.loss().map_or(String::new(), |loss| short(-loss * 100.0, 3)),
    ]
}
