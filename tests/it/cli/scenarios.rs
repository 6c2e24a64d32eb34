//! The ten situations of `fixtures/hazards/warning-scenarios.toml`, made for real: a recipe, its sheet, a batch, its
//! label. What must be said is said on each, once, the worst first; what must be quiet is quiet; what blocks stops.

use std::collections::BTreeSet;

use serde_json::Value;

use crate::book::bench::Bench;
use crate::book::lab::with_cells;
use crate::golden;

const NOW: &str = "2026-11-25T18:00:00Z";

/// A situation with what is typed for it. What is done is known to `cautions` by flags.
struct Scene {
    id: &'static str,
    /// A recipe, or a component where nothing is made.
    subject: &'static str,
    done: &'static [&'static str],
    /// Something is made by the recipe; a block is let past by a procedure.
    made: bool,
    blocked: bool,
}

const SCENES: [Scene; 9] = [
    Scene {
        id: "W01",
        subject: "ChCl:oxalic-acid 1:1",
        done: &["--with", "zinc", "--with", "MnO2", "--cell", "--sealed"],
        made: true,
        blocked: false,
    },
    Scene { id: "W02", subject: "./w02.toml", done: &[], made: true, blocked: false },
    Scene {
        id: "W03",
        subject: "ChCl:EG 1:2 + 0.5 mol/kg sodium-perchlorate",
        done: &["--to-dryness"],
        made: true,
        blocked: true,
    },
    Scene { id: "W04", subject: "ammonium-chloride:KOH:water 1:1:20", done: &[], made: true, blocked: false },
    Scene { id: "W05", subject: "urea", done: &["--with", "bleach"], made: false, blocked: true },
    Scene {
        id: "W06",
        subject: "aluminium-chloride:urea 1:1",
        done: &["--damp-air"],
        made: true,
        blocked: true,
    },
    Scene {
        id: "W07",
        subject: "zinc-powder-stabilised:water:ZnCl2 60:30:10 by mass",
        done: &["--cell"],
        made: true,
        blocked: false,
    },
    Scene {
        id: "W08",
        subject: "ChCl:malonic-acid 1:1",
        done: &["--sealed", "--for", "2 h"],
        made: true,
        blocked: false,
    },
    Scene {
        id: "W09",
        subject: "ChCl:glycerol 1:2",
        done: &["--with", "zinc", "--heat", "22 °C"],
        made: true,
        blocked: false,
    },
];

/// W02 heats as its own procedure says.
const HEATED: &str = r#"
name = "reline, stirred hot"
basis = "mole"

[[part]]
component = "ChCl"
ratio = 1

[[part]]
component = "urea"
ratio = 2

[water]
target = "5 wt%"

[procedure]
heat = "90 °C"
time = "2 h"
"#;

const PERMIT: [&str; 4] = ["--procedure", "SOP-12", "--responsible", "K. Lab"];

struct Wanted {
    must: Vec<String>,
    must_thermal: Vec<String>,
    must_not: Vec<String>,
}

fn wanted(id: &str) -> Wanted {
    let fixture: toml::Table =
        toml::from_str(include_str!("../../fixtures/hazards/warning-scenarios.toml")).unwrap();
    let scenarios = fixture["scenario"].as_array().unwrap();
    let scenario = scenarios.iter().find(|scenario| scenario["id"].as_str() == Some(id)).unwrap();
    let list = |key: &str| {
        let list = scenario.get(key).and_then(toml::Value::as_array).cloned().unwrap_or_default();
        list.iter().map(|id| id.as_str().unwrap().to_owned()).collect()
    };
    Wanted { must: list("must"), must_thermal: list("must_thermal"), must_not: list("must_not") }
}

/// How grave: what has no way past first.
fn gravity(alert: &Value) -> (bool, usize) {
    let severity = match alert["severity"].as_str().unwrap() {
        "block" => 0,
        "warn" => 1,
        _ => 2,
    };
    (alert["way_past"] != "none", severity)
}

fn text<'v>(value: &'v Value, key: &str) -> &'v str {
    value[key].as_str().unwrap_or_default()
}

fn grave(alerts: &[Value]) -> Vec<&Value> {
    alerts.iter().filter(|alert| alert["severity"] != "note").collect()
}

impl Scene {
    fn arguments<'a>(&self, verb: &[&'a str]) -> Vec<&'a str>
    where
        'static: 'a,
    {
        [verb, &[self.subject]].concat()
    }

    /// What must be said stands in `cautions`, the worst first, none twice; and no word of what must be quiet.
    fn check_cautions(&self, bench: &Bench) -> String {
        let arguments = [self.arguments(&["cautions"]), self.done.to_vec()].concat();
        let alerts = bench.json(&arguments, 0)["alerts"].as_array().unwrap().clone();
        let ids: Vec<&str> = alerts.iter().map(|alert| text(alert, "id")).collect();
        let titles: Vec<&str> = alerts.iter().map(|alert| text(alert, "title")).collect();
        let Wanted { must, must_thermal, must_not } = wanted(self.id);
        // W01 and W07 are held against what the recipe itself can know, and W08 has no temperature to compare.
        for id in &must {
            assert!(ids.contains(&id.as_str()), "{}: {id} is missing in {ids:?}", self.id);
        }
        for name in must_thermal {
            assert!(titles.contains(&format!("heating {name}").as_str()), "{}: {titles:?}", self.id);
        }
        for id in &must_not {
            assert!(!ids.contains(&id.as_str()), "{}: {id} in {ids:?}", self.id);
        }
        assert!(alerts.iter().map(gravity).is_sorted(), "{}: {ids:?}", self.id);
        assert_eq!(titles.iter().collect::<BTreeSet<_>>().len(), titles.len(), "{}: {titles:?}", self.id);
        let worst = alerts.first().map(|alert| text(alert, "severity").to_owned());
        assert_eq!(worst.as_deref() == Some("block"), self.blocked || self.id == "W01", "{}", self.id);
        let screen = bench.said(&arguments, 0);
        let first: String = screen.lines().take(30).collect::<Vec<_>>().join("\n");
        for alert in alerts.iter().filter(|alert| alert["severity"] == "block").take(2) {
            let words = text(alert, "title").split(' ').next().unwrap();
            assert!(first.contains(words), "{}: {words} is not on the first screen:\n{first}", self.id);
        }
        screen
    }

    /// The sheet says what blocks and warns once each, before the masses.
    fn check_sheet(&self, bench: &Bench) -> String {
        let arguments = [self.arguments(&["sheet"]), vec!["--mass", "20 g"]].concat();
        let answer = bench.json(&arguments, 0);
        let sheet = bench.said(&arguments, 0);
        let flat = unwrapped(&sheet);
        let alerts = answer["cautions"]["alerts"].as_array().unwrap().clone();
        assert!(alerts.iter().map(gravity).is_sorted(), "{}", self.id);
        let mut after = 0;
        for alert in grave(&alerts) {
            let said = text(alert, "message");
            assert_eq!(flat.matches(said).count(), 1, "{}: {said}\n{flat}", self.id);
            let at = flat.find(said).unwrap();
            assert!(after < at, "{}: {said} is out of order", self.id);
            after = at;
        }
        let masses = flat.find("Weigh in this order").expect("the masses have a head");
        assert!(after < masses, "{}: below the masses\n{flat}", self.id);
        sheet
    }

    /// Begins, weighs and finishes a batch as planned.
    fn make(&self, bench: &Bench, code: &str) {
        let start = [self.arguments(&["batch", "start"]), vec!["--mass", "20 g"]].concat();
        if self.blocked {
            bench.refused(&start, "needs_procedure");
            let started = bench.said(&[start, PERMIT.to_vec()].concat(), 0);
            assert!(started.contains("SOP-12") && started.contains("K. Lab"), "{started}");
        } else {
            bench.said(&start, 0);
        }
        let plan = bench.json(&[self.arguments(&["plan"]), vec!["--mass", "20 g"]].concat(), 0);
        for line in plan["lines"].as_array().unwrap() {
            let mass = format!("{:.4} g", line["weigh_g"].as_f64().unwrap());
            bench.said(&["batch", "weigh", code, text(line, "component"), &mass], 0);
        }
        bench.said(&["batch", "finish", code], 0);
    }

    /// The label and the batch say what blocks and warns, and the procedure that was named.
    fn check_label(&self, bench: &Bench, code: &str) -> String {
        let label = bench.json(&["label", code], 0)["labels"][0].clone();
        let alerts = label["hazards"]["alerts"].as_array().unwrap().clone();
        assert!(alerts.iter().map(gravity).is_sorted(), "{}", self.id);
        let review = bench.json(&["cautions", code], 0)["alerts"].as_array().unwrap().clone();
        let titles = |alerts: Vec<&Value>| {
            alerts.into_iter().map(|alert| text(alert, "title").to_owned()).collect::<BTreeSet<_>>()
        };
        assert_eq!(titles(grave(&alerts)), titles(grave(&review)), "{}", self.id);
        let page = bench.said(&["label", code, "--format", "html"], 0);
        let words = words_of(&page);
        if label["fold_out"] == true {
            for alert in grave(&alerts) {
                assert_eq!(words.matches(text(alert, "message")).count(), 1, "{}: {words}", self.id);
            }
            for list in ["statements", "precautions"] {
                for said in label["hazards"][list].as_array().unwrap() {
                    let said = format!("{} {}", text(said, "code"), text(said, "text"));
                    assert!(words.contains(&said), "{}: {said} in {words}", self.id);
                }
            }
        }
        let shown = bench.said(&["batch", "show", code], 0);
        let top = unwrapped(&shown.lines().take(20).collect::<Vec<_>>().join("\n"));
        for alert in grave(&review) {
            assert!(top.contains(text(alert, "title")), "{}: {top}", self.id);
        }
        if self.blocked {
            assert!(top.contains("SOP-12") && words.contains("SOP-12, K. Lab"), "{}: {top}", self.id);
        }
        format!("{shown}\n{}", bench.said(&["label", code], 0))
    }
}

/// The words of a screen without its line breaks and frames.
fn unwrapped(screen: &str) -> String {
    let frames = |c: char| matches!(c, '┃' | '│');
    screen.replace(frames, " ").split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The words of a drawing without its line breaks.
fn words_of(page: &str) -> String {
    let texts = page.split('<').filter_map(|part| part.split_once('>')).map(|(_, text)| text.trim());
    let words = texts.filter(|text| !text.is_empty()).collect::<Vec<_>>().join(" ");
    words.replace("&quot;", "\"").replace("&amp;", "&")
}

#[test]
fn situations_are_told_everywhere_the_worst_first() {
    let bench = Bench::new();
    bench.write("w02.toml", HEATED);
    let mut kept = Vec::new();
    let mut batches = 0;
    for scene in &SCENES {
        let mut said = scene.check_cautions(&bench);
        if scene.made {
            said.push_str(&scene.check_sheet(&bench));
            // A paste by mass is a mix, all others are electrolytes.
            let code = if scene.subject.ends_with("by mass") {
                "M1".to_owned()
            } else {
                batches += 1;
                format!("E{batches}")
            };
            scene.make(&bench, &code);
            said.push_str(&scene.check_label(&bench, &code));
        }
        for word in [" is safe", " are safe", "harmless", "approved", "no hazards", "not hazardous"] {
            assert!(!said.to_lowercase().contains(word), "{}: {word}", scene.id);
        }
        kept.push((format!("cli/scenarios/{}.txt", scene.id), said));
    }
    golden::check_all(&kept);
}

/// W10: the short-circuit current of a finished cell.
#[test]
fn a_short_circuit_is_told_where_it_is_read() {
    let lab = with_cells();
    let add = ["reading", "add", "C1", "--short-circuit", "0.64 A", "--meter", "0.01 ohm"];
    let said = unwrapped(&lab.answer(NOW, &add, 0));
    assert!(said.contains("WARN short-circuit current: A few seconds only"), "{said}");
    let quiet = lab.answer(NOW, &["reading", "add", "C1", "--open-circuit", "1.48 V"], 0);
    assert!(!quiet.contains("short-circuit current:"), "{quiet}");
    let cautions = lab.json(NOW, &["cautions", "zinc", "--cell", "--short-circuit"]);
    let ids: Vec<&str> =
        cautions["alerts"].as_array().unwrap().iter().map(|alert| text(alert, "id")).collect();
    assert!(wanted("W10").must.iter().all(|id| ids.contains(&id.as_str())), "{ids:?}");
}

/// What must stay quiet: an ordinary cathode mix and an ordinary zinc chloride cell.
#[test]
fn ordinary_work_is_not_blocked() {
    let bench = Bench::new();
    let mix = bench.said(&["batch", "start", "MnO2:graphite 85:15 by mass", "--mass", "10 g"], 0);
    assert!(!mix.contains("BLOCK") && !mix.contains("WARN"), "{mix}");
    let cell = ["cautions", "zinc", "ZnCl2", "water", "MnO2", "graphite", "--cell", "--sealed"];
    let alerts = bench.json(&cell, 0)["alerts"].as_array().unwrap().clone();
    assert!(alerts.iter().all(|alert| alert["severity"] != "block"), "{alerts:?}");
}

/// What is never done has no way past, and what a later addition brings needs a procedure as a beginning does.
#[test]
fn a_block_stops_every_way_in() {
    let bench = Bench::new();
    let perchlorate = ["batch", "start", "ChCl:EG 1:2 + 0.5 mol/kg sodium-perchlorate", "--mass", "20 g"];
    let dry = [&perchlorate[..], &PERMIT[..], &["--to-dryness"]].concat();
    let refused = bench.refused(&dry, "never_done");
    assert!(refused.contains("no way past"), "{refused}");
    bench.said(&["batch", "start", "ChCl:EG 1:2", "--mass", "20 g"], 0);
    bench.said(&["batch", "weigh", "E1", "ChCl", "10.59 g"], 0);
    bench.refused(&["batch", "weigh", "E1", "sodium-perchlorate", "1 g"], "not_in_plan");
    let add = ["batch", "add", "E1", "--component", "sodium-perchlorate", "1 g"];
    let refused = bench.refused(&add, "needs_procedure");
    assert!(refused.contains("OX-ORG") && refused.contains("CLO4-EVAP"), "{refused}");
    bench.said(&[&add[..], &PERMIT[..]].concat(), 0);
    let shown = bench.said(&["batch", "show", "E1"], 0);
    assert!(shown.contains("SOP-12, responsible K. Lab"), "{shown}");
    let history = bench.said(&["history"], 0);
    assert!(history.contains("SOP-12"), "{history}");
    // More of the same is let past already, and water brings nothing.
    bench.said(&add, 0);
    bench.said(&["batch", "add", "E1", "--component", "water", "1 g"], 0);
    // Another batch brings what is in it.
    bench.said(&["batch", "start", "ChCl:EG 1:2", "--mass", "20 g"], 0);
    bench.said(&["batch", "weigh", "E2", "ChCl", "10.59 g"], 0);
    bench.refused(&["batch", "add", "E2", "--batch", "E1", "1 g"], "needs_procedure");
}
