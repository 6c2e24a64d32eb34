//! Discharges of known curves, whose charge, energy and time have a closed form.

use approx::assert_relative_eq;
use meltbook::cell::{Discharge, DischargeRule, Discharged, Sample, Work};

const HOUR: f64 = 3600.0;

fn rule(work: Work, cut_off_volts: Option<f64>) -> DischargeRule {
    DischargeRule { work, cut_off_volts, rest_below_amperes: 1e-4, longest_gap_s: 1800.0 }
}

fn sample(seconds: f64, volts: f64, amperes: Option<f64>) -> Sample {
    Sample { at_ns: (seconds * 1e9).round() as i64, volts, amperes }
}

fn run(rule: DischargeRule, samples: impl IntoIterator<Item = Sample>) -> Discharged {
    let mut discharge = Discharge::new(rule);
    samples.into_iter().for_each(|sample| discharge.push(sample));
    discharge.finish().expect("there are samples")
}

/// V = 1.5 V − 0.1 V/h at 5 mA: down at 1.0 V after 5 h; 25 mAh, 31.25 mWh, mean 1.25 V. Exact for straight lines,
/// wherever the samples are.
#[test]
fn constant_current_and_a_straight_line() {
    let times = (0..).map(|step| f64::from(step) * 0.37 * HOUR / 2.0).take_while(|time| *time < 8.0 * HOUR);
    let volts = |time: f64| 1.5 - 0.1 * time / HOUR;
    let samples: Vec<Sample> = times.map(|time| sample(time, volts(time), None)).collect();
    let got = run(rule(Work::Current(5e-3), Some(1.0)), samples.clone());
    let cut = got.to_cut_off.unwrap();
    assert_relative_eq!(cut.on_s, 5.0 * HOUR, max_relative = 1e-9);
    assert_relative_eq!(cut.milliampere_hours(), 25.0, max_relative = 1e-9);
    assert_relative_eq!(cut.milliwatt_hours(), 31.25, max_relative = 1e-9);
    assert_relative_eq!(cut.mean_volts().unwrap(), 1.25, max_relative = 1e-9);
    assert_relative_eq!(cut.mean_watts().unwrap(), 6.25e-3, max_relative = 1e-9);
    let at_s = got.cut_off_ns.unwrap() as f64 * 1e-9;
    assert_relative_eq!(at_s, 5.0 * HOUR, max_relative = 1e-9);
    let never = run(rule(Work::Current(5e-3), Some(0.5)), samples);
    assert_eq!(never.to_cut_off, None, "it ends at 0.7 V");
    assert_eq!(never.counted(), never.total);
}

/// V = V0 exp(−t/τ) on R: t = τ ln(V0/Vc), Q = V0 τ (1 − Vc/V0) / R, E = V0² τ (1 − (Vc/V0)²) / 2R.
#[test]
fn constant_resistance_and_an_exponential() {
    let (v0, tau, ohms, cut_off) = (1.5, 10.0 * HOUR, 47.0, 0.9);
    let samples = (0..6000).map(|step| {
        let time = f64::from(step) * 10.0;
        sample(time, v0 * (-time / tau).exp(), None)
    });
    let got = run(rule(Work::Resistance(ohms), Some(cut_off)), samples).to_cut_off.unwrap();
    let left: f64 = cut_off / v0;
    assert_relative_eq!(got.on_s, -tau * left.ln(), max_relative = 1e-7);
    assert_relative_eq!(got.coulombs, v0 * tau * (1.0 - left) / ohms, max_relative = 1e-6);
    assert_relative_eq!(got.joules, v0 * v0 * tau * (1.0 - left * left) / (2.0 * ohms), max_relative = 1e-6);
}

/// On for 15 min, at rest for 45 min, again and again, the voltage recovering: time on, charge and cut-off are those
/// of the time on alone, whichever sign the meter gives the current.
#[test]
fn rests_are_left_out() {
    for sign in [1.0, -1.0] {
        let mut samples = Vec::new();
        for hour in 0..40 {
            for minute in 0..60 {
                let at = f64::from(hour * 3600 + minute * 60);
                let on = minute <= 15;
                let worked = f64::from(hour) * 0.25 + f64::from(minute.min(15)) / 60.0;
                let volts = 1.5 - 0.1 * worked + if on { 0.0 } else { 0.2 };
                samples.push(sample(at, volts, Some(if on { sign * 5e-3 } else { sign * 1e-6 })));
            }
        }
        let got = run(rule(Work::Measured, Some(1.0)), samples);
        let cut = got.to_cut_off.unwrap();
        assert_relative_eq!(cut.on_s, 5.0 * HOUR, max_relative = 1e-9);
        assert_relative_eq!(cut.milliampere_hours(), 25.0, max_relative = 1e-9);
        assert_relative_eq!(got.total.on_s, 10.0 * HOUR, max_relative = 1e-9);
        assert_relative_eq!(got.rest_s, (39.0 * 45.0 + 44.0) * 60.0, max_relative = 1e-9);
        assert_eq!(got.other_way_coulombs, 0.0);
    }
}

#[test]
fn a_gap_in_the_samples_is_a_rest_and_a_charge_is_told_apart() {
    let at = |minute: i32, amperes: f64| sample(f64::from(minute) * 60.0, 1.4, Some(amperes));
    let minutes = (0..=60).chain(200..=260);
    let got = run(rule(Work::Measured, None), minutes.map(|minute| at(minute, 5e-3)));
    assert_eq!((got.gaps, got.rest_s), (1, 140.0 * 60.0));
    assert_relative_eq!(got.total.milliampere_hours(), 10.0, max_relative = 1e-12);
    let both = (0..=60).map(|minute| at(minute, 5e-3)).chain((61..=91).map(|minute| at(minute, -1e-3)));
    let got = run(rule(Work::Measured, None), both);
    assert_relative_eq!(got.other_way_coulombs / 3.6, 0.5, max_relative = 1e-12);
    assert_relative_eq!(got.total.milliampere_hours(), 5.0, max_relative = 1e-12);
}

/// A cell that is below the cut-off as soon as the load is on gave nothing down to it.
#[test]
fn what_begins_below_the_cut_off_gives_nothing() {
    let samples = (0..5).map(|minute| sample(f64::from(minute) * 60.0, 0.8, None));
    let got = run(rule(Work::Resistance(10.0), Some(0.9)), samples);
    assert_eq!(got.to_cut_off.map(|totals| totals.coulombs), Some(0.0));
    assert!(Discharge::new(rule(Work::Resistance(10.0), None)).finish().is_none());
}

/// A first row below the cut-off (a bad contact, reversed leads) is no discharge to it: there is no figure, and not 0.
#[test]
fn a_false_start_gives_no_figure() {
    let good = (0..=60).map(|minute| f64::from(minute) * 360.0);
    let samples = |first: f64, sign: f64| -> Vec<Sample> {
        let volts = |time: f64| sign * if time == 0.0 { first } else { 1.5 - 0.1 * time / HOUR };
        good.clone().map(|time| sample(time, volts(time), None)).collect()
    };
    let dip = run(rule(Work::Current(5e-3), Some(1.0)), samples(0.85, 1.0));
    assert_eq!((dip.to_cut_off, dip.cut_off_ns, dip.false_start_volts), (None, None, Some(0.85)));
    let reversed = run(rule(Work::Resistance(47.0), Some(1.0)), samples(1.5, -1.0));
    assert_eq!((reversed.to_cut_off, reversed.false_start_volts), (None, Some(-1.5)));
    let sound = run(rule(Work::Current(5e-3), Some(1.0)), samples(1.5, 1.0));
    assert_eq!(sound.false_start_volts, None);
    assert_relative_eq!(sound.to_cut_off.unwrap().milliampere_hours(), 25.0, max_relative = 1e-9);
}
