//! Logs as they are read: heads, units, times, decimal signs, and what is wrong with a row.

use meltbook::cell::log::{ColumnWish, LogHead, LogRows, LogWish, Next, layout};
use meltbook::record::log::{LogLayout, LogTime};

/// Times in seconds since 1970, volts and amperes of the good rows; lines and reasons of the bad ones.
type Read = (Vec<(f64, Option<f64>, Option<f64>)>, Vec<(u64, String)>);

fn laid_out(text: &str, wish: &LogWish) -> LogLayout {
    let head = LogHead::read(text.as_bytes(), None, None).expect("it has a head");
    layout(&head, wish).unwrap_or_else(|problems| panic!("{problems:?}"))
}

fn wish() -> LogWish {
    LogWish {
        cell: Some(meltbook::cell::log::CellWish::One("C1".parse().unwrap())),
        start: Some("2026-11-02T09:00:00Z".parse().unwrap()),
        zone: Some("UTC".to_owned()),
        ..LogWish::default()
    }
}

fn read(text: &str, layout: &LogLayout) -> Read {
    let mut rows = LogRows::new(text.as_bytes(), layout).expect("it can be read");
    let (mut good, mut bad) = (Vec::new(), Vec::new());
    loop {
        match rows.next().expect("it can be read") {
            Next::Row(row) => good.push((row.at_ns as f64 * 1e-9, row.volts, row.amperes)),
            Next::Bad(row) => bad.push((row.line, row.why)),
            Next::End => return (good, bad),
        }
    }
}

/// 2026-11-02T09:00:00Z.
const START: f64 = 1_793_610_000.0;

#[test]
fn heads_are_understood_as_meters_write_them() {
    let same = [
        "Time (s),Voltage (V),Current (mA)\n0,1.5,5\n10,1.25,4\n",
        "t/s;U/mV;I/A\r\n0;1500;0,005\r\n10;1250,0;0,004\r\n",
        "Logger 12\nstarted by AB\n\nelapsed_min\tvoltage_V\tcurrent_uA\n0\t1.5\t5000\n0.16666666666666666\t1.25\t4000\n",
        "\u{feff}\"Time [h]\",\"Voltage [V]\",\"Current [mA]\"\n\"0\",\"1,5\",\"5\"\n\"0,002777777777777778\",\"1,25\",\"4,0\"\n",
        "t (s),V (volts),I (mA)\n0:00:00,1.5,5\n0:00:10,1.25,4\n",
    ];
    for text in same {
        let (good, bad) = read(text, &laid_out(text, &wish()));
        assert_eq!(bad, Vec::new(), "{text}");
        let [first, second] = good.as_slice() else { panic!("{text}: {good:?}") };
        assert_eq!((first.0, first.1), (START, Some(1.5)), "{text}");
        assert!((second.0 - START - 10.0).abs() < 1e-6 && second.1 == Some(1.25), "{text}: {second:?}");
        assert!((second.2.unwrap() - 0.004).abs() < 1e-15, "{text}");
    }
}

#[test]
fn moments_are_read_in_every_usual_form() {
    let forms = [
        "2026-11-02T09:00:00Z",
        "2026-11-02T10:00:00+01:00",
        "2026-11-02 09:00",
        "2026/11/02 09:00:00.000",
        "02.11.2026 09:00:00",
        "2026-11-02T04:00:00-0500",
    ];
    for form in forms {
        let text = format!("Time,U (V)\n{form},1.5\n");
        let layout = laid_out(&text, &wish());
        assert!(matches!(layout.time, LogTime::Moment { .. }), "{form}");
        assert_eq!(read(&text, &layout), (vec![(START, Some(1.5), None)], Vec::new()), "{form}");
    }
}

/// Clocks of the European Union go back from 03:00 to 02:00 on the last Sunday of October and forward on the last
/// of March (Directive 2000/84/EC): an hour comes twice, and one not at all.
#[test]
fn an_hour_that_comes_twice_runs_on() {
    let wish = LogWish { zone: Some("Europe/Vienna".to_owned()), ..wish() };
    let text = "Time,U (V)\n2026-10-25 02:59:59,1.5\n2026-10-25 02:00:00,1.4\n2026-10-25 02:59:59,1.3\n2026-10-25 03:00:00,1.2\n";
    let (good, bad) = read(text, &laid_out(text, &wish));
    let times: Vec<f64> = good.iter().map(|row| row.0 - good[0].0).collect();
    assert_eq!((times, bad), (vec![0.0, 1.0, 3600.0, 3601.0], Vec::new()));
    let text = "Time,U (V)\n2026-03-29 01:59:59,1.5\n2026-03-29 02:30:00,1.4\n2026-03-29 03:00:00,1.3\n";
    let (good, bad) = read(text, &laid_out(text, &wish));
    assert_eq!(good[1].0 - good[0].0, 1.0);
    assert_eq!(bad[0].0, 3);
    assert!(bad[0].1.contains("none in the zone Europe/Vienna"), "{bad:?}");
}

#[test]
fn a_bad_row_is_told_with_its_line() {
    let text = "Time (s);U (V);I (mA)\n0;1,5;5\n\n10;x;5\n20;1,4\n15;1,4;5\n5;1,4;5\n30;140;5\n40;1.4;5\n50;;5\n60;1,3;\"5\n70;1,2;5\n";
    let (good, bad) = read(text, &laid_out(text, &wish()));
    let lines: Vec<u64> = bad.iter().map(|(line, _)| *line).collect();
    assert_eq!(lines, [4, 5, 7, 8, 9, 10, 11]);
    let volts: Vec<f64> = good.iter().filter_map(|row| row.1).collect();
    assert_eq!(volts, [1.5, 1.4, 1.2], "a stray quote costs one line");
    for (why, told) in bad.iter().map(|(_, why)| why).zip([
        "\"x\" in \"U (V)\" is no number",
        "it has 2 columns, and column 3 is needed",
        "its time is before that of the row above it of C1",
        "\"140\" in \"U (V)\" is more than 10 V",
        "is no number",
        "column 2 is empty",
        "is no number",
    ]) {
        assert!(why.contains(told), "{why}");
    }
}

/// A decimal comma in a file that is separated by commas cuts a value in two: never half of it is taken.
#[test]
fn a_row_with_too_many_columns_is_bad() {
    let text = "t (s),U (V)\n0,1.5\n60,1,4\n120,1.4,\n";
    let (good, bad) = read(text, &laid_out(text, &wish()));
    assert_eq!(
        good.iter().filter_map(|row| row.1).collect::<Vec<_>>(),
        [1.5, 1.4],
        "an empty end is nothing"
    );
    assert!(bad.len() == 1 && bad[0].0 == 3 && bad[0].1.contains("the head has 2"), "{bad:?}");
}

#[test]
fn what_is_not_clear_is_asked() {
    let codes = |text: &str, wish: &LogWish| {
        let head = LogHead::read(text.as_bytes(), None, None).expect("it has a head");
        let problems = layout(&head, wish).expect_err("something is not clear");
        problems.into_iter().map(|problem| problem.code()).collect::<Vec<_>>()
    };
    let rows = "\n0,1.5,1.4\n";
    assert_eq!(codes(&format!("t (s),U1 (V),U2 (V){rows}"), &wish()), ["column_unclear"]);
    assert_eq!(codes(&format!("t (s),a,b{rows}"), &wish()), ["no_values_column"]);
    assert_eq!(codes(&format!("n,U (V),b{rows}"), &wish()), ["no_time_column"]);
    assert_eq!(codes(&format!("t (s),U (V),b{rows}"), &LogWish { cell: None, ..wish() }), ["no_cell"]);
    assert_eq!(codes(&format!("t (s),U (V),b{rows}"), &LogWish { start: None, ..wish() }), ["no_start"]);
    let named = |name: &str, unit: Option<&str>| LogWish {
        voltage: Some(ColumnWish { name: name.to_owned(), unit: unit.map(str::to_owned) }),
        ..wish()
    };
    assert_eq!(codes(&format!("t (s),U1,U2{rows}"), &named("U3", None)), ["unknown_column"]);
    assert_eq!(codes(&format!("t (s),U1,U2{rows}"), &named("U1", None)), ["no_unit"]);
    assert_eq!(codes(&format!("t (s),U1,U2{rows}"), &named("U1", Some("mA"))), ["wrong_unit"]);
    let layout = laid_out(&format!("t (s),U1,U2{rows}"), &named("#3", Some("V")));
    assert_eq!(layout.voltage.unwrap().name, "U2");
    assert!(LogHead::read(b"PK\x03\x04\0\0", None, None).is_err());
    // Numbers are no names: a decimal comma between commas is found out, and not read as a head.
    assert!(LogHead::read(b"0,1,40\n60,1,39\n120,1,38\n", None, None).is_err());
    assert!(LogHead::read(b"one column\n1\n", None, None).is_err());
}

/// Any bytes below a head give rows or reasons, and nothing else happens.
mod bytes {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #![proptest_config(ProptestConfig { cases: 256, ..ProptestConfig::default() })]
        #[test]
        fn every_line_is_a_row_or_a_reason(body in proptest::collection::vec(any::<u8>(), 0..300)) {
            let head = "Time,U (V)\n";
            let sample = format!("{head}2026-11-02 09:00,1.5\n");
            let layout = laid_out(&sample, &wish());
            let mut file = head.as_bytes().to_vec();
            file.extend(&body);
            let mut rows = LogRows::new(file.as_slice(), &layout).expect("it can be read");
            let mut count = 0;
            while rows.next().expect("it can be read") != Next::End {
                count += 1;
            }
            let filled = body.split(|byte| *byte == b'\n').filter(|line| !line.trim_ascii().is_empty()).count();
            prop_assert_eq!(count, filled);
        }
    }
}
