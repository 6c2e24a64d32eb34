//! Cell designs.

use std::fs;

use meltbook::record::{WORKED_DESIGNS, read_design};

use super::lab::Lab;
use crate::house::source::project;
use crate::setup::told;

const NOW: &str = "2026-11-02T09:00:00Z";

#[test]
fn every_worked_design_comes_with_the_program_and_reads() {
    let mut there: Vec<(String, String)> = fs::read_dir(project().join("data/designs"))
        .expect("the folder can be read")
        .map(|entry| {
            let path = entry.expect("the entry can be read").path();
            let name = path.file_stem().expect("a file has a name").to_string_lossy().into_owned();
            (name, fs::read_to_string(&path).expect("a design is UTF-8"))
        })
        .collect();
    there.sort();
    let listed: Vec<(String, String)> =
        WORKED_DESIGNS.iter().map(|(name, text)| ((*name).to_owned(), (*text).to_owned())).collect();
    assert_eq!(listed, there);
    for (name, text) in WORKED_DESIGNS {
        let design = read_design(name, text).map_err(told).unwrap_or_else(|told| panic!("{told}"));
        assert!(!design.schedule.is_empty(), "{name}");
        assert_eq!(design.freeze().text, text);
    }
}

/// "every 7 d until 42 d" is six readings, and a day that two lines name is read once.
#[test]
fn a_schedule_is_what_its_lines_say() {
    let text = "name = \"a\"\nclosure = \"vented\"\n\
        [[reading]]\nevery = \"7 d\"\nuntil = \"42 d\"\nwhat = [\"open-circuit\"]\n\
        [[reading]]\nafter = \"2 weeks\"\nwhat = [\"open-circuit\", \"short-circuit\"]\n";
    let design = read_design("a.toml", text).map_err(told).unwrap_or_else(|told| panic!("{told}"));
    let schedule: Vec<(f64, &str)> = design.schedule.iter().map(|due| (due.day, due.what.as_str())).collect();
    let expected = [
        (7.0, "open-circuit"),
        (14.0, "open-circuit"),
        (14.0, "short-circuit"),
        (21.0, "open-circuit"),
        (28.0, "open-circuit"),
        (35.0, "open-circuit"),
        (42.0, "open-circuit"),
    ];
    assert_eq!(schedule, expected);
}

#[test]
fn all_faults_of_a_design_come_at_once() {
    let text = "nmae = \"a\"\nclosure = \"seald\"\n[negative]\nmass = \"1.2\"\n[separator]\nmaterial = \"paper\"\nlayers = 1.5\n\
        [[reading]]\nafter = \"1 d\"\nwhat = [\"open\"]\n[[reading]]\nevery = \"7 d\"\nwhat = [\"open-circuit\"]\n";
    let faults = read_design("a.toml", text).expect_err("it is faulty");
    let codes: Vec<&str> = faults.iter().map(|fault| fault.code).collect();
    for code in [
        "missing_key",
        "bad_closure",
        "bad_quantity",
        "bad_layers",
        "unknown_reading",
        "bad_schedule",
        "unknown_key",
    ] {
        assert!(codes.contains(&code), "{code} in {codes:?}");
    }
}

/// A design of the book comes before a worked one of the same name; a path before both.
#[test]
fn a_design_is_found_by_name_or_path() {
    let lab = Lab::new();
    let own = "name = \"Ours\"\nclosure = \"vented\"\n";
    lab.write("designs/sealed-vial-zinc-carbon.toml", own);
    lab.write("elsewhere.toml", "name = \"Elsewhere\"\nclosure = \"sealed\"\n");
    let name = |design: &str| lab.json(NOW, &["cell", "design", "show", design])["name"].clone();
    assert_eq!(name("sealed-vial-zinc-carbon"), "Ours");
    assert_eq!(name("elsewhere.toml"), "Elsewhere");
    assert_eq!(lab.answer(NOW, &["cell", "design", "show", "sealed-vial-zinc-carbon", "--source"], 0), own);
    assert_eq!(lab.json(NOW, &["cell", "design", "list"]).as_array().unwrap().len(), 2);
}
