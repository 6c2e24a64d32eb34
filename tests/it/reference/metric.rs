//! Metrics of cells by hand arithmetic on invented readings, and their texts.

use std::sync::Arc;

use approx::assert_relative_eq;
use jiff::{SignedDuration, Timestamp};
use meltbook::cell::metric::{CellRecord, CellValue, Metric, Taken, taken};
use meltbook::cell::{CellDischarge, Discharge, DischargeBasis, DischargeRule, Sample, ShotPairing, Work};
use meltbook::quantity::{Area, Mass};
use meltbook::record::cell::{Cause, Cell, CellContent, CellSet, FrozenDesign};
use meltbook::record::reading::{Reading, ReadingTaken, ReadingValue};
use meltbook::record::{Code, CodeKind};
use proptest::prelude::{Strategy, prop, prop_assert_eq, prop_oneof, proptest};

const PAIRING: ShotPairing = ShotPairing { within: SignedDuration::from_hours(1), voltmeter_ohms: None };

fn built() -> Timestamp {
    "2026-03-02T09:00:00Z".parse().unwrap()
}

fn at(day: f64) -> Timestamp {
    built() + SignedDuration::try_from_secs_f64(day * 86_400.0).unwrap()
}

fn open(day: f64, volts: f64) -> (f64, ReadingValue) {
    (day, ReadingValue::OpenCircuit { volts, text: format!("{volts} V") })
}

fn loaded(day: f64, volts: f64, ohms: f64) -> (f64, ReadingValue) {
    (day, ReadingValue::UnderLoad { volts, text: format!("{volts} V"), ohms, after_s: 5.0 })
}

fn short(day: f64, amperes: f64) -> (f64, ReadingValue) {
    let text = format!("{amperes} A");
    (day, ReadingValue::ShortCircuit { amperes, text, meter_ohms: Some(0.5), after_s: Some(2.0) })
}

fn record(number: u32, readings: &[(f64, ReadingValue)]) -> CellRecord {
    let code = Code::new(CodeKind::Cell, number);
    let set = CellSet {
        entry: 1,
        design: FrozenDesign {
            name: "vial".to_owned(),
            text: String::new(),
            sealed: true,
            fields: Vec::new(),
            schedule: Vec::new(),
        },
        seed: 1,
        deviations: Vec::new(),
        operator: None,
        permit: None,
        built: built(),
    };
    let batch = Code::new(CodeKind::Electrolyte, 1);
    let reading = |(entry, (day, value)): (u64, &(f64, ReadingValue))| Reading {
        entry,
        taken: ReadingTaken {
            cell: code.clone(),
            value: value.clone(),
            temperature: None,
            humidity: None,
            instrument: None,
            note: None,
            because: None,
            at: at(*day),
        },
    };
    CellRecord {
        readings: (10..).zip(readings).map(reading).collect(),
        electrolyte: "one".to_owned(),
        batch: "E1".to_owned(),
        discharges: Vec::new(),
        cell: Cell {
            code,
            position: number,
            block: None,
            set: Arc::new(set),
            contents: vec![CellContent { batch, planned_g: 1.2, weighed_g: None }],
            retired: None,
        },
    }
}

fn retired(mut record: CellRecord, day: f64, cause: Cause) -> CellRecord {
    record.cell.retired = Some((at(day), cause, None));
    record
}

fn take(metric: &str, cells: &[CellRecord]) -> Taken {
    taken(&Metric::parse(metric).unwrap(), cells, &PAIRING)
}

fn of(metric: &str, record: CellRecord) -> CellValue {
    take(metric, &[record]).values.remove(0)
}

fn value(metric: &str, record: CellRecord) -> f64 {
    let taken = of(metric, record);
    taken.value.unwrap_or_else(|| panic!("{:?}", taken.missing))
}

/// 1.40 V on day 12 and 1.36 V on day 16 are 1.38 V on day 14; a reading on the day itself is that reading.
#[test]
fn a_voltage_lies_between_the_readings_around_the_day() {
    let cell = record(1, &[open(0.0, 1.5), open(12.0, 1.40), open(16.0, 1.36), open(30.0, 1.2)]);
    assert_relative_eq!(value("voltage day=14", cell.clone()), 1.38, max_relative = 1e-14);
    assert_relative_eq!(value("voltage day=13", cell.clone()), 1.39, max_relative = 1e-14);
    assert_eq!(value("voltage day=16", cell.clone()), 1.36);
    let beyond = of("voltage day=31", cell);
    assert_eq!(beyond.value, None);
    assert_eq!(beyond.missing.unwrap(), "no open-circuit reading after day 30, the last that counts");
    // Within 12 h of the last reading it is that reading's, there being none after it.
    assert_eq!(value("voltage day=30.5", record(1, &[open(16.0, 1.36), open(30.0, 1.2)])), 1.2);
    let late = of("voltage day=1", record(1, &[open(2.0, 1.5), open(3.0, 1.5)]));
    assert_eq!(late.missing.unwrap(), "no open-circuit reading before day 2, the first that counts");
}

/// The reading half a day after a short circuit would give 1.30 V; it is left out, and the line is from 10 to 18.
#[test]
fn what_a_short_circuit_disturbs_is_left_out() {
    let cell = record(1, &[open(10.0, 1.42), short(13.5, 0.008), open(14.0, 1.30), open(18.0, 1.34)]);
    assert_relative_eq!(value("voltage day=14", cell.clone()), 1.38, max_relative = 1e-14);
    let alone = record(1, &[short(13.5, 0.008), open(14.0, 1.30)]);
    let none = of("voltage day=14", alone);
    assert_eq!(
        none.missing.unwrap(),
        "no open-circuit reading that counts; 1 disturbed by a short circuit left out"
    );
    assert_eq!(of("loaded day=14 load=10ohm", cell).value, None);
}

/// Kinds are never mixed: 1.10 V on 100 Ω is not 1.40 V open, nor 1.2 V on 47 Ω. 8 mA and 6 mA are 7 mA between.
#[test]
fn each_kind_of_reading_stands_alone() {
    let cell = record(
        1,
        &[
            open(7.0, 1.40),
            loaded(7.0, 1.10, 100.0),
            loaded(7.0, 1.2, 47.0),
            short(7.0, 0.008),
            open(21.0, 1.38),
            loaded(21.0, 1.00, 100.0),
            short(21.0, 0.006),
        ],
    );
    assert_relative_eq!(value("loaded day=14 load=100ohm", cell.clone()), 1.05, max_relative = 1e-14);
    assert_relative_eq!(value("loaded day=14 load=0.1kohm", cell.clone()), 1.05, max_relative = 1e-14);
    assert_relative_eq!(value("current day=14", cell.clone()), 7.0, max_relative = 1e-14);
    assert_eq!(value("voltage day=21", cell.clone()), 1.38);
    assert_eq!(
        of("loaded day=14 load=47ohm", cell).missing.unwrap(),
        "no reading on this load after day 7, the last that counts"
    );
}

/// (1.40 − 1.10) V / (1.10 V / 100 Ω) = 27.27… Ω open to loaded on day 7; 1.40 V / 8 mA less the meter's 0.5 Ω by
/// short circuit. On day 9 nothing lies within a day.
#[test]
fn a_resistance_is_that_of_the_nearest_set() {
    let cell = record(1, &[open(7.0, 1.40), loaded(7.0, 1.10, 100.0), short(7.001, 0.008)]);
    let loaded = "resistance day=7.5 method=open-to-loaded";
    assert_relative_eq!(value(loaded, cell.clone()), 0.30 / 0.011, max_relative = 1e-12);
    let short = value("resistance day=7.5 method=short-circuit", cell.clone());
    assert_relative_eq!(short, 1.40 / 0.008 - 0.5, max_relative = 1e-12);
    let far = of("resistance day=9 method=open-to-loaded", cell.clone());
    assert_eq!(far.missing.unwrap(), "no undisturbed set of readings for open to loaded within 1 d of day 9");
    assert!(0.0 < value("resistance day=9 method=open-to-loaded within=3", cell.clone()));
    assert_eq!(of("resistance day=7 method=open-to-loaded load=47ohm", cell.clone()).value, None);
    let wrong = record(1, &[open(7.0, 1.10), loaded_higher()]);
    assert!(of(loaded, wrong).missing.unwrap().contains("contradict"));
}

fn loaded_higher() -> (f64, ReadingValue) {
    loaded(7.0, 1.2, 100.0)
}

/// An exact line of −14 mV a week after day 7; what is before, and after day 35, lies elsewhere and does not count.
#[test]
fn a_slope_is_that_of_the_settled_part() {
    let line = |day: f64| open(day, 1.4 - 0.014 * day / 7.0);
    let cell =
        record(1, &[open(0.0, 1.6), open(3.0, 1.5), line(7.0), line(14.0), line(28.0), open(36.0, 0.4)]);
    assert_relative_eq!(value("slope from=7 to=35", cell.clone()), -0.014, max_relative = 1e-10);
    let few = of("slope from=30 to=40", cell.clone());
    assert_eq!(
        few.missing.unwrap(),
        "only 1 open-circuit reading that counts from day 30 to day 40; a line needs two"
    );
    let short = take("slope from=7 to=100", &[retired(cell, 35.0, Cause::EndOfTest)]);
    assert_eq!(short.remarks[0].message, "C1: its slope stands on readings over 21 of 93 days");
}

/// The slope of numpy.polyfit (NumPy 2.4.6, degree 1) over weeks 1, 2, 3, 5 and 6: −0.013395…
#[test]
fn a_slope_is_that_of_another_library() {
    let volts = [1.437, 1.421, 1.412, 1.380, 1.371];
    let weeks = [1.0, 2.0, 3.0, 5.0, 6.0];
    let readings: Vec<_> =
        weeks.iter().zip(volts).map(|(week, volts): (&f64, f64)| open(week * 7.0, volts)).collect();
    let slope = value("slope from=7 to=42", record(1, &readings));
    assert_relative_eq!(slope, -0.013_395_348_837_209_258, max_relative = 1e-10);
}

/// A leak found on day 20 leaves the cell in at day 14, as one that failed; at day 28 it is out, and its value is
/// kept for the count with all. A wrong dose was wrong from the beginning. The end of a test excludes nothing.
#[test]
fn a_cell_is_left_out_by_a_physical_cause_alone() {
    let cell = || record(1, &[open(10.0, 1.42), open(18.0, 1.34), open(28.0, 1.2)]);
    let leak = || retired(cell(), 20.0, Cause::Leak);
    let early = of("voltage day=14", leak());
    assert_eq!((early.value.is_some(), early.excluded), (true, None));
    assert_eq!(early.failed_later, Some(Cause::Leak));
    let late = of("voltage day=20", leak());
    assert_eq!((late.value, late.excluded, late.failed_later), (None, Some(Cause::Leak), None));
    let on_the_day = of("voltage day=18", retired(cell(), 18.0, Cause::Leak));
    assert_eq!((on_the_day.value, on_the_day.excluded), (Some(1.34), Some(Cause::Leak)));
    let dose = of("voltage day=14", retired(cell(), 20.0, Cause::WrongDose));
    assert_eq!((dose.value.is_some(), dose.excluded), (true, Some(Cause::WrongDose)));
    let ended = of("voltage day=14", retired(cell(), 20.0, Cause::EndOfTest));
    assert_eq!((ended.value.is_some(), ended.excluded, ended.failed_later), (true, None, None));
    let over = of("voltage day=24", retired(cell(), 20.0, Cause::EndOfTest));
    assert_eq!((over.value, over.excluded), (None, None));
    assert_eq!(over.missing.unwrap(), "its test ended on day 20");
    for words in ["too low", "voltage too low", "OK", "other", "12", "it was an outlier!", "reading far off"]
    {
        assert!(!Cause::Other(words.to_owned()).is_physical(), "{words}");
    }
    for words in ["cracked vial", "wrong polarity", "dropped", "leak?", "low electrolyte level"] {
        assert!(Cause::Other(words.to_owned()).is_physical(), "{words}");
    }
    let judged = Cause::Other("outlier".to_owned());
    let taken = take("voltage day=14", &[retired(cell(), 12.0, judged)]);
    assert_eq!(taken.values[0].excluded, None);
    assert!(taken.remarks[0].message.contains("no physical cause"), "{:?}", taken.remarks);
}

/// A constant 10 mA for `hours` from `volts` down to 0.8 V along a line, begun on a day.
fn discharged(mut record: CellRecord, day: f64, hours: i64, cut_off_volts: f64) -> CellRecord {
    let start = i64::try_from(at(day).as_nanosecond()).unwrap();
    let rule = DischargeRule {
        work: Work::Measured,
        cut_off_volts: Some(cut_off_volts),
        rest_below_amperes: 1e-4,
        longest_gap_s: 1e6,
    };
    let mut discharge = Discharge::new(rule);
    for hour in 0..=hours {
        let volts = 1.2 - 0.4 * hour as f64 / hours as f64;
        discharge.push(Sample { at_ns: start + hour * 3_600_000_000_000, volts, amperes: Some(0.010) });
    }
    let basis = DischargeBasis {
        oxide: Some(Mass::new(0.25)),
        area: Some(Area::new(2.0)),
        ..DischargeBasis::default()
    };
    record.discharges =
        vec![CellDischarge { entries: vec![3], discharged: discharge.finish().unwrap(), basis }];
    record
}

/// From 1.2 V to 0.8 V in 16 h passes 0.9 V after 12 h: 120 mAh, 480 mAh/g of 0.25 g, 60 mAh/cm² of 2 cm². The mean
/// voltage is 1.05 V: 126 mWh.
#[test]
fn charge_and_energy_are_counted_to_the_cut_off() {
    let cell = || discharged(record(1, &[]), 1.0, 16, 0.9);
    assert_relative_eq!(value("capacity cut-off=0.9V", cell()), 120.0, max_relative = 1e-9);
    assert_relative_eq!(value("capacity cut-off=0.9V per=g", cell()), 480.0, max_relative = 1e-9);
    assert_relative_eq!(value("capacity cut-off=0.9V per=cm2", cell()), 60.0, max_relative = 1e-9);
    assert_relative_eq!(value("energy cut-off=0.9V", cell()), 126.0, max_relative = 1e-9);
    let not = of("capacity cut-off=0.5V", discharged(record(1, &[]), 1.0, 16, 0.5));
    assert!(not.missing.unwrap().starts_with("cut-off of 0.5 V not reached"), "{:?}", not.value);
    let none = of("capacity cut-off=0.9V", record(1, &[]));
    assert_eq!(
        none.missing.unwrap(),
        "no discharge was logged with its current, and the metric names no load (load=47ohm)"
    );
}

/// Fresh cells gave 120 and 140 mAh down to 0.8 V less a hair, a stored one 104: 80 %.
#[test]
fn a_stored_cell_stands_against_the_fresh_ones_of_its_lot() {
    let cells = [
        discharged(record(1, &[]), 1.0, 12, 0.8),
        discharged(record(2, &[]), 2.0, 14, 0.8),
        discharged(record(3, &[]), 42.0, 10, 0.8),
    ];
    let kept = take("retention cut-off=0.8V fresh=3", &cells);
    assert_eq!(kept.reference.len(), 2);
    assert_relative_eq!(kept.values[0].value.unwrap(), 100.0 * 100.0 / 130.0, max_relative = 1e-9);
    let alone = take("retention cut-off=0.8V fresh=3", &cells[2..]);
    assert!(alone.values[0].missing.as_ref().unwrap().starts_with("no fresh cell of its lot"));
}

fn metric() -> impl Strategy<Value = String> {
    let day = prop::num::f64::POSITIVE.prop_filter("days", |day| *day < 1e6).prop_map(|day| day.abs());
    let day = prop_oneof![day, (0u32..1000).prop_map(f64::from)];
    (day, 1u32..1000, 0usize..8).prop_map(|(day, number, form)| match form {
        0 => format!("voltage day={day}"),
        1 => format!("loaded day={day} load={number} Ω"),
        2 => format!("current day={day}"),
        3 => format!("resistance day={day} method=two-loads within={number} load={number}ohm"),
        4 => format!("slope from={day} to={}", day + 1.0),
        5 => format!("capacity cut-off={number}mV per=g"),
        6 => format!("energy cut-off={number}mV current={number}mA per=cm2"),
        _ => format!("retention fresh={day} cut-off={number} mV load={number} ohm"),
    })
}

proptest! {
    #[test]
    fn a_metric_is_read_as_it_was_written(text in metric()) {
        let metric = Metric::parse(&text).unwrap();
        prop_assert_eq!(Metric::parse(&metric.to_string()), Ok(metric));
    }

    #[test]
    fn no_text_makes_a_metric_panic(text in "(voltage|slope|capacity)?[ =a-z0-9.€é\"-]{0,30}") {
        drop(Metric::parse(&text));
    }
}
