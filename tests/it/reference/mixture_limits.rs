//! Every limit by which a mixture is classified, against `mixture-rules.toml` (GHS Rev.11 and CLP Annex I as read; the
//! HCS column and what its [meta] lists from memory): at the limit the class is there, a little below it is not.

use meltbook::caution::{Mixture, Scheme};
use meltbook::component::{ComponentTable, Composition, read_components};
use meltbook::quantity::Mass;
use toml::Value;

use super::mixture_worked::classified;

const SCHEMES: [Scheme; 3] = [Scheme::Ghs, Scheme::Clp, Scheme::Hcs];

fn rules() -> toml::Table {
    toml::from_str(include_str!("../../fixtures/hazards/mixture-rules.toml")).unwrap()
}

fn number(value: &Value) -> f64 {
    value.as_float().or(value.as_integer().map(|whole| whole as f64)).unwrap()
}

/// A table with one component per (id, codes, classes, limits), each of no reactive group, and one that is inert.
fn table(components: &[(&str, &[&str], &str, &str)]) -> ComponentTable {
    let quoted = |list: &[&str]| list.iter().map(|one| format!("{one:?}")).collect::<Vec<_>>().join(", ");
    let mut text = String::new();
    for (id, codes, class, limits) in components.iter().chain(&[("inert", &[][..], "", "*")]) {
        let classes = if class.is_empty() { String::new() } else { format!("{class:?}") };
        text.push_str(&format!(
            "[[component]]\nid = {id:?}\nname = {id:?}\nroles = [\"additive\"]\nidentity = \"test\"\n\
             hazard = {{ basis = \"supplier\", codes = [{}], classes = [{classes}], limits = {limits:?}, \
             source = \"test\" }}\n",
            quoted(codes)
        ));
    }
    let mut table = ComponentTable::builtin();
    for component in read_components("test.toml", &text, &table).unwrap() {
        table.insert(component);
    }
    table
}

/// The parts, filled up with something that has no class.
fn mixed(table: &ComponentTable, parts: &[(&str, f64)], scheme: Scheme) -> Mixture {
    let mut composition = Composition::default();
    let rest = 100.0 - parts.iter().map(|(_, percent)| percent).sum::<f64>();
    for (name, percent) in parts.iter().chain(&[("inert", rest)]) {
        composition.add(table.find(name).unwrap(), None, Mass::new(*percent), true);
    }
    classified(&composition, scheme)
}

/// A little below a limit.
fn below(limit: f64) -> f64 {
    limit * 0.999
}

fn has(mixture: &Mixture, class: &str) -> bool {
    mixture.classes.iter().any(|own| own == class)
}

/// The H code of a class that the fixture names in words.
fn code(class: &str) -> &'static str {
    match class {
        "Resp. Sens. 1" | "Resp. Sens. 1A" | "Resp. Sens. 1B" => "H334",
        "Skin Sens. 1" | "Skin Sens. 1A" | "Skin Sens. 1B" => "H317",
        "Muta. 1A" | "Muta. 1B" => "H340",
        "Muta. 2" => "H341",
        "Carc. 1A" | "Carc. 1B" => "H350",
        "Carc. 2" => "H351",
        "Repr. 1A" | "Repr. 1B" => "H360",
        "Repr. 2" => "H361",
        "Lact." => "H362",
        "STOT SE 1" => "H370",
        "STOT SE 2" => "H371",
        "STOT RE 1" => "H372",
        "STOT RE 2" => "H373",
        "Asp. Tox. 1" => "H304",
        other => panic!("no code for {other}"),
    }
}

/// The classes of a component that a row of the fixture is about, and those that it then gives the mixture.
fn spelled(row: &Value) -> Vec<(String, String)> {
    let class = row["class"].as_str().unwrap().split(" (").next().unwrap();
    let result = row["result"].as_str().unwrap();
    let (name, categories) = class.rsplit_once(' ').unwrap_or((class, ""));
    // "Resp. Sens. 1 / 1B" splits at the last space; put the name together again.
    let name = name.trim_end_matches(" 1 /").trim_end_matches(" /");
    if class.contains(" / ") {
        return ["1", "1B"].iter().map(|c| (format!("{name} {c}"), result.to_owned())).collect();
    }
    if let Some((one, other)) = categories.split_once('/') {
        return [one, other].iter().map(|c| (format!("{name} {c}"), format!("{name} {c}"))).collect();
    }
    vec![(class.to_owned(), result.to_owned())]
}

#[test]
fn one_component_is_enough_at_its_limit() {
    let mut checked = 0;
    for row in rules()["single"].as_array().unwrap() {
        let words = row["class"].as_str().unwrap();
        // Gases and the two summed effects of STOT SE 3 have tests of their own.
        if words.contains("gas") || words.contains("STOT SE 3") {
            continue;
        }
        for (class, gives) in spelled(row) {
            let table = table(&[("thing", &[code(&class)], &class, "*")]);
            for scheme in SCHEMES {
                let limit = number(&row[scheme.word()]);
                assert!(
                    has(&mixed(&table, &[("thing", limit)], scheme), &gives),
                    "{class} {scheme:?} at {limit}"
                );
                assert!(
                    !has(&mixed(&table, &[("thing", below(limit))], scheme), &gives),
                    "{class} {scheme:?}"
                );
                checked += 1;
            }
        }
    }
    assert!(60 <= checked, "{checked}");
}

/// GHS leaves a lower limit to the authority; between the two it is said.
#[test]
fn the_lower_limit_of_an_authority_is_named() {
    for row in rules()["single"].as_array().unwrap().iter().filter(|row| row.get("ghs_alternative").is_some())
    {
        let words = row["class"].as_str().unwrap();
        if words.contains("gas") || words.contains("STOT SE 1") || words.contains("STOT RE 1") {
            continue;
        }
        let (class, _) = spelled(row).remove(0);
        let table = table(&[("thing", &[code(&class)], &class, "*")]);
        let lower = number(&row["ghs_alternative"]);
        let said = |percent| !mixed(&table, &[("thing", percent)], Scheme::Ghs).left_to_authority.is_empty();
        assert!(said(lower) && !said(below(lower)), "{class}");
    }
}

#[test]
fn organs_step_down_to_the_lower_category() {
    for (class, lower, code) in [("STOT SE 1", "STOT SE 2", "H370"), ("STOT RE 1", "STOT RE 2", "H372")] {
        let table = table(&[("thing", &[code], class, "*")]);
        for scheme in [Scheme::Ghs, Scheme::Clp] {
            assert!(has(&mixed(&table, &[("thing", 1.0)], scheme), lower), "{class}");
            assert!(has(&mixed(&table, &[("thing", 9.9)], scheme), lower), "{class}");
            assert!(!has(&mixed(&table, &[("thing", 0.99)], scheme), lower), "{class}");
        }
        assert!(has(&mixed(&table, &[("thing", 1.0)], Scheme::Hcs), class), "{class}");
    }
}

#[test]
fn airway_irritants_and_narcotics_are_each_summed() {
    let table = table(&[
        ("a", &["H335"], "STOT SE 3", "*"),
        ("b", &["H335"], "STOT SE 3", "*"),
        ("c", &["H336"], "STOT SE 3", "*"),
    ]);
    let limit =
        rules()["single"].as_array().unwrap().iter().find_map(|row| {
            row["class"].as_str().unwrap().contains("STOT SE 3").then(|| number(&row["clp"]))
        });
    let half = limit.unwrap() / 2.0;
    for scheme in SCHEMES {
        let both = mixed(&table, &[("a", half), ("b", half)], scheme);
        assert!(has(&both, "STOT SE 3 (H335)") && !has(&both, "STOT SE 3 (H336)"));
        let apart = mixed(&table, &[("a", half), ("b", below(half))], scheme);
        assert!(!has(&apart, "STOT SE 3 (H335)"));
        assert!(mixed(&table, &[("a", half), ("c", half)], scheme).classes.is_empty());
    }
}

#[test]
fn skin_sums_reach_their_limits() {
    let rules = rules();
    let limit = |at: usize, key: &str| number(&rules["skin"]["additive"][at][key]);
    let (corrosive, weak, irritant) = (limit(0, "at_least"), limit(1, "at_least"), limit(2, "at_least"));
    let table = table(&[
        ("a", &["H314"], "Skin Corr. 1A", "*"),
        ("b", &["H314"], "Skin Corr. 1B", "*"),
        ("c", &["H314"], "Skin Corr. 1C", "*"),
        ("one", &["H314"], "Skin Corr. 1", "*"),
        ("two", &["H315"], "Skin Irrit. 2", "*"),
        ("three", &["H316"], "Skin Irrit. 3", "*"),
    ]);
    for scheme in SCHEMES {
        let of = |parts: &[(&str, f64)]| mixed(&table, parts, scheme);
        for (part, class) in [("a", "1A"), ("b", "1B"), ("c", "1C"), ("one", "1")] {
            assert!(has(&of(&[(part, corrosive)]), &format!("Skin Corr. {class}")), "{class}");
            assert!(has(&of(&[(part, below(corrosive))]), "Skin Irrit. 2"), "{class}");
            assert!(
                has(&of(&[(part, weak)]), "Skin Irrit. 2")
                    && !has(&of(&[(part, below(weak))]), "Skin Irrit. 2")
            );
        }
        // [skin.subcategory]: 1A and 1B together are 1B; one without a sub-category leaves the mixture without.
        assert!(has(&of(&[("a", 2.5), ("b", 2.5)]), "Skin Corr. 1B"));
        assert!(has(&of(&[("b", 2.5), ("c", 2.5)]), "Skin Corr. 1C"));
        assert!(has(&of(&[("b", 2.5), ("one", 2.5)]), "Skin Corr. 1"));
        assert!(has(&of(&[("two", irritant)]), "Skin Irrit. 2"));
        assert!(!has(&of(&[("two", below(irritant))]), "Skin Irrit. 2"));
        // 10 × Cat 1 + Cat 2, each below its own limit but above the cut-off of 1 %.
        assert!(has(&of(&[("two", 5.0), ("a", 1.0)]), "Skin Irrit. 2"));
    }
    let mild = |scheme| has(&mixed(&table, &[("two", 1.0)], scheme), "Skin Irrit. 3");
    assert!(mild(Scheme::Ghs) && !mild(Scheme::Clp) && !mild(Scheme::Hcs));
    assert!(has(&mixed(&table, &[("three", 10.0)], Scheme::Ghs), "Skin Irrit. 3"));
    assert!(has(&mixed(&table, &[("three", 5.0), ("two", 5.0)], Scheme::Ghs), "Skin Irrit. 3"));
    assert!(mixed(&table, &[("three", 9.9)], Scheme::Ghs).classes.is_empty());
}

#[test]
fn eye_sums_reach_their_limits() {
    let rules = rules();
    let limit = |at: usize| number(&rules["eye"]["additive"][at]["at_least"]);
    let (damage, weak, irritant) = (limit(0), limit(1), limit(2));
    let table = table(&[
        ("eye", &["H318"], "Eye Dam. 1", "*"),
        ("both", &["H314", "H318"], "Skin Corr. 1B", "*"),
        ("two", &["H319"], "Eye Irrit. 2", "*"),
        ("mild", &["H320"], "Eye Irrit. 2B", "*"),
    ]);
    for scheme in SCHEMES {
        let of = |parts: &[(&str, f64)]| mixed(&table, parts, scheme);
        assert!(
            has(&of(&[("eye", damage)]), "Eye Dam. 1") && has(&of(&[("eye", below(damage))]), "Eye Irrit. 2")
        );
        assert!(has(&of(&[("eye", weak)]), "Eye Irrit. 2") && of(&[("eye", below(weak))]).classes.is_empty());
        // [eye] count_once: skin and eye category 1 of one ingredient enter the sum once.
        assert!(!has(&of(&[("both", 1.6)]), "Eye Dam. 1"));
        assert!(has(&of(&[("eye", 1.5), ("both", 1.5)]), "Eye Dam. 1"));
        assert!(
            has(&of(&[("two", irritant)]), "Eye Irrit. 2")
                && of(&[("two", below(irritant))]).classes.is_empty()
        );
        assert!(has(&of(&[("two", 5.0), ("mild", 5.0)]), "Eye Irrit. 2"));
    }
    assert!(has(&mixed(&table, &[("mild", 10.0)], Scheme::Ghs), "Eye Irrit. 2B"));
}

/// Table 3.2.4 and 3.3.4 (from memory): 1 % of a corrosive, 3 % of an irritant acid, base or salt.
#[test]
fn acids_and_salts_are_not_additive() {
    let rules = rules();
    let at = |family: &str, row: usize| number(&rules[family]["non_additive"][row]["at_least"]);
    let table = ComponentTable::builtin();
    let of = |name: &str, percent: f64| {
        let mut composition = Composition { water: Mass::new(100.0 - percent), ..Composition::default() };
        composition.add(table.find(name).unwrap(), None, Mass::new(percent), true);
        classified(&composition, Scheme::Clp)
    };
    // Zinc chloride: Skin Corr. 1B without an own limit for skin; calcium chloride: Eye Irrit. 2.
    assert!(has(&of("zinc-chloride", at("skin", 2)), "Skin Corr. 1"));
    assert!(!has(&of("zinc-chloride", below(at("skin", 2))), "Skin Corr. 1"));
    assert!(has(&of("zinc-sulfate", at("eye", 2)), "Eye Dam. 1"));
    assert!(!has(&of("zinc-sulfate", below(at("eye", 2))), "Eye Dam. 1"));
    assert!(has(&of("calcium-chloride", at("eye", 3)), "Eye Irrit. 2"));
    assert!(!has(&of("calcium-chloride", below(at("eye", 3))), "Eye Irrit. 2"));
    // An own limit comes first: potassium hydroxide irritates from 0.5 % and is corrosive from 2 %.
    assert!(has(&of("KOH", 0.5), "Skin Irrit. 2") && has(&of("KOH", 0.5), "Eye Irrit. 2"));
    assert!(of("KOH", 0.49).classes.is_empty());
    assert!(has(&of("KOH", 1.99), "Skin Irrit. 2") && has(&of("KOH", 2.0), "Skin Corr. 1B"));
    assert!(has(&of("KOH", 5.0), "Skin Corr. 1A") && has(&of("KOH", 4.99), "Skin Corr. 1B"));
}

#[test]
fn acute_categories_have_their_bands_and_points() {
    let rules = rules();
    let acute = &rules["acute"];
    let codes = ["H300", "H300", "H301", "H302", "H303"];
    for (key, way, exposure) in [("oral_mg_kg", "oral", "oral"), ("dermal_mg_kg", "dermal", "dermal")] {
        for (at, category) in ["1", "2", "3", "4", "5_ghs_only"].iter().enumerate() {
            let schemes: &[Scheme] = if at == 4 { &[Scheme::Ghs] } else { &SCHEMES };
            let upto = number(&acute["bands"][key][*category][1]);
            let estimate = |value: f64| format!("{exposure} ATE={value}");
            let (here, over) = (estimate(upto * 0.9999), estimate(upto * 1.0001));
            let table = table(&[("here", &[], "", &here), ("over", &[], "", &over)]);
            let class = format!("Acute Tox. {} ({way})", at + 1);
            for scheme in schemes {
                assert!(has(&mixed(&table, &[("here", 99.9999)], *scheme), &class), "{class} {scheme:?}");
                assert!(!has(&mixed(&table, &[("over", 100.0)], *scheme), &class), "{class} {scheme:?}");
            }
        }
    }
    // Just at the end of a band the category is still that of the band: half of an estimate of half as much.
    for (upto, class) in [(5.0, 1), (50.0, 2), (300.0, 3), (2000.0, 4)] {
        let table = table(&[("half", &[], "", &format!("oral ATE={}", upto / 2.0))]);
        let mixture = mixed(&table, &[("half", 50.0)], Scheme::Clp);
        assert!(has(&mixture, &format!("Acute Tox. {class} (oral)")), "{upto}: {:?}", mixture.classes);
    }
    // Table 3.1.2: what stands for a category, seen in the estimate of the mixture.
    for (at, category) in ["1", "2", "3", "4"].iter().enumerate() {
        let point = number(&acute["converted_point_estimates"]["oral_mg_kg"][*category]);
        let table = table(&[("thing", &[codes[at]], &format!("Acute Tox. {category}"), "*")]);
        let found = mixed(&table, &[("thing", 50.0)], Scheme::Clp).ate_oral_mg_per_kg.unwrap();
        assert!((found - 2.0 * point).abs() < 1e-9 * point, "{category}: {found}");
    }
}

#[test]
fn inhaled_estimates_have_their_bands() {
    let rules = rules();
    for (key, word) in [("gas_ppmV", "gas"), ("vapour_mg_L", "vapour"), ("dust_mist_mg_L", "dust")] {
        for category in 1..=4 {
            let upto = number(&rules["acute"]["bands"][key][category.to_string()][1]);
            let (here, over) =
                (format!("{word} ATE={}", upto * 0.9999), format!("{word} ATE={}", upto * 1.0001));
            let table = table(&[("here", &[], "", &here), ("over", &[], "", &over)]);
            let class = format!("Acute Tox. {category} (inhalation, {word})");
            assert!(has(&mixed(&table, &[("here", 99.9999)], Scheme::Clp), &class), "{class}");
            assert!(!has(&mixed(&table, &[("over", 100.0)], Scheme::Clp), &class), "{class}");
        }
    }
}

/// 3.1.3.6.2.3: the second formula from more than 10 % unknown; the statement from 1 %.
#[test]
fn the_unknown_enters_the_formula_and_the_label() {
    let rules = rules();
    let over = number(&rules["acute"]["unknown_threshold_percent"]);
    let said = number(&rules["acute"]["unknown_statement_from_percent"]);
    let table = table(&[("toxic", &["H301"], "Acute Tox. 3", "*")]);
    let of = |unknown: f64| {
        let mut composition = Composition { unknown: Mass::new(unknown), ..Composition::default() };
        composition.add(table.find("toxic").unwrap(), None, Mass::new(20.0), true);
        composition.add(table.find("inert").unwrap(), None, Mass::new(80.0 - unknown), true);
        classified(&composition, Scheme::Clp)
    };
    assert!((of(over).ate_oral_mg_per_kg.unwrap() - 500.0).abs() < 1e-9);
    assert!((of(over + 1.0).ate_oral_mg_per_kg.unwrap() - (99.0 - over) / 0.2).abs() < 1e-9);
    assert!(of(said).unknown_statements.iter().any(|sentence| sentence.contains("acute oral")));
    assert!(!of(below(said)).unknown_statements.iter().any(|sentence| sentence.contains("acute")));
}

#[test]
fn sums_for_water_reach_a_quarter_with_m_factors() {
    let rules = rules();
    let limit = number(&rules["aquatic"]["threshold_percent"]);
    let table = table(&[
        ("a1", &["H400", "H410"], "Aquatic Acute 1", "M=10 (acute); M=1 (chronic)"),
        ("c1", &["H410"], "Aquatic Chronic 1", "M=10"),
        ("c2", &["H411"], "Aquatic Chronic 2", "*"),
        ("c3", &["H412"], "Aquatic Chronic 3", "*"),
        ("c4", &["H413"], "Aquatic Chronic 4", "*"),
    ]);
    let of = |name: &str, percent: f64, scheme| mixed(&table, &[(name, percent)], scheme);
    assert!(has(&of("a1", limit / 10.0, Scheme::Clp), "Aquatic Acute 1"));
    assert!(!has(&of("a1", below(limit / 10.0), Scheme::Clp), "Aquatic Acute 1"));
    assert!(has(&of("c1", limit / 10.0, Scheme::Clp), "Aquatic Chronic 1"));
    assert!(has(&of("c1", limit / 100.0, Scheme::Clp), "Aquatic Chronic 2"));
    assert!(has(&of("c1", limit / 1000.0, Scheme::Clp), "Aquatic Chronic 3"));
    assert!(of("c1", below(limit / 1000.0), Scheme::Clp).classes.is_empty());
    assert!(has(&of("c2", limit, Scheme::Clp), "Aquatic Chronic 2"));
    assert!(has(&of("c2", limit / 10.0, Scheme::Clp), "Aquatic Chronic 3"));
    assert!(has(&of("c3", limit, Scheme::Clp), "Aquatic Chronic 3"));
    assert!(has(&of("c4", limit, Scheme::Clp), "Aquatic Chronic 4"));
    assert!(!has(&of("c4", below(limit), Scheme::Clp), "Aquatic Chronic 4"));
    assert!(of("c2", 50.0, Scheme::Hcs).classes.is_empty());
    // Without an M factor 1 is taken, and said.
    let zinc = mixed(&table, &[("zinc-oxide", 25.0)], Scheme::Clp);
    assert!(has(&zinc, "Aquatic Acute 1"));
    assert!(zinc.gaps.iter().any(|gap| gap.missing.contains("no M factor")));
}

/// [cutoffs]: below them an ingredient is left out of the sums.
#[test]
fn what_is_below_the_cut_off_is_left_out() {
    let rules = rules();
    let cutoff = |key: &str| number(&rules["cutoffs"][key]);
    let table = table(&[
        ("third", &["H301"], "Acute Tox. 3", "*"),
        ("fourth", &["H302"], "Acute Tox. 4", "*"),
        ("water-harm", &["H410"], "Aquatic Chronic 1", "M=1000"),
    ]);
    let estimate = |name: &str, percent| mixed(&table, &[(name, percent)], Scheme::Clp).ate_oral_mg_per_kg;
    assert!(estimate("third", cutoff("acute_tox_cat_1_2_3")).is_some());
    assert!(estimate("third", below(cutoff("acute_tox_cat_1_2_3"))).is_none());
    assert!(estimate("fourth", cutoff("acute_tox_cat_4")).is_some());
    assert!(estimate("fourth", below(cutoff("acute_tox_cat_4"))).is_none());
    let m_cutoff = cutoff("aquatic_chronic_1") / 1000.0;
    let counted = |percent| {
        let mixture = mixed(&table, &[("water-harm", percent)], Scheme::Clp);
        !mixture.reached.is_empty() || !mixture.not_reached.is_empty()
    };
    assert!(counted(m_cutoff) && !counted(below(m_cutoff)));
}

/// 3.10: the sum holds unless the viscosity of the mixture is shown to be high.
#[test]
fn aspiration_stands_until_a_viscosity_is_measured() {
    let table = table(&[("oil", &["H304"], "Asp. Tox. 1", "*")]);
    let mixture = mixed(&table, &[("oil", 10.0)], Scheme::Clp);
    let found = mixture.reached.iter().find(|found| found.class == "Asp. Tox. 1").unwrap();
    assert!(found.condition.as_ref().unwrap().contains("20.5 mm²/s"));
}
