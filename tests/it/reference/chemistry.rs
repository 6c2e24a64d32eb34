//! Atomic weights, formulas and molar masses against the tables in `tests/fixtures/chemistry`, whose
//! README names the sources.

use std::collections::HashMap;

use approx::assert_relative_eq;
use meltbook::chemistry::{Element, Formula, FormulaProblem, water_molar_mass};

/// Relative; the fixtures use unabridged weights of single-valued elements (see their README).
const MASS_TOLERANCE: f64 = 2e-5;

type Row = HashMap<String, String>;

fn rows(csv: &str) -> Vec<Row> {
    let mut reader = csv::Reader::from_reader(csv.as_bytes());
    reader.deserialize().collect::<Result<_, _>>().unwrap()
}

fn read(text: &str) -> Formula {
    text.parse().unwrap_or_else(|error| panic!("{text:?}: {error:?}"))
}

/// The problem, the text it points at, and the hint.
#[track_caller]
fn check_refused(text: &str, message: &str, at: &str, hint_part: &str) {
    let error = text.parse::<Formula>().unwrap_err();
    assert_eq!(error.to_string(), message, "{text:?}");
    assert_eq!(&text[error.span.clone()], at, "{text:?}");
    let hint = error.hint.unwrap_or_default();
    assert!(hint.contains(hint_part), "{text:?}: {hint:?} lacks {hint_part:?}");
}

#[test]
fn every_element_is_in_the_table() {
    let numbers: Vec<u8> = Element::all().filter(|e| e.symbol() != "D").map(Element::atomic_number).collect();
    assert_eq!(numbers, (1..=118).collect::<Vec<u8>>());
    let weighed = Element::all().filter(|e| e.weight().is_some()).count();
    assert_eq!(weighed, 84 + 1, "84 elements and deuterium");
    assert!(Element::all().is_sorted());
    assert!(Element::all().all(|e| Element::from_symbol(e.symbol()) == Some(e) && !e.name().is_empty()));
}

#[test]
fn abridged_atomic_weights_are_exact() {
    let rows = rows(include_str!("../../fixtures/chemistry/atomic_weights.csv"));
    assert_eq!(rows.len(), 84);
    for row in rows {
        let element = Element::from_symbol(&row["symbol"]).unwrap();
        assert_eq!(element.name(), row["name"]);
        assert_eq!(element.atomic_number().to_string(), row["Z"]);
        let weight = element.weight().unwrap();
        assert_eq!(weight.value.get(), row["abridged_5_figures"].parse::<f64>().unwrap(), "{element}");
        check_uncertainty(&row, weight.standard_uncertainty.get());
    }
}

/// The published half-width or, where digits were dropped, at least one unit of the last digit kept; a
/// rectangle's standard uncertainty is its half-width over √3 (JCGM 100:2008, 4.3.7).
fn check_uncertainty(row: &Row, standard: f64) {
    let decimals = |text: &str| text.split_once('.').map_or(0, |(_, decimals)| decimals.len()) as i32;
    let (full, abridged) = (&row["standard_atomic_weight"], &row["abridged_5_figures"]);
    let published: f64 = row["uncertainty"].parse().unwrap();
    let abridging = row["kind"] == "single" && decimals(abridged) < decimals(full);
    let last_digit = 10f64.powi(-decimals(abridged));
    let half_width = if abridging { published.max(last_digit) } else { published };
    assert_relative_eq!(standard, half_width / 3f64.sqrt(), max_relative = 1e-12);
}

#[test]
fn formulas_are_accepted_or_refused_as_listed() {
    let rows = rows(include_str!("../../fixtures/chemistry/formula_parser.csv"));
    assert_eq!(rows.len(), 59);
    for row in rows {
        let (text, expectation) = (&row["formula"], row["expectation"].as_str());
        match (text.parse::<Formula>(), expectation) {
            (Ok(formula), "accept" | "either") => {
                let mass: f64 = row["molar_mass_g_mol"].parse().unwrap();
                assert_relative_eq!(formula.molar_mass().get(), mass, max_relative = MASS_TOLERANCE);
                assert_eq!(formula.charge().to_string(), row["charge"], "{text:?}");
                assert_eq!(formula.text(), text.trim());
            }
            (Err(error), "reject" | "either") => assert!(text.get(error.span).is_some(), "{text:?}"),
            (result, _) => panic!("{text:?} should {expectation}: {result:?}"),
        }
    }
}

#[test]
fn component_formulas_have_their_molar_mass_and_hill_order() {
    let rows = rows(include_str!("../../fixtures/chemistry/components.csv"));
    assert_eq!(rows.len(), 78);
    for row in rows {
        let mass: f64 = row["molar_mass_ciaaw_2021_2024"].parse().unwrap();
        for text in [&row["formula_linear"], &row["formula_hill"]] {
            let formula = read(text);
            assert_relative_eq!(formula.molar_mass().get(), mass, max_relative = MASS_TOLERANCE);
            assert_eq!(formula.hill(), row["formula_hill"], "{}", row["name"]);
        }
    }
}

#[test]
fn crystal_water_is_told_from_other_water() {
    let check = |text: &str, water: f64, anhydrous: &str| {
        let formula = read(text);
        assert_eq!(formula.crystal_water(), water, "{text}");
        assert!(formula.crystal_water().is_sign_positive(), "{text}: prints as -0");
        assert_relative_eq!(
            formula.anhydrous_molar_mass().get(),
            read(anhydrous).molar_mass().get(),
            max_relative = 1e-15
        );
    };
    check("ZnSO4·7H2O", 7.0, "ZnSO4");
    check("CaSO4.0.5H2O", 0.5, "CaSO4");
    check("CaSO4·1/2H2O", 0.5, "CaSO4");
    check("2CaSO4·H2O", 1.0, "2CaSO4");
    check("CuSO4·(H2O)5", 5.0, "CuSO4");
    check("ZnCl2 . 2 H2O", 2.0, "ZnCl2");
    check("KCl·MgCl2·6H2O", 6.0, "KCl·MgCl2");
    check("Na2CO3·1.5H2O2", 0.0, "Na2CO3·1.5H2O2");
    check("[Zn(H2O)6]SO4", 0.0, "ZnH12O6SO4");
    check("H2O", 0.0, "H2O");
    check("2H2O", 0.0, "H4O2");
    check("D2O", 0.0, "D2O");
}

#[test]
fn water_is_computed_from_the_weights() {
    // 2 × 1.0080 + 15.999, the abridged weights of IUPAC 2021.
    assert_relative_eq!(water_molar_mass().get(), 18.015, max_relative = 1e-15);
    assert_eq!(water_molar_mass(), read("H2O").molar_mass());
}

#[test]
fn uncertainty_adds_in_squares_over_elements() {
    // Tabulated half-widths (IUPAC 2021): H 0.0002, O 0.001; each over √3, H counted twice.
    let expected = ((2.0f64 * 0.0002).powi(2) + 0.001f64.powi(2)).sqrt() / 3f64.sqrt();
    assert_relative_eq!(read("H2O").molar_mass_uncertainty().get(), expected, max_relative = 1e-12);
    // Atoms of one element move together: in brackets or not, the same.
    assert_eq!(read("CH3CH3").molar_mass_uncertainty(), read("(CH3)2").molar_mass_uncertainty());
}

#[test]
fn mass_fractions_are_those_of_the_weights() {
    let fractions = read("ZnCl2").mass_fractions();
    let symbols: Vec<_> = fractions.iter().map(|(element, _)| element.symbol()).collect();
    assert_eq!(symbols, ["Cl", "Zn"]);
    // 2 × 35.45 / 136.28 and 65.38 / 136.28, weights of IUPAC 2021.
    assert_relative_eq!(fractions[0].1.get(), 70.90 / 136.28, max_relative = 1e-12);
    assert_relative_eq!(fractions[1].1.get(), 65.38 / 136.28, max_relative = 1e-12);
}

#[test]
fn charges_are_read_behind_a_caret_or_in_superscripts() {
    let charges = [("Zn^2+", 2), ("Zn^+2", 2), ("NH4^+", 1), ("SO4^2-", -2), ("Zn²⁺", 2), ("Cl⁻", -1)];
    for (text, charge) in charges {
        assert_eq!(read(text).charge(), charge, "{text}");
    }
    assert_eq!(read("NH4^+").hill(), "H4N^+");
    assert_eq!(read("SO4^2-").hill(), "O4S^2-");
    assert_eq!(read("[Zn(H2O)6]^2+").charge(), 2);
}

#[test]
fn hill_keeps_parts_apart_where_a_total_is_not_whole() {
    assert_eq!(read("CaSO4·0.5H2O").hill(), "CaO4S·0.5H2O");
    assert_eq!(read("CuSO4·5H2O").hill(), "CuH10O9S");
    assert_eq!(read("CDCl3").hill(), "CCl3D");
}

#[test]
fn formula_is_its_text_in_json() {
    let formula = read(" ZnSO4·7H2O ");
    let json = serde_json::to_string(&formula).unwrap();
    assert_eq!(json, "\"ZnSO4·7H2O\"");
    assert_eq!(serde_json::from_str::<Formula>(&json).unwrap(), formula);
    let error = serde_json::from_str::<Formula>("\"Xx\"").unwrap_err();
    assert!(error.to_string().starts_with("formula \"Xx\": unknown element \"Xx\""), "{error}");
}

#[test]
fn elements_that_are_none_are_refused_with_the_nearest() {
    check_refused("Xx", "unknown element \"Xx\"", "Xx", "Xe");
    check_refused("ZnCL2", "unknown element \"L\"", "L", "Cl");
    check_refused("Zinc", "unknown element \"Zinc\"", "Zinc", "Zn");
    check_refused("[Ch]Cl", "unknown element \"Ch\"", "Ch", "C5H14NO");
    check_refused("  MeOH", "unknown element \"Me\"", "Me", "CH3");
    check_refused("co", "\"co\" does not start with a capital letter", "co", "Co or CO");
    check_refused("H2o", "\"o\" does not start with a capital letter", "o", "O");
    check_refused("zinc", "\"zinc\" does not start with a capital letter", "zinc", "Zn");
    check_refused("ZnSO4·xH2O", "\"x\" stands for an unknown count, so there is no molar mass", "x", "7H2O");
    check_refused("NaTcO4", "technetium (Tc) has no standard atomic weight", "Tc", "");
    check_refused("AcOH", "actinium (Ac) has no standard atomic weight", "Ac", "C2H3O");
    // Cyrillic capital Es looks like C.
    check_refused("\u{421}H4", "unexpected character \"\u{421}\" (U+0421)", "\u{421}", "A to Z");
}

#[test]
fn brackets_and_dots_are_refused_where_they_stand() {
    check_refused("(CH3", "\"(\" is never closed", "(", "");
    check_refused("CH3)2", "\")\" closes no bracket", ")", "");
    check_refused("Zn(OH]2", "\"(\" is closed by \"]\"", "]", "\")\"");
    check_refused("Zn()", "nothing inside the brackets", "()", "");
    check_refused("(ZnCl2·H2O)2", "a dot inside brackets", "·", "");
    check_refused("ZnCl2..H2O", "a formula is missing beside the dot", ".", "");
    check_refused(".H2O", "a formula is missing beside the dot", ".", "");
    check_refused("ZnCl2·", "a formula is missing beside the dot", "·", "");
    check_refused("ZnCl2·2", "a number with no formula behind it", "2", "");
    check_refused("2", "a number with no formula behind it", "2", "");
    check_refused("", "no formula", "", "");
    check_refused("Zn Cl2", "unexpected character \"C\"", "C", "no space");
    let deep = "(".repeat(65) + "H" + &")".repeat(65);
    check_refused(&deep, "brackets more than 64 deep", "(", "");
    assert_relative_eq!(read(&deep[1..130]).molar_mass().get(), 1.008);
    let error = "C".repeat(1001).parse::<Formula>().unwrap_err();
    assert_eq!(error.problem, FormulaProblem::TooLong { characters: 1001, limit: 1000 });
    check_refused(
        &"((((".repeat(300),
        "1200 characters, but a formula may have at most 1000",
        &"((((".repeat(300),
        "",
    );
}

#[test]
fn counts_are_refused_where_they_stand() {
    check_refused("C0H4", "a count of zero", "0", "letter O");
    check_refused("C02", "the count \"02\" starts with zero", "02", "letter O");
    check_refused("0H2O", "a count of zero", "0", "");
    check_refused("C1e5", "a count with an exponent", "1e5", "in full");
    check_refused("C1000001", "the count \"1000001\" does not lie from 0.000001 to 1000000", "1000001", "");
    check_refused("((C1000000)1000000)", "more than 1000000000 atoms", "(C1000000)1000000", "");
    check_refused("H-2O", "a negative count", "-2", "");
    check_refused("CaSO4·0,5H2O", "unexpected character \",\"", ",", "point");
    check_refused("LiNi0.8Co0.2O2", "a fractional count behind an element", "0.8", "whole");
    check_refused("Li1.2Mn2O4", "a fractional count behind an element", "1.2", "whole");
    let ambiguous = "this full stop may be a decimal point or join two parts";
    check_refused("Li2.5MnO3", ambiguous, ".", "·");
    assert_relative_eq!(read("ZnCl2·2NH3").molar_mass().get(), 136.28 + 2.0 * 17.031, max_relative = 1e-12);
}

#[test]
fn signs_that_may_mean_two_things_are_refused() {
    check_refused("H2O-", "dangling charge \"-\"", "-", "^2+");
    check_refused("NH4+", "dangling charge \"+\"", "+", "^2+");
    check_refused("Zn+2", "dangling charge \"+2\"", "+2", "^2+");
    check_refused("Zn2+", "dangling charge \"+\"", "+", "^2+");
    check_refused("CH3-CH2-OH", "the bond \"-\" is no part of a formula", "-", "CH3CH2OH");
    check_refused("CH2=CH2", "the bond \"=\" is no part of a formula", "=", "CH3CH2OH");
    check_refused("NaCl+KCl", "unexpected character \"+\"", "+", "·");
    check_refused("Zn^2", "not a charge", "^2", "^2+");
    check_refused("Zn^0+", "not a charge", "^0+", "^2+");
    check_refused("Na^+Cl^-", "a charge that does not stand at the end", "^+", "");
    check_refused("2Na^+", "a charge on a formula of several parts or with a count before it", "^+", "");
}
