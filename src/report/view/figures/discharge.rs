//! Discharges.

use super::{cell_of, filled};
use crate::cell::{CellDischarge, DischargeRule, Figures, Work};
use crate::input::Warning;
use crate::report::document::{Block, Table, bullets, column};
use crate::report::view::amount::short;

pub(super) fn blocks(list: &[Figures]) -> Vec<Block> {
    let all = || list.iter().flat_map(|figures| figures.discharges.iter().map(move |one| (figures, one)));
    if all().next().is_none() {
        return Vec::new();
    }
    let mut table = Table::new([
        column("Cell").key("cell"),
        column("Entries").key("entries"),
        column("Cut-off").key("cut_off"),
        column("On").unit("h").key("on_time_h").decimal(),
        column("Rest").unit("h").key("rest_h").decimal(),
        column("Capacity").unit("mAh").key("capacity_mah").decimal(),
        column("Energy").unit("mWh").key("energy_mwh").decimal(),
        column("Mean").unit("V").key("mean_voltage_v").decimal(),
        column("Power").unit("mW").key("mean_power_mw").decimal(),
        column("per oxide").unit("mAh/g").key("mah_per_g_oxide").decimal(),
        column("per area").unit("mAh/cm²").key("mah_per_cm2").decimal(),
        column("Of theory").unit("%").key("of_theoretical_pct").decimal(),
    ]);
    for (figures, discharge) in all() {
        table.push(row(figures, discharge));
    }
    let table = filled(&table);
    let mut rules: Vec<String> = Vec::new();
    for (figures, discharge) in all() {
        let words = rule(&discharge.discharged.rule);
        let words = if 1 < list.len() { format!("{}: {words}", cell_of(figures)) } else { words };
        if !rules.contains(&words) {
            rules.push(words);
        }
    }
    rules.push(
        "Between two samples voltage and current are straight lines; time to the cut-off is found on them. Rests are no \
         part of the time on. Where the cut-off was not reached, the figures are those of the whole log."
            .to_owned(),
    );
    vec![table.into(), bullets(rules).into()]
}

pub(super) fn warnings(figures: &Figures) -> Vec<Warning> {
    let mut warnings = Vec::new();
    for discharge in &figures.discharges {
        let run = &discharge.discharged;
        let cell = cell_of(figures);
        let of =
            if cell.is_empty() { "the discharge".to_owned() } else { format!("the discharge of {cell}") };
        if let (Some(cut_off), Some(volts)) = (run.rule.cut_off_volts, run.false_start_volts) {
            let message = format!(
                "{of} begins at {} V, below its cut-off of {cut_off} V, so it gives none to it: look at the first rows and \
                 at the leads",
                short(volts, 4)
            );
            warnings.push(Warning::new("began_below_cut_off", message));
        } else if let (Some(cut_off), None) = (run.rule.cut_off_volts, run.to_cut_off) {
            let message = format!(
                "cut-off not reached: {of} was never down at {cut_off} V with current; its lowest voltage is {} V",
                short(run.lowest_volts, 4)
            );
            warnings.push(Warning::new("cut_off_not_reached", message));
        }
        if discharge.utilisation().is_some_and(|share| 1.0 < share) {
            let message = format!(
                "{of} gave more than the electrode that ends first can give by its mass: check the masses, the current's \
                 unit and the load"
            );
            warnings.push(Warning::new("more_than_theory", message));
        }
        if 0.01 * run.total.coulombs < run.other_way_coulombs {
            let message = format!(
                "{of} holds current in both directions: {} mAh went the other way and are not counted; never charge a \
                 primary cell",
                short(run.other_way_coulombs / 3.6, 3)
            );
            warnings.push(Warning::new("both_directions", message));
        }
    }
    warnings
}

fn row(figures: &Figures, discharge: &CellDischarge) -> [String; 12] {
    let run = &discharge.discharged;
    let totals = run.counted();
    let entries = discharge.entries.iter().map(u64::to_string).collect::<Vec<_>>().join(", ");
    let cut_off = match (run.rule.cut_off_volts, run.to_cut_off) {
        (None, _) => "none named".to_owned(),
        (Some(volts), Some(_)) => format!("{volts} V"),
        (Some(volts), None) if run.false_start_volts.is_some() => format!("{volts} V, began below"),
        (Some(volts), None) => format!("{volts} V not reached"),
    };
    let optional = |value: Option<f64>| value.map_or(String::new(), |value| short(value, 4));
    [
        cell_of(figures),
        entries,
        cut_off,
        short(totals.on_s / 3600.0, 4),
        short(run.rest_s / 3600.0, 3),
        short(totals.milliampere_hours(), 4),
        short(totals.milliwatt_hours(), 4),
        optional(totals.mean_volts()),
        optional(totals.mean_watts().map(|watts| watts * 1000.0)),
        optional(discharge.mah_per_g()),
        optional(discharge.mah_per_cm2()),
        discharge.utilisation().map_or(String::new(), |share| short(share * 100.0, 3)),
    ]
}

/// What can't be told where no current was logged.
const UNSEEN: &str = " at every row, since a rest can't be told from a voltage: cut rests out of the log";

fn rule(rule: &DischargeRule) -> String {
    let work = match rule.work {
        Work::Resistance(ohms) => format!("current is V / {} Ω{UNSEEN}", short(ohms, 6)),
        Work::Current(amperes) => format!("constant current {} mA{UNSEEN}", short(amperes * 1000.0, 6)),
        Work::Measured => {
            format!(
                "current as logged; less than {} mA is a rest",
                short(rule.rest_below_amperes * 1000.0, 3)
            )
        }
    };
    format!("{work}; rows more than {} s apart have a rest between them", short(rule.longest_gap_s, 4))
}
