//! `candidates`: each limit, what is missing, what is refused, and the keys that scripts rely on.

use serde_json::Value;

use crate::book::lab::Lab;
use crate::golden;
use crate::run::{Run, envelope, folder, run_in, write};

const NOW: &str = "2026-11-25T09:00:00Z";
/// Invented prices.
const PRICES: &str =
    "component,price (EUR),amount\nChCl,45,500 g\nEG,18,1 kg\nglycerol,22,500 g\nurea,,500 g\n";
const THREE: [&str; 10] =
    ["--acceptor", "ChCl", "--donor", "EG", "--donor", "glycerol", "--donor", "urea", "--ratio", "1:2"];

fn run(arguments: &[&str]) -> Run {
    let folder = folder();
    write(folder.path(), "prices.csv", PRICES.as_bytes());
    run_in(folder.path(), &[&["candidates"], arguments].concat())
}

#[track_caller]
fn shown(arguments: &[&str], code: i32) -> String {
    let run = run(arguments);
    assert_eq!((run.code, run.stderr.as_str()), (code, ""), "{arguments:?}");
    run.stdout
}

#[track_caller]
fn json(arguments: &[&str], code: i32) -> Value {
    envelope(&shown(&[arguments, &["--format", "json"]].concat(), code))["answer"].clone()
}

/// The candidate of a recipe.
#[track_caller]
fn one<'a>(answer: &'a Value, recipe: &str) -> &'a Value {
    let all = answer["candidates"].as_array().expect("a list");
    all.iter().find(|own| own["recipe"] == recipe).unwrap_or_else(|| panic!("no {recipe}"))
}

const EG: &str = "choline-chloride:ethylene-glycol 1:2";
const GLYCEROL: &str = "choline-chloride:glycerol 1:2";
const UREA: &str = "choline-chloride:urea 1:2";

#[test]
fn it_shows_the_table_and_what_it_rests_on() {
    let limits = ["--liquid-at", "25 °C", "--hazards-below", "danger", "--price", "prices.csv"];
    let priced = [&THREE[..], &limits, &["--price-below", "80 EUR/kg"]].concat();
    for (name, arguments, code) in [
        ("candidates.txt", priced.clone(), 0),
        ("candidates-roles.txt", vec!["--donor", "EG", "--ratio", "1:2", "--top", "4"], 0),
        (
            "candidates-refused.txt",
            vec!["--acceptor", "salt", "--donor", "EG", "--ratio", "1:4", "--alerts-below", "warn"],
            0,
        ),
        (
            "candidates-none.txt",
            [&THREE[..], &["--liquid-at", "-80 °C", "--in-house", "50 g", "--only-meeting"]].concat(),
            1,
        ),
        ("candidates.md", [&priced[..], &["--format", "markdown"]].concat(), 0),
        ("candidates.csv", [&priced[..], &["--format", "csv", "--top", "1"]].concat(), 0),
        ("candidates.html", [&priced[..], &["--format", "html"]].concat(), 0),
        ("candidates.json", [&priced[..], &["--format", "json"]].concat(), 0),
    ] {
        golden::check(&format!("cli/{name}"), &shown(&arguments, code));
    }
}

/// Whoever names nothing gets every acceptor with every donor at ratios that are said.
#[test]
fn nothing_named_means_all_of_the_role() {
    let answer = json(&[], 0);
    assert_eq!(
        (&answer["ratios_by_default"], &answer["ratios"]),
        (&true.into(), &serde_json::json!([[1.0, 1.0], [1.0, 2.0]]))
    );
    let of = |at: usize| answer["lists"][at]["components"].as_array().expect("a list").len();
    let left_out = |key: &str| answer["counts"][key].as_u64().expect("a number") as usize;
    let found = answer["candidates"].as_array().expect("a list").len();
    let all = found + left_out("left_out_with_itself") + left_out("left_out_same_composition");
    assert_eq!(all, of(0) * of(1) * 2);
}

/// Measured points disagree on choline chloride and urea, 12 °C and 31.8 °C: at 25 °C nobody can tell.
#[test]
fn a_liquidus_is_met_missed_or_open() {
    let at = |text: &str, code: i32| json(&[&THREE[..], &["--liquid-at", text]].concat(), code);
    let verdict = |answer: &Value, recipe: &str| one(answer, recipe)["liquidus"]["verdict"].clone();
    let warm = at("25 °C", 0);
    assert_eq!(verdict(&warm, GLYCEROL), "met");
    assert_eq!(verdict(&warm, UREA), "data_disagree");
    assert_eq!(one(&warm, UREA)["place"], "open");
    // The eutectics of the pairs, 31.8 °C and −29.1 °C, are of other compositions: above them nothing is met by them, and
    // 12 °C and −66 °C, which lie below, contradict them. Ethylene glycol was a liquid in somebody's hand at 25 °C.
    assert_eq!(verdict(&warm, EG), "met");
    assert_eq!(verdict(&at("33 °C", 0), UREA), "data_disagree");
    let frost = at("-20 °C", 0);
    assert_eq!(verdict(&frost, EG), "data_disagree");
    assert_eq!(one(&frost, EG)["liquidus"]["measured"][1]["is_least"], true);
    assert_eq!(verdict(&frost, GLYCEROL), "met");
    let cold = at("-80 °C", 1);
    for recipe in [EG, GLYCEROL, UREA] {
        assert_eq!(verdict(&cold, recipe), "not_met");
    }
    let unknown = json(&["--acceptor", "ChBr", "--donor", "urea", "--liquid-at", "25 °C"], 1);
    let own = one(&unknown, "choline-bromide:urea 1:2");
    assert_eq!((&own["liquidus"]["verdict"], &own["liquidus"]["high_k"]), (&"no_data".into(), &Value::Null));
    assert_eq!(own["liquidus"]["missing"][0], "melting point and enthalpy of fusion of choline bromide");
}

/// Classes against `mixture-examples.toml`, worked by hand from the limits of CLP Annex I: S04, S05, S06 and S11 are
/// mole ratios of two components. Of oxalic acid a pH at the end of the scale is expected, which the examples leave aside:
/// "Danger" is presumed there until a pH is measured.
#[test]
fn hazards_are_those_of_the_worked_mixtures() {
    let text = include_str!("../../fixtures/hazards/mixture-examples.toml");
    let examples: toml::Table = toml::from_str(text).expect("a table");
    let expected = |id: &str| {
        let all = examples["example"].as_array().expect("a list");
        all.iter().find(|own| own["id"].as_str() == Some(id)).expect("an example")["expected"].clone()
    };
    for (id, donor, ratio) in [
        ("S04", "urea", "1:2"),
        ("S05", "EG", "1:2"),
        ("S06", "oxalic-acid", "1:1"),
        ("S11", "phenol", "1:3"),
    ] {
        let arguments = ["--acceptor", "ChCl", "--donor", donor, "--ratio", ratio, "--scheme", "clp"];
        let misses = id == "S06" || id == "S11";
        let answer = json(&[&arguments[..], &["--hazards-below", "danger"]].concat(), i32::from(misses));
        let own = &answer["candidates"][0]["hazards"];
        let expected = expected(id);
        let codes = |list: Vec<&str>| {
            let mut codes: Vec<String> =
                list.iter().flat_map(|code| code.split('+')).map(str::to_owned).collect();
            codes.sort();
            codes
        };
        let wanted = expected["label_h_codes"].as_array().expect("a list");
        let wanted = codes(wanted.iter().filter_map(toml::Value::as_str).collect());
        let found = own["h_codes"].as_array().expect("a list");
        assert_eq!(codes(found.iter().filter_map(Value::as_str).collect()), wanted, "{id}");
        assert_eq!(own["presumed"].is_string(), id == "S06", "{id}");
        let word = match expected["signal_word"].as_str() {
            _ if id == "S06" => "danger".to_owned(),
            Some("") | None => "none".to_owned(),
            Some(word) => word.to_lowercase(),
        };
        assert_eq!(own["signal_word"], word, "{id}");
        assert_eq!(own["verdict"], if misses { "not_met" } else { "met" }, "{id}");
    }
}

/// Of choline bromide no hazard data were found: with a donor of no class nothing can be told, with one that brings
/// "Danger" the limit is missed whatever the other is.
#[test]
fn missing_hazard_data_are_neither_good_nor_bad() {
    let of = |donor: &str| {
        let arguments = ["--acceptor", "ChBr", "--donor", donor, "--ratio", "1:1"];
        json(&[&arguments[..], &["--hazards-below", "danger"]].concat(), 1)["candidates"][0]["hazards"]
            .clone()
    };
    assert_eq!(
        (of("urea")["verdict"].clone(), of("urea")["complete"].clone()),
        ("no_data".into(), false.into())
    );
    assert_eq!(of("urea")["missing"][0], "choline bromide");
    assert_eq!(of("phenol")["verdict"], "not_met");
}

/// By hand: choline chloride 45 EUR for 500 g is 90 EUR/kg, glycerol 22 EUR for 500 g is 44 EUR/kg. 1 mol with 2 mol is
/// 139.623 g with 184.188 g, 0.431187 and 0.568813 of the whole: 0.431187 × 90 + 0.568813 × 44 = 63.8346 EUR/kg. With
/// ethylene glycol at 18 EUR/kg: 0.529358 × 90 + 0.470642 × 18 = 56.1138 EUR/kg. Urea has no price.
#[test]
fn a_price_is_by_mass() {
    let priced = [&THREE[..], &["--price", "prices.csv", "--price-below", "60 EUR/kg"]].concat();
    let answer = json(&priced, 0);
    let of = |recipe: &str| one(&answer, recipe)["price"].clone();
    assert!((of(GLYCEROL)["per_kg"].as_f64().expect("a price") - 63.8346).abs() < 2e-3);
    assert!((of(EG)["per_kg"].as_f64().expect("a price") - 56.1138).abs() < 2e-3);
    assert_eq!(
        (of(EG)["verdict"].clone(), of(GLYCEROL)["verdict"].clone()),
        ("met".into(), "not_met".into())
    );
    let urea = of(UREA);
    assert_eq!(
        (&urea["verdict"], &urea["per_kg"], &urea["missing"][0]),
        (&"no_data".into(), &Value::Null, &"urea".into())
    );
    // The order: what meets, what can't be told, what misses.
    let order: Vec<&Value> =
        answer["candidates"].as_array().expect("a list").iter().map(|own| &own["recipe"]).collect();
    assert_eq!(order, [EG, UREA, GLYCEROL]);
}

/// Amounts may have their unit in the head, and the price per gram is the same limit.
#[test]
fn prices_can_be_written_in_other_ways() {
    let folder = folder();
    write(
        folder.path(),
        "p.csv",
        "amount (g);component;price [EUR];note\n500;67-48-1;45,0;best\n1000;EG;18;\n".as_bytes(),
    );
    let arguments =
        ["candidates", "--acceptor", "ChCl", "--donor", "EG", "--ratio", "1:2", "--price", "p.csv"];
    let limit = ["--price-below", "0.06EUR/g", "--format", "json"];
    let run = run_in(folder.path(), &[&arguments[..], &limit].concat());
    assert_eq!((run.code, run.stderr.as_str()), (0, ""));
    let answer = envelope(&run.stdout)["answer"].clone();
    assert!((one(&answer, EG)["price"]["per_kg"].as_f64().expect("a price") - 56.1138).abs() < 2e-3);
    assert_eq!(answer["limits"]["price_below_per_kg"], 60.0);
}

/// Choline chloride takes up water within minutes, thymol does not: the worst of a liquid counts.
#[test]
fn water_uptake_is_that_of_the_worst() {
    let answer = json(&[&THREE[..], &["--hygroscopic-below", "strong"]].concat(), 1);
    assert_eq!(one(&answer, EG)["hygroscopic"]["verdict"], "not_met");
    // Of n-methylurea the table says nothing: choline chloride decides, and beside thymol nobody can tell.
    let unknown =
        json(&["--acceptor", "acceptor", "--donor", "n-methylurea", "--hygroscopic-below", "strong"], 1);
    let of = |recipe: &str| one(&unknown, recipe)["hygroscopic"]["verdict"].clone();
    assert_eq!(of("choline-chloride:n-methylurea 1:1"), "not_met");
    assert_eq!(of("thymol:n-methylurea 1:1"), "no_data");
}

/// 500 g of choline chloride and 480 g of urea: 1:2 is 53.7560 % and 46.2440 % by mass, so that 500 g / 0.537559 =
/// 930.1 g can be made before the choline chloride ends (the urea would do for 1038 g).
#[test]
fn in_the_house_is_what_the_bottles_hold() {
    let lab = Lab::new();
    let receive = |what: &str, net: &str, more: &[&str]| {
        lab.answer(NOW, &[&["bottle", "receive", what, "--net", net], more].concat(), 0);
    };
    receive("ChCl", "500 g", &["--price", "45 EUR"]);
    receive("urea", "480 g", &["--price", "9.60 EUR"]);
    receive("EG", "900 g", &["--expires", "2026-11-01", "--price", "30 USD"]);
    let with = |size: &str, code: i32| {
        let arguments = [&["candidates"], &THREE[..], &["--in-house", size, "--format", "json"]].concat();
        envelope(&lab.answer(NOW, &arguments, code))["answer"].clone()
    };
    let enough = with("900 g", 0);
    let own = &one(&enough, UREA)["house"];
    assert!((own["largest_batch_g"].as_f64().expect("a mass") - 930.13).abs() < 0.05);
    assert_eq!((&own["verdict"], &own["ends_first"]), (&"met".into(), &"choline chloride".into()));
    assert_eq!(one(&with("950 g", 1), UREA)["house"]["verdict"], "not_met");
    // Past its date, and never bought.
    for recipe in [EG, GLYCEROL] {
        assert_eq!(one(&enough, recipe)["house"]["largest_batch_g"], 0.0);
    }
    // Prices of bottles: 0.537559 × 90 + 0.462441 × 20 = 57.629 EUR/kg. That in another currency is no price.
    let price = &one(&enough, UREA)["price"];
    assert!((price["per_kg"].as_f64().expect("a price") - 57.629).abs() < 2e-3);
    assert_eq!(one(&enough, EG)["price"]["missing"][0], "ethylene glycol");
    let screen = lab.answer(NOW, &[&["candidates"], &THREE[..]].concat(), 0);
    assert!(screen.contains("ethylene-glycol (USD)"), "{screen}");
}

/// Without a book nobody knows what is in the house, and that is said.
#[test]
fn without_a_book_the_house_is_not_known() {
    let whole = envelope(&shown(&[&THREE[..], &["--in-house", "50 g", "--format", "json"]].concat(), 1));
    assert_eq!(whole["warnings"][0]["code"], "no_book");
    let own = &one(&whole["answer"], UREA)["house"];
    assert_eq!((&own["verdict"], &own["largest_batch_g"]), (&"no_data".into(), &Value::Null));
    assert_eq!(own["missing"][0], "what is in the house");
}

/// An oxidiser with an organic component is never proposed, whatever limits it meets, and the reason is told.
#[test]
fn what_an_alert_stops_comes_last() {
    let arguments = ["--acceptor", "KMnO4", "--acceptor", "ChCl", "--donor", "glycerol", "--ratio", "1:2"];
    let answer = json(&[&arguments[..], &["--hygroscopic-below", "strong"]].concat(), 1);
    let all = answer["candidates"].as_array().expect("a list");
    assert_eq!((all.len(), &all[1]["place"]), (2, &"refused".into()));
    assert_eq!(all[1]["recipe"], "potassium-permanganate:glycerol 1:2");
    assert_eq!(all[1]["alerts"]["worst"], "block");
    let screen = shown(&arguments, 0);
    let (_, refused) = screen.split_once("Not proposed").expect("a section");
    assert!(
        refused.contains("OX-ORG") && refused.contains("potassium-permanganate:glycerol 1:2"),
        "{refused}"
    );
    // What is proposed next is the other.
    assert!(screen.contains("meltbook plan \"choline-chloride:glycerol 1:2\""));
}

#[test]
fn alerts_can_be_limited() {
    let of = |level: &str, code: i32| {
        let answer = json(&[&THREE[..], &["--alerts-below", level]].concat(), code);
        one(&answer, UREA)["alerts"].clone()
    };
    assert_eq!(
        (of("note", 1)["verdict"].clone(), of("note", 1)["worst"].clone()),
        ("not_met".into(), "note".into())
    );
    assert_eq!(of("warn", 0)["verdict"], "met");
}

/// The third component has a place of its own in every ratio; a worked recipe is found in any order.
#[test]
fn three_components() {
    let arguments = ["--acceptor", "ChCl", "--donor", "glycerol", "--third", "urea"];
    let answer = json(&arguments, 0);
    let own = &answer["candidates"][0];
    assert_eq!(own["recipe"], "choline-chloride:glycerol:urea 1:1:1");
    assert_eq!(own["known_from"][0]["recipe"], "choline-chloride-urea-glycerol-1-1-1");
    assert!(own["liquidus"]["high_k"].is_number());
}

#[test]
fn the_answer_never_promises() {
    let screen = shown(&[&THREE[..], &["--liquid-at", "25 °C"]].concat(), 0);
    assert!(screen.contains("proposes what to test and promises nothing"));
    assert_eq!(json(&THREE, 0)["proposes_to_test"], true);
    for word in ["safe", "harmless", "approved"] {
        assert!(!screen.to_lowercase().contains(word), "{word}");
    }
}

/// The screen says how many it does not show; scripts get all.
#[test]
fn the_rest_is_counted() {
    let arguments = ["--acceptor", "ChCl", "--liquid-at", "25 °C", "--top", "3"];
    let screen = shown(&arguments, 0);
    let all = json(&arguments, 0)["candidates"].as_array().expect("a list").len();
    assert!(screen.contains(&format!("{} more are not shown", all - 3)), "{screen}");
    let csv = shown(&[&arguments[..], &["--format", "csv"]].concat(), 0);
    assert_eq!(csv.lines().count(), all + 1);
    let meeting = json(&[&arguments[..], &["--only-meeting"]].concat(), 0);
    let places = meeting["candidates"].as_array().expect("a list").iter().map(|own| &own["place"]);
    assert_eq!(
        places.filter(|place| **place == "meets").count() as u64,
        meeting["counts"]["meets"].as_u64().expect("a count")
    );
}
