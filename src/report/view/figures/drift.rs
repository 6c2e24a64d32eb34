//! Open-circuit voltage against time.

use super::cell_of;
use super::drift_chart::chart;
use crate::cell::{Drift, Figures};
use crate::quantity::{significant, to_digits_of};
use crate::report::document::{Block, Table, column, paragraph};
use crate::report::view::amount::short;
use crate::statistics::curve_fit::{Estimate, Fit};

/// More cells than these are not drawn one by one.
const DRAWN: usize = 4;
/// With fewer readings nothing is left to judge an exponential settling by.
const FOR_SETTLING: usize = 4;
/// Days in a week.
const DAYS: f64 = 7.0;

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
    let mut blocks = vec![table.into(), paragraph(rule)];
    blocks.extend(settling(&drifts));
    if drifts.len() <= DRAWN {
        blocks.extend(drifts.iter().map(|(figures, drift)| chart(&cell_of(figures), drift).into()));
    }
    blocks
}

/// Where each cell settles, how far it falls until then, and how fast; empty where no cell was read often enough.
fn settling(drifts: &[(&Figures, &Drift)]) -> Vec<Block> {
    let mut table = Table::new([
        column("Cell").key("cell"),
        column("Settles at").unit("V").key("settles_at_v").decimal(),
        column("95 % interval").unit("V").key("settles_at_ci95"),
        column("Falls by").unit("mV").key("falls_by_mv").decimal(),
        column("Time constant").unit("d").key("tau_d").decimal(),
        column("95 % interval").unit("d").key("tau_ci95"),
        column("").key("verdict"),
    ])
    .caption("Exponential settling, a + b exp(−t/tau), through all that is not left out");
    let fitted = drifts.iter().filter_map(|(figures, drift)| Some((figures, drift.decay()?, drift)));
    for (figures, fit, drift) in fitted.filter(|(.., drift)| FOR_SETTLING <= drift.all().len()) {
        table.push(settling_row(cell_of(figures), fit, drift.all().len()));
    }
    if table.rows().is_empty() { Vec::new() } else { vec![table.into()] }
}

fn settling_row(cell: String, fit: &Fit, readings: usize) -> [String; 7] {
    let blank = String::new;
    if !fit.is_identifiable() {
        let why = if fit.converged { "can't be told from these" } else { "did not converge on these" };
        return [cell, blank(), blank(), blank(), blank(), blank(), format!("{why} {readings} readings")];
    }
    let [a, b, tau] = [0, 1, 2].map(|at| fit.inference.estimates[at]);
    let scaled = |own: Estimate, by: f64| Estimate {
        value: own.value * by,
        sd: own.sd * by,
        interval: (own.interval.0 * by, own.interval.1 * by),
    };
    let (b, tau) = (scaled(b, 1000.0), scaled(tau, DAYS));
    [cell, value(a), interval(a), value(b), value(tau), interval(tau), blank()]
}

fn value(own: Estimate) -> String {
    digits(own.value, own.sd)
}

fn interval(own: Estimate) -> String {
    format!("{} to {}", digits(own.interval.0, own.sd), digits(own.interval.1, own.sd))
}

/// To two digits of the standard error.
fn digits(value: f64, sd: f64) -> String {
    if sd.is_finite() && 0.0 < sd { to_digits_of(value, sd, 6) } else { significant(value, 6) }
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
