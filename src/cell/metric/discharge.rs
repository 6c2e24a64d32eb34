//! Charge and energy of a cell to the cut-off.

use super::cell_record::CellRecord;
use super::found::Found;
use super::{Per, ToCutOff};
use crate::cell::discharge::Work;
use crate::cell::figures::CellDischarge;
use crate::input::Warning;
use crate::quantity::{Area, Mass};

/// What is summed.
#[derive(Debug, Clone, Copy)]
pub(super) enum Sum {
    Charge,
    Energy,
}

const NANOSECONDS_PER_DAY: f64 = 86_400e9;

/// What a cell gave to the cut-off. A cell counts as failed by then if it failed before the end of its discharge.
pub(super) fn found(record: &CellRecord, to: ToCutOff, sum: Sum) -> Found {
    match only(record, to) {
        Ok(discharge) => {
            let end = discharge.discharged.cut_off_ns.unwrap_or(discharge.discharged.to_ns);
            Found { value: to_cut_off(discharge, to, sum), until_d: age_d(record, end) }
        }
        Err(reason) => Found { value: Err(reason), until_d: f64::INFINITY },
    }
}

/// Days after building at which the discharge began.
pub(super) fn began_d(record: &CellRecord, to: ToCutOff) -> Option<f64> {
    Some(age_d(record, only(record, to).ok()?.discharged.from_ns))
}

fn age_d(record: &CellRecord, at_ns: i64) -> f64 {
    let built = record.cell.set.built.as_nanosecond();
    (i128::from(at_ns) - built) as f64 / NANOSECONDS_PER_DAY
}

fn only(record: &CellRecord, to: ToCutOff) -> Result<&CellDischarge, String> {
    match record.discharges.as_slice() {
        [one] => Ok(one),
        [] if to.work == Work::Measured => {
            Err("no discharge was logged with its current, and the metric names no load (load=47ohm)"
                .to_owned())
        }
        [] => Err("no discharge of it was logged".to_owned()),
        several => Err(format!("{} discharges that overlap: which one is meant is not known", several.len())),
    }
}

fn to_cut_off(discharge: &CellDischarge, to: ToCutOff, sum: Sum) -> Result<f64, String> {
    let discharged = &discharge.discharged;
    if let Some(volts) = discharged.false_start_volts {
        return Err(format!("it began at {volts} V, below the cut-off of {} V", to.cut_off_volts));
    }
    let Some(totals) = discharged.to_cut_off else {
        return Err(format!(
            "cut-off of {} V not reached: the lowest voltage was {} V",
            to.cut_off_volts, discharged.lowest_volts
        ));
    };
    let whole = match sum {
        Sum::Charge => totals.milliampere_hours(),
        Sum::Energy => totals.milliwatt_hours(),
    };
    match to.per {
        Per::Cell => Ok(whole),
        Per::Gram => match discharge.basis.oxide.filter(|oxide| Mass::ZERO < *oxide) {
            Some(oxide) => Ok(whole / oxide.get()),
            None => Err("the mass of its oxide is not known".to_owned()),
        },
        Per::SquareCentimetre => match discharge.basis.area.filter(|area| Area::ZERO < *area) {
            Some(area) => Ok(whole / area.get()),
            None => Err("the area of its electrode is not known".to_owned()),
        },
    }
}

/// What speaks against taking discharges as they are: a current that was logged beside a load that is named, and more
/// charge than the electrodes hold.
pub(super) fn remarks(cells: &[CellRecord], to: ToCutOff) -> Vec<Warning> {
    let named = |wanted: &dyn Fn(&CellDischarge) -> bool| -> Option<String> {
        let codes: Vec<String> = cells
            .iter()
            .filter(|record| record.discharges.iter().any(wanted))
            .map(|record| record.cell.code.to_string())
            .collect();
        (!codes.is_empty()).then(|| codes.join(", "))
    };
    let logged =
        |one: &CellDischarge| to.work != Work::Measured && one.discharged.rule.work == Work::Measured;
    let logged = named(&logged).map(|cells| {
        let message = format!(
            "{cells}: a current was logged, and is taken instead of the load or current that the metric names"
        );
        Warning::new("logged_current_taken", message)
    });
    let too_much = named(&|one| one.utilisation().is_some_and(|share| 1.0 < share)).map(|cells| {
        let message = format!(
            "{cells}: more charge than the electrode that ends first can give by its mass: check masses, the current's \
             unit and the load"
        );
        Warning::new("more_than_theory", message)
    });
    logged.into_iter().chain(too_much).collect()
}
